"""A letter, and a short message, that ask a customer back for a look again."""

from collections.abc import Sequence
from datetime import date

from tracker.papers.known import NOTHING, Known
from tracker.papers.paper import Column, ColumnKind, Pair, Pairs, Paper, Table, Words, some
from tracker.papers.parties import customer_party, shop_party
from tracker.papers.readings import how, value_words, where
from tracker.papers.say import bike_words, day, odometer, plain_name, unit
from tracker.records.bike import Bike
from tracker.records.card import Card, Reading
from tracker.records.people import Customer
from tracker.records.recheck import Recheck
from tracker.records.repair_rule import RecheckKind
from tracker.records.shop import Shop


def recheck_letter(
    recheck: Recheck,
    *,
    bike: Bike,
    customer: Customer,
    shop: Shop,
    on: date | None = None,
    card: Card | None = None,
    kind: RecheckKind | None = None,
    readings: Sequence[Reading] = (),
    known: Known = NOTHING,
) -> Paper:
    """The letter. `kind` says what is looked at, `readings` are the last ones, shown as they were.

    `on` is the letter's own date.
    """
    asked = f"We mended your {bike.name}. Such a repair is looked at again {_counted(recheck, bike)}."
    ring = f"Ring us for a time: {shop.phone}." if shop.phone else "Ring us for a time."
    return Paper(
        "Time for a look again",
        "" if on is None else day(on),
        (shop_party(shop), customer_party(customer, "To")),
        some(
            Words((f"Hello {customer.name},", f"{asked} Please bring it {_when(recheck, bike)}.")),
            Pairs(
                (
                    Pair("Bike", bike_words(bike)),
                    *((Pair("Card", card.number),) if card else ()),
                    Pair("To look at", reason_words(recheck, kind)),
                    Pair("Due", _when(recheck, bike).removeprefix("by ")),
                )
            ),
            _last(readings, known),
            Words((ring, _UNTIL_THEN)),
        ),
    )


_UNTIL_THEN = (
    "If a lamp dims, the battery goes flat or something smells hot before then, do not wait: stop and ring."
)


def recheck_text(recheck: Recheck, *, bike: Bike, shop: Shop, customer: Customer | None = None) -> str:
    """The same in one short message, as for a phone."""
    hello = f"{customer.name}: " if customer else ""
    sign = " ".join(part for part in (shop.name, shop.phone) if part)
    due = f"is due for a look again ({reason_words(recheck, None)}) {_when(recheck, bike)}."
    return f"{hello}your {bike_words(bike)} {due} {sign}".strip()


def reason_words(recheck: Recheck, kind: RecheckKind | None) -> str:
    """What is looked at, in words."""
    return kind.words if kind else plain_name(recheck.reason)


def _counted(recheck: Recheck, bike: Bike) -> str:
    far = f" or {odometer(recheck.distance, bike.odometer_unit)}" if recheck.distance else ""
    return f"{recheck.days} days{far} on, counted from {day(recheck.anchor_on)}"


def _when(recheck: Recheck, bike: Bike) -> str:
    if recheck.due_odometer is None:
        return f"by {day(recheck.due_on)}"
    figure = odometer(recheck.due_odometer, bike.odometer_unit)
    return f"by {day(recheck.due_on)} or at {figure}, whichever comes first"


def _last(readings: Sequence[Reading], known: Known) -> Table:
    columns = (Column("Last readings"), Column("Read", ColumnKind.FIGURES), Column("Unit"), Column("How"))
    rows = tuple(
        (
            known.kind(one.kind),
            value_words(one),
            unit(one.unit),
            ", ".join(part for part in (where(one, known), how(one)) if part),
        )
        for one in sorted(readings, key=lambda one: (one.at, one.id))
    )
    return Table(columns, rows)
