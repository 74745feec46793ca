"""Papers to files: one as PDF, all of a card at once; and what could not be shown."""

import contextlib
import unicodedata
from collections.abc import Sequence
from pathlib import Path

from tracker.desk.desk import Desk
from tracker.errors import StoreRefusedError
from tracker.papers.message import Attached, message, safe_name
from tracker.papers.paper import Paper
from tracker.papers.pdf import STAND_IN, Pdf
from tracker.papers.plain import plain
from tracker.papers.printed import printed


def write_file(path: Path, content: bytes) -> None:
    """Writes a file whole or not at all; raises StoreRefusedError in words."""
    new = path.with_name(f".{path.name}.new")
    try:
        new.write_bytes(content)
        new.replace(path)
    except OSError as error:
        with contextlib.suppress(OSError):
            new.unlink(missing_ok=True)
        raise StoreRefusedError(
            f"{path} could not be written: {error.strerror}.", "Name another place."
        ) from error


def letter_with(desk: Desk, paper: Paper, made: Pdf, address: str) -> bytes:
    """A message ready to send with the pages in it. Raises Mistakes where an address is none."""
    name = f"{paper.title} {paper.number}".strip()
    to = paper.parties[1].name if len(paper.parties) > 1 else ""
    shop = desk.shop
    return message(
        sender=(shop.name, shop.email),
        to=(to, address),
        subject=f"{name}, {shop.name}" if shop.name else name,
        words=plain(paper),
        at=desk.clock.now(),
        attached=[Attached(f"{safe_name(name)}.pdf", "application/pdf", made.content)],
    )


def print_all(
    desk: Desk, papers: Sequence[tuple[str, Paper]], folder: Path, *, letter: bool = False
) -> tuple[list[Path], list[str]]:
    """Writes each paper into a folder under its kind and number; the files, and what could not be shown."""
    files, notes = [], []
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise StoreRefusedError(f"{folder} could not be made: {error.strerror}.") from error
    for kind, paper in papers:
        made, said = printed(desk, paper, letter=letter)
        path = folder / f"{safe_name(f'{kind}-{paper.number}')}.pdf"
        write_file(path, made.content)
        files.append(path)
        notes += [*said, *missing_words(made.missing)]
    return files, list(dict.fromkeys(notes))


def missing_words(missing: Sequence[str]) -> list[str]:
    """A sentence for each character that no font here could show."""
    return [
        f"No font here has “{sign}” ({', '.join(_named(one) for one in sign)}): {STAND_IN} stands for it."
        for sign in missing
    ]


def _named(sign: str) -> str:
    name = unicodedata.name(sign, "")
    return f"U+{ord(sign):04X} {name}".strip()
