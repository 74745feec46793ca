"""Where a card stands, worked out from all that is on it; nobody sets it, and facts come in any order.

The step is that of the first unmet need. A need is not there at all where the card's kind or end spares it,
or where somebody has set it aside with a reason.
"""

from collections.abc import Callable, Iterable
from datetime import date, datetime

from tracker.card.beginning import agreeing, coming, looking, planning, pricing
from tracker.card.bench import bench_things, fixing, test_things, testing
from tracker.card.moment import Moment, Unmet
from tracker.card.owing import asking, live_invoices, owed_minor
from tracker.card.settling import (
    billing,
    collecting,
    is_collected,
    money_things,
    open_rechecks,
    paying_after,
    paying_first,
    recheck_thing,
    rechecking,
)
from tracker.card.standing import Deed, NextThing, Reach, Standing, Step
from tracker.card.time import overlong
from tracker.card.work import has_looked, latest_estimate, planned
from tracker.records.card import GoAheadFor, Need, Phase
from tracker.records.facts import CardFacts
from tracker.records.recheck import RecheckState

JUDGES: tuple[Callable[[Moment], Unmet | None], ...] = (
    coming,
    looking,
    planning,
    pricing,
    agreeing,
    fixing,
    testing,
    billing,
    paying_first,
    collecting,
    paying_after,
    rechecking,
)
"""In the order of a card's life. Paid is judged twice: an account collects first and pays afterwards."""

NEEDS_OF_STEP: dict[Step, frozenset[Need]] = {
    Step.LOOK: frozenset({Need.LEAVE_TO_LOOK, Need.FINDINGS}),
    Step.PRICE: frozenset({Need.ESTIMATE, Need.REPAIRS}),
    Step.AGREE: frozenset({Need.GO_AHEAD}),
    Step.FIX: frozenset({Need.REPAIRS}),
    Step.TEST: frozenset({Need.TESTS}),
    Step.BILL: frozenset({Need.INVOICE}),
    Step.PAID: frozenset({Need.PAYMENT}),
    Step.COLLECTED: frozenset({Need.COLLECTION}),
    Step.RECHECK: frozenset({Need.RECHECK}),
}
"""What each step is for; a step whose needs are all spared is passed over. In needs nothing but the card."""


def standing(facts: CardFacts, now: datetime, today: date) -> Standing:
    """Where a card stands at the instant `now` (aware) on the shop's date `today`.

    Raises WrongUseError when the shop's time zone has no such name.
    """
    at = Moment.of(facts, now, today)
    unmet = next((found for judge in JUDGES if (found := judge(at)) is not None), None)
    ended = at.ending.kind if at.ending else None
    also = _also(at, unmet)
    if unmet is None:
        reached = _life_line(at, None)
        step = [step for step, reach in reached if reach is Reach.DONE][-1]
        return Standing(step, True, reached, None, also, (), _last_deed(at), ended)
    reached = _life_line(at, unmet.step)
    return Standing(unmet.step, False, reached, unmet.next, also, unmet.stops, unmet.since, ended)


def _also(at: Moment, unmet: Unmet | None) -> tuple[NextThing, ...]:
    """What may go on beside the next thing, each once."""
    things: list[NextThing] = []
    if unmet:
        things += (*bench_things(at), *unmet.also)
        things += () if unmet.step is Step.TEST else test_things(at)
    if is_collected(at):
        things += (recheck_thing(at, each) for each in open_rechecks(at) if each.due_on <= at.today)
    things += money_things(at)
    things += (
        NextThing(Deed.CLOCK, question.sentence, about=(question.entry.id,))
        for question in overlong(at.facts, at.now)
    )
    following = unmet.next if unmet else None
    return tuple(thing for thing in dict.fromkeys(things) if thing != following)


def _life_line(at: Moment, here: Step | None) -> tuple[tuple[Step, Reach], ...]:
    steps = tuple(Step)
    come_to = steps.index(here) if here else len(steps)
    return tuple((step, _reach(at, step, here, come_to - place)) for place, step in enumerate(steps))


def _reach(at: Moment, step: Step, here: Step | None, behind: int) -> Reach:
    """How far the card is with one step that lies `behind` steps before the present one."""
    if step is here:
        return Reach.HERE
    if (behind > 0 or step in (Step.PAID, Step.COLLECTED)) and _was_done(at, step):
        return Reach.DONE
    # Money that an account still owes lies ahead, though its bike is being collected.
    if behind > 0 and step is not Step.PAID:
        return Reach.PASSED_OVER
    return Reach.AHEAD if NEEDS_OF_STEP[step] & at.needs else Reach.PASSED_OVER


def _was_done(at: Moment, step: Step) -> bool:
    """Whether anything on the card shows that a step was gone through, rather than spared."""
    facts = at.facts
    match step:
        case Step.IN:
            return True
        case Step.LOOK:
            gave_leave = any(each.what is GoAheadFor.LOOK for each in facts.go_aheads)
            return gave_leave or has_looked(facts) or bool(facts.findings)
        case Step.PRICE:
            return latest_estimate(facts) is not None
        case Step.AGREE:
            return any(each.what is GoAheadFor.WORK for each in facts.go_aheads)
        case Step.FIX:
            return any(repair.done_at is not None for repair in planned(facts))
        case Step.TEST:
            return any(reading.phase is Phase.AFTER for reading in facts.readings)
        case Step.BILL:
            return bool(live_invoices(facts))
        case Step.PAID:
            billed = bool(live_invoices(facts)) or Need.INVOICE not in at.needs
            return billed and bool(asking(facts)) and owed_minor(facts) == 0
        case Step.COLLECTED:
            return is_collected(at)
        case Step.RECHECK:
            return any(each.state is RecheckState.DONE for each in facts.rechecks)


def _last_deed(at: Moment) -> datetime:
    """The instant of the last thing on a card that is over."""
    facts = at.facts
    dated: Iterable[datetime | None] = (
        *(each.at for each in facts.collections),
        *(each.at for each in facts.endings),
        *(each.at for each in facts.allocations),
        *(each.at for each in facts.documents),
        *(each.at for each in facts.waivers),
        *(each.at for each in facts.readings),
        *(repair.done_at for repair in facts.repairs),
    )
    return at.latest(*dated)
