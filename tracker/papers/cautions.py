"""What is said on the bench card so that nobody is hurt: short, once, only what this bike gives cause for."""

from collections.abc import Mapping

from tracker.card.minding import battery_of, fitting
from tracker.records.bike import Bike, Earth
from tracker.records.limits import LITHIUM

LAST = "The maker's manual, local law and licensed practice come first."
_SPARKS = "goggles, no rings or watch, no sparks while or just after charging."
_EARTH = {
    Earth.NEGATIVE: f"Battery, NEGATIVE earth: the negative lead off first and on last; {_SPARKS}",
    Earth.POSITIVE: f"Battery, POSITIVE earth: the positive lead off first and on last; {_SPARKS}",
    Earth.UNKNOWN: "Battery: which side is earthed is NOT KNOWN. Find out before a lead comes off; the"
    f" earthed one off first and on last; {_SPARKS}",
}
_LITHIUM_NOT_12 = (
    "Lithium battery of another voltage than 12 V: there are no figures for it here; its maker's charger and"
    " figures only."
)
_LITHIUM = (
    "Lithium battery: no jump start and no ordinary charger at 10 V or less; 14.6 V is high, at 15 V"
    " stop now."
)
_ENGINE = (
    "Engine: in neutral, wheel blocked, nobody in front before a starter is bridged; crank for 5 s, then rest"
    " 30 s; outdoors or extracted; bike held by a stand on firm ground; exhaust hot."
)
_RUNNING = "Battery: it never comes off with the engine running."
_HIGH_VOLTS = (
    "Volts that bite: HT tens of kV, a CDI's primary hundreds, a bare stator plug at speed up to about"
    " 100 V AC. No cranking with an open HT lead. Pacemaker: keep off."
)
_METER = (
    "Meter and loom: back-probe, never pierce a sealed lead; the meter's lead back out of the 10 A hole; a"
    " fuse is never uprated to cure a blow; a crimp is pull-tested on a sample, the fitted one only tugged."
)
_MODULES = (
    "Modules: no filament test lamp on ECU or sensor pins. No injector earthed by hand, no open pump runs."
)
_ABS = "ABS: hydraulics are not opened, and it is never unplugged live."
_FAN = "Radiator fan: it may start with the key off."
_INTERLOCK = "No interlock is left bridged when it goes out."


def for_the_bench(bike: Bike | None, features: Mapping[str, str]) -> tuple[str, ...]:
    """What to mind with this bike; without one (a loom or unit on the bench) only what a meter can meet.

    `features` are answers by question, as the loom's own files name them (`fuel`, `abs`, `cooling`,
    `battery`). What is not known is taken for possible where leaving it out could hurt.
    """
    if bike is None:
        return _HIGH_VOLTS, _METER, LAST
    said = (
        _EARTH.get(bike.earth),
        _RUNNING,
        _lithium(bike, battery_of(bike, features)),
        _ENGINE,
        _HIGH_VOLTS,
        _METER,
        _MODULES if features.get("fuel") != "carburettor" else None,
        _ABS if features.get("abs") != "no" else None,
        _FAN if features.get("cooling") != "air" else None,
        _INTERLOCK,
        LAST,
    )
    return fitting((sentence for sentence in said if sentence), bike, features)


def _lithium(bike: Bike, battery: str) -> str | None:
    if battery != LITHIUM:
        return None
    return _LITHIUM if bike.volts in (12, None) else _LITHIUM_NOT_12
