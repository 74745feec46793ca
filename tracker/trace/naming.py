"""From what people call things to marks and readings: loads by any name, states, places, what was read."""

import re
from collections.abc import Iterable
from typing import Final

from tracker.loom.find import find, find_loads
from tracker.records.card import SymptomKind
from tracker.records.problem import Problem
from tracker.records.text import fold
from tracker.records.trace import CheckWord, ConditionWord, Mark, TraceReading
from tracker.trace.bench import Bench
from tracker.trace.doubts import closest
from tracker.trace.said import WRONG, states_of

_CONDITIONS: Final[tuple[tuple[str, ConditionWord], ...]] = (
    ("lock", "at full lock"), ("turned", "at full lock"), ("wet", "wet"), ("rain", "wet"), ("hot", "hot"),
    ("warm", "hot"), ("shak", "shaken"), ("bump", "shaken"), ("vibrat", "shaken"), ("times", "at times"),
    ("sometimes", "at times"),
)  # fmt: skip

NEARLY: Final = 4
"""The rank of a part that is only nearly called so: a slip is asked about, not guessed."""

_NUMBER: Final = re.compile(r"[-+]?\d+(?:[.,]\d+)?")
_SEEN: Final = frozenset({"dead", "weak", "works"})


def condition(text: str) -> ConditionWord | None:
    """“hot”, “in the rain”, “bars at full lock”, “when shaken”; None where it says none of these."""
    folded = fold(text)
    return next((word for sign, word in _CONDITIONS if sign in folded), None)


def marks_named(
    bench: Bench, symptom: SymptomKind, text: str, *, other: str = "", when: ConditionWord | None = None
) -> tuple[list[Mark], Problem | None]:
    """The marks of one name as typed: a load, a body with loads, or a state with all that works in it.

    `NAME@STATE` says in which state it was seen. What nobody knows is one mark with that name, and a problem.
    """
    name, _, state = text.strip().partition("@")
    beyond = ""
    if other:
        found, wrong = _load(bench, other)
        if wrong:
            return [], wrong
        beyond = found[0]
    if state and state not in bench.states:
        known = ", ".join(bench.states)
        return [], Problem("state", f"There is no state “{state}” for this bike.", f"One of: {known}.", state)
    if name in bench.states and name not in bench.loom.devices:
        loads = [d.id for d in bench.loom.devices.values() if d.is_load and name in d.works]
        return [_mark(one, symptom, name, beyond, when) for one in loads], None
    loads, problem = _load(bench, name)
    if problem:
        return [], problem
    return [_mark(one, symptom, state, beyond, when) for one in loads], None


def _mark(load: str, symptom: SymptomKind, state: str, other: str, when: ConditionWord | None) -> Mark:
    return Mark(load=load, symptom=symptom, state=state, other=other, when=when or "")


def _load(bench: Bench, name: str) -> tuple[list[str], Problem | None]:
    """The load of that name; a battery or a fuse may be meant as well."""
    devices = bench.loom.devices
    if name in devices:
        return [name], None
    wanted = fold(name)
    if wanted == "battery":
        battery = [d.id for d in devices.values() if d.source == "battery"]
        if battery:
            return battery[:1], None
    found = find_loads(bench.loom, name) if wanted else ()
    if found and any(hit.rank < NEARLY for hit in find(bench.loom, name)):
        return [found[0]], None
    fuses = [d.id for d in devices.values() if d.kind == "fuse" and wanted and wanted in fold(d.words)]
    if fuses:
        return fuses[:1], None
    return [], Problem("load", f"No load in the loom is called “{name}”.", closest(bench.loom, name), name)


def reading_named(
    bench: Bench, text: str, marks: Iterable[Mark]
) -> tuple[TraceReading | None, Problem | None]:
    """`PLACE=VOLTS@STATE`, `PLACE..PLACE=VOLTS@STATE` for a drop, `PART=WORD@STATE` for what was seen.

    Without a state it is the one in which the first complaint was seen.
    """
    place, equals, rest = text.partition("=")
    said, _, state = rest.partition("@")
    place, said, state = place.strip(), said.strip(), state.strip()
    if not equals or not place or not said:
        return None, Problem(
            "reading", f"“{text}” does not say PLACE=VOLTS@STATE.", "rear-plug:tail=12.3@position"
        )
    state = state or _usual_state(bench, marks)
    red, dots, black = place.partition("..")
    number = _NUMBER.fullmatch(said.removesuffix("V").removesuffix("v").strip())
    if number:
        volts = float(number[0].replace(",", "."))
        kind: CheckWord = "drop" if dots else "volts"
        return TraceReading(
            kind=kind, place=_sided(bench, red), state=state, value=volts,
            against=_sided(bench, black) if dots else "",
        ), None  # fmt: skip
    outcome = fold(said)
    found = _seen_kind(bench, red, outcome)
    if found is None:
        hint = "A number, or: dead, weak, works, blown, whole, broken, bad, good, clicks, silent."
        return None, Problem("reading", f"“{said}” is no reading of “{red}”.", hint, text)
    return TraceReading(kind=found, place=red, state=state, outcome=outcome), None


def _seen_kind(bench: Bench, part: str, outcome: str) -> CheckWord | None:
    device = bench.loom.devices.get(part)
    if outcome in {"clicks", "silent", "chatters"} and device is not None:
        return "click"
    if outcome in _SEEN and device is not None and device.is_load:
        return "see"
    if outcome in {"blown", "whole"} and device is not None and device.kind == "fuse":
        return "look at a fuse"
    if outcome in {"broken", "whole"} and device is not None and device.kind == "filament":
        return "look at a bulb"
    if outcome in {"bad", "good"}:
        return "look at a plug"
    return None


def _sided(bench: Bench, place: str) -> str:
    """Out of a place where no side is said: the current has passed its joint."""
    place = place.strip()
    return place if "@" in place or place not in bench.loom.places else f"{place}@in"


def _usual_state(bench: Bench, marks: Iterable[Mark]) -> str:
    for mark in marks:
        if mark.symptom in WRONG and mark.load in bench.loom.devices and states_of(bench, mark):
            return states_of(bench, mark)[0]
    return "key-on"
