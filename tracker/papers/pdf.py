"""A paper as PDF: A4 or Letter, tagged, fit to be kept (PDF/UA-1 and PDF/A-3b), set by typst.

The templates are files of ours in `typst/`; all that people wrote goes in as JSON beside them and is never
read as markup. Both standards forbid a character without a shape, so that nothing comes out blank: what no
font here can show is replaced by `STAND_IN` and named in `Pdf.missing`.
"""

import json
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from importlib.resources import files
from typing import Any

from tracker.papers.paper import ColumnKind, Paper, Picture, Table, to_data
from tracker.papers.pictured import in_words, on_paper, shapes
from tracker.papers.tongue import language, t
from tracker.records.width import clusters, width_of

STANDARDS: Any = ["ua-1", "a-3b"]
STAND_IN = "□"
A4, LETTER = "a4", "us-letter"
LONGEST_WORD = 28
"""A longer word may be broken anywhere, so that nobody's text runs off the page."""
_TEMPLATES = ("paper.typ", "blocks.typ")
_UNSHOWN = re.compile(r'(?:the text|the codepoint) `(".*?")`', re.DOTALL)
_ESCAPE = re.compile(r"\\(?:u\{([0-9a-fA-F]+)\}|(.))", re.DOTALL)
_ENDLESS = re.compile(rf"\S{{{LONGEST_WORD},}}")
_BREAK_HERE = "\u200b"
_SHORT, _WIDEST, _ROOM_FOR_A_FIGURE = 9, 48, 10


@dataclass(frozen=True, slots=True)
class Pdf:
    """The file's bytes, and the characters that no font here could show."""

    content: bytes
    missing: tuple[str, ...] = ()


def pdf(
    paper: Paper,
    *,
    at: datetime,
    shop: str = "",
    page: str = A4,
    picture: bytes | None = None,
    xml: tuple[str, bytes] | None = None,
    system_fonts: bool = True,
) -> Pdf:
    """The paper's pages. `at` is the instant of printing (aware). At the head stands who the paper is from,
    or `shop` where it does not say.

    `picture` is a PNG, JPEG, GIF, WebP or SVG file's bytes. `xml` is a file name and the e-invoice that goes
    inside (UTF-8). Where the fonts that come along lack a character, this machine's own are tried if
    `system_fonts`. Raises ValueError for a picture that is none.
    """
    data: dict[str, Any] = _each(_data(paper, shop, page), _breakable)
    given = {"xml": xml[1].decode()} if xml else {}
    if picture is not None:  # as numbers: typst takes what is handed to it for text
        given["picture"] = json.dumps(list(picture))
    data["xml"] = xml[0] if xml else ""
    data["picture"] = picture is not None
    return _set(data, given, at, system_fonts)


def _data(paper: Paper, shop: str, page: str) -> dict[str, Any]:
    whole = " ".join(part for part in (paper.title, paper.number) if part)
    shop = next((party.name for party in paper.parties if party.name), shop)
    shown = to_data(paper)
    assert isinstance(shown, dict)
    for block, own in zip(paper.blocks, shown["blocks"], strict=True):
        if isinstance(block, Table):
            for column, weight in zip(own["columns"], _weights(block), strict=True):
                column["weight"] = weight
        if isinstance(block, Picture):
            own["shapes"] = shapes(on_paper(block.sketch), block.alt or in_words(block.sketch))
    return {
        "paper": shown,
        "name": whole,
        "shop": shop or whole,
        "foot": " · ".join(part for part in (shop, whole) if part),
        "page": page,
        "language": language(),
        "words": {"page": t("page {n} of {all}"), "xml": t("The same as data (EN 16931, UBL 2.1)")},
    }


def _weights(table: Table) -> list[int]:
    """How much of the free width each column takes: 0 for figures and short words, which stay whole.

    In a table with room to write in, figures get room too.
    """
    longest = [
        max(width_of(line) for cell in cells for line in cell.split("\n"))
        for cells in zip(tuple(column.head for column in table.columns), *table.rows, strict=True)
    ]
    figures = _ROOM_FOR_A_FIGURE if table.room else 0
    weights = [
        figures
        if column.kind is ColumnKind.FIGURES and wide < LONGEST_WORD
        else 0
        if wide <= _SHORT
        else min(wide, _WIDEST)
        for column, wide in zip(table.columns, longest, strict=True)
    ]
    if any(weights):
        return weights
    words = [column.kind is ColumnKind.WORDS for column in table.columns]
    return [int(one) for one in words] if any(words) else [1] * len(words)


def _breakable(text: str) -> str:
    return _ENDLESS.sub(lambda word: re.sub(r"\S{4}", rf"\g<0>{_BREAK_HERE}", word[0]), text)


def _set(data: dict[str, Any], given: dict[str, str], at: datetime, system_fonts: bool) -> Pdf:
    import typst

    folder = files("tracker.papers") / "typst"
    sources: Any = {
        "main" if name == "paper.typ" else name: (folder / name).read_bytes() for name in _TEMPLATES
    }
    missing: dict[str, None] = {}
    own_only = True
    while True:
        try:
            content: bytes = typst.compile(
                sources,
                sys_inputs={"paper": json.dumps(data), **given},
                pdf_standards=STANDARDS,
                ignore_system_fonts=own_only,
                timestamp=at,
            )
            return Pdf(content, tuple(missing))
        except typst.TypstError as error:
            sign = unshown(error.message)
            if sign is None and data["picture"] and "image" in error.message:
                raise ValueError("this is no picture that can be printed") from error
            if sign is None:
                raise
            if own_only and system_fonts:
                own_only = False
                continue
            data, gone = _without(data, sign)
            if not gone:
                raise
            missing |= gone


def _without(data: dict[str, Any], sign: str) -> tuple[dict[str, Any], dict[str, None]]:
    """The data with a stand-in for what cannot be shown, and what that was.

    An error names the first sign of what is joined (a letter with its marks, an emoji with its tone), and
    that may well be shown alone: what is joined goes first, the sign by itself only when named again.
    """
    joined = {piece for text in _texts(data) for piece in clusters(text) if sign in piece and len(piece) > 1}
    gone = joined or ({sign} if sign != STAND_IN and any(sign in text for text in _texts(data)) else set())

    def change(text: str) -> str:
        return "".join(STAND_IN if piece in gone else piece for piece in clusters(text))

    return _each(data, change), dict.fromkeys(sorted(gone))


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, list | dict):
        for one in value.values() if isinstance(value, dict) else value:
            yield from _texts(one)


def _each(value: Any, change: Callable[[str], str]) -> Any:
    """The same lists and mappings with every text changed."""
    if isinstance(value, str):
        return change(value)
    if isinstance(value, list):
        return [_each(one, change) for one in value]
    if isinstance(value, dict):
        return {name: _each(one, change) for name, one in value.items()}
    return value


def unshown(message: str) -> str | None:
    """The character that an error says cannot be shown.

    >>> unshown('PDF/UA-1 error: the text `"配"` could not be displayed with font `"Libertinus Serif"`')
    '配'
    """
    found = _UNSHOWN.search(message)
    if found is None:
        return None
    return _ESCAPE.sub(lambda e: chr(int(e[1], 16)) if e[1] else str(e[2]), found[1][1:-1])
