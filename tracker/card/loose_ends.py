"""What is still open on a card when it is billed or handed over: said, never a reason to refuse a fact."""

from tracker.card.needs import is_charged, needs_of
from tracker.card.owing import PAYS_AFTERWARDS, live_invoices, unbilled
from tracker.card.time import on_the_clock
from tracker.card.words import plain, reading_words, repair_words, several
from tracker.card.work import missing_readings, planned, to_do
from tracker.records.card import Need
from tracker.records.facts import CardFacts
from tracker.records.shop import Rounding
from tracker.records.stock import WantedState
from tracker.records.work import TimeKind


def is_unbilled(facts: CardFacts) -> bool:
    """Whether work was done, or a part fitted, that no standing invoice asks for."""
    if not is_charged(facts) or Need.INVOICE not in needs_of(facts):
        return False
    if unbilled(facts):
        return True
    timed = _comes_to_something(facts)
    fitted = any(part.state is WantedState.FITTED and not part.customers_own for part in facts.wanted)
    return not live_invoices(facts) and (timed or fitted)


def _comes_to_something(facts: CardFacts) -> bool:
    """Whether the time on it is billed at all: less than half a step goes down to nothing where it is rounded
    to the nearest, so that a minute of looking at it keeps nobody's bike. A running clock counts.
    """
    spells = [entry for entry in facts.times if entry.kind is not TimeKind.OTHER]
    if facts.shop.rounding is Rounding.UP or any(entry.off_at is None for entry in spells):
        return bool(spells)
    seconds = sum((entry.off_at - entry.on_at).total_seconds() for entry in spells if entry.off_at)
    return 2 * seconds >= 60 * facts.shop.rounding_min


def pays_later(facts: CardFacts) -> bool:
    """Whether whoever pays is an account or an insurer, who pay after the bike is collected."""
    payer = facts.payer or facts.customer
    return payer is not None and payer.kind in PAYS_AFTERWARDS


def left_when_billed(facts: CardFacts) -> tuple[str, ...]:
    """What an invoice made now leaves out or runs ahead of."""
    return tuple(
        sentence for sentence in (_not_done(facts, "not on this bill"), _not_read(facts)) if sentence
    )


def left_when_handed_over(facts: CardFacts) -> tuple[str, ...]:
    """What is open on a card whose bike goes."""
    off = _still_off(facts)
    said = (
        _not_done(facts, "it goes without"),
        _not_read(facts),
        f"Off and not put back on, by what was written: {several(plain(name) for name in off)}."
        if off
        else "",
        "A clock still runs on it." if on_the_clock(facts) else "",
        "The work on it is not billed yet." if is_unbilled(facts) else "",
    )
    return tuple(sentence for sentence in said if sentence)


def _not_done(facts: CardFacts, so: str) -> str:
    if Need.REPAIRS not in needs_of(facts) or not to_do(facts):
        return ""
    named = (
        f"{repair_words(repair)} (begun)" if repair.started_at else repair_words(repair)
        for repair in to_do(facts)
    )
    return f"Not done, {so}: {several(named)}."


def _not_read(facts: CardFacts) -> str:
    if Need.TESTS not in needs_of(facts):
        return ""
    kinds = dict.fromkeys(kind for repair in planned(facts) for kind in missing_readings(facts, repair))
    return f"Not read yet after the work: {several(reading_words(kind) for kind in kinds)}." if kinds else ""


def _still_off(facts: CardFacts) -> tuple[str, ...]:
    now: dict[str, bool] = {}
    for one in sorted(facts.opened, key=lambda one: (one.at, one.id)):
        now[one.access] = not one.refitted
    return tuple(name for name, is_off in now.items() if is_off)
