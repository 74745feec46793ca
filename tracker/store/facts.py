"""All that is written on some cards, in a number of queries that does not grow with the cards."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import Any, TypeVar

from tracker.records.bike import Bike
from tracker.records.card import (
    Call,
    Card,
    Collection,
    Ending,
    Finding,
    GoAhead,
    Opened,
    Reading,
    Symptom,
    Waiver,
)
from tracker.records.document import Allocation, Document, DocumentLine, Estimate, Payment, WriteOff
from tracker.records.facts import CardFacts
from tracker.records.people import Customer
from tracker.records.recheck import Recheck
from tracker.records.row import Row
from tracker.records.shop import Shop
from tracker.records.stock import PartWanted
from tracker.records.visit import Visit, Way
from tracker.records.work import Repair, TimeEntry
from tracker.store.reader import Reader

R = TypeVar("R", bound=Row)

ON_A_CARD: dict[str, type[Row]] = {
    "symptoms": Symptom,
    "readings": Reading,
    "findings": Finding,
    "estimates": Estimate,
    "go_aheads": GoAhead,
    "repairs": Repair,
    "wanted": PartWanted,
    "times": TimeEntry,
    "visits": Visit,
    "opened": Opened,
    "ways": Way,
    "calls": Call,
    "documents": Document,
    "payments": Payment,
    "waivers": Waiver,
    "endings": Ending,
    "collections": Collection,
    "rechecks": Recheck,
}
"""The fields of CardFacts that hang straight on a card."""

CHUNK = 500
"""How many cards one query names: below SQLite's old limit of 999 values."""


def facts_of(reader: Reader, shop: Shop, card_ids: Sequence[int]) -> tuple[CardFacts, ...]:
    """The facts of some cards, in the order asked for; unknown ids are left out."""
    found: dict[int, CardFacts] = {}
    for start in range(0, len(card_ids), CHUNK):
        for facts in _chunk(reader, shop, card_ids[start : start + CHUNK]):
            found[facts.card.id] = facts
    return tuple(found[card_id] for card_id in card_ids if card_id in found)


def _chunk(reader: Reader, shop: Shop, card_ids: Sequence[int]) -> Iterable[CardFacts]:
    cards = reader.all(Card, id=tuple(card_ids))
    ids = tuple(card.id for card in cards)
    if not ids:
        return
    hung: dict[str, dict[int, list[Any]]] = {
        name: _by(reader.all(cls, card=ids), "card") for name, cls in ON_A_CARD.items()
    }
    documents = tuple(document.id for group in hung["documents"].values() for document in group)
    lines = _by(reader.all(DocumentLine, document=documents), "document")
    allocations = _by(reader.all(Allocation, document=documents), "document")
    write_offs = _by(reader.all(WriteOff, document=documents), "document")
    people = {
        customer.id: customer
        for customer in reader.all(
            Customer, id=_some(c for card in cards for c in (card.customer, card.payer))
        )
    }
    bikes = {bike.id: bike for bike in reader.all(Bike, id=_some(card.bike for card in cards))}
    for card in cards:
        on_card = {name: tuple(groups.get(card.id, ())) for name, groups in hung.items()}
        own = [document.id for document in on_card["documents"]]
        yield CardFacts(
            card=card,
            shop=shop,
            bike=bikes.get(card.bike or 0),
            customer=people.get(card.customer or 0),
            payer=people.get(card.payer or 0),
            document_lines=tuple(line for document in own for line in lines.get(document, ())),
            allocations=tuple(one for document in own for one in allocations.get(document, ())),
            write_offs=tuple(one for document in own for one in write_offs.get(document, ())),
            **on_card,
        )


def cards_not_over(reader: Reader) -> tuple[int, ...]:
    """Every card that may still want something: a superset, cheap to find; the card room decides.

    Over means gone and settled. A card stays in while it is here, while a recheck is open, while something
    issued is not settled, and where something is written on it that its collection did not end: work not
    done, not billed or not proved, a finding of later, a credit note. What was declined, or came to another
    end that nobody took back, and had nothing to bill is over once it is collected.
    """
    rows = reader.sql(
        """
        WITH ended AS (
            SELECT card FROM ending AS e
            WHERE NOT EXISTS (
                SELECT 1 FROM go_ahead AS g WHERE g.card = e.card AND g.what = 'work' AND g.at >= e.at)),
        billable AS (
            SELECT id AS card FROM card WHERE call_out = 1
            UNION SELECT card FROM go_ahead WHERE what = 'look'
            UNION SELECT card FROM time_entry WHERE kind != 'other'
            UNION SELECT card FROM repair WHERE done_at IS NOT NULL
            UNION SELECT card FROM part_wanted WHERE state = 'fitted')
        SELECT id FROM card WHERE id NOT IN (SELECT card FROM collection)
        UNION SELECT card FROM recheck WHERE state IN ('open', 'booked')
        UNION SELECT card FROM document
            WHERE card IS NOT NULL AND kind != 'credit note' AND payable_minor
                != coalesce((SELECT sum(amount_minor) FROM allocation WHERE document = document.id), 0)
                 + coalesce((SELECT sum(amount_minor) FROM write_off WHERE document = document.id), 0)
        UNION SELECT card FROM document WHERE card IS NOT NULL AND kind = 'credit note'
        UNION SELECT card FROM collection
            WHERE card NOT IN (SELECT card FROM document WHERE card IS NOT NULL AND kind = 'invoice')
            AND (card NOT IN (SELECT card FROM ended)
                OR card IN (SELECT card FROM billable WHERE card IS NOT NULL))
        UNION SELECT card FROM repair
            WHERE done_at IS NULL AND dropped = '' AND card NOT IN (SELECT card FROM ended)
        UNION SELECT repair.card FROM repair JOIN collection ON collection.card = repair.card
            WHERE repair.done_at > collection.at
        UNION SELECT finding.card FROM finding JOIN collection ON collection.card = finding.card
            WHERE finding.at > collection.at
        UNION SELECT repair.card FROM repair, json_each (repair.proves) AS proof
            WHERE repair.dropped = '' AND repair.card NOT IN (SELECT card FROM ended) AND NOT EXISTS (
                SELECT 1 FROM reading
                WHERE reading.card = repair.card AND reading.phase = 'after' AND reading.kind = proof.value)
        ORDER BY 1
        """
    )
    return tuple(int(row) for (row,) in rows)


def _by(records: Iterable[R], field: str) -> dict[int, list[R]]:
    groups: dict[int, list[R]] = defaultdict(list)
    for record in records:
        groups[getattr(record, field)].append(record)
    return groups


def _some(ids: Iterable[int | None]) -> tuple[int, ...]:
    return tuple({one for one in ids if one is not None})
