"""Traces to try: a bench for each bike, marks in few words, and the shipped tables."""

import dataclasses
from collections.abc import Sequence
from functools import cache

from tests.loom.making import bike
from tracker.records.card import SymptomKind
from tracker.records.loom_made import Loom
from tracker.records.trace import ConditionWord, Mark, OwnFix, TraceTables
from tracker.seedfiles.trace import load_trace
from tracker.trace.bench import Bench
from tracker.trace.rates import Rates
from tracker.trace.suspects import Weighed, weigh


@cache
def bench(name: str = "twin") -> Bench:
    """One of the bikes of the loom's tests on the bench; what it has worked out is kept for the next test."""
    return Bench(led_twin() if name == "led twin" else bike(name))


def led_twin() -> Loom:
    """LED indicators where the pattern has bulbs, the one warning lamp still between the sides."""
    twin = bike("twin")
    corners = {
        name: dataclasses.replace(one, kind="led", watts=2.0, lamp="")
        for name, one in twin.devices.items()
        if name.startswith(("turn-front", "turn-rear"))
    }
    return dataclasses.replace(twin, devices={**twin.devices, **corners})


def tables() -> TraceTables:
    """The tables as shipped."""
    return load_trace()


def rates(name: str = "twin", own: Sequence[OwnFix] = ()) -> Rates:
    """The weights of a bike's faults."""
    made = Rates(bench(name).loom, load_trace(), own)
    made.prepare(bench(name).every)
    return made


def dead(*loads: str, state: str = "", when: ConditionWord | None = None) -> list[Mark]:
    return [Mark(load=one, symptom=SymptomKind.DEAD, state=state, when=when or "") for one in loads]


def weak(*loads: str, state: str = "") -> list[Mark]:
    return [Mark(load=one, symptom=SymptomKind.WEAK, state=state) for one in loads]


def works(*loads: str, state: str = "") -> list[Mark]:
    return [Mark(load=one, symptom=SymptomKind.WORKS, state=state) for one in loads]


def mark(load: str, symptom: SymptomKind, state: str = "", other: str = "") -> Mark:
    return Mark(load=load, symptom=symptom, state=state, other=other)


def weighed(name: str, *marks: Mark, own: Sequence[OwnFix] = ()) -> Weighed:
    return weigh(bench(name), rates(name, own), marks)


def shares(found: Weighed) -> dict[str, float]:
    """Each suspect's part by its name, the likeliest first."""
    return {" + ".join(single.id for single in one.theory): one.share for one in found.suspects}


def share_of(found: Weighed, *parts: str) -> float:
    """The part of all the weight that lies on faults of some parts, by their ids."""
    return sum(one.share for one in found.suspects if any(single.part[1] in parts for single in one.theory))
