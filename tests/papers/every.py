"""Every paper of the invented card, by the name of its golden file.

`python -m tests.papers.every` writes the golden files anew: look at each before it is kept.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from tests.papers import billed, build
from tracker.billing.owed import account
from tracker.papers.charging import charging_paper
from tracker.papers.document import document_paper
from tracker.papers.estimate import estimate_paper
from tracker.papers.job_card import job_card
from tracker.papers.known import Known
from tracker.papers.loom_record import loom_record
from tracker.papers.paper import Paper
from tracker.papers.plain import plain
from tracker.papers.receipt import receipt_paper
from tracker.papers.recheck_letter import recheck_letter
from tracker.papers.statement import statement_paper
from tracker.papers.trail import trail_paper
from tracker.papers.ways import ways_paper
from tracker.records.billing import Owing, Receipt
from tracker.records.card import Symptom, SymptomKind
from tracker.records.document import Document, DocumentKind
from tracker.records.money import Money
from tracker.records.trail import Blamed, Spot, Trail, TrailStep
from tracker.records.visit import Way
from tracker.seedfiles.rechecks import load_rechecks

GOLDEN = Path(__file__).parent / "golden"
JUDGED = Known(build.KNOWN.kinds, build.KNOWN.places, build.JUDGED)


def of_document(issued: billed.Issued) -> Paper:
    named = (billed.DEPOSIT.document, billed.INVOICE.document)
    return document_paper(
        issued.document, issued.lines, issued.taxes, named=named, card=build.CARD, bike=build.BIKE
    )


def estimate(*, fixed: bool = False) -> Paper:
    made, lines = billed.estimate_of(fixed=fixed, revision=2)
    return estimate_paper(
        made,
        lines,
        shop=build.SHOP,
        card=build.CARD,
        bike=build.BIKE,
        customer=build.CUSTOMER,
        findings=build.FINDINGS,
        wanted=build.WANTED,
        deposit=Money(10000, "EUR"),
        holds_until=date(2026, 3, 31),
        ways=() if fixed else (replace(WAYS[0], chosen_on=date(2026, 3, 3), chosen_by="Adaeze"), WAYS[1]),
    )


def way(id_: int, name: str, words: str, minor: int) -> Way:
    return Way(
        id=id_, card=1, name=name, repairs=("stator-plug",), words=(words, "Charging check"), currency="EUR",
        expected_min=150, low_min=120, high_min=190, total_minor=minor, high_total_minor=minor * 5 // 4,
        more_minor=minor, offered_on=date(2026, 3, 3), at=build.CAME,
    )  # fmt: skip


WAYS = (
    way(1, "cut out and joined", "Stator plug cut out and joined", 33930),
    way(2, "new plug", "Connector replaced", 36512),
)


def ways() -> Paper:
    return ways_paper(
        WAYS,
        shop=build.SHOP,
        card=build.CARD,
        bike=build.BIKE,
        customer=build.CUSTOMER,
        findings=build.FINDINGS,
    )


def owing(document: Document, settles: str = "") -> Owing:
    return Owing(
        document.kind, document.number, document.issued_on, document.due_on, document.payable_minor, settles
    )


def statement() -> Paper:
    documents = (billed.DEPOSIT.document, billed.INVOICE.document)
    owed = account(
        [
            *map(owing, documents),
            owing(billed.CREDIT_NOTE.document, "INV-26-0042"),
            Owing(DocumentKind.INVOICE, "INV-25-0310", date(2025, 12, 1), date(2025, 12, 15), 8640),
        ],
        [Receipt(14000, (("DEP-26-0007", 10000), ("INV-26-0042", 3000)))],
        on=date(2026, 3, 25),
        written_off={"INV-25-0310": 40},
    )
    issued = {document.number: document.issued_on for document in documents}
    return statement_paper(
        owed, on=date(2026, 3, 25), shop=build.SHOP, customer=build.CUSTOMER, issued=issued
    )


def receipt() -> Paper:
    return receipt_paper(
        billed.PAYMENT,
        billed.ALLOCATIONS,
        (billed.DEPOSIT.document, billed.INVOICE.document),
        shop=build.SHOP,
        customer=build.CUSTOMER,
        owed={1: 0, 2: 3495},
    )


def charging() -> Paper:
    kinds = {"standing_volts", "regulated_volts", "regulated_volts_lamps", "drain", "insulation_ohms"}
    return charging_paper(
        [one for one in build.READINGS if one.kind in kinds],
        shop=build.SHOP,
        card=build.CARD,
        bike=build.BIKE,
        customer=build.CUSTOMER,
        known=JUDGED,
        verdict=("Before: the regulator's output was lost in its plug. After: it charges as it should.",),
    )


def recheck() -> Paper:
    return recheck_letter(
        build.RECHECK,
        bike=build.BIKE,
        customer=build.CUSTOMER,
        shop=build.SHOP,
        card=build.CARD,
        on=date(2026, 3, 27),
        kind=load_rechecks()["charging"],
        readings=build.READINGS[7:10],
        known=build.KNOWN,
    )


LIT = "key on, position lamps on"
TRAIL = Trail(
    symptoms=(
        (Symptom(id=1, card=1, kind=SymptomKind.DEAD, when="wet", at=build.CAME), "tail lamp"),
        (Symptom(id=2, card=1, kind=SymptomKind.WORKS, at=build.CAME), "brake lamp"),
    ),
    steps=(
        TrailStep(
            number=1, check="look at a bulb", at=build.CAME + timedelta(minutes=12), by="Ines", state=LIT,
            place=Spot("tail lamp"), expected="whole / broken", read="whole", minutes=2.0,
            off=(("lamp lens", 2),), out=(Blamed((("tail lamp", "bulb"),)),), out_count=1, left=17,
        ),
        TrailStep(
            number=2, check="volts", at=build.CAME + timedelta(minutes=20), by="Ines", state=LIT,
            place=Spot("tail lamp, tail", "in"), expected="about 12.1 V (battery less 0.3) / 0.0 to 3.4 V",
            read="12.2 V", minutes=2.5, out_count=9, left=8,
            out=(
                Blamed((("tail and instruments fuse", "blown"),)),
                Blamed((("tail lamp, tail", "open"), ("tail lamp", "bulb"))),
            ),
        ),
        TrailStep(
            number=3, check="drop", at=build.CAME + timedelta(minutes=31), by="", state=LIT,
            place=Spot("tail lamp, earth", "in"), against=Spot("tail lamp, earth", "out"),
            expected="about 0.0 V / about 12.1 V", read="3.1 V", minutes=2.5, doubted=True, counts=False,
            left=8,
        ),
    ),
    found=(Blamed((("tail lamp, earth", "open"),)),),
    opened=("seat",),
    clocked=40,
)  # fmt: skip
"""Three checks on a dead tail lamp, the last of them doubted."""


EVERY: Mapping[str, Callable[[], Paper]] = {
    "job_card": lambda: job_card(build.FRESH, features=build.FEATURES, known=build.KNOWN),
    "estimate": estimate,
    "ways": ways,
    "quote": lambda: estimate(fixed=True),
    "deposit": lambda: of_document(billed.DEPOSIT),
    "invoice": lambda: of_document(billed.INVOICE),
    "invoice_without_tax": lambda: of_document(billed.untaxed()),
    "credit_note": lambda: of_document(billed.CREDIT_NOTE),
    "receipt": receipt,
    "statement": statement,
    "loom_record": lambda: loom_record(build.FACTS, known=JUDGED),
    "charging": charging,
    "trail": lambda: trail_paper(replace(build.FACTS, findings=()), TRAIL),
    "recheck_letter": recheck,
}


if __name__ == "__main__":
    for name, paper in EVERY.items():
        (GOLDEN / f"{name}.txt").write_text(plain(paper()), "utf-8")
