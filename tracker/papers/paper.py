"""A paper as a structure: head, parties, and blocks one under the other. It knows no page and no font.

What makes text of it (`tracker.papers.plain`) or pages of it reads the same values; `to_data` gives them as
plain lists and texts; a picture's shapes `tracker.papers.pictured` makes. Every text in it is data: nothing a
person wrote is ever read as markup.
"""

from dataclasses import dataclass, fields, is_dataclass
from enum import StrEnum
from typing import TypeAlias

from tracker.records.drawing import Sketch


class ColumnKind(StrEnum):
    """How a column is set: words from the left and broken over lines, figures to the right and whole."""

    WORDS = "words"
    FIGURES = "figures"


class WordsKind(StrEnum):
    """What a block of words is: running text, things to mind, a list, or boxes to tick."""

    TEXT = "text"
    CAUTION = "caution"
    LIST = "list"
    TICKS = "ticks"


@dataclass(frozen=True, slots=True)
class Party:
    """Somebody on the paper: `role` (“From”, “To”), `name`, then what else is said of them."""

    role: str
    name: str
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Pair:
    """A key and its value; with `room` an empty value is room to write in, before `after` (a unit)."""

    key: str
    value: str
    room: bool = False
    after: str = ""


@dataclass(frozen=True, slots=True)
class Pairs:
    """Keys and values, in one column or, where they are short, in two (down the first, then the second)."""

    pairs: tuple[Pair, ...]
    title: str = ""
    columns: int = 1


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table."""

    head: str
    kind: ColumnKind = ColumnKind.WORDS


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of as many cells as there are columns. A cell may have several lines; `room` rows are blank."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    title: str = ""
    room: int = 0


@dataclass(frozen=True, slots=True)
class Sum:
    """One line of a sum, its value to the right; `strong` for what the eye looks for."""

    label: str
    value: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Sums:
    """What a table adds up to."""

    rows: tuple[Sum, ...]


@dataclass(frozen=True, slots=True)
class Words:
    """Paragraphs, or the entries of a list; with `keep` on the page of what follows, if one holds both."""

    paragraphs: tuple[str, ...]
    kind: WordsKind = WordsKind.TEXT
    title: str = ""
    keep: bool = False


@dataclass(frozen=True, slots=True)
class Room:
    """Room to write: so many empty lines."""

    title: str
    lines: int


@dataclass(frozen=True, slots=True)
class Signature:
    """Where somebody signs: what stands under or before each line (“Name”, “Date”)."""

    words: str
    labels: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A loom from the side, laid out for the page or the terminal where it is shown.

    `note` stands under it, `alt` says what it shows to who cannot see it.
    """

    sketch: Sketch
    title: str = ""
    note: str = ""
    alt: str = ""


Block: TypeAlias = Pairs | Table | Sums | Words | Room | Signature | Picture


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper whole. `number` is its own where it has one, `parties` stand beside each other."""

    title: str
    number: str = ""
    parties: tuple[Party, ...] = ()
    blocks: tuple[Block, ...] = ()


def to_data(value: object) -> object:
    """A paper, or a part of it, in texts, numbers, lists and mappings; a block says in `block` what it is.

    >>> to_data(Sums((Sum("Total", "12.00 EUR"),)))
    {'block': 'sums', 'rows': [{'label': 'Total', 'value': '12.00 EUR', 'strong': False}]}
    """
    if isinstance(value, tuple):
        return [to_data(one) for one in value]
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, Picture):
        return {"block": "picture", "title": value.title, "note": value.note}
    if is_dataclass(value):
        own = {field.name: to_data(getattr(value, field.name)) for field in fields(value)}
        return {"block": type(value).__name__.lower()} | own if isinstance(value, Block) else own
    return value


def some(*blocks: Block | None) -> tuple[Block, ...]:
    """The blocks that have something in them."""
    return tuple(block for block in blocks if block is not None and _has_something(block))


def _has_something(block: Block) -> bool:
    match block:
        case Pairs(pairs=pairs):
            return bool(pairs)
        case Table(rows=rows, room=room):
            return bool(rows) or room > 0
        case Sums(rows=rows):
            return bool(rows)
        case Words(paragraphs=paragraphs):
            return bool(paragraphs)
        case Picture(sketch=sketch):
            return bool(sketch.zones)
        case Room() | Signature():
            return True
