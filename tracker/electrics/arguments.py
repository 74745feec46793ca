"""The arguments of a sum, looked over together: every mistake named with its value and limits at once."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from tracker.electrics.conductor import awg_conductor, find_conductor
from tracker.records.electrics import Conductor, Sourced
from tracker.records.problem import Mistakes, Problem


def shown(value: float) -> str:
    """A number as people write it: at most six figures, no needless noughts, no powers of ten.

    Formula: six significant figures, trailing noughts off.
    Range: any finite number.
    Example:
        >>> shown(12.0), shown(0.108364), shown(1_000_000)
        ('12', '0.108364', '1000000')

    Source: none: a way of writing.
    """
    if not math.isfinite(value):
        return str(value)
    places = 5 - math.floor(math.log10(abs(value))) if value else 0
    text = f"{value:.{max(0, places)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def sentence(text: str) -> str:
    """`text` with a capital to begin a sentence.

    Formula: the first letter made a capital, the rest untouched.
    Range: any text.
    Example:
        >>> sentence("a lamp of 21 W")
        'A lamp of 21 W'

    Source: none: a way of writing.
    """
    return text[:1].upper() + text[1:]


@dataclass(slots=True)
class Arguments:
    """Gathers what is wrong with one sum's arguments; `settle` raises it all as Mistakes, or does nothing."""

    problems: list[Problem] = field(default_factory=list)

    def number(
        self, name: str, value: float, low: float, high: float, unit: str, *, over: bool = False
    ) -> None:
        """`value` must be a number from `low` (above it, where `over`) to `high`, in `unit`."""
        is_number = isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)
        if is_number and (low < value if over else low <= value) and value <= high:
            return
        given = shown(value) if is_number else str(value)
        least = f"over {shown(low)}" if over else f"from {shown(low)}"
        unit = f" {unit}" if unit else ""
        self.problems.append(
            Problem(
                name,
                f"“{name}” is {given}{unit}; it must be {least} to {shown(high)}{unit}."
                if is_number
                else f"“{name}” is {given}, not a number; it must be {least} to {shown(high)}{unit}.",
                f"A number {least} to {shown(high)}{unit}.",
                given,
            )
        )

    def whole(self, name: str, value: int, low: int, high: int, unit: str = "") -> None:
        """`value` must be a whole number from `low` to `high`."""
        if isinstance(value, int) and not isinstance(value, bool):
            self.number(name, value, low, high, unit)
        else:
            self.wrong(
                name, str(value), f"“{name}” is {value}; it must be a whole number from {low} to {high}."
            )

    def choice(self, name: str, value: str, known: Iterable[str]) -> None:
        """`value` must be one of `known`."""
        words = tuple(known)
        if value not in words:
            listed = ", ".join(f"“{word}”" for word in words)
            self.wrong(name, str(value), f"“{name}” is “{value}”; it must be one of {listed}.")

    def one_of(self, names: Sequence[str], given: Sequence[object]) -> None:
        """Exactly one of the arguments `names` must be given (not None)."""
        there = [name for name, value in zip(names, given, strict=True) if value is not None]
        listed = ", ".join(f"“{name}”" for name in names)
        if not there:
            self.wrong(names[0], "", f"One of {listed} is needed; none is given.")
        for name in there[1:]:
            self.wrong(name, "", f"Only one of {listed} may be given; “{there[0]}” and “{name}” are.")

    def wrong(self, name: str, given: str, sentence: str, hint: str = "") -> None:
        """Notes a mistake in so many words."""
        self.problems.append(Problem(name, sentence, hint, given))

    def wire(self, name: str, text: str, conductors: Sequence[Conductor]) -> Conductor:
        """The wire that `text` names; where it names none, that is noted and a stand-in goes on."""
        found = find_conductor(text, conductors, name)
        if isinstance(found, Conductor):
            return found
        self.problems.append(found)
        return awg_conductor(18)

    def settle(self) -> None:
        """Raises Mistakes with every problem, or does nothing where there is none."""
        if self.problems:
            raise Mistakes(self.problems)


def cited(*rows: Sourced | str) -> tuple[str, ...]:
    """The sources of `rows`, each once, weak ones saying so.

    Formula: each row's source in the order given, doubles left out.
    Range: rows, or sources already in words.
    Example:
        >>> from tracker.records.electrics import FuseRating
        >>> row = FuseRating(family="maxi", rating_a=25, colour="grey", status="from memory", source="a list")
        >>> cited(row, row)
        ('maxi fuse ratings and colours: a list (from memory, not checked)',)

    Source: none: a way of writing.
    """
    return tuple(dict.fromkeys(row if isinstance(row, str) else row.cited for row in rows))


def doubts(*rows: tuple[str, Sourced]) -> tuple[str, ...]:
    """One sentence for each named row that nobody could check.

    Formula: rows whose status is “from memory” are named.
    Range: pairs of what the row says and the row.
    Example:
        >>> from tracker.records.electrics import FuseRating
        >>> row = FuseRating(family="maxi", rating_a=25, colour="grey", status="from memory", source="")
        >>> doubts(("25 A maxi fuse", row))
        ('25 A maxi fuse: this figure is from memory and was not checked.',)

    Source: none: a way of writing.
    """
    return tuple(
        dict.fromkeys(
            f"{what}: this figure is from memory and was not checked."
            for what, row in rows
            if row.status == "from memory"
        )
    )
