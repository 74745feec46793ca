"""What cannot be as it was said or read: contradictions, impossible numbers, a loom that is not finished.

Everything is kept; what is named here counts for nothing until somebody puts it right.
"""

from collections.abc import Iterator, Sequence
from difflib import get_close_matches
from typing import Final

from tracker.records.card import SymptomKind
from tracker.records.loom import End
from tracker.records.loom_made import Loom
from tracker.records.problem import Problem
from tracker.records.trace import Mark, TraceReading
from tracker.trace.bench import Bench
from tracker.trace.check import METERED
from tracker.trace.said import WRONG, states_of

MOST_OVER: Final = 1.6
"""A loom has at most so many times its own volts, steady (no source: over-charging ends well below)."""

MOST_AC_V: Final = 120.0
"""A stator at speed, open circuit (common practice, no source)."""

MOST_MV: Final = 500.0
"""Across a fuse that is whole."""

ACROSS: Final = frozenset({"battery volts", "drop"})
"""Checks between two places: which way round the probes are says nothing."""

OPPOSED: Final = ((SymptomKind.DEAD, SymptomKind.WORKS), (SymptomKind.WEAK, SymptomKind.WORKS))


def mark_problems(bench: Bench, marks: Sequence[Mark]) -> Iterator[Problem]:
    """Unknown loads and states, marks against each other, and marks about which the loom says nothing."""
    seen: dict[tuple[str, str], set[SymptomKind]] = {}
    for mark in marks:
        if mark.load not in bench.loom.devices:
            yield Problem(
                "load", f"There is no “{mark.load}” in this loom.", closest(bench.loom, mark.load), mark.load
            )
            continue
        words = bench.loom.devices[mark.load].words
        if mark.other and mark.other not in bench.loom.devices:
            yield Problem(
                "other",
                f"There is no “{mark.other}” in this loom.",
                closest(bench.loom, mark.other),
                mark.other,
            )
        if not states_of(bench, mark):
            known = ", ".join(bench.states)
            yield Problem(
                "state", f"Nobody has said when this should work: {words}.", f"A state is one of: {known}.",
                mark.state,
            )  # fmt: skip
        for state in states_of(bench, mark)[:1]:
            seen.setdefault((mark.load, state), set()).add(mark.symptom)
    for (load, state), kinds in seen.items():
        for one, other in OPPOSED:
            if {one, other} <= kinds:
                words, when = bench.loom.devices[load].words, bench.states[state].words
                yield Problem(
                    "marks", f"Both “{one}” and “{other}” are said of: {words}, with {when}.",
                    "One of them counts as misread. Take one back, or say when it does which.", load,
                )  # fmt: skip


def loom_problems(bench: Bench, marks: Sequence[Mark]) -> Iterator[Problem]:
    """Facts that fit nowhere, and complaints about loads that have no circuit in the loom as it is known."""
    for unfinished in bench.loom.unfinished:
        fact = unfinished.fact
        yield Problem(
            f"loom {fact.what} {fact.id}", f"The loom is not finished: {unfinished.reason}",
            "The trace goes by the loom without it.", fact.words,
        )  # fmt: skip
    for load in dict.fromkeys(mark.load for mark in marks if mark.symptom in WRONG):
        device = bench.loom.devices.get(load)
        states = [name for name in (device.works if device else ()) if name in bench.states]
        if device is None or not device.is_load or not states or bench.circuit(states[0], load):
            continue
        yield Problem(
            f"loom device {load}",
            f"In the loom as it is known there is no circuit for: {device.words}.",
            "Look at the loom first: a wire or an answer is missing.", load,
        )  # fmt: skip


def reading_problem(bench: Bench, reading: TraceReading) -> Problem | None:
    """Why a reading cannot count: unknown place or state, or a number that no meter shows there."""
    name = reading.place.partition("@")[0]
    if reading.kind != "wiggle":
        unknown = next(
            (one for one in (reading.place, reading.against) if one and not _known(bench, one)), ""
        )
        if unknown:
            return Problem(
                "place", f"There is no “{unknown}” in this loom.", closest(bench.loom, unknown), unknown
            )
    if reading.state not in bench.states:
        return Problem(
            "state", f"There is no state “{reading.state}” for this bike.",
            f"One of: {', '.join(bench.states)}.", reading.state,
        )  # fmt: skip
    if reading.value is None:
        if reading.kind not in METERED:
            return None
        return Problem(
            f"reading at {name}", f"“{reading.outcome}” is no figure that a meter shows.",
            "It is kept and counts for nothing.", reading.outcome,
        )  # fmt: skip
    least, most, unit = _range(bench, reading)
    if least <= reading.value <= most:
        return None
    return Problem(
        f"reading at {name}", f"{reading.value:g} {unit} cannot be there.",
        f"{least:g} to {most:g} {unit}. It is kept and counts for nothing.", f"{reading.value:g}",
    )  # fmt: skip


def closest(loom: Loom, given: str) -> str:
    """The names nearest to one that is not there."""
    known = [*loom.devices, *loom.places, *loom.bodies]
    near = get_close_matches(given.partition("@")[0], known, n=4, cutoff=0.5)
    return f"Nearest: {', '.join(near)}." if near else "loomcard where --list names every part."


def _known(bench: Bench, text: str) -> bool:
    try:
        name = End.of(text).place
    except ValueError:
        return False
    loom = bench.loom
    return name in loom.places or name in loom.devices or name in loom.bodies


def _range(bench: Bench, reading: TraceReading) -> tuple[float, float, str]:
    if reading.kind == "AC volts" or bench.net(reading.state).reads_ac:
        return 0.0, MOST_AC_V, "V"
    if reading.kind == "drop across a fuse":
        return 0.0, MOST_MV, "mV"
    most = round(MOST_OVER * bench.loom.volts, 1)
    answers = {**bench.loom.features, **bench.loom.supposed}
    if reading.kind in ACROSS:
        return -1.0, most, "V"
    if answers.get("earth") == "positive":
        return -most, 1.0, "V"
    return -1.0, most, "V"
