"""The trail of a card's trace: followed again from its marks, reading by reading."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from tracker.card.time import clocked
from tracker.desk.desk import Desk
from tracker.desk.trace import CardTrace, card_trace, readings_of
from tracker.loom.where import place_words, words_of
from tracker.records.card import Reading
from tracker.records.loom import End, What
from tracker.records.trail import Blamed, Spot, Trail, TrailStep
from tracker.records.work import TimeKind

if TYPE_CHECKING:
    from tracker.records.loom_made import Loom
    from tracker.records.trace import TraceReading
    from tracker.trace.bench import Theory
    from tracker.trace.suspects import Suspect
    from tracker.trace.trace import Trace

NAMED: Final = 3
"""So many of what a check ruled out are named, the likeliest first."""

SAME: Final = frozenset({"metal", "post"})
"""Kinds of place whose two sides are one spot to a probe."""


def trail(desk: Desk, name: str) -> Trail:
    """The trail of a card's trace, by its number or its bike's registration. Raises NotFoundError."""
    return trail_of(card_trace(desk, name), _looked(desk, name))


def _looked(desk: Desk, name: str) -> int:
    """Minutes clocked for looking, rounded to the nearest."""
    from tracker.desk.show import card_or_bike

    facts = desk.facts(desk.read(lambda reader: card_or_bike(reader, name)).id)
    return round(clocked(facts, desk.clock.now()).by_kind.get(TimeKind.LOOKING, 0) / 60)


def trail_of(kept: CardTrace, looked: int = 0) -> Trail:
    """The trail of a trace that was begun from its card; `looked` minutes were clocked for it."""
    whole = kept.trace
    now = whole.now
    found = now.found.suspects if now.found and now.next is None else ()
    return Trail(
        symptoms=tuple((one, _load_words(whole.loom, one.load)) for one in kept.facts.symptoms),
        steps=tuple(_steps(kept)),
        opened=tuple(
            access.words
            for name, access in whole.loom.known.accesses.items()
            if name in {one.access for one in kept.facts.opened}
        ),
        found=tuple(_blamed(whole.loom, one.theory) for one in found[: NAMED + 1]),
        clocked=looked,
    )


def _steps(kept: CardTrace) -> "Iterator[TrailStep]":
    from tracker.trace.deciding import left_of
    from tracker.trace.doubts import reading_problem
    from tracker.trace.trace import begin

    whole = kept.trace
    trace = begin(whole.bench.whole, whole.tables, whole.rates.own, whole.bench).marked(*whole.marks)
    left = left_of(trace.weighed.suspects)
    off: set[str] = set()
    for number, (one, read) in enumerate(zip(kept.steps, readings_of(kept.facts.readings), strict=True), 1):
        counts = not read.doubted and reading_problem(whole.bench, read) is None
        out: list[Suspect] = []
        if counts:
            trace = trace.read(read)
            after = left_of(trace.weighed.suspects)
            still = {each.theory for each in after}
            out = [each for each in left if each.theory not in still]
            left = after
        off |= {each.access for each in kept.facts.opened if each.at <= one.at}
        needs, minutes = _cost(trace, read)
        accesses = whole.loom.known.accesses
        new = [name for name in accesses if name in needs - off]
        off |= needs
        yield _step(
            kept,
            one,
            read,
            number=number,
            minutes=minutes,
            off=tuple((accesses[name].words, accesses[name].minutes) for name in new),
            counts=counts,
            out=tuple(_blamed(whole.loom, each.theory) for each in out[:NAMED]),
            out_count=len(out),
            left=len(left),
        )


def _step(kept: CardTrace, one: Reading, read: "TraceReading", **worked: object) -> TrailStep:
    loom = kept.trace.loom
    state = kept.trace.bench.states.get(read.state)
    watched = "" if "@" in read.against else read.against
    return TrailStep(
        check=read.kind,
        at=one.at,
        by=one.by,
        place=_spot(loom, read.place),
        read=_read(one),
        against=None if watched or not read.against else _spot(loom, read.against),
        load=_load_words(loom, watched) if watched else "",
        state=state.words if state else read.state,
        expected=one.conditions.get("expected", ""),
        doubted=read.doubted,
        **worked,  # type: ignore[arg-type]
    )


def _read(one: Reading) -> str:
    """As it was typed, with the unit where it is a bare number."""
    bare = one.words.strip().replace(",", ".").replace("-", "", 1).replace(".", "", 1)
    return f"{one.words.strip()} {one.unit}" if bare.isdigit() else one.words.strip()


def _cost(trace: "Trace", read: "TraceReading") -> tuple[frozenset[str], float]:
    """What a check needs off and the minutes it takes by the table; nothing where it cannot have been."""
    from tracker.trace.doubts import reading_problem

    if reading_problem(trace.bench, read) is not None:
        return frozenset(), 0.0
    made = trace.check_of(read)
    return made.needs, made.minutes


def _blamed(loom: "Loom", theory: "Theory") -> Blamed:
    return Blamed(tuple((words_of(loom, one.part[0], one.part[1]), one.fault) for one in theory))


def _spot(loom: "Loom", text: str) -> Spot:
    """A probe's place, or a part, by its words."""
    end = End.of(text)
    place = loom.places.get(end.place)
    if place is not None:
        return Spot(place_words(loom, end.place), "" if place.kind in SAME or "@" not in text else end.side)
    return Spot(_load_words(loom, text))


def _load_words(loom: "Loom", name: str) -> str:
    tables: Sequence[What] = ("device", "body", "wire")
    for what in tables:
        if name in loom.table(what):
            return words_of(loom, what, name)
    zone = loom.known.zones.get(name)
    return zone.words if zone else name
