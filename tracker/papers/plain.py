"""A paper as plain text, in columns, for a terminal, a mail or a printer that knows one font."""

from collections.abc import Sequence

from tracker.papers.columns import BLANK, GAP, LINE, beside, keyed, table_lines
from tracker.papers.paper import (
    Block,
    Pair,
    Pairs,
    Paper,
    Party,
    Picture,
    Room,
    Signature,
    Sum,
    Sums,
    Table,
    Words,
    WordsKind,
)
from tracker.papers.pictured import picture_lines
from tracker.records.width import TAB, left, right, width_of, wrap

LEAST_WIDTH = 40
LEAST_BLANK = 20
"""Room to write that is worth having, where it stands beside something longer."""
TWO_COLUMNS_FROM = 64
"""Below this width what could stand in two columns stands in one."""
DOUBLE = "═"
COLUMN_GAP = "    "
_SIGNS = {WordsKind.LIST: "- ", WordsKind.CAUTION: "! ", WordsKind.TICKS: "[ ] ", WordsKind.TEXT: ""}


def plain(paper: Paper, width: int = 80) -> str:
    """The paper in lines of at most `width` columns, LF between them and at the end.

    Raises ValueError below `LEAST_WIDTH`: figures are never broken, so they need their room.
    """
    if width < LEAST_WIDTH:
        raise ValueError(f"a paper is at least {LEAST_WIDTH} columns wide")
    parts = [_head(paper, width)]
    parts += [_parties(paper.parties[at : at + 2], width) for at in range(0, len(paper.parties), 2)]
    parts += [_block(block, width) for block in paper.blocks]
    return "\n\n".join("\n".join(part) for part in parts if part) + "\n"


def _head(paper: Paper, width: int) -> list[str]:
    rule = DOUBLE * width
    if width_of(paper.title) + width_of(paper.number) + len(GAP) > width:
        return [*wrap(paper.title, width), *wrap(paper.number, width), rule]
    return [
        (paper.title + right(paper.number, width - width_of(paper.title))).rstrip(" "),
        rule,
    ]


def _parties(parties: Sequence[Party], width: int) -> list[str]:
    wide = (width - len(GAP)) // 2 if width >= TWO_COLUMNS_FROM else width
    blocks = [_party(party, wide) for party in parties]
    if wide < width:
        return beside(blocks, [wide] * len(blocks))
    return [line for at, block in enumerate(blocks) for line in ([""] if at else []) + block]


def _party(party: Party, width: int) -> list[str]:
    lines = [party.name, *party.lines] if party.name else list(party.lines)
    return [party.role, *(f"  {part}" for line in lines for part in wrap(line, width - 2))]


def _block(block: Block, width: int) -> list[str]:
    match block:
        case Pairs():
            return _titled(block.title, width, _pairs(block, width))
        case Table():
            return _titled(block.title, width, table_lines(block, width))
        case Sums():
            return _sums(block.rows, width)
        case Words():
            return _titled(block.title, width, _words(block, width))
        case Room():
            return _titled(
                block.title, width, [line for _ in range(block.lines) for line in ("", BLANK * width)]
            )
        case Signature():
            return _signature(block, width)
        case Picture():
            return _titled(
                block.title,
                width,
                [*picture_lines(block.sketch, width), *(wrap(block.note, width) if block.note else ())],
            )


def _titled(title: str, width: int, lines: list[str]) -> list[str]:
    if not title:
        return lines
    *before, last = wrap(title, width - 4)
    return [*before, f"{last} {LINE * (width - width_of(last) - 1)}", *lines]


def _pairs(block: Pairs, width: int) -> list[str]:
    if block.columns == 1 or width < TWO_COLUMNS_FROM:
        return _one_column(block.pairs, width)
    cut = (len(block.pairs) + 1) // 2
    left_pairs, right_pairs = block.pairs[:cut], block.pairs[cut:]
    if not right_pairs:
        return _one_column(left_pairs, width)
    free = width - len(COLUMN_GAP)
    widths = _halves(_wanted(left_pairs), _wanted(right_pairs), free)
    columns = [_one_column(part, wide) for part, wide in zip((left_pairs, right_pairs), widths, strict=True)]
    return beside(columns, widths, COLUMN_GAP)


def _wanted(pairs: Sequence[Pair]) -> int:
    """The width in which no value of these pairs is broken."""
    values = max(width_of(line) for pair in pairs for line in pair.value.replace("\t", TAB).split("\n"))
    if any(pair.room for pair in pairs):
        values = max(values, LEAST_BLANK)
    return max(width_of(pair.key) for pair in pairs) + len(GAP) + values


def _halves(first: int, second: int, free: int) -> tuple[int, int]:
    """Two columns: halves, unless one wants more and the other can do with less, down to a third."""
    half, third = free // 2, free // 3
    if second > free - half:
        half = min(half, max(first, free - second, third))
    elif first > half:
        half = max(half, min(first, free - second, free - third))
    return half, free - half


def _one_column(pairs: Sequence[Pair], width: int) -> list[str]:
    key_width = min(max(width_of(pair.key) for pair in pairs), width // 2)
    lines = []
    for pair in pairs:
        free = width - key_width - len(GAP)
        value = [_blank(pair.after, free)] if pair.room and not pair.value else wrap(pair.value, free)
        lines += keyed(pair.key, value, key_width)
    return lines


def _blank(after: str, width: int) -> str:
    """A line to write on, and what comes after it."""
    return f"{BLANK * (width - width_of(after) - 1)} {after}" if after else BLANK * width


def _sums(rows: Sequence[Sum], width: int) -> list[str]:
    value_width = max(width_of(row.value) for row in rows)
    label_width = min(max(width_of(row.label) for row in rows), width - value_width - len(GAP))
    margin = " " * (width - label_width - value_width - len(GAP))
    lines: list[str] = []
    for row in rows:
        if row.strong and lines:
            lines.append(margin + LINE * (width - len(margin)))
        *before, last = wrap(row.label, label_width)
        lines += [margin + part for part in before]
        lines.append(f"{margin}{left(last, label_width)}{GAP}{right(row.value, value_width)}")
    return lines


def _words(block: Words, width: int) -> list[str]:
    sign = _SIGNS[block.kind]
    lines: list[str] = []
    for at, paragraph in enumerate(block.paragraphs):
        if at and block.kind is WordsKind.TEXT:
            lines.append("")
        first, *others = wrap(paragraph, width - len(sign))
        lines += [sign + first, *(" " * len(sign) + line if line else "" for line in others)]
    return lines


def _signature(block: Signature, width: int) -> list[str]:
    lines = wrap(block.words, width) if block.words else []
    one = (width - len(GAP) * (len(block.labels) - 1)) // len(block.labels)
    if one < 20:
        for label in block.labels:
            lines += ["", _line_to_sign(label, width)]
        return lines
    return [*lines, "", GAP.join(_line_to_sign(label, one) for label in block.labels)]


def _line_to_sign(label: str, width: int) -> str:
    return f"{label} {BLANK * (width - width_of(label) - 1)}"
