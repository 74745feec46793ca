"""Taking one thing on a card by its place there: repair 2, finding 1, part 3, as they are listed."""

from collections.abc import Sequence
from typing import TypeVar

from tracker.records.problem import Mistakes, Problem
from tracker.records.row import Row

R = TypeVar("R", bound=Row)


def in_order(rows: Sequence[R]) -> tuple[R, ...]:
    """Things on a card in the order they were written, which is the order they are numbered in."""
    return tuple(sorted(rows, key=lambda row: row.id))


def numbered(field: str, rows: Sequence[R], number: int) -> R:
    """The `number`th of these, counted from 1; raises Mistakes beside `field`."""
    ordered = in_order(rows)
    if not ordered:
        raise Mistakes([Problem(field, "There is none on this card.", given=str(number))])
    if not 1 <= number <= len(ordered):
        raise Mistakes(
            [Problem(field, f"There are {len(ordered)} on this card.", f"1 to {len(ordered)}.", str(number))]
        )
    return ordered[number - 1]


def place_of(rows: Sequence[R], row: R) -> int:
    """The number of one of these on its card, counted from 1."""
    return [one.id for one in in_order(rows)].index(row.id) + 1


def only_or_numbered(field: str, rows: Sequence[R], number: int | None) -> R:
    """The numbered one, or the only one when no number is given; raises Mistakes when that is not clear."""
    if number is not None:
        return numbered(field, rows, number)
    if len(rows) == 1:
        return rows[0]
    if not rows:
        raise Mistakes([Problem(field, "There is none on this card.")])
    raise Mistakes([Problem(field, f"Which of the {len(rows)}?", f"Give its number, 1 to {len(rows)}.")])
