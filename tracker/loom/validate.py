"""Whether a loom hangs together: what is wrong with it, each thing beside the part it concerns.

The only rule of a circuit is that every load has one in the states that should work it, and none in those
in which it must rest. Loops are sound.
"""

from collections.abc import Iterator

from tracker.loom.currents import too_much
from tracker.loom.edit import apply
from tracker.loom.ohms import load_current_a
from tracker.loom.pattern import suppose
from tracker.loom.settle import Settled, settle, works
from tracker.loom.states import powered, standard
from tracker.loom.where import words_of
from tracker.records.loom import TWO_SIDED, End, What
from tracker.records.loom_made import Fact, Loom
from tracker.records.loom_pattern import State
from tracker.records.problem import Problem


def validate(loom: Loom) -> tuple[Problem, ...]:
    """Everything that is wrong with a loom; open questions are answered as is usual."""
    loom = suppose(loom)
    states = standard(loom)
    settled = {name: settle(loom, powered(loom, state)) for name, state in states.items()}
    return (
        *_hanging(loom),
        *_values(loom),
        *_works(loom, states, settled),
        *_shorts(settled),
        *too_much(loom, settled.values()),
    )


def consequences(loom: Loom, *facts: Fact) -> tuple[Problem, ...]:
    """What facts would break together that is whole now, to be read before they are kept; or why one of
    them fits nowhere."""
    after = loom
    for fact in facts:
        after = apply(after, fact)
    refused = after.unfinished[len(loom.unfinished) :]
    if refused:
        return tuple(Problem(f"{one.fact.what} {one.fact.id}", one.reason) for one in refused)
    before = set(validate(loom))
    return tuple(problem for problem in validate(after) if problem not in before)


def _hanging(loom: Loom) -> Iterator[Problem]:
    """Ends that lead nowhere, places with nothing on one side, zones nobody knows."""
    sides: dict[End, int] = {}
    ends: list[tuple[What, str, str, End]] = []
    for wire in loom.wires.values():
        ends += [("wire", wire.id, "from", wire.a), ("wire", wire.id, "to", wire.b)]
    for device in loom.devices.values():
        ends += [("device", device.id, "from", device.a), ("device", device.id, "to", device.b)]
    for what, id_, name, end in ends:
        sides[end] = sides.get(end, 0) + 1
        if end.place not in loom.places:
            yield Problem(
                f"{what} {id_}: {name}",
                f"This leads to “{end.place}”, which is not there: {words_of(loom, what, id_)}.",
                "Re-pin it or take it out.",
                end.place,
            )
    for place in loom.places.values():
        inward, outward = sides.get(End(place.id, "in"), 0), sides.get(End(place.id, "out"), 0)
        if place.zone not in loom.known.zones:
            yield Problem(f"place {place.id}: zone", f"There is no zone “{place.zone}”.", given=place.zone)
        if inward + outward == 0:
            yield Problem(f"place {place.id}", f"Nothing hangs on: {place.words}.")
        elif place.kind in TWO_SIDED and not (inward and outward):
            yield Problem(f"place {place.id}", f"Nothing hangs on the other side of: {place.words}.")
        elif inward + outward == 1 and place.kind != "metal":
            yield Problem(f"place {place.id}", f"It is a dead end: {place.words}.")


def _values(loom: Loom) -> Iterator[Problem]:
    for wire in loom.wires.values():
        if wire.length_mm <= 0:
            yield Problem(f"wire {wire.id}: length_mm", "A wire has a length.", given=str(wire.length_mm))
        if wire.ohm is None and not wire.size_mm2:
            yield Problem(f"wire {wire.id}: size_mm2", "Its size is missing.")
    for device in loom.devices.values():
        for name, _ in device.at:
            if name not in loom.known.controls:
                yield Problem(f"device {device.id}: at", f"There is no control “{name}”.", given=name)
        if device.is_load and not load_current_a(device, loom):
            yield Problem(
                f"device {device.id}", f"Neither watts, ohms nor amps are known of: {device.words}."
            )


def _works(loom: Loom, states: dict[str, State], settled: dict[str, Settled]) -> Iterator[Problem]:
    for device in loom.devices.values():
        where = f"device {device.id}"
        if device.is_load and not any(name in states for name in device.works):
            yield Problem(f"{where}: works", f"Nobody has said when this should work: {device.words}.")
        for name in device.works:
            if name in states and not works(settled[name], device):
                needed = "It should work" if device.is_load else "Something should charge it"
                yield Problem(
                    f"{where}: works",
                    f"No circuit for: {device.words}. {needed} with {settled[name].state.words}.",
                    given=name,
                )
        for name in device.rests:
            if name in states and works(_plain(loom, states[name], settled[name]), device):
                yield Problem(
                    f"{where}: rests",
                    f"It has a circuit where it must have none: {device.words}, with {states[name].words}.",
                    given=name,
                )


def _plain(loom: Loom, state: State, settled: Settled) -> Settled:
    """The state as it is written, not as a bike without a battery needs it."""
    return settled if settled.state == state else settle(loom, state)


def _shorts(settled: dict[str, Settled]) -> Iterator[Problem]:
    seen: set[str] = set()
    for now in settled.values():
        for source in now.giving:
            if source.source == "battery" and now.shorted(source) and source.id not in seen:
                seen.add(source.id)
                yield Problem(
                    f"device {source.id}", f"A dead short across the {source.words}, with {now.state.words}."
                )
