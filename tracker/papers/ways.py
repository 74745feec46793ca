"""Ways to mend the same thing, side by side, for the customer to choose one; and which one was chosen."""

from collections.abc import Sequence

from tracker.estimating.customer_words import about_and_past
from tracker.papers.own_words import line_words
from tracker.papers.paper import (
    Block,
    Column,
    ColumnKind,
    Pair,
    Pairs,
    Paper,
    Signature,
    Table,
    Words,
    WordsKind,
    some,
)
from tracker.papers.parties import about_pairs, customer_party, shop_party
from tracker.papers.say import amount, day
from tracker.papers.tongue import t
from tracker.records.bike import Bike
from tracker.records.card import Card, Finding
from tracker.records.money import Money
from tracker.records.people import Customer
from tracker.records.shop import Shop
from tracker.records.visit import Way


def ways_shown(ways: Sequence[Way]) -> tuple[Way, ...]:
    """Those still offered and the one chosen, as they were named."""
    return tuple(sorted((one for one in ways if not one.withdrawn), key=lambda one: one.id))


def ways_blocks(ways: Sequence[Way]) -> tuple[Block, ...]:
    """The ways beside each other, and the one that was chosen; nothing where none is offered.

    Amounts are of all the work on the card with that way, as people say them: about, and not past.
    """
    if not ways:
        return ()
    currency = ways[0].currency
    columns = (
        Column(t("Way")),
        Column(t("What would be done")),
        Column(f"{t('About')} {currency}", ColumnKind.FIGURES),
        Column(f"{t('Not past')} {currency}", ColumnKind.FIGURES),
    )
    chosen = tuple(
        t("Chosen on {day}: {name}", day=day(one.chosen_on), name=one.name) for one in ways if one.chosen_on
    )
    note = t("Each amount is for all the work with that way, tax included.")
    return (
        Table(columns, tuple(_row(one) for one in ways), t("Ways to mend it")),
        Words((*chosen, note) if chosen else (note,)),
    )


def _row(way: Way) -> tuple[str, ...]:
    about, past = about_and_past(
        Money(way.total_minor, way.currency), Money(way.high_total_minor, way.currency)
    )
    return (
        t("{name} (chosen)", name=way.name) if way.chosen_on else way.name,
        "\n".join(line_words(words) for words in way.words),
        amount(about.minor, way.currency),
        amount(past.minor, way.currency),
    )


def ways_paper(
    ways: Sequence[Way],
    *,
    shop: Shop,
    card: Card,
    bike: Bike | None = None,
    customer: Customer | None = None,
    findings: Sequence[Finding] = (),
) -> Paper:
    """What was found and the ways to mend it, with room to say which; it asks for no money."""
    parties = (shop_party(shop), *((customer_party(customer),) if customer else ()))
    open_ = [one.name for one in ways if not any(way.chosen_on for way in ways)]
    asked: tuple[Block, ...] = ()
    if open_:
        asked = (
            Words(tuple(open_), WordsKind.TICKS, t("Which one?"), keep=True),
            Words(
                (t("Tell us which: by phone, by message, or ticked and signed below."),), keep=True
            ),
            Signature("", (t("Date"), t("Signature"))),
        )  # fmt: skip
    made = (Pair(t("Made on"), day(max(one.offered_on for one in ways))),) if ways else ()
    return Paper(
        t("Ways to choose from"),
        card.number,
        parties,
        some(
            Pairs((*made, *about_pairs(card, bike)), columns=2),
            Words(
                tuple(each.words for each in findings if not each.left), WordsKind.LIST, t("What was found")
            ),
            *ways_blocks(ways),
            Words((t("This is an estimate and no invoice: nothing is to be paid on it."),)),
            *asked,
        ),
    )
