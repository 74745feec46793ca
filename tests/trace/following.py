"""A trace followed to its end on a bike with a known fault: what is seen and read comes from the network."""

import random
from collections.abc import Iterator
from dataclasses import dataclass

from tracker.loom.network_ports import bands
from tracker.records.card import SymptomKind
from tracker.records.trace import Mark, TraceReading, TraceTables
from tracker.trace.bench import SOUND, Bench, Row, Theory
from tracker.trace.check import Check
from tracker.trace.expect import numbers
from tracker.trace.parts import Single
from tracker.trace.said import states_of
from tracker.trace.shown import words
from tracker.trace.trace import Trace, begin, reading_of

MOST_STEPS = 40


@dataclass(frozen=True)
class Followed:
    """How a trace ended: whether on the true fault, after how many minutes, against those promised.

    `sure_minutes` went into making sure of what was found already.
    """

    truth: Single
    right: bool
    minutes: float
    sure_minutes: float
    promised: float
    steps: int
    found: tuple[str, ...]
    proved: bool


def true_row(bench: Bench, truth: Single, states: tuple[str, ...]) -> Row:
    """The fault with the fuses that it blows in the states in which it was noticed."""
    row = Row((truth,))
    blown: frozenset[str] = frozenset()
    for state in states:
        blown |= bench.view(state, (row,)).blows[0]
    return Row((truth,), blown=blown)


def noticed(bench: Bench, truth: Single, states: tuple[str, ...], most: int = 2) -> list[Mark]:
    """What somebody notices: up to `most` complaints in one state, and two loads that work there."""
    for state in states:
        row = true_row(bench, truth, (state,))
        wrong, right = [], []
        for load, word, sound in _words(bench, row, state):
            device = bench.loom.devices[load]
            if device.kind in {"regulator", "gap", "sensor", "module", "coil"} or device.pulses:
                continue
            if word != sound and state in device.works and word in {"dead", "weak"}:
                wrong.append(Mark(load=load, symptom=SymptomKind(word), state=state))
            elif sound == "dead" and word == "works" and state in device.rests:
                wrong.append(Mark(load=load, symptom=SymptomKind.WONT_GO_OFF, state=state))
            elif word == sound == "works" and state in device.works:
                right.append(Mark(load=load, symptom=SymptomKind.WORKS, state=state))
        if wrong:
            return [*wrong[:most], *right[:2]]
    return []


def _words(bench: Bench, row: Row, state: str) -> Iterator[tuple[str, str, str]]:
    view = bench.view(state, (row, SOUND))
    for device in bench.loom.devices.values():
        if device.is_load:
            low, high = bands(device, view.net.share(device.id))
            said = ["works" if s >= high else "weak" if s >= low else "dead" for s in view.share(device.id)]
            yield device.id, said[0], said[1]


def answer(bench: Bench, check: Check, row: Row) -> TraceReading:
    """What a check gives with the true fault in the loom."""
    if check.metered:
        return reading_of(check, value=round(float(numbers(bench, check, (row,))[0]), 2))
    return reading_of(check, outcome=words(bench, check, (row,))[0])


def misread(
    bench: Bench, check: Check, row: Row, others: tuple[Row, ...], dice: random.Random
) -> TraceReading:
    """The same read wrongly: what another suspect would have given."""
    given = [answer(bench, check, one) for one in others]
    right = answer(bench, check, row)
    wrong = [one for one in given if (one.value, one.outcome) != (right.value, right.outcome)]
    return dice.choice(wrong) if wrong else right


def followed(
    bench: Bench, tables: TraceTables, truth: Single, marks: list[Mark],
    *, dice: random.Random | None = None, misreads: float = 0.0,
    row: Row | None = None,
) -> Followed:  # fmt: skip
    """Makes every check the trace asks for until it names what it is."""
    states = tuple(dict.fromkeys(state for mark in marks for state in states_of(bench, mark)[:1]))
    row = row or true_row(bench, truth, states)
    trace: Trace = begin(bench.whole, tables, bench=bench).marked(*marks)
    minutes, sure, steps, off = 0.0, 0.0, 0, frozenset[str]()
    promised, proved = trace.now.expected_minutes, trace.now.proved_best
    while trace.now.next is not None and steps < MOST_STEPS:
        check = trace.now.next
        needs = check.needs - off
        cost = check.minutes + sum(bench.loom.known.accesses[name].minutes for name in needs)
        minutes, sure = (minutes, sure + cost) if trace.now.confirms else (minutes + cost, sure)
        off |= needs
        if misreads and dice is not None and dice.random() < misreads:
            others = tuple(one.row for one in trace.now.suspects[:12])
            read = misread(bench, check, row, others, dice)
        else:
            read = answer(bench, check, row)
        trace = trace.opened_up(*needs).read(read)
        steps += 1
    found = trace.now.found
    theories: set[Theory] = {one.theory for one in found.suspects} if found else set()
    names = tuple(" + ".join(single.id for single in theory) for theory in theories)
    return Followed(truth, (truth,) in theories, minutes, sure, promised, steps, names, proved)
