"""Who stands on a paper: the shop as it is or as it was when it sold, and the people it deals with."""

from collections.abc import Mapping

from tracker.papers.paper import Pair, Party
from tracker.papers.say import bike_words, odometer
from tracker.papers.tongue import mark, t
from tracker.records.bike import Bike
from tracker.records.card import Card, CardKind
from tracker.records.people import Customer
from tracker.records.shop import Shop

TAX_NUMBER = mark("Tax number")


def shop_party(shop: Shop, role: str = mark("From")) -> Party:
    """The shop as it is now."""
    own = {"address": shop.address, "tax_number": shop.tax_number, "phone": shop.phone, "email": shop.email}
    return kept_party(role, {"name": shop.name, **own})


def customer_party(customer: Customer, role: str = mark("For")) -> Party:
    """A customer as they are now."""
    own = {"address": customer.address, "tax_number": customer.tax_number}
    return kept_party(role, {"name": customer.name, **own, "phone": customer.phone, "email": customer.email})


def kept_party(role: str, kept: Mapping[str, str]) -> Party:
    """Seller or buyer as an issued document keeps them: name, address, tax_number, phone, email.

    Whatever else was kept stands beneath with its own name.
    """
    known = ("name", "address", "tax_number", "phone", "email")
    lines = [
        *kept.get("address", "").split("\n"),
        f"{t(TAX_NUMBER)} {kept['tax_number']}" if kept.get("tax_number") else "",
        kept.get("phone", ""),
        kept.get("email", ""),
        *(
            f"{t(name.replace('_', ' '))} {value}"
            for name, value in kept.items()
            if name not in known and value
        ),
    ]
    return Party(t(role), kept.get("name", ""), tuple(line for line in lines if line.strip()))


def about_pairs(card: Card | None, bike: Bike | None) -> tuple[Pair, ...]:
    """Which card and which bike, unit or project a paper is about."""
    pairs = []
    if card is not None:
        pairs.append(Pair(t("Card"), card.number))
    if bike is not None:
        pairs.append(
            Pair(t("Project") if card and card.kind is CardKind.PROJECT else t("Bike"), bike_words(bike))
        )
        if bike.vin:
            pairs.append(Pair(t("Frame no."), bike.vin))
    if card is not None and card.unit:
        pairs.append(Pair(t("Sent in"), card.unit))
    if card is not None and bike is not None and card.odometer is not None:
        pairs.append(Pair(t("Odometer"), odometer(card.odometer, bike.odometer_unit)))
    return tuple(pairs)
