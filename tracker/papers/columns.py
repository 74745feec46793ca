"""A table as lines of text: figures whole and to the right, words sharing what is left of the width."""

from collections.abc import Sequence
from itertools import zip_longest

from tracker.papers.paper import Column, ColumnKind, Table
from tracker.records.width import TAB, left, right, width_of, wrap

GAP = "  "
LEAST_WORDS = 12
"""With less than this for a column of words, each row is set as a list of its cells instead."""
LINE = "─"
BLANK = "_"


def table_lines(table: Table, width: int) -> list[str]:
    """The table in lines of at most `width` columns."""
    widths = _widths(table, width)
    if widths is None:
        return _as_lists(table, width)
    head = _row_lines([column.head for column in table.columns], table.columns, widths)
    rule = LINE * (sum(widths) + len(GAP) * (len(widths) - 1))
    lines = [*head, rule]
    for row in table.rows:
        lines += _row_lines(row, table.columns, widths)
    for _ in range(table.room):
        lines += ["", GAP.join(BLANK * wide for wide in widths)]
    return lines


def beside(blocks: Sequence[Sequence[str]], widths: Sequence[int], gap: str = GAP) -> list[str]:
    """Blocks of lines set beside each other, each filled up to its width."""
    return [
        gap.join(left(part, wide) for part, wide in zip(parts, widths, strict=True)).rstrip(" ")
        for parts in zip_longest(*blocks, fillvalue="")
    ]


def keyed(key: str, value: Sequence[str], key_width: int, *, gap: str = GAP) -> list[str]:
    """A key with the lines of its value beside it."""
    keys = wrap(key, key_width)
    return [
        f"{left(one, key_width)}{gap}{line}".rstrip(" ")
        for one, line in zip_longest(keys, value, fillvalue="")
    ]


def _widths(table: Table, width: int) -> list[int] | None:
    """What each column gets, or None where words would get too little."""
    cells = list(zip(*([column.head for column in table.columns], *table.rows), strict=True))
    natural = [
        max(1, *(width_of(line) for cell in column for line in cell.replace("\t", TAB).split("\n")))
        for column in cells
    ]
    words = [at for at, column in enumerate(table.columns) if column.kind is ColumnKind.WORDS]
    figures = sum(natural[at] for at in range(len(natural)) if at not in words)
    free = width - figures - len(GAP) * (len(natural) - 1)
    if not words:
        return natural if free >= 0 else None
    shares = _shared([natural[at] for at in words], free)
    if any(share < min(natural[at], LEAST_WORDS) for at, share in zip(words, shares, strict=True)):
        return None
    for at, share in zip(words, shares, strict=True):
        natural[at] = share
    return natural


def _shared(wanted: Sequence[int], free: int) -> list[int]:
    """`free` columns over those that want some: each what it wants if it can, the widest give way first.

    What nobody wants goes to the one that wants most.
    """
    shares = [0] * len(wanted)
    left_over = free
    hungry = sorted(range(len(wanted)), key=lambda at: wanted[at])
    for served, at in enumerate(hungry):
        shares[at] = max(0, min(wanted[at], left_over // (len(hungry) - served)))
        left_over -= shares[at]
    shares[max(range(len(wanted)), key=lambda at: wanted[at])] += max(0, left_over)
    return shares


def _row_lines(cells: Sequence[str], columns: Sequence[Column], widths: Sequence[int]) -> list[str]:
    broken = [wrap(cell, max(wide, 2)) for cell, wide in zip(cells, widths, strict=True)]
    lines = []
    for parts in zip_longest(*broken, fillvalue=""):
        set_out = [
            right(part, wide) if column.kind is ColumnKind.FIGURES else left(part, wide)
            for part, column, wide in zip(parts, columns, widths, strict=True)
        ]
        lines.append(GAP.join(set_out).rstrip(" "))
    return lines


def _as_lists(table: Table, width: int) -> list[str]:
    """Each row as a list of its heads and cells, for a width in which they cannot stand side by side."""
    heads = [column.head for column in table.columns]
    key_width = min(max(1, *(width_of(head) for head in heads)), width // 3)
    lines: list[str] = []
    blank = [("",) * len(heads)] * table.room
    for number, row in enumerate([*table.rows, *blank]):
        if number:
            lines.append("")
        for head, cell in zip(heads, row, strict=True):
            value = cell or (BLANK * 12 if number >= len(table.rows) else "")
            if value:
                lines += keyed(head, wrap(value, width - key_width - len(GAP)), key_width)
    return lines
