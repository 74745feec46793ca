"""What is refused on a card, as mistakes beside their fields. Facts never are: they have happened.

Refused are only what has not happened yet: to start what is not agreed, to bill past what was agreed, to hand
over what is unpaid without somebody's word.
"""

from datetime import datetime

from tracker.card.limits import BEFORE_ALL, Left, Limit, agreed_limit, left_of_go_ahead, used_up
from tracker.card.loose_ends import is_unbilled, pays_later
from tracker.card.needs import is_charged, waived
from tracker.card.owing import billed_minor, due_before_collecting
from tracker.card.words import money_words, repair_words
from tracker.card.work import agreed, ending_in_force
from tracker.records.card import GoAheadFor, Need
from tracker.records.facts import CardFacts
from tracker.records.problem import Problem

__all__ = [
    "Left",
    "Limit",
    "agreed_limit",
    "left_of_go_ahead",
    "refusals_to_bill",
    "refusals_to_collect",
    "refusals_to_start",
]


def refusals_to_start(facts: CardFacts, repair_id: int, now: datetime | None = None) -> tuple[Problem, ...]:
    """Why a repair may not be started; empty when it may. Field “repair”.

    Running clocks count up to `now`, and not at all where none is given.
    """
    repair = next((each for each in facts.repairs if each.id == repair_id), None)
    if repair is None:
        return (Problem("repair", "There is no such repair on this card.", given=str(repair_id)),)
    name, found = repair_words(repair), []
    if repair.dropped:
        found.append(
            Problem("repair", f"{name} was dropped.", "Plan it again if it is to be done after all.")
        )
    ending = ending_in_force(facts)
    if ending is not None:
        hint = "Record the go-ahead if it is to be mended after all."
        found.append(Problem("repair", f"This card has ended: {ending.kind}.", hint))
    elif is_charged(facts) and Need.GO_AHEAD not in waived(facts):
        hint = "Ring, then record who gave it and up to how much."
        if repair.id not in agreed(facts):
            found.append(Problem("repair", f"There is no go-ahead for {name}.", hint))
        elif why := used_up(facts, now or BEFORE_ALL):
            found.append(Problem("repair", f"The go-ahead is used up ({why}).", hint))
    return tuple(found)


def refusals_to_bill(facts: CardFacts, total_minor: int, bench_min: int | None = None) -> tuple[Problem, ...]:
    """Why a deposit or invoice of `total_minor` (with tax) may not be issued; empty when it may.

    What the card was billed already counts too, since a limit is for the whole card. `bench_min` are the
    minutes of looking and repairing that this document would bring the card to; left out, only money is
    judged. Fields “total” and “minutes”.
    """
    if not is_charged(facts) or total_minor <= 0:
        return ()
    limit = agreed_limit(facts)
    set_aside = waived(facts)
    looking = limit is None or limit.go_ahead.what is GoAheadFor.LOOK
    if Need.GO_AHEAD in set_aside or (looking and Need.LEAVE_TO_LOOK in set_aside):
        return ()
    if limit is None:
        sentence = "Nobody has given leave for anything on this card."
        hint = "Record who gave it and up to how much, or set it aside with the reason."
        return (Problem("total", sentence, hint, money_words(total_minor, facts.shop)),)
    found = []
    hint = "Ring, then record the further go-ahead; or bill less."
    in_all = billed_minor(facts) + total_minor
    if limit.most_minor is not None and in_all > limit.most_minor:
        most = money_words(limit.most_minor, facts.shop)
        sentence = f"{money_words(in_all, facts.shop)} in all is past what may be billed, {most}."
        found.append(Problem("total", sentence, hint, money_words(total_minor, facts.shop)))
    if limit.most_minutes is not None and bench_min is not None and bench_min > limit.most_minutes:
        sentence = f"{bench_min} min in all is past what may be billed, {limit.most_minutes} min."
        found.append(Problem("minutes", sentence, hint, str(bench_min)))
    return tuple(found)


def refusals_to_collect(facts: CardFacts, override: str) -> tuple[Problem, ...]:
    """Why a bike may not be handed over unpaid; `override` names whose word it goes by. Field “override”.

    An account's and an insurer's own invoices are paid afterwards, and a payment set aside is not waited for.
    What was never billed is unpaid too.
    """
    due = due_before_collecting(facts)
    if override.strip() or Need.PAYMENT in waived(facts):
        return ()
    if due <= 0:
        if pays_later(facts) or not is_unbilled(facts):
            return ()
        hint = "Bill it and take the money first, or say by whose word it goes."
        return (Problem("override", "The work on it is not billed yet.", hint),)
    sentence = f"{money_words(due, facts.shop)} is still to be paid."
    return (Problem("override", sentence, "Take the money first, or say by whose word it goes."),)
