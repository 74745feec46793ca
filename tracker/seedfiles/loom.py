"""The general pattern of the loom, read from seeds/loom/*.toml and the tables of zones and of what comes off.

Every mistake of every file is named at once, by file, entry and field; only a sound pattern is handed on.
"""

import dataclasses
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from tracker.records.loom import Alter, Body, Entry
from tracker.records.loom_pattern import Access, Known, Pattern, RouteRules, Zone
from tracker.records.problem import Problem
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.loom_check import look_over
from tracker.seedfiles.loom_tables import read_accesses, read_zones
from tracker.seedfiles.loom_words import Gathered, Spot, in_words

FOLDER = "loom"

KINDS = (
    "feature", "control", "state", "joint", "size", "caution", "route", "body", "place", "device", "wire"
)  # fmt: skip
"""The tables a file of the loom may have; each holds entries by id."""

PARTS = ("body", "place", "device", "wire")
ID = r"[a-z0-9]+(-[a-z0-9]+)*"
LIMITS = frozenset({"when", "unless"})


def load_pattern(seeds: Seeds = SHIPPED) -> Pattern:
    """The pattern as one shop sees it; raises SeedMistakes naming every mistake. The shipped one is kept."""
    return _shipped() if seeds is SHIPPED else _load(seeds)


@cache
def _shipped() -> Pattern:
    return _load(SHIPPED)


@dataclass(slots=True)
class Reading(Gathered):
    """What has been read so far."""

    entries: dict[str, dict[str, Any]] = field(default_factory=lambda: {kind: {} for kind in KINDS})


def _load(seeds: Seeds) -> Pattern:
    reading = Reading()
    for name in seeds.names(FOLDER, ".toml"):
        try:
            text = seeds.toml(name)
        except SeedMistakes as mistakes:
            reading.problems += [Problem(name, p.sentence, p.hint, p.given) for p in mistakes.problems]
            continue
        _file(reading, name, text)
    zones = read_zones(seeds, reading.problems)
    accesses = read_accesses(seeds, reading.problems)
    rules: RouteRules | None = next(iter(reading.entries["route"].values()), None)
    if rules is None:
        reading.problems.append(
            Problem(FOLDER, "No file says how lengths are worked out.", "A table [route.rules] is wanted.")
        )
    if rules is None or not zones or not accesses:
        raise SeedMistakes(FOLDER, reading.problems)
    pattern = _pattern(reading.entries, zones, accesses, rules)
    look_over(pattern, seeds, reading)
    if reading.problems:
        raise SeedMistakes(FOLDER, reading.problems)
    return pattern


def _pattern(
    have: dict[str, dict[str, Any]], zones: dict[str, Zone], accesses: dict[str, Access], rules: RouteRules
) -> Pattern:
    known = Known(
        features=have["feature"],
        zones=zones,
        accesses=accesses,
        controls=have["control"],
        states=have["state"],
        joints=have["joint"],
        sizes=tuple(sorted(have["size"].values(), key=lambda size: float(size.size_mm2))),
        cautions=have["caution"],
        route=rules,
    )
    return Pattern(
        known=known, bodies=have["body"], places=have["place"], devices=have["device"], wires=have["wire"]
    )


def _file(reading: Reading, name: str, text: Mapping[str, Any]) -> None:
    for kind, entries in text.items():
        if kind not in KINDS or not isinstance(entries, dict):
            reading.problems.append(
                Problem(f"{name}: {kind}", "There is no such table.", f"One of: {', '.join(KINDS)}.")
            )
            continue
        for id_, raw in entries.items():
            spot = Spot(kind, id_)
            before = reading.home.get((kind, id_))
            reading.home[kind, id_] = name
            if before:
                reading.wrong(spot, f"This entry is in {before} as well.", "Every id stands once.")
            elif not re.fullmatch(ID, id_):
                reading.wrong(spot, "An id is small letters, digits and single hyphens.", given=id_)
            elif not isinstance(raw, dict):
                reading.wrong(spot, "An entry has named fields.", given=raw)
            else:
                _entry(reading, spot, raw)


def _entry(reading: Reading, spot: Spot, raw: dict[str, Any]) -> None:
    altering = spot.kind in PARTS and "alter" in raw
    plain = {name: value for name, value in raw.items() if not (altering and name == "alter")}
    shape = _read(reading, spot, plain)
    if shape is None:
        return
    record = shape.record(spot.id)
    if altering:
        record = dataclasses.replace(record, alter=tuple(_alters(reading, spot, raw, record)))
    reading.entries[spot.kind][spot.id] = record
    if isinstance(record, Body):
        reading.entries["place"].update(shape.places(spot.id))
        reading.home.update(
            {("place", place): reading.home[spot.kind, spot.id] for place in shape.places(spot.id)}
        )


def _read(reading: Reading, spot: Spot, raw: dict[str, Any]) -> Any:
    from pydantic import ValidationError

    try:
        return _model(spot.kind).model_validate(raw)
    except ValidationError as error:
        fields = [it.alias or name for name, it in _model(spot.kind).model_fields.items()]
        for name, sentence, hint, given in in_words(error, fields):
            reading.wrong(spot.of(name), sentence, hint, given)
        reading.broken.add(spot.id)
        return None


def _model(kind: str) -> Any:
    from tracker.seedfiles import loom_parts as parts
    from tracker.seedfiles import loom_shapes as shapes

    return {
        "feature": shapes.FeatureIn,
        "control": shapes.ControlIn,
        "state": shapes.StateIn,
        "joint": shapes.JointIn,
        "size": shapes.SizeIn,
        "caution": shapes.CautionIn,
        "route": shapes.RouteIn,
        "body": parts.BodyIn,
        "place": parts.PlaceIn,
        "device": parts.DeviceIn,
        "wire": parts.WireIn,
    }[kind]


def _alters(reading: Reading, spot: Spot, raw: dict[str, Any], record: Entry) -> Iterator[Alter]:
    """Each `alter` is the entry once more with some fields written otherwise; what differs is kept."""
    alters = raw["alter"]
    plain = {name: value for name, value in raw.items() if name not in {"alter", *LIMITS}}
    if not isinstance(alters, list) or not all(isinstance(change, dict) for change in alters):
        reading.wrong(
            spot.of("alter"), "This is a list of changes, each with a “when” or “unless”.", given=alters
        )
        return
    for number, change in enumerate(alters, 1):
        here = spot.of(f"alter {number}: ")
        if not LIMITS & set(change) or not set(change) - LIMITS:
            reading.wrong(here, "It needs a “when” or “unless”, and something to change.")
            continue
        if refused := {"ways", "was"} & set(change):
            reading.wrong(here.of(min(refused)), "This cannot differ by feature.")
            continue
        shape = _read(reading, here, plain | change)
        if shape is None:
            continue
        other = shape.record(spot.id)
        values = tuple(
            (it.name, getattr(other, it.name))
            for it in dataclasses.fields(record)
            if it.name not in {"when", "alter"} and getattr(other, it.name) != getattr(record, it.name)
        )
        if not values:
            reading.wrong(here, "It changes nothing.")
        yield Alter(other.when, values)
