"""All that is written on one card, in one value: what the pure rooms judge a card by."""

from dataclasses import dataclass

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
from tracker.records.people import Customer
from tracker.records.recheck import Recheck
from tracker.records.shop import Shop
from tracker.records.stock import PartWanted
from tracker.records.visit import Visit, Way
from tracker.records.work import Repair, TimeEntry


@dataclass(frozen=True, slots=True, kw_only=True)
class CardFacts:
    """One card with everything that hangs on it; the order inside each tuple means nothing.

    `documents` are the card's own; `allocations` and `write_offs` those of its documents.
    """

    card: Card
    shop: Shop
    bike: Bike | None = None
    customer: Customer | None = None
    payer: Customer | None = None
    symptoms: tuple[Symptom, ...] = ()
    readings: tuple[Reading, ...] = ()
    findings: tuple[Finding, ...] = ()
    estimates: tuple[Estimate, ...] = ()
    go_aheads: tuple[GoAhead, ...] = ()
    repairs: tuple[Repair, ...] = ()
    wanted: tuple[PartWanted, ...] = ()
    times: tuple[TimeEntry, ...] = ()
    visits: tuple[Visit, ...] = ()
    opened: tuple[Opened, ...] = ()
    ways: tuple[Way, ...] = ()
    calls: tuple[Call, ...] = ()
    documents: tuple[Document, ...] = ()
    document_lines: tuple[DocumentLine, ...] = ()
    payments: tuple[Payment, ...] = ()
    allocations: tuple[Allocation, ...] = ()
    write_offs: tuple[WriteOff, ...] = ()
    waivers: tuple[Waiver, ...] = ()
    endings: tuple[Ending, ...] = ()
    collections: tuple[Collection, ...] = ()
    rechecks: tuple[Recheck, ...] = ()
