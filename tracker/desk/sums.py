"""A sum asked by name: what was typed is read by the sum's own arguments, every mistake named at once.

Both forms of asking come here, the command line and the screen. What cannot be read goes on to the sum as
a figure that is none, so that the sum itself says which limits it had to keep.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from tracker.desk import typed
from tracker.electrics.catalogue import NamedSum
from tracker.electrics.catalogue_arguments import Argument, arguments_of, choices_of
from tracker.electrics.catalogue_sums import ALSO, NAMES, SUMS, find_sum
from tracker.errors import WrongUseError
from tracker.records.electrics import Sum
from tracker.records.problem import Mistakes, Problem
from tracker.records.text import clean_text
from tracker.seedfiles.door import SHIPPED, Seeds
from tracker.seedfiles.limits import load_limits
from tracker.seedfiles.tables import electric_tables, load_tables

MOST_ENTRIES = 1000
"""More entries than this in one list are not looked at."""

LARGEST = Decimal(10) ** 30

ALSO_WRITTEN = {"°C": ("°C", "C"), "ohm": ("ohms", "ohm", "Ω"), "days": ("days", "d")}
"""How people write a unit behind a figure, where they write it more than one way."""


class Unread(float):
    """A figure that could not be read: not a number, and in words what was typed."""

    text: str

    def __new__(cls, text: str) -> "Unread":
        """A figure that is none, with what was typed."""
        made = super().__new__(cls, math.nan)
        made.text = text
        return made

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class Answered:
    """A sum that was worked out: what it was given, what it took for the rest, and its answer."""

    named: NamedSum
    given: Mapping[str, Any]
    answer: Sum


def all_sums() -> tuple[tuple[NamedSum, ...], tuple[NamedSum, ...]]:
    """The named sums, and the smaller ones beside them."""
    return SUMS, ALSO


def named_sum(name: str) -> NamedSum:
    """The sum of that name; raises WrongUseError that lists them where there is none."""
    found = find_sum(name)
    if found is None:
        raise WrongUseError(f"There is no sum called “{name[:60]}”.", f"Sums: {', '.join(NAMES)}.")
    return found


def work_out(
    named: NamedSum, raw: Mapping[str, object], seeds: Seeds = SHIPPED, before: Sequence[Problem] = ()
) -> Answered:
    """The answer of a sum to what was typed, by argument; raises Mistakes with all that is wrong.

    Values are texts as people type them, or numbers, truths and lists of them as a program gives them.
    `before` is what was wrong already with the way it was asked.
    """
    by_name = {one.name: one for one in arguments_of(named)}
    known = ", ".join(by_name)
    problems = [
        *before,
        *(
            Problem(name[:60], f"There is no argument “{name[:60]}” here.", f"Arguments: {known}.")
            for name in raw
            if name not in by_name
        ),
    ]
    house = _house(named, seeds)
    values: dict[str, Any] = {}
    missing: dict[str, Sequence[str]] = {}
    for argument in by_name.values():
        given = raw.get(argument.name)
        choices = choices_of(named, argument, _tables(seeds))
        if _nothing(given):
            if argument.required:
                missing[argument.name] = choices
                values[argument.name] = _stand_in(argument)
            continue
        read = _read(argument, given, choices)
        if isinstance(read, Problem):
            problems.append(read)
            if argument.required:
                values[argument.name] = _stand_in(argument)
        else:
            values[argument.name] = read
    answer, found = _ask(named, values | house)
    problems = _sorted_out(found, problems, missing, by_name, values)
    if problems or answer is None:
        raise Mistakes(problems)
    taken = {one.name: values.get(one.name, one.default) for one in by_name.values()}
    return Answered(named, {name: value for name, value in taken.items() if value not in (None, ())}, answer)


def _ask(named: NamedSum, values: Mapping[str, Any]) -> tuple[Sum | None, tuple[Problem, ...]]:
    try:
        return named.function(**values), ()
    except Mistakes as mistakes:
        return None, mistakes.problems


def _sorted_out(
    found: Sequence[Problem],
    before: Sequence[Problem],
    missing: Mapping[str, Sequence[str]],
    known: Mapping[str, Argument],
    values: Mapping[str, Any],
) -> list[Problem]:
    """All that is wrong, by argument: the sum's own problems without those that only stand-ins caused.

    A needed argument that is missing asks for itself, one that goes with another (flashes want seconds) too.
    """
    refused = {_first(problem) for problem in before}
    hints = {_first(problem): problem.hint or problem.sentence for problem in reversed(found)}
    sorted_out = list(before)
    for problem in found:
        name = _first(problem)
        if problem.given == "nan" and name not in values and name in known:
            sorted_out.append(_needed(known[name], problem.hint))
        elif name not in missing and name not in refused:
            sorted_out.append(problem)
    for name, choices in missing.items():
        hint = f"One of: {', '.join(choices)}." if choices else hints.get(name, "")
        sorted_out.append(_needed(known[name], hint))
    told = {_first(problem) for problem in sorted_out}
    for name, value in values.items():
        unread = [one for one in (value if isinstance(value, tuple) else (value,)) if isinstance(one, Unread)]
        if unread and name not in told:
            sorted_out.append(Problem(name, f"“{name}” is {unread[0]}, not a number.", given=str(unread[0])))
    order = {name: place for place, name in enumerate(known)}
    return sorted(sorted_out, key=lambda problem: order.get(_first(problem), -1))


def _needed(argument: Argument, hint: str) -> Problem:
    return Problem(argument.name, f"“{argument.name}” is needed: {argument.words}.", hint)


def _first(problem: Problem) -> str:
    """The argument that a problem is about, whatever entry of it."""
    return problem.field.split(" ")[0]


def _house(named: NamedSum, seeds: Seeds) -> dict[str, Any]:
    """The published figures that a sum stands on."""
    takes = named.function.__annotations__
    found: dict[str, Any] = {}
    if "tables" in takes:
        found["tables"] = _tables(seeds)
    if "limits" in takes:
        found["limits"] = load_limits(seeds)
    return found


def _tables(seeds: Seeds) -> Any:
    return electric_tables() if not seeds.own else load_tables(seeds)


def _nothing(given: object) -> bool:
    return given is None or given in ((), []) or (isinstance(given, str) and not given.strip())


def _stand_in(argument: Argument) -> Any:
    if argument.many:
        return ()
    return "" if argument.kind is str else Unread("nothing")


def _read(argument: Argument, given: object, choices: Sequence[str]) -> Any:
    """A value, a tuple of values, or the Problem that keeps it from being either."""
    if not argument.many:
        if isinstance(given, list | tuple):
            if len(given) != 1:
                words = f"“{argument.name}” is given {len(given)} times; once is all it takes."
                return Problem(argument.name, words, given=", ".join(map(str, given))[:60])
            given = given[0]
        return _one(argument, argument.name, given, choices)
    entries = [
        entry
        for one in (given if isinstance(given, list | tuple) else [given])
        for entry in _split(one, argument)
    ]
    if len(entries) > MOST_ENTRIES:
        return Problem(
            argument.name, f"“{argument.name}” has {len(entries)} entries, more than are looked at."
        )
    read = [_one(argument, f"{argument.name} {n}", one, choices) for n, one in enumerate(entries, 1)]
    return next((one for one in read if isinstance(one, Problem)), tuple(read))


def _split(given: object, argument: Argument) -> list[object]:
    """The entries of a list in one text: figures by blanks, anything by semicolons."""
    if not isinstance(given, str):
        return [given]
    parts = given.split(";") if argument.kind is str else given.replace(";", " ").split()
    return [part for part in parts if part.strip()]


def _one(argument: Argument, field: str, given: object, choices: Sequence[str]) -> Any:
    if argument.kind is bool:
        return given if isinstance(given, bool) else typed.truth(field, str(given))
    if isinstance(given, bool) or not isinstance(given, str | int | float | Decimal):
        return Problem(field, f"“{field}” cannot be read from that.", given=str(given)[:60])
    if argument.kind is str:
        text = clean_text(field, str(given), longest=200)
        return text if isinstance(text, Problem) else _choice(text, choices)
    return _figure(argument, given)


def _choice(text: str, choices: Sequence[str]) -> str:
    """The answer that was meant; the text itself where it is none of them, for the sum to refuse."""
    plain = {_folded(choice): choice for choice in choices}
    return plain.get(_folded(text), text)


def _folded(text: str) -> str:
    return "".join(text.casefold().replace("-", " ").replace("_", " ").replace("’", "'").split())


def _figure(argument: Argument, given: str | int | float | Decimal) -> float | int:
    """A figure, whole where the argument is; what is none becomes one that says so."""
    text = str(given).strip()
    value: Decimal | Problem
    if isinstance(given, float | Decimal) and math.isfinite(given):
        value = Decimal(str(given))
    else:
        value = typed.figure(argument.name, _without_unit(text, argument.unit), most=LARGEST)
    if isinstance(value, Problem):
        seen = clean_text(argument.name, text[:60])
        return Unread("nothing" if isinstance(seen, Problem) else seen)
    if argument.kind is int and value == value.to_integral_value():
        return int(value)
    return float(value)


def _without_unit(text: str, unit: str) -> str:
    """A figure whose own unit was typed behind it; another unit stays, and makes it none."""
    for ending in ALSO_WRITTEN.get(unit, (unit,)):
        if ending and text.casefold().endswith(ending.casefold()):
            return text[: -len(ending)].strip()
    return text
