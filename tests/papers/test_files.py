"""What other programs read: the day-book, the calendar and the message, read back by real parsers."""

import csv
import io
import subprocess
import sys
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from email import message_from_bytes
from email.message import EmailMessage
from email.policy import default
from typing import Any

import pytest
from icalendar import Calendar

from tests.hostile import FINE, LINES
from tests.papers import billed, build
from tests.papers.every import of_document
from tracker.papers.calendar import (
    Appointment,
    calendar,
    cancellations,
    promise_appointment,
    recheck_appointment,
)
from tracker.papers.day_book import HEADS, Entry, day_book, harmless
from tracker.papers.message import Attached, attached_text, message, safe_name
from tracker.papers.plain import plain
from tracker.records.problem import Mistakes
from tracker.records.recheck import RecheckState

ENTRIES = [
    Entry(billed.CREDIT_NOTE.document, billed.CREDIT_NOTE.taxes, "26-0412", "INV-26-0042"),
    Entry(billed.INVOICE.document, billed.INVOICE.taxes, "26-0412"),
    Entry(billed.DEPOSIT.document, billed.DEPOSIT.taxes, "26-0412"),
]
STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def read_back(written: bytes) -> Any:
    return Calendar.from_ical(written)


def events(read: Any) -> list[Any]:
    return list(read.walk("VEVENT"))


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_a_day_book_has_a_line_for_each_tax_in_order() -> None:
    book = rows(day_book(ENTRIES))
    assert [row["number"] for row in book] == [
        "DEP-26-0007", "DEP-26-0007", "INV-26-0042", "INV-26-0042", "CRN-26-0003",
    ]  # fmt: skip
    assert book[2]["issued"] == "2026-03-06"
    assert book[2]["supplied"] == "2026-03-05"
    assert book[2]["due"] == "2026-03-20"
    assert book[4]["corrects"] == "INV-26-0042"
    assert book[4]["buyer"] == "Adaeze Oyelaran"


def test_a_day_books_numbers_are_numbers_and_add_up() -> None:
    book = rows(day_book(ENTRIES))
    whole = sum(Decimal(row["with_tax"]) for row in book)
    kept = sum((-1 if one.document.corrects else 1) * one.document.total_minor for one in ENTRIES)
    assert whole == Decimal(kept) / 100
    assert all(Decimal(row["taxable"]) + Decimal(row["tax"]) == Decimal(row["with_tax"]) for row in book)
    assert book[4]["taxable"] == "-74.50"
    assert sum(Decimal(row["document_total"] or 0) for row in book) == whole
    assert book[2]["document_payable"] == "220.65"


@pytest.mark.parametrize("text", [*FINE, *LINES])
def test_no_text_becomes_a_formula_a_line_or_a_column(text: str) -> None:
    document = replace(billed.INVOICE.document, buyer={"name": text, "tax_number": text})
    book = rows(day_book([Entry(document, billed.INVOICE.taxes, text, text)]))
    assert len(book) == 2
    for row in book:
        assert set(row) == set(HEADS)
        for name in ("buyer", "buyer_tax_number", "card", "corrects"):
            assert row[name] in (text, f"'{text}")
            assert not row[name].startswith(STARTS)


@pytest.mark.parametrize("text", ["=1", "+1", "-1", "@x", "\t=1", "\rx", " =1", "\n=1", "＝1", "＠x"])
def test_formulas_are_made_harmless(text: str) -> None:
    assert harmless(text) == f"'{text}"


def test_a_document_without_kept_taxes_is_in_the_book_all_the_same() -> None:
    (row,) = rows(day_book([Entry(billed.INVOICE.document, ())]))
    assert (row["taxable"], row["tax"], row["with_tax"]) == ("205.00", "35.63", "240.63")


def test_lines_end_as_the_standard_says() -> None:
    assert day_book(ENTRIES).count("\r\n") == 6
    assert "\n" not in day_book(ENTRIES).replace("\r\n", "")


def test_a_recheck_is_a_whole_day_that_keeps_its_name() -> None:
    appointment = recheck_appointment(
        build.RECHECK, bike=build.BIKE, customer=build.CUSTOMER, card=build.CARD
    )
    read = read_back(calendar([appointment], build.SHOP))
    (event,) = events(read)
    assert read["METHOD"] == "PUBLISH"
    assert event["UID"] == "a81e2f05@loomcard"
    assert event["DTSTART"].dt == date(2026, 4, 3)
    assert event["DTEND"].dt == date(2026, 4, 4)
    assert event["DTSTART"].params["VALUE"] == "DATE"
    assert event["DTSTAMP"].dt == build.RECHECK.at
    assert event["SEQUENCE"] == 0
    assert event["STATUS"] == "CONFIRMED"
    assert "Halden 650 twin" in event["SUMMARY"]
    assert "41,730 km" in event["DESCRIPTION"]


def test_moving_a_recheck_moves_the_same_date() -> None:
    moved = replace(build.RECHECK, due_on=date(2026, 4, 10), version=3)
    one, other = (recheck_appointment(each, bike=build.BIKE) for each in (build.RECHECK, moved))
    assert (other.uid, other.made_at) == (one.uid, one.made_at)
    assert other.sequence == one.sequence + 2
    assert calendar([one], build.SHOP) == calendar([one], build.SHOP)


@pytest.mark.parametrize("state", [RecheckState.DONE, RecheckState.NOT_WANTED])
def test_what_no_longer_stands_is_cancelled(state: RecheckState) -> None:
    gone = recheck_appointment(replace(build.RECHECK, state=state, version=2), bike=build.BIKE)
    live = recheck_appointment(replace(build.RECHECK, id=2, token="b7"), bike=build.BIKE)
    published = read_back(calendar([gone, live], build.SHOP))
    taken_out = read_back(cancellations([gone, live], build.SHOP))
    assert [event["UID"] for event in events(published)] == ["b7@loomcard"]
    (event,) = events(taken_out)
    assert taken_out["METHOD"] == "CANCEL"
    assert (event["UID"], event["STATUS"], event["SEQUENCE"]) == ("a81e2f05@loomcard", "CANCELLED", 1)


def test_promises_stand_beside_rechecks() -> None:
    promise = promise_appointment(build.CARD, bike=build.BIKE, customer=build.CUSTOMER)
    assert promise is not None
    recheck = recheck_appointment(build.RECHECK, bike=build.BIKE)
    read = read_back(calendar([recheck, promise], build.SHOP))
    assert [event["DTSTART"].dt for event in events(read)] == [date(2026, 3, 6), date(2026, 4, 3)]
    assert promise_appointment(replace(build.CARD, promised_on=None)) is None
    over = promise_appointment(build.CARD, over=True)
    assert over is not None
    assert over.cancelled


@pytest.mark.parametrize("text", [*FINE, *LINES])
def test_no_text_makes_another_event(text: str) -> None:
    appointment = Appointment("u@loomcard", date(2026, 4, 3), text, text, build.CAME)
    shop = replace(build.SHOP, name=text.replace("\n", " "), email=text.replace("\n", ""))
    written = calendar([appointment], shop)
    read = read_back(written)
    (event,) = events(read)
    assert event["SUMMARY"] == text
    assert event["DESCRIPTION"] == text
    assert set(event) <= {"SUMMARY", "DTSTART", "DTEND", "DTSTAMP", "UID", "SEQUENCE", "DESCRIPTION",
                          "STATUS", "TRANSP", "ORGANIZER"}  # fmt: skip
    assert all(len(line) <= 75 for line in written.split(b"\r\n"))


@pytest.mark.parametrize("name", [text for text in FINE if len(text) < 200])
def test_no_shops_name_breaks_the_calendar(name: str) -> None:
    appointment = Appointment("u@loomcard", date(2026, 4, 3), "x", "y", build.CAME)
    read = read_back(calendar([appointment], replace(build.SHOP, name=name)))
    (event,) = events(read)
    assert event["ORGANIZER"] == "mailto:bench@lowgate.example"
    assert event["SUMMARY"] == "x"


def written(**given: object) -> EmailMessage:
    arguments = {
        "sender": (build.SHOP.name, build.SHOP.email),
        "to": (build.CUSTOMER.name, build.CUSTOMER.email),
        "subject": "Invoice INV-26-0042",
        "words": "Here is your invoice.",
        "at": build.CAME,
        "attached": [attached_text(of_document(billed.INVOICE))],
        **given,
    }
    read = message_from_bytes(message(**arguments), policy=default)  # type: ignore[arg-type]
    assert isinstance(read, EmailMessage)
    return read


def test_a_message_carries_its_paper() -> None:
    read = written()
    assert read["Subject"] == "Invoice INV-26-0042"
    assert read["To"].addresses[0].addr_spec == "adaeze@post.example"
    assert read["From"].addresses[0].display_name == "Low Gate Motorcycle Electrics"
    assert read["Date"].datetime == build.CAME
    body = read.get_body()
    assert body is not None
    assert body.get_content().strip() == "Here is your invoice."
    (paper,) = read.iter_attachments()
    assert paper.get_filename() == "INV-26-0042.txt"
    assert paper.get_content_type() == "text/plain"
    assert paper.get_content().replace("\r\n", "\n") == plain(of_document(billed.INVOICE))


def test_other_files_go_along_as_they_are() -> None:
    read = written(attached=[Attached("INV.pdf", "application/pdf", b"%PDF-\x00\xff")])
    (paper,) = read.iter_attachments()
    assert (paper.get_content_type(), paper.get_content()) == ("application/pdf", b"%PDF-\x00\xff")


@pytest.mark.parametrize("text", FINE)
def test_no_text_adds_a_header(text: str) -> None:
    plain_names = [name for name, _ in written().items()]
    read = written(sender=(text, build.SHOP.email), to=(text, build.CUSTOMER.email), subject=text, words=text)
    assert [name for name, _ in read.items()] == plain_names
    assert len(read["To"].addresses) == 1
    assert read["To"].addresses[0].addr_spec == "adaeze@post.example"
    body = read.get_body()
    assert body is not None
    assert body.get_content().rstrip("\r\n") == text


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r", "\x0b", "\x0c", "\x85", "\u2028", "\x00"])
def test_line_breaks_cannot_inject(end: str) -> None:
    evil = f"x{end}Bcc: all@post.example"
    read = written(sender=(evil, build.SHOP.email), to=(evil, build.CUSTOMER.email), subject=evil)
    assert read["Bcc"] is None
    assert [address.addr_spec for address in read["To"].addresses] == ["adaeze@post.example"]
    assert read["Subject"] == "x Bcc: all@post.example"


@pytest.mark.parametrize(
    "address",
    ["", "nobody", "a@b\nBcc: c@d", "a@b, c@d", "a@b>", "zoë@post.example", "@x", "x@", "a b@c", *FINE[:20]],
)
def test_what_is_no_address_is_named(address: str) -> None:
    with pytest.raises(Mistakes) as raised:
        written(sender=("x", address), to=("y", address))
    assert [problem.field for problem in raised.value.problems] == ["sender", "to"]


@pytest.mark.parametrize("text", [*FINE, "..", "con.txt/../../x"])
def test_a_files_name_is_one_everywhere(text: str) -> None:
    name = safe_name(f"{text}.txt")
    assert name
    assert set(name) <= set("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._-")
    assert len(name) <= 60
    assert not name.startswith((".", "-"))


def test_a_message_is_written_at_an_instant() -> None:
    read = written(at=datetime(2026, 3, 6, 10, tzinfo=UTC) + timedelta(hours=1))
    assert "11:00:00 +0000" in str(read["Date"])


def test_the_calendars_library_is_imported_only_when_one_is_written() -> None:
    asked = "import sys, tracker.papers.calendar, tracker.papers.plain; print('icalendar' in sys.modules)"
    said = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == "False"
