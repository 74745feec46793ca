"""The loom record: what was changed in this loom, where exactly, for its owner and the next mechanic."""

from collections.abc import Iterable

from tracker.papers.charging import battery_pairs
from tracker.papers.known import NOTHING, Known
from tracker.papers.own_words import line_words
from tracker.papers.paper import Block, Pair, Pairs, Paper, Words, WordsKind, some
from tracker.papers.parties import about_pairs, customer_party, shop_party
from tracker.papers.pictured import picture
from tracker.papers.readings import before_and_after
from tracker.papers.repair_pairs import what_pairs, where_pairs
from tracker.papers.say import day_of, plain_name
from tracker.papers.tongue import mark, t
from tracker.records.card import Finding
from tracker.records.drawing import Sketch
from tracker.records.facts import CardFacts
from tracker.records.work import Repair


def done_in_order(repairs: Iterable[Repair]) -> list[Repair]:
    """Repairs that were done, the first one first: their place, from 1, is their number on the record."""
    return sorted((one for one in repairs if one.done_at and not one.dropped), key=_when)


def loom_record(facts: CardFacts, *, known: Known = NOTHING, sketch: Sketch | None = None) -> Paper:
    """The record of a card's done repairs, and of what was left as it is.

    `sketch` is the loom with those repairs on it, numbered as here. Readings of no repair in particular
    stand at the end.
    """
    done = done_in_order(facts.repairs)
    ids = {one.id for one in done}
    blocks: list[Block | None] = [
        Pairs((*about_pairs(facts.card, facts.bike), *battery_pairs(facts.bike)), columns=2),
        picture(sketch, t("Where they are")) if sketch and done else None,
    ]
    for number, repair in enumerate(done, 1):
        blocks += repair_blocks(number, repair, facts, known)
    rest = [one for one in facts.readings if one.repair not in ids]
    return Paper(
        t("Loom record"),
        facts.card.number,
        (shop_party(facts.shop), *((customer_party(facts.customer),) if facts.customer else ())),
        some(
            *blocks,
            before_and_after(rest, known, title=mark("Readings of the bike")),
            Words(_left(facts), WordsKind.CAUTION, t("Seen, and left as it is")),
            Words((t(LAST),)),
        ),
    )


LAST = mark(
    "Colours and sizes are as found on this bike; another of the same model may differ. The maker's manual"
    " comes first."
)


def _when(repair: Repair) -> tuple[object, int]:
    return repair.done_at, repair.id


def repair_blocks(
    number: int, repair: Repair, facts: CardFacts, known: Known, *, card: str = ""
) -> list[Block | None]:
    """One repair with its readings; `card` names the card it was done on where the paper is about several."""
    found = next((one.words for one in facts.findings if one.id == repair.finding), "")
    on = day_of(repair.done_at, facts.shop) if repair.done_at else ""
    done = t("{day} by {who}", day=on, who=repair.done_by) if on and repair.done_by else on
    head = (
        *((Pair(t("Card"), card),) if card else ()),
        Pair(t("Done"), done),
        *((Pair(t("Found"), found),) if found else ()),
        Pair(t("Mended"), line_words(repair.words) or plain_name(repair.rule)),
        *((Pair(t("Sent out to"), repair.sent_out_to),) if repair.sent_out_to else ()),
    )
    own = [one for one in facts.readings if one.repair == repair.id]
    return [
        Pairs(
            (*head, *where_pairs(repair, known, room=False), *what_pairs(repair, room=False)),
            t("Repair {number}", number=number),
        ),
        before_and_after(own, known, title="") if own else None,
    ]


def _left(facts: CardFacts) -> tuple[str, ...]:
    return tuple(_left_words(one) for one in facts.findings if one.left)


def _left_words(finding: Finding) -> str:
    unsafe = (
        "\n" + t("The owner was told that it is not safe to ride like this.") if finding.told_unsafe else ""
    )
    return f"{finding.words}\n{t('Left: {why}', why=finding.left)}{unsafe}"
