"""A bike's loom: the pattern for its features, then what was seen on its model, then what was seen on it."""

import dataclasses
from collections.abc import Iterable, Mapping, Sequence

from tracker.loom.edit import apply
from tracker.loom.fits import known_answers
from tracker.loom.select import Kept, select
from tracker.records.loom import Device, Place, What, Wire
from tracker.records.loom_made import Fact, Loom
from tracker.records.loom_pattern import Pattern, RouteRules

Answers = Mapping[str, str | None]


def build(
    pattern: Pattern,
    features: Answers,
    model_facts: Sequence[Fact] = (),
    bike_facts: Sequence[Fact] = (),
    wheelbase_mm: int | None = None,
) -> Loom:
    """The loom of one bike. Facts are taken in their order, the model's first.

    `features` maps feature ids to answers, None for “don't know”, which keeps every variant. Lengths of
    wires from zone to zone are scaled by the wheelbase. A fact that fits nowhere is listed as unfinished.
    """
    answers, lost = known_answers(pattern.known.features, features)
    parts, doubts = select(pattern, answers, {})
    scale = wheelbase_mm / pattern.known.route.reference_wheelbase_mm if wheelbase_mm else 1.0
    devices = _earthed(parts.devices, answers.get("earth"))
    wires = {wire.id: _scaled(wire, _across(wire, parts.places), scale) for wire in parts.wires.values()}
    usual = pattern.known.features.get("volts")
    volts = answers.get("volts") or (usual.usual if usual else "12")
    loom = Loom(
        known=pattern.known,
        bodies=parts.bodies,
        places=parts.places,
        devices=devices,
        wires=wires,
        features=answers,
        volts=float(volts),
        scale=scale,
        doubtful=doubts,
        lost=lost,
    )
    loom = apply_all(loom, (dataclasses.replace(fact, level="model") for fact in model_facts))
    return apply_all(loom, (dataclasses.replace(fact, level="bike") for fact in bike_facts))


def apply_all(loom: Loom, facts: Iterable[Fact]) -> Loom:
    """The loom after some facts, in their order."""
    for fact in facts:
        loom = apply(loom, fact)
    return loom


def home_made(pattern: Pattern) -> Pattern:
    """A pattern without a part: what a home-made loom starts from."""
    return Pattern(known=pattern.known)


def suppose(loom: Loom, answers: Mapping[str, str] | None = None) -> Loom:
    """One loom to work with: each open question answered as given, else so that what was seen can be there,
    else as is usual.

    What was seen on the model or the bike stays as it was seen. A loom without open questions is itself.
    """
    open_now = open_questions(loom)
    if not open_now:
        return loom
    usual = {name: loom.known.features[name].usual for name in open_now}
    supposed = _as_seen(loom, usual) | {
        name: value for name, value in (answers or {}).items() if name in open_now
    }
    features = {**loom.features, **supposed}
    seen: dict[tuple[What, str], frozenset[str]] = {}
    for what, id_, name in loom.origins:
        if what != "zone":
            seen[what, id_] = seen.get((what, id_), frozenset()) | {name}
    parts, _ = select(loom, features, seen)
    volts = float(features.get("volts", loom.volts))
    return dataclasses.replace(
        loom,
        bodies=parts.bodies,
        places=parts.places,
        devices=_earthed(parts.devices, supposed.get("earth"), seen),
        wires=parts.wires,
        doubtful={},
        supposed={**loom.supposed, **supposed},
        volts=volts,
    )


def _as_seen(loom: Loom, usual: Mapping[str, str]) -> dict[str, str]:
    """The usual answers, but others where a part of which something was seen or done could not be else: a
    wire that was spliced is there.
    """
    answers = dict(usual)
    keys = {(what, id_) for what, id_, _ in loom.origins if what != "zone" and (what, id_) in loom.doubtful}

    def there(what: What, id_: str, supposed: Mapping[str, str]) -> bool:
        return id_ in select(loom, {**loom.features, **supposed}, {})[0].table(what)

    for what, id_ in sorted(keys):
        if there(what, id_, answers):
            continue
        tried = (
            answers | {name: value}
            for name in loom.doubtful[what, id_]
            if name in answers
            for value in loom.known.features[name].values
        )
        answers = next((one for one in tried if there(what, id_, one)), answers)
    return answers


def open_questions(loom: Loom) -> tuple[str, ...]:
    """The features whose answers would change something of this loom, in the pattern's order."""
    asked = {name for names in loom.doubtful.values() for name in names}
    if loom.devices:
        asked.add("earth")
    for entries in (loom.bodies, loom.places, loom.devices, loom.wires):
        for entry in entries.values():
            for alter in entry.alter:
                asked |= set(alter.when.features)
    return tuple(name for name in loom.known.features if name in asked and name not in loom.features)


def size_class(route: RouteRules, name: str) -> int | None:
    """The wheelbase of a size class in mm, for a bike nobody measured."""
    return route.sizes.get(name)


def _earthed(
    devices: Mapping[str, Device], earth: str | None, seen: Kept | None = None
) -> Mapping[str, Device]:
    """With the positive side on the frame everything that has a polarity stands the other way round.

    What somebody added stands as it was found.
    """
    if earth != "positive":
        return devices
    return {
        device.id: dataclasses.replace(device, a=device.b, b=device.a)
        if (device.one_way or (device.kind == "source" and not device.ac))
        and "" not in (seen or {}).get(("device", device.id), frozenset())
        else device
        for device in devices.values()
    }


def _across(wire: Wire, places: Mapping[str, Place]) -> bool:
    return places[wire.a.place].zone != places[wire.b.place].zone


def _scaled(wire: Wire, across: bool, scale: float) -> Wire:
    if not across or scale == 1.0:
        return wire
    return dataclasses.replace(wire, length_mm=max(1, round(wire.length_mm * scale)))
