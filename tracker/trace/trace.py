"""A trace as it goes on: what was seen and read, what it can be, which check next. Nothing is ever changed:
each step gives a new trace, and the steps before are still there to go back to.

    trace = begin(loom, tables).marked(Mark(load="tail-light", symptom=SymptomKind.DEAD))
    trace.now.next, trace.now.suspects[0]
    trace = trace.read(TraceReading(kind="volts", place="rear-plug:tail@in", state="position", value=12.3))
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from statistics import median
from typing import TYPE_CHECKING, Final

from tracker.records.loom_made import Loom
from tracker.records.problem import Problem
from tracker.records.trace import Mark, OwnFix, TraceReading, TraceTables
from tracker.trace.bench import Bench, Row
from tracker.trace.check import Check, check
from tracker.trace.deciding import Decision, SuspectClass, decide, left_of, solve_together
from tracker.trace.doubts import loom_problems, mark_problems, reading_problem
from tracker.trace.expect import likelihood, outcomes
from tracker.trace.offers import Offers
from tracker.trace.rates import Rates
from tracker.trace.said import MISREAD
from tracker.trace.suspects import Evidence, Suspect, Weighed, weigh

if TYPE_CHECKING:
    from tracker.loom.network_table import Floats

CONFIRM: Final = 0.94
"""Below this part of all the weight a finding is looked at once more before it is believed (no source)."""

RATES_COUNT: Final = 0.5
"""The power to which rates are taken while a finding is doubted (no source)."""

DOUBTED: Final = 60
"""So many of the others are asked after, the likeliest first."""

ASKED: Final = 12
"""The checks come from the parts of so many of them."""

LEAST_TOLD: Final = 0.02
"""A check that makes sure must tell at least so much of all the weight from the finding (no source)."""

SURE: Final = 0.98
"""From this part of what is left on a class counts as found; checks after it only make sure (no source)."""


@dataclass(frozen=True)
class Standing:
    """How a trace stands. `suspects` are all, the likeliest first; `classes` those still to be told apart.

    `next` is the check to make, None where nothing offered tells more: then `found` is the class it is.
    `confirms` says that the check is to make sure of `found`. `expected_minutes` from here on; no plan takes
    less than `lower_bound_minutes`. `sure_minutes` are what making sure of the finding will take on top, a
    guess. `problems` are what does not fit, each said in words.
    """

    suspects: tuple[Suspect, ...]
    classes: tuple[SuspectClass, ...]
    next: Check | None
    found: SuspectClass | None
    expected_minutes: float
    lower_bound_minutes: float
    proved_best: bool
    sure_minutes: float = 0.0
    confirms: bool = False
    contradicted: bool = False
    problems: tuple[Problem, ...] = ()
    offered: tuple[Check, ...] = ()


@dataclass(frozen=True)
class Trace:
    """What was seen (`marks`), read, taken off (`opened`) and cannot be reached (`barred`)."""

    bench: Bench
    tables: TraceTables
    rates: Rates
    marks: tuple[Mark, ...] = ()
    readings: tuple[TraceReading, ...] = ()
    opened: frozenset[str] = frozenset()
    barred: frozenset[str] = frozenset()
    before: "Trace | None" = field(default=None, repr=False, compare=False)

    @property
    def loom(self) -> Loom:
        """The loom as it is worked with: open questions answered as is usual."""
        return self.bench.loom

    def marked(self, *marks: Mark) -> "Trace":
        """With more seen; a later mark of the same load, symptom and state takes the place of the earlier."""
        new = {(one.load, one.symptom, one.state, one.other): one for one in (*self.marks, *marks)}
        return replace(self, marks=tuple(new.values()), before=self)

    def unmarked(self, *marks: Mark) -> "Trace":
        """Without some marks."""
        return replace(self, marks=tuple(one for one in self.marks if one not in marks), before=self)

    def read(self, *readings: TraceReading) -> "Trace":
        """With what checks gave."""
        return replace(self, readings=(*self.readings, *readings), before=self)

    def doubted(self, number: int, *, doubted: bool = True) -> "Trace":
        """With reading `number` (from 0) kept but counting for nothing, or counting again."""
        changed = list(self.readings)
        changed[number] = replace(changed[number], doubted=doubted)
        return replace(self, readings=tuple(changed), before=self)

    def back(self) -> "Trace":
        """As it was one step before; the first step stays."""
        return self.before or self

    def opened_up(self, *accesses: str) -> "Trace":
        """With some things off anyway, and all that they need: what lies behind them costs nothing more."""
        known = self.loom.known.accesses
        off, todo = set(self.opened), list(accesses)
        while todo:
            name = todo.pop()
            if name in known and name not in off:
                off.add(name)
                todo += known[name].needs
        return replace(self, opened=frozenset(off), before=self)

    def closed_up(self, *accesses: str) -> "Trace":
        """With some things back on."""
        return replace(self, opened=self.opened - frozenset(accesses), before=self)

    def cannot_reach(self, *parts: str) -> "Trace":
        """Without the checks at some places, bodies, zones, or behind some accesses."""
        return replace(self, barred=self.barred | frozenset(parts), before=self)

    @property
    def counting(self) -> tuple[tuple[Check, TraceReading], ...]:
        """The readings that count, with the check each belongs to."""
        sound = (one for one in self.readings if not one.doubted and not reading_problem(self.bench, one))
        return tuple((self.check_of(one), one) for one in sound)

    @property
    def known(self) -> tuple[Mark, ...]:
        """The marks of loads that the loom has."""
        return tuple(one for one in self.marks if one.load in self.loom.devices)

    @cached_property
    def weighed(self) -> Weighed:
        """All suspects by all that was seen and read."""
        scale = self._scale()
        seen: list[Evidence] = [_evidence(self.bench, one, read, scale) for one, read in self.counting]
        return weigh(self.bench, self.rates, self.known, seen)

    @cached_property
    def now(self) -> Standing:
        """How it stands, and the best next check."""
        weighed = self.weighed
        decision = decide(self.bench, weighed.suspects, self._offers(left_of(weighed.suspects)), self.opened)
        first = decision.classes[0] if decision.classes else None
        found = first if first and (decision.next is None or first.share >= SURE) else None
        sure = decision.next or self._sure(weighed, found) if found else None
        if found and sure is None:
            found = _likelier(weighed, found)
        plan = decision.plan
        return Standing(
            suspects=weighed.suspects,
            classes=decision.classes,
            next=sure or decision.next,
            found=found,
            expected_minutes=self._cost(sure) if sure else plan.expected_minutes,
            lower_bound_minutes=self._cost(sure) if sure else plan.lower_bound_minutes,
            proved_best=plan.proved_best and not weighed.contradicted and sure is None,
            sure_minutes=0.0 if found else self._sure_minutes(decision),
            confirms=sure is not None,
            contradicted=weighed.contradicted,
            problems=self.problems,
            offered=decision.offered,
        )

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What does not fit of what was said and read, each in words; all of it is kept."""
        read = (reading_problem(self.bench, one) for one in self.readings)
        return (
            *loom_problems(self.bench, self.marks),
            *mark_problems(self.bench, self.marks),
            *(one for one in read if one),
        )

    def _offers(self, suspects: Sequence[Suspect], times: int = 1) -> list[Check]:
        """The checks for some suspects that can be made, and were made fewer than so many times."""
        made = Counter(one.id for one, _ in self.counting)
        every = Offers(self.bench, self.tables, self.known).every(suspects)
        return [one for one in every if made[one.id] < times and not self._is_barred(one)]

    def _is_barred(self, one: Check) -> bool:
        if not self.barred:
            return False
        names = set(one.needs) - self.opened
        for end in (one.part, one.against.partition("@")[0]):
            place = self.loom.places.get(end)
            device = self.loom.devices.get(end)
            names |= {end, place.body if place else "", place.zone if place else ""}
            names |= {device.body if device else ""}
        return bool(self.barred & names)

    def _sure_minutes(self, decision: Decision) -> float:
        """What `_sure` will ask for on average: a usual check wherever one misreading leaves much in doubt.

        What a plan rules out is taken as ruled out by one reading alone, so this is rather too much.
        """
        doubt = [
            sum(one.share * self.rates.prior(one.theory[:1]) ** (RATES_COUNT - 1) for one in some.suspects)
            for some in decision.classes
        ]
        whole = sum(doubt)
        usual = [one.minutes for one in decision.offered if one.metered]
        if not usual or whole <= 0:
            return 0.0
        doubtful = (
            some.share
            for some, own in zip(decision.classes, doubt, strict=True)
            if (whole - own) * MISREAD > (1 - CONFIRM) * own
        )
        return median(usual) * sum(doubtful)

    def _sure(self, weighed: Weighed, found: SuspectClass) -> Check | None:
        """A check that would show a wrong finding, where much weight is on what one misreading would hide.

        Here rates count for less than they do elsewhere: what is rare is found as surely as what is common.
        A check that was made may be made once more.
        """
        if not self.counting:
            return None
        mine = {one.theory for one in found.suspects}
        doubt = {
            one: one.share / self.rates.prior(one.theory[:1]) ** (1 - RATES_COUNT) for one in weighed.suspects
        }
        whole = sum(doubt.values())
        others = [one for one in weighed.suspects if one.theory not in mine]
        if sum(doubt[one] for one in others) <= (1 - CONFIRM) * whole:
            return None
        others = sorted(others, key=lambda one: -doubt[one])[:DOUBTED]
        rows = (found.suspects[0].row, *(one.row for one in others))
        offered = self._offers((*found.suspects, *others[:ASKED]), times=2)
        solve_together(self.bench, rows, offered)
        best, most = None, 0.0
        for one in offered:
            mine_given, *given = outcomes(self.bench, one, rows)
            told = sum(
                doubt[other] for other, shown in zip(others, given, strict=True) if shown != mine_given
            )
            if told > LEAST_TOLD * whole and told / max(self._cost(one), 0.1) > most:
                best, most = one, told / max(self._cost(one), 0.1)
        return best

    def _cost(self, one: Check) -> float:
        off = sum(self.loom.known.accesses[name].minutes for name in one.needs - self.opened)
        return one.minutes + off

    def check_of(self, reading: TraceReading) -> Check:
        """The check that a reading is of, with what it costs; its place and state must be known."""
        states = self.bench.states
        load = reading.against if reading.kind in WATCHED else ""
        against = "" if load else reading.against
        one = check(
            self.loom,
            self.tables,
            reading.kind,
            reading.place,
            states[reading.state],
            against=against,
            load=load or (reading.place if reading.kind in {"see", "click"} else ""),
        )
        return replace(one, state=reading.state)

    def _scale(self) -> float:
        """The battery's volts as read over those supposed, where somebody read them and they can be."""
        battery = next((d for d in self.loom.devices.values() if d.source == "battery"), None)
        if battery is None:
            return 1.0
        for one, read in reversed(self.counting):
            posts = one.part == battery.b.place
            if posts and read.value and one.kind in {"battery volts", "volts"}:
                sound = self.bench.net(one.state).solution.volts[self.bench.net(one.state).node(battery.b)]
                return read.value / sound if sound and 0.92 < read.value / sound < 1.15 else 1.0
        return 1.0


WATCHED: Final = frozenset({"bridge a switch", "unplug", "earth the lead", "volts at the foot"})
"""Checks whose reading names in `against` the load that was watched."""


def begin(loom: Loom, tables: TraceTables, own: Sequence[OwnFix] = (), bench: Bench | None = None) -> Trace:
    """A trace of a loom with nothing seen yet; `bench` hands on what was worked out before."""
    bench = bench or Bench(loom)
    rates = Rates(bench.loom, tables, own)
    rates.prepare(bench.every)
    return Trace(bench, tables, rates)


def reading_of(one: Check, *, value: float | None = None, outcome: str = "") -> TraceReading:
    """What an offered check gave, as it is kept."""
    against = one.load if one.kind in WATCHED else one.against
    return TraceReading(
        kind=one.kind, place=one.place, state=one.state, value=value, outcome=outcome, against=against
    )


def _likelier(weighed: Weighed, found: SuspectClass) -> SuspectClass:
    """The finding, or where no check tells more what is likelier with one misreading than that without."""
    top = weighed.suspects[0]
    mine = {one.theory for one in found.suspects}
    share = sum(one.share for one in weighed.suspects if one.theory in mine)
    return found if top.theory in mine or top.share <= share else SuspectClass((top,), top.share)


def _evidence(bench: Bench, one: Check, read: TraceReading, scale: float) -> Evidence:
    def said(rows: Iterable[Row]) -> "tuple[Floats, Floats]":
        return likelihood(bench, one, read, tuple(rows), scale)

    return said
