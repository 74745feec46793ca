"""The steps after the bench: bill, paid, collected, recheck. Each says what it still needs, or None."""

from datetime import datetime

from tracker.card.moment import Moment, Unmet
from tracker.card.needs import nothing_to_mend
from tracker.card.owing import (
    asking,
    due_before_collecting,
    live_invoices,
    owed_minor,
    pays_afterwards,
    to_give_back_minor,
    unbilled,
    unpaid,
)
from tracker.card.standing import Deed, NextThing, Step, Stop, StopKind
from tracker.card.words import day_words, money_words, quoted, start_of
from tracker.card.work import endings_in_force, planned
from tracker.records.card import CallOutcome, EndKind, Need, Phase
from tracker.records.document import Document, DocumentKind
from tracker.records.recheck import Recheck, RecheckState

WAITING = frozenset({RecheckState.OPEN, RecheckState.BOOKED})


def billing(at: Moment) -> Unmet | None:
    """Bill: an invoice that was not credited away, and nothing begun since the last one left unbilled."""
    facts = at.facts
    live = live_invoices(facts)
    if Need.INVOICE not in at.needs or (live and not unbilled(facts)):
        return None
    gone = [each.number for each in facts.documents if each.kind is DocumentKind.INVOICE]
    if live:
        words = f"bill what was done since {live[-1].number}"
    elif gone:
        words = f"bill it anew: {max(gone)} was credited"
    elif at.ending is not None:
        words = f"bill the looking ({at.ending.kind})"
    else:
        words = "bill the looking" if nothing_to_mend(facts) else "bill it"
    done = tuple(repair.id for repair in unbilled(facts))
    credited = (each.at for each in facts.documents if each.kind is DocumentKind.CREDIT_NOTE)
    since = at.latest(_worked_until(at), *(() if live else credited))
    return Unmet(Step.BILL, NextThing(Deed.BILL, words, Need.INVOICE, done), since)


def paying_first(at: Moment) -> Unmet | None:
    """Paid, before the bike goes: all that is owed at the counter, and an insurer's excess."""
    facts = at.facts
    due = due_before_collecting(facts)
    if Need.PAYMENT not in at.needs or due <= 0 or is_collected(at):
        return None
    amount = money_words(due, facts.shop)
    counter = tuple(document for document, _ in unpaid(facts) if not pays_afterwards(facts, document))
    if counter:
        return _waits_for_money(at, f"take {amount} ({_numbers(counter)})", due, counter)
    return _waits_for_money(at, f"take the excess, {amount}", due, _documents(at))


def collecting(at: Moment) -> Unmet | None:
    """Collected: it was handed over, or was taken away undone."""
    facts = at.facts
    if Need.COLLECTION not in at.needs or is_collected(at):
        return None
    what = quoted(facts.card.unit) if facts.card.unit else "it"
    since = at.latest(
        _worked_until(at),
        *(document.at for document in asking(facts)),
        *(each.at for each in facts.allocations),
    )
    told = [
        call
        for call in facts.calls
        if not call.inward and call.at >= since and call.outcome is not CallOutcome.NO_ANSWER
    ]
    words = (
        f"hand {what} over"
        if told or facts.card.call_out
        else f"ring that {what} is ready, then hand it over"
    )
    return Unmet(Step.COLLECTED, NextThing(Deed.COLLECT, words, Need.COLLECTION), since)


def paying_after(at: Moment) -> Unmet | None:
    """Paid, after the bike went: what an account or an insurer owes, or what went on somebody's word."""
    owed = owed_minor(at.facts)
    if Need.PAYMENT not in at.needs or owed <= 0:
        return None
    documents = _documents(at)
    words = f"ask for {money_words(owed, at.facts.shop)} ({_numbers(documents)})"
    return _waits_for_money(at, words, owed, documents)


def rechecking(at: Moment) -> Unmet | None:
    """Recheck: each one done, or not wanted."""
    waiting = open_rechecks(at)
    if not waiting:
        return None
    first = waiting[0]
    due = first.due_on <= at.today
    since = start_of(first.due_on, at.facts.shop) if due else _handed_over(at) or first.at
    stops = () if due else (Stop(StopKind.RECHECK, _due_words(at, first), first.due_on, (first.id,)),)
    return Unmet(Step.RECHECK, recheck_thing(at, first), at.latest(since), stops)


def open_rechecks(at: Moment) -> tuple[Recheck, ...]:
    """The rechecks still to come, first due first."""
    if Need.RECHECK not in at.needs:
        return ()
    waiting = (each for each in at.facts.rechecks if each.state in WAITING)
    return tuple(sorted(waiting, key=lambda each: (each.due_on, each.id)))


def recheck_thing(at: Moment, recheck: Recheck) -> NextThing:
    """What to do about a recheck."""
    if recheck.state is RecheckState.BOOKED:
        words = f"write down how the recheck went ({_due_words(at, recheck)})"
    else:
        words = f"ring about the recheck, {_due_words(at, recheck)}"
    return NextThing(Deed.RECHECK, words, Need.RECHECK, (recheck.id,))


def money_things(at: Moment) -> tuple[NextThing, ...]:
    """Money beside the next thing: a deposit to take before the bill, and what came too much to give back."""
    things = []
    deposits = [
        (document, minor) for document, minor in unpaid(at.facts) if document.kind is DocumentKind.DEPOSIT
    ]
    if deposits and Need.PAYMENT in at.needs and not live_invoices(at.facts):
        minor = sum(each for _, each in deposits)
        words = f"take the deposit, {money_words(minor, at.facts.shop)}"
        about = tuple(document.id for document, _ in deposits)
        things.append(NextThing(Deed.PAY, words, Need.PAYMENT, about))
    if back := to_give_back_minor(at.facts):
        things.append(NextThing(Deed.PAY, f"give back {money_words(back, at.facts.shop)}"))
    return tuple(things)


def is_collected(at: Moment) -> bool:
    """Whether the bike has gone: collected, or taken away undone."""
    taken = (each.kind is EndKind.COLLECTED_UNDONE for each in endings_in_force(at.facts))
    return bool(at.facts.collections) or any(taken)


def _documents(at: Moment) -> tuple[Document, ...]:
    return tuple(document for document, _ in unpaid(at.facts))


def _waits_for_money(at: Moment, words: str, minor: int, documents: tuple[Document, ...]) -> Unmet:
    """`documents` are those it is owed on, oldest first."""
    first_due = min(document.due_on for document in documents)
    about = tuple(document.id for document in documents)
    amount = money_words(minor, at.facts.shop)
    stop = Stop(StopKind.MONEY, f"{amount}, due {day_words(first_due, at.today)}", first_due, about)
    thing = NextThing(Deed.PAY, words, Need.PAYMENT, about)
    return Unmet(Step.PAID, thing, at.latest(documents[0].at), (stop,))


def _numbers(documents: tuple[Document, ...]) -> str:
    return documents[0].number if len(documents) == 1 else f"{len(documents)} documents"


def _due_words(at: Moment, recheck: Recheck) -> str:
    return f"due {day_words(recheck.due_on, at.today)}"


def _handed_over(at: Moment) -> datetime | None:
    return max((each.at for each in at.facts.collections), default=None)


def _worked_until(at: Moment) -> datetime:
    after = (reading.at for reading in at.facts.readings if reading.phase is Phase.AFTER)
    done = (repair.done_at for repair in planned(at.facts))
    left = (finding.at for finding in at.facts.findings)
    return at.latest(*after, *done, *left, at.ending.at if at.ending else None)
