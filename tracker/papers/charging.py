"""The charging check: what was read before and after, beside each other, and what it says."""

from collections.abc import Sequence

from tracker.papers.known import NOTHING, Known
from tracker.papers.paper import Pair, Pairs, Paper, Words, WordsKind, some
from tracker.papers.parties import about_pairs, customer_party, shop_party
from tracker.papers.readings import before_and_after
from tracker.papers.say import number
from tracker.papers.tongue import t
from tracker.records.bike import UNKNOWN, Bike
from tracker.records.card import Card, Reading
from tracker.records.people import Customer
from tracker.records.shop import Shop


def charging_paper(
    readings: Sequence[Reading],
    *,
    shop: Shop,
    card: Card,
    bike: Bike | None = None,
    customer: Customer | None = None,
    known: Known = NOTHING,
    verdict: Sequence[str] = (),
    mind: Sequence[str] = (),
) -> Paper:
    """The check's paper. `readings` are those of the charging side, chosen by the caller.

    `verdict` is what they say together, `mind` what to be careful of.
    """
    return Paper(
        t("Charging check"),
        card.number,
        (shop_party(shop), *((customer_party(customer),) if customer else ())),
        some(
            Pairs((*about_pairs(card, bike), *battery_pairs(bike)), columns=2),
            before_and_after(readings, known),
            Words(tuple(verdict), WordsKind.LIST, t("What they say")),
            Words(tuple(t(one) for one in mind), WordsKind.CAUTION, t("Mind")),
        ),
    )


def battery_words(kind: str) -> str:
    """A kind of battery as it is said.

    >>> battery_words("agm"), battery_words("flooded")
    ('AGM', 'flooded')
    """
    return t({"agm": "AGM"}.get(kind, kind))


def battery_pairs(bike: Bike | None) -> tuple[Pair, ...]:
    """The battery and its earth side, as far as anybody knows."""
    if bike is None:
        return ()
    if bike.volts == 0:
        return (Pair(t("Battery"), t("none")), Pair(t("Earth"), t(bike.earth)))
    volts = t("volts not known") if bike.volts is None else f"{bike.volts} V"
    kind = t("kind not known") if bike.battery_kind == UNKNOWN else battery_words(bike.battery_kind)
    size = "" if bike.battery_ah is None else f"{number(bike.battery_ah)} Ah"
    said = ", ".join(part for part in (volts, kind, size) if part)
    return Pair(t("Battery"), said), Pair(
        t("Earth"), t("not known") if bike.earth == UNKNOWN else t(bike.earth)
    )
