"""What the named sums ask for: each argument with its words, its unit and its answers where they are few."""

import inspect
import types
import typing
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from tracker.electrics.alternator import Arrangement
from tracker.electrics.catalogue import NamedSum
from tracker.electrics.catalogue_words import HELD, WORDS
from tracker.electrics.conductor import families
from tracker.electrics.crimp import pull_rules
from tracker.electrics.drop import RETURNS
from tracker.electrics.flasher import RULES
from tracker.electrics.fuse import fuse_families
from tracker.electrics.splice import METHODS
from tracker.records.bike import UNKNOWN
from tracker.records.electrics import Tables
from tracker.records.limits import LEAD_KINDS, LITHIUM

GIVEN_BY_THE_HOUSE = ("tables", "limits")
"""Arguments that no person gives: the published figures."""

BATTERIES = (*LEAD_KINDS, LITHIUM, UNKNOWN)

UNITS: dict[str, str] = {
    "a": "A", "v": "V", "w": "W", "ohm": "ohm", "mm": "mm", "mm2": "mm2", "c": "°C", "percent": "%", "n": "N",
    "h": "h", "s": "s", "ma": "mA", "ah": "Ah", "hz": "Hz", "sg": "SG", "rev_min": "rev/min",
    "per_min": "/min", "volts": "V", "watts": "W", "seconds": "s", "days": "days", "ah_per_day": "Ah a day",
}  # fmt: skip
"""The end of a name, and the unit that it stands for."""

CHOICES: dict[tuple[str, str], Callable[[Tables], Sequence[str]]] = {
    ("wire", "family"): lambda tables: families(tables.conductors),
    ("wire", "fuse_family"): lambda tables: fuse_families(tables.fuses),
    ("wire", "returns"): lambda _: RETURNS,
    ("drop", "returns"): lambda _: RETURNS,
    ("fuse", "family"): lambda tables: fuse_families(tables.fuses),
    ("sleeve", "kind"): lambda tables: ("any", *dict.fromkeys(row.kind for row in tables.sleeves)),
    ("splice", "method"): lambda _: METHODS,
    ("crimp", "rule"): lambda tables: pull_rules(tables.pulls),
    ("lamp", "category"): lambda tables: tuple(dict.fromkeys(row.category for row in tables.lamps)),
    ("lamp", "filament"): lambda tables: tuple(dict.fromkeys(row.filament for row in tables.lamps)),
    ("flasher", "rule"): lambda _: tuple(RULES),
    ("battery", "kind"): lambda _: BATTERIES,
    ("battery", "system_v"): lambda _: ("6", "12"),
    ("bridge", "arrangement"): lambda _: typing.get_args(Arrangement),
    ("cranking", "kind"): lambda _: BATTERIES,
    ("cranking", "system_v"): lambda _: ("6", "12"),
    ("terminal", "stud"): lambda tables: tuple(row.size for row in tables.terminals if row.kind == "ring"),
}
"""Arguments with few answers, by sum and name."""


@dataclass(frozen=True, slots=True)
class Argument:
    """One argument of a sum; `kind` is float, int, str or bool, of each entry where `many`.

    `default` is what is taken where nothing is given; None where the sum does without or finds its own.
    """

    name: str
    words: str
    unit: str
    kind: type
    many: bool
    required: bool
    default: Any

    @property
    def option(self) -> str:
        """Its name on a command line."""
        return f"--{self.name.replace('_', '-')}"


def arguments_of(named: NamedSum) -> tuple[Argument, ...]:
    """The arguments a person gives to a sum, those it cannot do without first.

    Formula: none: read off the function's own signature.
    Range: any named sum.
    Example:
        >>> from tracker.electrics.catalogue_sums import SUMS
        >>> [(one.option, one.unit, one.required) for one in arguments_of(SUMS[5])][:3]
        [('--bundle-mm', 'mm', True), ('--covered-mm', 'mm', True), ('--tape-width-mm', 'mm', False)]

    Source: none: a list.
    """
    hints = typing.get_type_hints(named.function)
    parameters = inspect.signature(named.function).parameters.values()
    found = [
        _argument(named.name, one, hints[one.name])
        for one in parameters
        if one.name not in GIVEN_BY_THE_HOUSE
    ]
    return tuple(sorted(found, key=lambda one: not one.required))


def unit_of(name: str) -> str:
    """The unit in a name; empty where it has none.

    Formula: the longest ending that stands for a unit.
    Range: names of arguments and of figures.
    Example:
        >>> unit_of("drop_v"), unit_of("cruise_rev_min"), unit_of("joints"), unit_of("a_day_sg")
        ('V', 'rev/min', '', 'SG')

    Source: none: a way of reading.
    """
    words = name.split("_")
    endings = ("_".join(words[start:]) for start in range(len(words)))
    return next((UNITS[ending] for ending in endings if ending in UNITS), "")


def choices_of(named: NamedSum, argument: Argument, tables: Tables) -> tuple[str, ...]:
    """The few answers that an argument has; empty where it takes a figure or any text.

    Formula: none.
    Range: any argument of any sum.
    Example:
        >>> from tracker.electrics.catalogue_sums import find_sum
        >>> from tracker.seedfiles.tables import electric_tables
        >>> named, tables = find_sum("drop"), electric_tables()
        >>> [choices_of(named, one, tables) for one in arguments_of(named) if one.name == "returns"]
        [('frame', 'wire')]

    Source: none: a list.
    """
    found = CHOICES.get((named.name, argument.name))
    return () if found is None else tuple(found(tables))


def _argument(sum_name: str, parameter: inspect.Parameter, hint: Any) -> Argument:
    if isinstance(hint, types.UnionType):
        (hint,) = (one for one in typing.get_args(hint) if one is not types.NoneType)
    many = typing.get_origin(hint) not in (None, typing.Literal)
    kind = typing.get_args(hint)[0] if many else hint
    required = parameter.default is inspect.Parameter.empty
    return Argument(
        name=parameter.name,
        words=HELD.get((sum_name, parameter.name)) or WORDS[parameter.name],
        unit=unit_of(parameter.name),
        kind=str if typing.get_origin(kind) is typing.Literal else kind,
        many=many,
        required=required,
        default=None if required else parameter.default,
    )
