"""The steps at the bench: fix and test. What can be done now, what waits for parts, what was sent out."""

from tracker.card.limits import latest_go_ahead, used_up
from tracker.card.moment import Moment, Unmet
from tracker.card.standing import Deed, NextThing, Step, Stop, StopKind
from tracker.card.time import on_the_clock
from tracker.card.words import day_words, quoted, reading_words, repair_words, several
from tracker.card.work import agreed, missing_parts, missing_readings, planned, to_do
from tracker.records.card import GoAheadFor, Need
from tracker.records.stock import PartWanted, WantedState
from tracker.records.work import Repair


def fixing(at: Moment) -> Unmet | None:
    """Fix: every planned repair done."""
    if Need.REPAIRS not in at.needs or not to_do(at.facts):
        return None
    first = bench_things(at)[0]
    leave = latest_go_ahead(at.facts, GoAheadFor.WORK)
    found = (finding.at for finding in at.facts.findings)
    since = at.latest(leave.at) if leave else at.latest(*found)
    return Unmet(Step.FIX, first, since, _stops(at), _clock_on(at, first))


def testing(at: Moment) -> Unmet | None:
    """Test: the readings that the done repairs want after them."""
    things = test_things(at)
    if not things:
        return None
    kinds = tuple(dict.fromkeys(kind for thing in things for kind in thing.readings))
    repairs = tuple(dict.fromkeys(id_ for thing in things for id_ in thing.about))
    words = f"take the readings after: {several(reading_words(kind) for kind in kinds)}"
    since = at.latest(*(repair.done_at for repair in planned(at.facts) if repair.id in repairs))
    stops = tuple(Stop(StopKind.READING, reading_words(kind), about=repairs) for kind in kinds)
    return Unmet(Step.TEST, NextThing(Deed.TEST, words, Need.TESTS, repairs, kinds), since, stops)


def bench_things(at: Moment) -> tuple[NextThing, ...]:
    """What can go on at the bench with the agreed repairs, best first.

    First what must be ordered, since its wait begins with the order; then what was begun; then what can be
    begun; then parts that are on their way and work that is with others. A part wanted by no repair in
    particular may be wanted by any, so the repairs come after it.
    """
    if Need.REPAIRS not in at.needs:
        return ()
    facts = at.facts
    repairs = _open(at)
    if not repairs:
        return ()
    general = missing_parts(facts, None)
    own = tuple(part for repair in repairs for part in missing_parts(facts, repair.id))
    parts = tuple(sorted((*general, *own), key=lambda part: part.id))
    to_order = tuple(_part_thing(at, part) for part in parts if part.state is not WantedState.ORDERED)
    awaited = tuple(_part_thing(at, part) for part in parts if part.state is WantedState.ORDERED)
    sent = tuple(_back_thing(repair) for repair in repairs if repair.sent_out_to)
    work = _work_things(at, repairs)
    return (*to_order, *awaited, *work, *sent) if general else (*to_order, *work, *awaited, *sent)


def test_things(at: Moment) -> tuple[NextThing, ...]:
    """The readings still wanted, a thing for each done repair that wants some."""
    if Need.TESTS not in at.needs:
        return ()
    things = []
    for repair in planned(at.facts):
        if kinds := missing_readings(at.facts, repair):
            words = f"{several(reading_words(kind) for kind in kinds)} after {repair_words(repair)}"
            things.append(NextThing(Deed.TEST, words, Need.TESTS, (repair.id,), kinds))
    return tuple(things)


def _open(at: Moment) -> tuple[Repair, ...]:
    """The repairs to do that may be gone on with."""
    wants_leave = Need.GO_AHEAD in at.needs
    leave = agreed(at.facts)
    return tuple(repair for repair in to_do(at.facts) if not wants_leave or repair.id in leave)


def _work_things(at: Moment, repairs: tuple[Repair, ...]) -> tuple[NextThing, ...]:
    """Begun repairs, then those that can be begun, of what is neither sent out nor short of its parts."""
    ready = [each for each in repairs if not each.sent_out_to and not missing_parts(at.facts, each.id)]
    begun = [
        NextThing(
            Deed.FIX, f"finish {repair_words(each)} and write down what was done", Need.REPAIRS, (each.id,)
        )
        for each in ready
        if each.started_at is not None
    ]
    if Need.GO_AHEAD in at.needs and used_up(at.facts, at.now):
        return tuple(begun)
    fresh = [
        NextThing(Deed.START, f"start {repair_words(each)}", Need.REPAIRS, (each.id,))
        for each in ready
        if each.started_at is None
    ]
    return (*begun, *fresh)


def _part_thing(at: Moment, part: PartWanted) -> NextThing:
    name = quoted(part.words)
    expected = part.expected_on
    if part.state is WantedState.WRONG:
        words = f"the wrong {name} came: order it again"
    elif part.state is WantedState.WANTED:
        words = f"wait for the customer's own {name}" if part.customers_own else f"take or order {name}"
    elif expected is None:
        words = f"take in {name} when it comes"
    elif expected < at.today:
        words = f"ask after {name}, expected {day_words(expected, at.today)}"
    else:
        words = f"take in {name} when it comes (expected {day_words(expected, at.today)})"
    return NextThing(Deed.PART, words, Need.REPAIRS, (part.id,))


def _back_thing(repair: Repair) -> NextThing:
    words = f"when {repair_words(repair)} is back from {quoted(repair.sent_out_to)}, write down what was done"
    return NextThing(Deed.FIX, words, Need.REPAIRS, (repair.id,))


def _stops(at: Moment) -> tuple[Stop, ...]:
    facts = at.facts
    repairs = to_do(facts)
    own = tuple(part for repair in repairs for part in missing_parts(facts, repair.id))
    stops = []
    for part in sorted((*missing_parts(facts, None), *own), key=lambda part: part.id):
        when = f", expected {day_words(part.expected_on, at.today)}" if part.expected_on else ""
        words = f"{quoted(part.words)} ({part.state}{when})"
        stops.append(Stop(StopKind.PARTS, words, part.expected_on, (part.id,)))
    for repair in repairs:
        if repair.sent_out_to:
            words = f"{repair_words(repair)} is with {quoted(repair.sent_out_to)}"
            stops.append(Stop(StopKind.SENT_OUT, words, about=(repair.id,)))
    return tuple(stops)


def _clock_on(at: Moment, first: NextThing) -> tuple[NextThing, ...]:
    """Clocking on, beside work that was begun with nobody's clock running."""
    if first.deed is not Deed.FIX or on_the_clock(at.facts):
        return ()
    return (NextThing(Deed.CLOCK, "clock on: nobody's time is running", about=first.about),)
