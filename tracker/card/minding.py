"""Which cautions a bike gives cause for: none of a battery where there is none, none of lithium for lead."""

from collections.abc import Iterable, Mapping

from tracker.records.bike import UNKNOWN, Bike
from tracker.records.limits import LEAD_KINDS, LITHIUM

OF_A_BATTERY = ("Battery",)
OF_LITHIUM = ("Lithium",)
"""How cautions begin that are of a battery, or of lithium, and of nothing else."""
NONE = "none"


def battery_of(bike: Bike, features: Mapping[str, str]) -> str:
    """The kind of battery, `none` where there is none: the bike's own record first, then its answers."""
    if bike.volts == 0:
        return NONE
    return bike.battery_kind if bike.battery_kind != UNKNOWN else features.get("battery") or UNKNOWN


def fitting(words: Iterable[str], bike: Bike | None, features: Mapping[str, str]) -> tuple[str, ...]:
    """The cautions that make sense on this bike, each once. What nobody knows keeps them.

    >>> said = ("Battery: earthed lead off first.", "Lithium: 14.6 V is high.", "Hot oil.")
    >>> fitting(said, Bike(make="Halden", volts=6, battery_kind="flooded"), {})
    ('Battery: earthed lead off first.', 'Hot oil.')
    >>> fitting(said, Bike(make="Halden", volts=0), {})
    ('Hot oil.',)
    """
    every = tuple(dict.fromkeys(words))
    if bike is None:
        return every
    battery = battery_of(bike, features)
    if battery == NONE:
        return tuple(one for one in every if not one.startswith((*OF_A_BATTERY, *OF_LITHIUM)))
    if battery in LEAD_KINDS or (battery != LITHIUM and bike.volts not in (12, None)):
        return tuple(one for one in every if not one.startswith(OF_LITHIUM))
    return every
