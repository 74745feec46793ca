"""Which of the ten needs a card has at all: by its kind, by how it ended, and by what was waived."""

from tracker.card.work import ending_in_force, has_something_to_bill, planned, unanswered
from tracker.records.card import CardKind, Need
from tracker.records.document import DocumentKind
from tracker.records.facts import CardFacts
from tracker.records.work import Repair

SPARED_WHEN_FREE = frozenset({Need.LEAVE_TO_LOOK, Need.ESTIMATE, Need.GO_AHEAD, Need.INVOICE})
"""A comeback that is not charged. It is still handed over: until then it stands here."""

SPARED_BY_PROJECT = SPARED_WHEN_FREE | {Need.COLLECTION}
"""An owner-builder's own bike: nobody to ask, to bill or to hand it over to."""

SPARED_BY_ENDING = frozenset(
    {Need.LEAVE_TO_LOOK, Need.FINDINGS, Need.ESTIMATE, Need.GO_AHEAD, Need.REPAIRS, Need.TESTS}
)


def waived(facts: CardFacts) -> frozenset[Need]:
    """The needs that somebody has set aside with a reason."""
    return frozenset(waiver.need for waiver in facts.waivers)


def is_charged(facts: CardFacts) -> bool:
    """Whether anybody is asked for money: not for a free comeback, nor by an owner-builder."""
    return facts.card.kind is not CardKind.PROJECT and facts.card.comeback_charged


def in_play(facts: CardFacts) -> tuple[Repair, ...]:
    """The planned repairs that are asked about; where doing them was set aside, only those done anyway."""
    set_aside = Need.REPAIRS in waived(facts)
    return tuple(each for each in planned(facts) if not set_aside or each.done_at is not None)


def nothing_to_mend(facts: CardFacts) -> bool:
    """Whether the card goes to the bill without any repair: it ended so, or all that was found is left."""
    if ending_in_force(facts):
        return True
    set_aside = waived(facts)
    looked = bool(facts.findings or planned(facts)) or Need.FINDINGS in set_aside
    return looked and not in_play(facts) and (not unanswered(facts) or Need.REPAIRS in set_aside)


def needs_of(facts: CardFacts) -> frozenset[Need]:
    """The needs of this card, met or not."""
    spared = set(waived(facts))
    if facts.card.kind is CardKind.PROJECT:
        spared |= SPARED_BY_PROJECT
    elif not is_charged(facts):
        spared |= SPARED_WHEN_FREE
    if ending_in_force(facts):
        spared |= SPARED_BY_ENDING
    if nothing_to_mend(facts) and not has_something_to_bill(facts):
        spared.add(Need.INVOICE)
    asks_for_money = any(each.kind is not DocumentKind.CREDIT_NOTE for each in facts.documents)
    if Need.INVOICE in spared and not asks_for_money:
        spared.add(Need.PAYMENT)
    if facts.card.kind is CardKind.UNIT and facts.card.bike is None:
        spared.add(Need.RECHECK)
    return frozenset(Need) - spared
