"""The steps before the bench: in, look, price, agree. Each says what it still needs, or None."""

from datetime import datetime

from tracker.card.limits import agreed_limit, latest_go_ahead, used_up
from tracker.card.moment import Moment, Unmet
from tracker.card.needs import in_play
from tracker.card.standing import Deed, NextThing, Step, Stop, StopKind
from tracker.card.words import date_of, day_words, money_words, quoted, repair_words, several, start_of
from tracker.card.work import agreed, has_looked, latest_estimate, planned, to_do, unanswered
from tracker.records.card import CallOutcome, GoAheadFor, Need
from tracker.records.document import Estimate
from tracker.records.work import Repair

RING = "ring for the go-ahead"


def coming(at: Moment) -> Unmet | None:
    """In: a card written at the phone call waits for the bike, or for anything to be done to it."""
    facts, comes_on = at.facts, at.facts.card.comes_on
    if comes_on is None or has_looked(facts) or facts.findings or facts.endings or facts.collections:
        return None
    day, what = day_words(comes_on, at.today), quoted(facts.card.unit) if facts.card.unit else "the bike"
    if comes_on < at.today:
        words, stop_words = f"ask after it: it was to come {day}", f"{what} was to come {day}"
    else:
        words, stop_words = f"book it in when it comes ({day})", f"{what} comes {day}"
    stop = Stop(StopKind.BIKE, stop_words, comes_on)
    since = min(start_of(comes_on, facts.shop), at.now)
    return Unmet(Step.IN, NextThing(Deed.CAME, words), since, (stop,))


def looking(at: Moment) -> Unmet | None:
    """Look: leave to look and its limit, then something found. With anything found or planned it is over."""
    facts = at.facts
    if Need.FINDINGS not in at.needs or facts.findings or planned(facts):
        return None
    leave = latest_go_ahead(facts, GoAheadFor.LOOK)
    work = latest_go_ahead(facts, GoAheadFor.WORK)
    since = at.latest(facts.card.came_at, leave.at if leave else None)
    wants_leave = Need.LEAVE_TO_LOOK in at.needs and work is None
    if wants_leave and leave is None:
        ask = NextThing(Deed.LOOK, "ask for leave to look, and up to how much", Need.LEAVE_TO_LOOK)
        return Unmet(Step.LOOK, ask, since, (Stop(StopKind.WORD, "leave to look"),))
    write = NextThing(Deed.FINDING, "write down what was found, or how it ends", Need.FINDINGS)
    if wants_leave and (why := used_up(facts, at.now)):
        ring = NextThing(Deed.LOOK, f"ring: the leave to look is used up ({why})", Need.LEAVE_TO_LOOK)
        return Unmet(
            Step.LOOK, ring, since, (Stop(StopKind.WORD, f"leave to look further ({why})"),), (write,)
        )
    if has_looked(facts):
        return Unmet(Step.LOOK, write, since)
    read = NextThing(Deed.READ, "look: take the first reading", Need.FINDINGS)
    return Unmet(Step.LOOK, read, since, also=(write,))


def planning(at: Moment) -> Unmet | None:
    """Price, first half: what is to be done about each finding."""
    findings = unanswered(at.facts)
    if Need.REPAIRS not in at.needs or not findings:
        return None
    names = several(quoted(finding.words) for finding in findings)
    words = f"choose the repair for {names}, or leave it with the reason"
    thing = NextThing(Deed.ESTIMATE, words, Need.REPAIRS, tuple(finding.id for finding in findings))
    return Unmet(Step.PRICE, thing, at.latest(findings[0].at))


def pricing(at: Moment) -> Unmet | None:
    """Price, second half: an estimate whose latest revision covers every planned repair."""
    facts = at.facts
    estimate = latest_estimate(facts)
    covers = estimate.covers if estimate else ()
    repairs = tuple(repair for repair in in_play(facts) if repair.id not in covers)
    if Need.ESTIMATE not in at.needs or not repairs:
        return None
    words = f"price {_names(repairs)}" if estimate is None else f"price it anew with {_names(repairs)}"
    thing = NextThing(Deed.ESTIMATE, words, Need.ESTIMATE, _ids(repairs))
    return Unmet(Step.PRICE, thing, _found_at(at))


def agreeing(at: Moment) -> Unmet | None:
    """Agree: a go-ahead for each planned repair, and a further one where the last is passed or used up."""
    facts = at.facts
    leave, wanted = agreed(facts), in_play(facts)
    if Need.GO_AHEAD not in at.needs or not wanted:
        return None
    repairs = tuple(repair for repair in wanted if repair.id not in leave)
    estimate = latest_estimate(facts)
    priced = _priced(at, estimate)
    work = latest_go_ahead(facts, GoAheadFor.WORK)
    if repairs:
        some = len(repairs) < len(wanted)
        words, named = ("ring for the further go-ahead", f" for {_names(repairs)}") if some else (RING, "")
        since = at.latest(estimate.at) if estimate else _found_at(at)
    elif why := _outgrown(at, estimate) or _spent(at):
        words, named, priced = "ring for a further go-ahead", "", f" ({why})"
        repairs = to_do(facts)
        since = at.latest(work.at if work else None, estimate.at if estimate else None)
    else:
        return None
    thing = NextThing(Deed.AGREE, f"{words}{named}{priced}", Need.GO_AHEAD, _ids(repairs))
    return Unmet(
        Step.AGREE, thing, since, (Stop(StopKind.WORD, f"the customer's word{_last_call(at, since)}"),)
    )


def _ids(repairs: tuple[Repair, ...]) -> tuple[int, ...]:
    return tuple(repair.id for repair in repairs)


def _names(repairs: tuple[Repair, ...]) -> str:
    return several(repair_words(repair) for repair in repairs)


def _found_at(at: Moment) -> datetime:
    return at.latest(*(finding.at for finding in at.facts.findings))


def _priced(at: Moment, estimate: Estimate | None) -> str:
    """“ (estimate 186.40, sent Monday)”; “made” where nothing tells that it was sent."""
    if estimate is None:
        return ""
    sent = [
        call.at
        for call in at.facts.calls
        if call.outcome is CallOutcome.SENT and not call.inward and call.at >= estimate.at
    ]
    told = f"sent {day_words(date_of(max(sent), at.facts.shop), at.today)}" if sent else ""
    told = told or f"made {day_words(estimate.made_on, at.today)}"
    paper = "quote" if estimate.fixed_price else "estimate"
    return f" ({paper} {money_words(estimate.total_minor, at.facts.shop)}, {told})"


def _outgrown(at: Moment, estimate: Estimate | None) -> str:
    """Why a revision made after the last go-ahead is past it; "" when it is not.

    One that prices repairs since dropped says nothing about what is left to do.
    """
    limit = agreed_limit(at.facts)
    if limit is None or limit.most_minor is None or estimate is None:
        return ""
    if estimate.at <= limit.go_ahead.at or estimate.total_minor <= limit.most_minor:
        return ""
    if not set(estimate.covers) <= set(_ids(in_play(at.facts))):
        return ""
    now_at, agreed_to = estimate.total_minor, limit.minor or 0
    return f"estimate {money_words(now_at, at.facts.shop)}, agreed {money_words(agreed_to, at.facts.shop)}"


def _spent(at: Moment) -> str:
    """Why the go-ahead to work is used up while a repair has not been started; "" when it is not."""
    if all(repair.started_at or repair.done_at for repair in in_play(at.facts)):
        return ""
    return used_up(at.facts, at.now)


def _last_call(at: Moment, since: datetime) -> str:
    """“: left word yesterday” of the last call out since then; "" without one, or where it was only sent."""
    calls = [call for call in at.facts.calls if not call.inward and call.at >= since]
    last = max(calls, key=lambda call: (call.at, call.id), default=None)
    if last is None or last.outcome is CallOutcome.SENT:
        return ""
    return f": {last.outcome} {day_words(date_of(last.at, at.facts.shop), at.today)}"
