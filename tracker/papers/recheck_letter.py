"""A letter, and a short message, that ask a customer back for a look again."""

from collections.abc import Sequence
from datetime import date

from tracker.papers.known import NOTHING, Known
from tracker.papers.paper import Column, ColumnKind, Pair, Pairs, Paper, Table, Words, some
from tracker.papers.parties import customer_party, shop_party
from tracker.papers.readings import how, value_words, where
from tracker.papers.say import bike_words, day, odometer, plain_name, unit
from tracker.papers.tongue import mark, t
from tracker.records.bike import Bike
from tracker.records.card import Card, Reading
from tracker.records.own_text import filled
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
    asked = t(
        "We mended your {bike}. Such a repair is looked at again {counted}. Please bring it {when}.",
        bike=bike.name,
        counted=_counted(recheck, bike),
        when=t("by {due}", due=_due(recheck, bike)),
    )
    ring = t("Ring us for a time: {phone}.", phone=shop.phone) if shop.phone else t("Ring us for a time.")
    return Paper(
        t("Time for a look again"),
        "" if on is None else day(on),
        (shop_party(shop), customer_party(customer, mark("To"))),
        some(
            Words(
                _own(recheck, bike, shop, customer, kind) or (t("Hello {name},", name=customer.name), asked)
            ),
            Pairs(
                (
                    Pair(t("Bike"), bike_words(bike)),
                    *((Pair(t("Card"), card.number),) if card else ()),
                    Pair(t("To look at"), reason_words(recheck, kind)),
                    Pair(t("Due"), _due(recheck, bike)),
                )
            ),
            _last(readings, known),
            Words((ring, t(_UNTIL_THEN))),
        ),
    )


_UNTIL_THEN = mark(
    "If a lamp dims, the battery goes flat or something smells hot before then, do not wait: stop and ring."
)


def _own(
    recheck: Recheck, bike: Bike, shop: Shop, customer: Customer | None, kind: RecheckKind | None
) -> tuple[str, ...]:
    """The shop's own words about it, where it has some, a paragraph each."""
    values = {
        "name": customer.name if customer else "",
        "bike": bike_words(bike),
        "what": reason_words(recheck, kind),
        "due": _due(recheck, bike),
        "shop": shop.name,
        "phone": shop.phone,
    }
    return tuple(filled(line, values) for line in shop.recheck_words.split("\n") if line.strip())


def recheck_text(recheck: Recheck, *, bike: Bike, shop: Shop, customer: Customer | None = None) -> str:
    """The same in one short message, as for a phone: in the shop's own words where it has some."""
    if own := _own(recheck, bike, shop, customer, None):
        return "\n".join(own)
    hello = f"{customer.name}: " if customer else ""
    sign = " ".join(part for part in (shop.name, shop.phone) if part)
    said = t(
        "your {bike} is due for a look again ({what}) by {due}.",
        bike=bike_words(bike),
        what=reason_words(recheck, None),
        due=_due(recheck, bike),
    )
    return f"{hello}{said} {sign}".strip()


def reason_words(recheck: Recheck, kind: RecheckKind | None) -> str:
    """What is looked at, in words."""
    return t(kind.words) if kind else plain_name(recheck.reason)


def _counted(recheck: Recheck, bike: Bike) -> str:
    far = odometer(recheck.distance, bike.odometer_unit) if recheck.distance else ""
    days, anchor = recheck.days, day(recheck.anchor_on)
    if far:
        return t("{days} days or {far} on, counted from {day}", days=days, far=far, day=anchor)
    return t("{days} days on, counted from {day}", days=days, day=anchor)


def _due(recheck: Recheck, bike: Bike) -> str:
    if recheck.due_odometer is None:
        return day(recheck.due_on)
    figure = odometer(recheck.due_odometer, bike.odometer_unit)
    return t("{day} or at {figure}, whichever comes first", day=day(recheck.due_on), figure=figure)


def _last(readings: Sequence[Reading], known: Known) -> Table:
    columns = (
        Column(t("Last readings")),
        Column(t("Read"), ColumnKind.FIGURES),
        Column(t("Unit")),
        Column(t("How")),
    )
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
