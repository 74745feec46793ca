"""Every table and the record it keeps; which are sealed; what of a record is found by typing."""

from collections.abc import Callable

from tracker.records.bike import Bike, BikeFeature, LoomFact, OwnFigure
from tracker.records.card import (
    Attachment,
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
from tracker.records.document import (
    Allocation,
    Document,
    DocumentLine,
    DocumentTax,
    Estimate,
    EstimateLine,
    Payment,
    WriteOff,
)
from tracker.records.journal import BeforeImage, JournalEntry
from tracker.records.people import Customer, Mechanic, Ownership
from tracker.records.recheck import Recheck
from tracker.records.row import Row
from tracker.records.shop import Counter, Setting, ShopFile
from tracker.records.stock import Part, PartWanted, StockMove
from tracker.records.text import fold, squeeze
from tracker.records.visit import Visit, Way
from tracker.records.work import Repair, TimeEntry
from tracker.store.codec import table_name

KEPT: tuple[type[Row], ...] = (
    Setting, ShopFile, Counter, JournalEntry, BeforeImage,
    Mechanic, Customer, Ownership,
    Bike, BikeFeature, LoomFact, OwnFigure,
    Card, Symptom, Reading, Finding, GoAhead, Waiver, Ending, Collection, Call, Visit, Opened,
    Attachment,
    Repair, TimeEntry, Recheck,
    Part, StockMove, PartWanted,
    Estimate, EstimateLine, Way, Document, DocumentLine, DocumentTax, Payment, Allocation, WriteOff,
)  # fmt: skip
"""Every stored record class."""

SEALED: frozenset[type[Row]] = frozenset(
    {Document, DocumentLine, DocumentTax, Estimate, EstimateLine, Payment, Allocation, WriteOff}
    | {JournalEntry, BeforeImage}
)
"""What is only ever inserted; triggers in the schema say the same."""

CLASS_OF: dict[str, type[Row]] = {table_name(cls): cls for cls in KEPT}
"""The record class of a table's name."""


def _customer_text(record: Customer) -> str:
    return f"{fold(record.name)} {squeeze(record.phone)} {fold(record.email)} {fold(record.notes)}"


def _bike_text(record: Bike) -> str:
    named = f"{squeeze(record.registration)} {squeeze(record.vin)} {fold(record.name)} {record.year or ''}"
    return f"{named} {fold(record.notes)}"


def _card_text(record: Card) -> str:
    said = f"{fold(record.complaint)} {fold(record.unit)} {fold(record.notes)} {fold(record.claim)}"
    return f"{record.number} {squeeze(record.number)} {said} {squeeze(record.claim)}"


def _part_text(record: Part) -> str:
    return f"{fold(record.code)} {squeeze(record.code)} {fold(record.name)}"


FOUND_BY: dict[type[Row], Callable[..., str]] = {
    Customer: _customer_text,
    Bike: _bike_text,
    Card: _card_text,
    Part: _part_text,
}
"""What of a record the finder keeps, folded."""


def finder_row(cls: type[Row], row_id: int) -> int:
    """The finder's own row for a record: FTS5 deletes by rowid in no time, by a column only with a scan."""
    return row_id * 8 + tuple(FOUND_BY).index(cls)
