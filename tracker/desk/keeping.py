"""Keeping the file: a backup while it is open, a restore, and a check of everything that can be checked."""

from datetime import datetime
from pathlib import Path

from tracker.billing.totals import totals
from tracker.desk.desk import Desk
from tracker.desk.documents import issued
from tracker.records.document import Document, DocumentTax, Estimate, EstimateLine
from tracker.records.problem import Problem
from tracker.store.backup import backup as copy_of
from tracker.store.backup import restore as bring_back
from tracker.store.check import check as check_file
from tracker.store.reader import Reader


def back_up(desk: Desk, target: Path, *, overwrite: bool = False) -> Path:
    """A copy of the open file, checked before it takes its name. Raises StoreRefusedError."""
    return copy_of(desk.store, target, overwrite=overwrite)


def restore(path: Path, source: Path, now: datetime) -> Path | None:
    """Puts a backup in the place of `path`; a present file is kept beside it, and its new name returned."""
    return bring_back(path, source, now)


def check(desk: Desk) -> tuple[Problem, ...]:
    """Everything that is wrong with the file: integrity, keys, seals, numbers, stock, every total anew."""
    return desk.read(lambda reader: (*check_file(reader), *_totals(reader), *_estimates(reader)))


def _totals(reader: Reader) -> list[Problem]:
    found = []
    for document in reader.all(Document):
        bill = issued(reader, document).bill
        anew = totals(
            bill.lines,
            bill.allowances,
            currency=document.currency,
            prepaid=document.prepaid_minor,
            rounding=document.rounding_minor,
        )
        kept = (document.net_minor, document.tax_minor, document.total_minor, document.payable_minor)
        worked = (anew.tax_exclusive, anew.tax_total, anew.tax_inclusive, anew.payable)
        if kept != worked:
            found.append(Problem(document.number, f"The totals kept are {kept}, the lines make {worked}."))
        if tuple(line for line in anew.line_nets) != bill.totals.line_nets:
            found.append(Problem(document.number, "A line's amount is not its quantity times its price."))
        groups = {
            (t.category, t.rate): (t.taxable_minor, t.tax_minor)
            for t in reader.all(DocumentTax, document=document.id)
        }
        if groups != {g.key.group: (g.taxable, g.tax) for g in anew.groups}:
            found.append(Problem(document.number, "The tax groups kept are not those of its lines."))
    return found


def _estimates(reader: Reader) -> list[Problem]:
    found = []
    for estimate in reader.all(Estimate):
        lines = reader.all(EstimateLine, estimate=estimate.id)
        if sum(line.net_minor for line in lines) != estimate.net_minor:
            found.append(Problem(estimate.number, "Its lines do not add up to its total without tax."))
    return found
