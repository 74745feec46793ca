"""What was found as a repair: its type, circuit, wire and places; and the reading that proves it."""

from dataclasses import dataclass, field
from typing import Final

from tracker.loom.where import words_of
from tracker.records.loom_made import Loom
from tracker.records.trace import Mark, TraceTables
from tracker.trace.bench import Bench
from tracker.trace.check import Check, check
from tracker.trace.deciding import SuspectClass
from tracker.trace.offering import across
from tracker.trace.parts import Single, zones_of
from tracker.trace.said import WRONG, states_of
from tracker.trace.words import single_words

PLACE_RULES: Final = {
    "way": ("terminal", "connector"),
    "bullet": ("bullet",),
    "blade": ("terminal",),
    "screw": ("terminal",),
    "post": ("terminal",),
    "holder": ("lamp", "component"),
    "splice": ("splice-open-barrel", "splice-soldered"),
    "joint": ("splice-open-barrel", "splice-soldered"),
    "earth": ("earth",),
    "inside": ("component",),
    "metal": ("earth",),
}
"""Repair types by the kind of place, the usual one first."""

SOURCE_RULES: Final = {
    "battery": ("battery", "charging-check"),
    "charging output": ("regulator",),
    "stator winding": ("stator",),
    "lighting coil": ("stator",),
    "source coil": ("stator",),
}

PROOF_V: Final = 0.1
"""A mended joint drops no more than this above what the sum says with its load on (common practice, no
source)."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """One repair for what was found. `on` has what repair types ask of the loom: from, to, place, part."""

    words: str
    single: Single
    rules: tuple[str, ...]
    circuit: str
    zone: str
    on: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Proof:
    """The loaded reading asked for after a repair: at most `most_v` across the mended part, its load on."""

    check: Check
    most_v: float


def proposals(bench: Bench, found: SuspectClass, marks: tuple[Mark, ...]) -> tuple[Proposal, ...]:
    """Repairs for each fault of the likeliest suspect; the others of its class cannot be told from it."""
    first = found.suspects[0]
    circuit = _circuit(bench.loom, marks)
    return tuple(proposal_of(bench.loom, single, circuit) for single in first.theory)


def proof(bench: Bench, tables: TraceTables, single: Single, marks: tuple[Mark, ...]) -> Proof | None:
    """The drop across a mended part with its load on; None where nothing flows through it to go by."""
    ends = across(bench, single)
    complaint = next((mark for mark in marks if mark.symptom in WRONG and states_of(bench, mark)), None)
    if ends is None or complaint is None or single.fault in {"bulb", "flat", "to frame", "as built"}:
        return None
    state = states_of(bench, complaint)[0]
    volts = bench.net(state).solution.volts
    a, b = (volts.get(bench.net(state).node(end), 0.0) for end in ends)
    device = bench.loom.devices.get(single.part[1])
    if device is not None and device.is_load:
        return None
    made = check(bench.loom, tables, "drop", str(ends[0]), bench.states[state], against=str(ends[1]))
    return Proof(made, round(abs(a - b) + PROOF_V, 2))


def proposal_of(loom: Loom, single: Single, circuit: str) -> Proposal:
    """The repair for one fault of a part that the loom has; `circuit` in words."""
    zones = zones_of(loom, single)
    return Proposal(
        words=single_words(loom, single),
        single=single,
        rules=_rules(loom, single),
        circuit=circuit,
        zone=zones[0] if zones else "",
        on=_on(loom, single),
    )


def _rules(loom: Loom, single: Single) -> tuple[str, ...]:
    what, id_ = single.part
    if single.fault == "other lamps":
        return ("led",)
    if single.fault == "as built":
        return ()
    if what == "place":
        place = loom.places[id_]
        return ("stator-plug",) if place.body == "stator-plug" else PLACE_RULES[place.kind]
    if what == "wire":
        return ("re-sleeve", "wire") if single.fault == "to frame" else ("wire", "splice-open-barrel")
    device = loom.devices[id_]
    if single.fault == "leaks":
        return "drain-hunt", "regulator"
    match device.kind:
        case "filament":
            return ("lamp",)
        case "switch":
            return "switch", "component"
        case "source":
            return SOURCE_RULES.get(device.source, ("component",))
        case _:
            return ("component",)


def _on(loom: Loom, single: Single) -> dict[str, str]:
    what, id_ = single.part
    if what == "wire":
        wire = loom.wires[id_]
        return {"from": wire.a.place, "to": wire.b.place, "wire": id_}
    if what == "place":
        place = loom.places[id_]
        near = next((w for w in loom.wires.values() if id_ in {w.a.place, w.b.place}), None)
        ends = {"from": near.a.place, "to": near.b.place, "wire": near.id} if near else {}
        return {"place": id_, **({"part": place.body} if place.body else {}), **ends}
    device = loom.devices[id_]
    return {"part": device.body or id_, "place": device.a.place, "words": words_of(loom, "device", id_)}


def _circuit(loom: Loom, marks: tuple[Mark, ...]) -> str:
    load = next((mark.load for mark in marks if mark.symptom in WRONG and mark.load in loom.devices), "")
    return f"{loom.devices[load].words} circuit" if load else ""
