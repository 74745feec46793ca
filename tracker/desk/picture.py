"""The shop's picture at the head of its papers: a file copied into the shop's own, and taken off again."""

import base64
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, ClassVar

from tracker.desk.ask import Ask
from tracker.desk.turn import PICTURE, Turn
from tracker.errors import NotFoundError
from tracker.records.problem import Mistakes, Problem
from tracker.records.shop import ShopFile
from tracker.store.reader import Reader

BIGGEST = 500_000
"""Bytes: a head of 14 mm needs no more at 600 dots an inch, and every paper carries it."""
_SIGNS = ((b"\x89PNG\r\n\x1a\n", "PNG"), (b"\xff\xd8\xff", "JPEG"), (b"GIF87a", "GIF"), (b"GIF89a", "GIF"))


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPicture:
    """Put a picture at the head of every paper, or take it off with --off."""

    verb: ClassVar[str] = "settings picture"

    picture: Annotated[str, Ask("Picture", "a PNG, JPEG, GIF, WebP or SVG file", place=1)] = ""
    off: Annotated[bool, Ask("Take it off")] = False

    def work(self, turn: Turn) -> ShopFile:
        """Copies the file in; raises Mistakes for what cannot be read, is too big, or is no picture."""
        kept = turn.unit.first(ShopFile, name=PICTURE)
        if self.off:
            if kept is None:
                raise NotFoundError("The papers have no picture.")
            turn.unit.remove(kept)
            turn.say("settings: no picture on papers")
            return kept
        if not self.picture:
            raise Mistakes([Problem("picture", "Which file?", "loomcard settings picture logo.png")])
        content = _read(self.picture)
        text = base64.b64encode(content).decode()
        turn.say(f"settings: picture on papers, {Path(self.picture).name}")
        if kept is None:
            return turn.unit.insert(ShopFile(name=PICTURE, text=text))
        return turn.unit.change(kept, text=text)


def picture_of(reader: Reader) -> bytes | None:
    """The shop's picture, where it has one."""
    kept = reader.first(ShopFile, name=PICTURE)
    return base64.b64decode(kept.text) if kept else None


def kind_of_picture(content: bytes) -> str:
    """What kind of picture a file is by its first bytes; nothing for none that papers can show.

    >>> kind_of_picture(b"GIF89a..."), kind_of_picture(b"%PDF-1.7")
    ('GIF', '')
    """
    for sign, kind in _SIGNS:
        if content.startswith(sign):
            return kind
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        return "WebP"
    head = content[:2000].lstrip(b"\xef\xbb\xbf \t\r\n")
    return "SVG" if head.startswith(b"<") and b"<svg" in head else ""


def _read(name: str) -> bytes:
    path = Path(name).expanduser()
    try:
        content = path.read_bytes() if path.stat().st_size <= BIGGEST else None
    except OSError as error:
        why = error.strerror or "it cannot be read"
        raise Mistakes([Problem("picture", f"The file could not be read: {why}.", given=name)]) from error
    if content is None:
        hint = "Save it smaller; 600 dots across are plenty."
        raise Mistakes([Problem("picture", "A picture on papers has at most 500 kB.", hint, name)])
    if not kind_of_picture(content):
        raise Mistakes(
            [Problem("picture", "This is no picture that papers show.", "PNG, JPEG, GIF, WebP or SVG.", name)]
        )
    return content
