"""A sum asked beside a bike: its own figures and the card's latest readings stand in the arguments."""

from collections.abc import Mapping

from tracker.desk.desk import Desk
from tracker.desk.show import CardView, card_view
from tracker.electrics.catalogue import NamedSum
from tracker.electrics.catalogue_arguments import arguments_of, choices_of
from tracker.records.bike import UNKNOWN
from tracker.records.card import Reading
from tracker.records.electrics import Sum
from tracker.seedfiles.tables import electric_tables

READ_AS: Mapping[str, Mapping[str, str]] = {
    "battery": {"standing_v": "standing_volts"},
    "hydrometer": {"cells_sg": "gravity", "temperature_c": "battery_temperature"},
    "drain": {"drain_ma": "drain"},
    "bridge": {"ac_v": "ac_volts_ab", "rev_min": "rev_min"},
    "winding": {"reading_ohm": "winding_ohms", "temperature_c": "temperature"},
    "flasher": {"per_min": "flash_rate"},
    "crimp": {"pulled_n": "pull"},
    "lamp": {"volts": "lamp_volts"},
    "load-test": {"end_v": "load_volts", "temperature_c": "battery_temperature"},
    "cranking": {"cranking_v": "cranking_volts"},
}
"""Which reading an argument of a sum is."""

GIVES: Mapping[str, tuple[str, str]] = {
    "battery": ("standing_volts", "standing_v"),
    "hydrometer": ("gravity", "cells_sg"),
    "drain": ("drain", "drain_ma"),
    "winding": ("winding_ohms", "reading_ohm"),
    "flasher": ("flash_rate", "per_min"),
    "crimp": ("pull", "pulled_n"),
    "lamp": ("lamp_volts", "volts"),
    "load-test": ("load_volts", "end_v"),
    "cranking": ("cranking_volts", "cranking_v"),
    "bridge": ("ac_volts_ab", "ac_v"),
}
"""The reading that a sum was fed with, and the argument that holds it: what is kept as a reading."""


def known_of(desk: Desk, number: str, named: NamedSum) -> dict[str, str]:
    """What of a sum's arguments the card knows, as it would be typed; the latest reading of a kind counts.

    Raises NotFoundError for a card that there is not.
    """
    view = card_view(desk, number)
    known = _of_bike(view)
    latest: dict[str, Reading] = {}
    for reading in sorted(view.facts.readings, key=lambda one: one.id):
        latest[reading.kind] = reading
    for name, kind in READ_AS.get(named.name, {}).items():
        if kind in latest and latest[kind].value is not None:
            known[name] = f"{latest[kind].value:g}"
    tables = electric_tables()
    found = {}
    for argument in arguments_of(named):
        value = known.get(argument.name, "")
        choices = choices_of(named, argument, tables)
        if value and (not choices or value in choices):
            found[argument.name] = value
    return found


def _of_bike(view: CardView) -> dict[str, str]:
    bike = view.facts.bike
    if bike is None:
        return {}
    known = {"vin": bike.vin}
    if bike.battery_kind and bike.battery_kind != UNKNOWN:
        known["kind"] = bike.battery_kind
    if bike.battery_ah:
        known["battery_ah"] = f"{bike.battery_ah:g}"
    if bike.volts:
        known["system_v"] = known["rated_v"] = known["supply_v"] = str(bike.volts)
    return {name: value for name, value in known.items() if value}


def as_reading(named: NamedSum, typed: Mapping[str, str]) -> dict[str, str]:
    """The `read` deed's fields for what the sum was fed with; empty where it is fed with no reading."""
    kind, argument = GIVES.get(named.name, ("", ""))
    value = typed.get(argument, "").strip()
    return {"kind": kind, "value": value} if kind and value else {}


def in_words(named: NamedSum, answer: Sum, short: str) -> str:
    """The answer as a finding or an estimate line says it: in short, then the first reason."""
    why = f" ({answer.why[0]})" if answer.why else ""
    return f"{named.name}: {short}{why}"
