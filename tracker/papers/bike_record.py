"""The loom record of a whole bike: the drawing with every repair done on it, the list, the readings."""

from collections.abc import Sequence

from tracker.papers.charging import battery_pairs
from tracker.papers.known import NOTHING, Known
from tracker.papers.loom_record import LAST, repair_blocks
from tracker.papers.paper import Block, Pairs, Paper, Words, some
from tracker.papers.parties import about_pairs, shop_party
from tracker.papers.pictured import picture
from tracker.papers.readings import before_and_after
from tracker.papers.tongue import mark, t
from tracker.records.bike import Bike
from tracker.records.drawing import Sketch
from tracker.records.facts import CardFacts
from tracker.records.shop import Shop
from tracker.records.work import Repair


def bike_loom_record(
    bike: Bike,
    repairs: Sequence[tuple[int, Repair, CardFacts]],
    *,
    shop: Shop,
    known: Known = NOTHING,
    sketch: Sketch | None = None,
) -> Paper:
    """What an owner files and the next mechanic wants. `repairs` come in order with their numbers, which are
    those on the `sketch`, and with all of the card each was done on."""
    cards = {facts.card.id: facts for _, _, facts in repairs}
    ids = {repair.id for _, repair, _ in repairs}
    blocks: list[Block | None] = [
        Pairs((*about_pairs(None, bike), *battery_pairs(bike)), columns=2),
        picture(sketch, t("The loom")) if sketch else None,
    ]
    for number, repair, facts in repairs:
        blocks += repair_blocks(number, repair, facts, known, card=facts.card.number)
    rest = [one for facts in cards.values() for one in facts.readings if one.repair not in ids]
    nothing = Words((t("No repair of this loom is written down yet."),)) if not repairs else None
    return Paper(
        t("Loom record"),
        bike.registration,
        (shop_party(shop),),
        some(
            *blocks,
            nothing,
            before_and_after(rest, known, title=mark("Readings of the bike")),
            Words((t(LAST),)),
        ),
    )
