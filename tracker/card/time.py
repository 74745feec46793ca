"""Clocked time: how much went on what, who is on the clock, and clocks that were left running."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from types import MappingProxyType

from tracker.card.words import date_of, day_words
from tracker.records.facts import CardFacts
from tracker.records.shop import Shop
from tracker.records.work import TimeEntry, TimeKind

LONGEST_STINT_H = 12
"""A clock that ran longer is asked about whatever the hour (our own choice, no source)."""
OVERNIGHT_H = 4
"""A clock that ran past midnight is asked about from here on: late work is real, a night through is not."""


@dataclass(frozen=True, slots=True)
class Clocked:
    """Seconds on a card, unrounded. A kind without any is 0; `by_repair` has the repairs that took time."""

    by_kind: Mapping[TimeKind, int]
    by_repair: Mapping[int, int]

    @property
    def bench_s(self) -> int:
        """Seconds at the bench, which is what a go-ahead limits: looking and repairing."""
        return self.by_kind[TimeKind.LOOKING] + self.by_kind[TimeKind.REPAIR]


@dataclass(frozen=True, slots=True)
class ClockQuestion:
    """A clock that ran unlikely long: asked about, never corrected unasked."""

    entry: TimeEntry
    seconds: int
    sentence: str


def seconds_of(entry: TimeEntry, now: datetime) -> int:
    """Length of an entry in whole seconds; a running clock counts to `now`; never below 0."""
    # Between two datetimes of one zone Python subtracts wall clocks, which is an hour out twice a year.
    until = (entry.off_at or now).astimezone(UTC)
    return max(0, int((until - entry.on_at.astimezone(UTC)).total_seconds()))


def clocked(facts: CardFacts, now: datetime) -> Clocked:
    """Seconds of all mechanics together, by kind and by repair; a running clock counts to `now`."""
    by_kind = dict.fromkeys(TimeKind, 0)
    by_repair: dict[int, int] = {}
    for entry in facts.times:
        seconds = seconds_of(entry, now)
        by_kind[entry.kind] += seconds
        if entry.repair is not None:
            by_repair[entry.repair] = by_repair.get(entry.repair, 0) + seconds
    return Clocked(MappingProxyType(by_kind), MappingProxyType(by_repair))


def on_the_clock(facts: CardFacts) -> tuple[TimeEntry, ...]:
    """The running clocks of a card, longest first."""
    running = (entry for entry in facts.times if entry.off_at is None)
    return tuple(sorted(running, key=lambda entry: (entry.on_at, entry.id)))


def overlong(facts: CardFacts, now: datetime) -> tuple[ClockQuestion, ...]:
    """Clocks that were probably forgotten: through a night, or longer than a working day can be.

    Running ones and stopped ones alike, since a night that was stopped in the morning would be billed.
    Time that was typed in is as somebody meant it, and is not asked about.
    """
    ordered = sorted(facts.times, key=lambda entry: (entry.on_at, entry.id))
    asked = (question_of(entry, facts.shop, now) for entry in ordered)
    return tuple(question for question in asked if question is not None)


def question_of(entry: TimeEntry, shop: Shop, now: datetime) -> ClockQuestion | None:
    """What is asked about one clock; None where it ran no longer than clocks do, or was typed in."""
    seconds = seconds_of(entry, now)
    began, ended = date_of(entry.on_at, shop), date_of(entry.off_at or now, shop)
    least_h = OVERNIGHT_H if ended > began else LONGEST_STINT_H
    if entry.typed or seconds <= least_h * 3600:
        return None
    since = day_words(began, date_of(now, shop))
    verb = "has run" if entry.off_at is None else "ran"
    sentence = f"A clock started {since} {verb} for {seconds / 3600:.1f} h. Is that right?"
    return ClockQuestion(entry, seconds, sentence)
