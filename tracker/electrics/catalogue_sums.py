"""Every sum that has a name, in the order they are listed."""

from collections.abc import Callable
from dataclasses import replace

from tracker.electrics import catalogue_charging as charging
from tracker.electrics.ampacity import ampacity
from tracker.electrics.catalogue import WIRE_SUMS, NamedSum
from tracker.electrics.catalogue_budget import charge_budget
from tracker.electrics.charge_catalogue import CHARGE_SUMS
from tracker.electrics.terminal import terminal
from tracker.records.electrics import Sum

NAMES = (
    "wire", "drop", "fuse", "bundle", "sleeve", "tape", "splice", "crimp", "lamp", "ballast", "flasher",
    "battery", "hydrometer", "drain", "bridge", "winding", "balance", "charge-budget", "vin",
)  # fmt: skip

ALSO_NAMES = ("ampacity", "terminal", "load-test", "cranking", "self-discharge")

WRAPPED: dict[str, Callable[..., Sum]] = {
    "hydrometer": charging.hydrometer,
    "self-discharge": charging.self_discharge,
    "winding": charging.winding_alone,
    "balance": charging.balance,
    "charge-budget": charge_budget,
}
"""Sums whose arguments or figures are called otherwise where they are asked by name."""

_MORE = (
    NamedSum("ampacity", "the amps a wire may carry", ampacity),
    NamedSum("terminal", "the terminals for a wire, or for several in one", terminal),
)

_ALL = {
    named.name: replace(named, function=WRAPPED.get(named.name, named.function))
    for named in (*WIRE_SUMS, *CHARGE_SUMS, *_MORE)
}

SUMS: tuple[NamedSum, ...] = tuple(_ALL[name] for name in NAMES)
"""The sums, in the order of a repair: wires, joints, lamps, battery, alternator, frame number."""

ALSO: tuple[NamedSum, ...] = tuple(_ALL[name] for name in ALSO_NAMES)
"""Smaller sums that the others are built on or go with."""


def find_sum(name: str) -> NamedSum | None:
    """The sum of that name; None where there is none.

    Formula: none.
    Range: any text; blanks and underscores count as dashes.
    Example:
        >>> [found and found.words for found in (find_sum("Charge budget"), find_sum("horn"))]
        ['the alternator against the loads that are on', None]

    Source: none: a list.
    """
    plain = "-".join(name.casefold().replace("_", " ").replace("-", " ").split())
    return _ALL.get(plain)
