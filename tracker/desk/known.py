"""What the file knows of who and what is being booked in."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from tracker.desk.bikes import AddBike
from tracker.errors import NotFoundError
from tracker.records.bike import Bike
from tracker.records.card import Card, CardKind
from tracker.records.people import Customer
from tracker.records.problem import Mistakes, Problem

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Known:
    """What the file knows of who and what is booked in, and what speaks against it."""

    kind: CardKind
    bike: Bike | None
    customer: Customer | None
    payer: Customer | None
    rider: Customer | None
    first: Card | None
    new_bike: AddBike | None
    waits: Card | None
    problems: tuple[Problem, ...]


def tried(problems: list[Problem], field: str, look: Callable[[], T]) -> T | None:
    """What `look` finds; where it finds none, or several, that is a mistake in `field`."""
    try:
        return look()
    except NotFoundError as error:
        problems.append(Problem(field, error.sentence, error.hint))
    except Mistakes as several:
        problems += [Problem(field, p.sentence, p.hint, p.given) for p in several.problems]
    return None
