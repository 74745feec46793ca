"""Our pages as programs of other people read them: pikepdf (qpdf) and pypdfium2 (PDFium)."""

import io
from datetime import UTC, datetime
from typing import Any

import pikepdf
import pypdfium2
import pytest

from tests.papers import billed
from tests.papers.einvoices import CASES, written
from tests.papers.every import EVERY, of_document
from tracker.papers.paper import ColumnKind, Pairs, Paper, Sums, Table
from tracker.papers.pdf import pdf
from tracker.records.money import Money

AT = datetime(2026, 3, 6, 15, 0, tzinfo=UTC)
ISSUED = {"deposit": billed.DEPOSIT, "invoice": billed.INVOICE, "credit note": billed.CREDIT_NOTE}


@pytest.fixture(scope="module")
def printed() -> dict[str, bytes]:
    return {
        name: pdf(paper(), at=AT, shop="Copperleaf", system_fonts=False).content
        for name, paper in EVERY.items()
    }


def words_of(content: bytes) -> str:
    pages = pypdfium2.PdfDocument(content)
    return " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in pages)


def figures_of(paper: Paper) -> list[str]:
    """Every figure on a paper: sums, columns of figures, values."""
    found: list[str] = []
    for block in paper.blocks:
        match block:
            case Sums(rows=rows):
                found += [row.value for row in rows]
            case Table(columns=columns, rows=rows):
                figures = [at for at, column in enumerate(columns) if column.kind is ColumnKind.FIGURES]
                found += [row[at] for row in rows for at in figures]
            case Pairs(pairs=pairs):
                found += [
                    line for pair in pairs for line in pair.value.split("\n") if any(map(str.isdigit, line))
                ]
            case _:
                pass
    return [figure for figure in found if figure]


@pytest.mark.parametrize("name", EVERY)
def test_qpdf_finds_nothing_wrong(printed: dict[str, bytes], name: str) -> None:
    with pikepdf.open(io.BytesIO(printed[name])) as document:
        assert document.check_pdf_syntax() == []
        assert document.get_warnings() == []


@pytest.mark.parametrize("name", EVERY)
def test_it_is_tagged_and_says_what_it_is(printed: dict[str, bytes], name: str) -> None:
    """PDF/UA-1 (ISO 14289-1) 7.1: marked, titled, a language; PDF/A-3b (ISO 19005-3): named as such."""
    paper = EVERY[name]()
    with pikepdf.open(io.BytesIO(printed[name])) as document:
        root: Any = document.Root
        assert root.MarkInfo.Marked
        assert "/StructTreeRoot" in root
        assert str(root.Lang) == "en"
        assert root.ViewerPreferences.DisplayDocTitle
        with document.open_metadata() as said:
            assert said["pdfuaid:part"] == "1"
            assert (said["pdfaid:part"], said["pdfaid:conformance"]) == ("3", "B")
            assert said["dc:title"] == f"{paper.title} {paper.number}".strip()


@pytest.mark.parametrize("name", EVERY)
def test_every_font_is_inside(printed: dict[str, bytes], name: str) -> None:
    with pikepdf.open(io.BytesIO(printed[name])) as document:
        described = [one for one in document.objects if isinstance(one, pikepdf.Dictionary)]
        fonts = [one for one in described if one.get("/Type") == "/FontDescriptor"]
        assert fonts
        assert all({"/FontFile2", "/FontFile3"} & set(font.keys()) for font in fonts)


@pytest.mark.parametrize("name", EVERY)
def test_the_text_holds_every_figure(printed: dict[str, bytes], name: str) -> None:
    shown = words_of(printed[name])
    figures = figures_of(EVERY[name]())
    assert [figure for figure in figures if " ".join(figure.split()) not in shown] == []


@pytest.mark.parametrize("name", ISSUED)
def test_the_text_holds_every_figure_of_the_record(name: str) -> None:
    """From the record itself, past the paper: amounts, nets, rates, quantities, dates, numbers."""
    issued = ISSUED[name]
    document = issued.document
    shown = words_of(pdf(of_document(issued), at=AT, system_fonts=False).content)
    amounts = [document.net_minor, document.total_minor, document.payable_minor]
    amounts += [tax.tax_minor for tax in issued.taxes] + [tax.taxable_minor for tax in issued.taxes]
    amounts += [line.net_minor for line in issued.lines]
    wanted = [str(Money(minor, document.currency)) for minor in amounts]
    wanted += [f"{line.qty:f}" for line in issued.lines] + [line.words for line in issued.lines]
    wanted += [document.number, str(document.issued_on.year), document.seller["tax_number"]]
    assert [one for one in wanted if one not in shown] == []


def test_where_a_figure_stands_there_is_ink() -> None:
    """Each digit of the amount to pay has dark dots inside its own box on the rendered page."""
    content = pdf(of_document(billed.INVOICE), at=AT, system_fonts=False).content
    document = pypdfium2.PdfDocument(content)
    wanted = f"{Money(billed.INVOICE.document.payable_minor, 'EUR')} EUR"
    page = document[0]
    text = page.get_textpage()
    found = text.search(wanted).get_next()
    assert found is not None
    start, count = found
    scale = 4
    picture = page.render(scale=scale, grayscale=True).to_numpy()
    high = page.get_size()[1]
    for at in range(start, start + count):
        if text.get_text_range(at, 1).isspace():
            continue
        left, bottom, right, top = text.get_charbox(at)
        box = picture[int((high - top) * scale) : int((high - bottom) * scale) + 1,
                      int(left * scale) : int(right * scale) + 1]  # fmt: skip
        assert (box < 100).mean() > 0.03, text.get_text_range(at, 1)


def test_the_e_invoice_inside_is_found_by_other_programs() -> None:
    """PDF/A-3 (ISO 19005-3, 6.8): an attached file says its type and what it is to the paper."""
    made = written("invoice")
    content = pdf(of_document(CASES["invoice"]), at=AT, xml=("INV-26-0042.xml", made.content)).content
    with pikepdf.open(io.BytesIO(content)) as document:
        assert document.check_pdf_syntax() == []
        root: Any = document.Root
        (named,) = root.AF
        assert str(named.AFRelationship) == "/Alternative"
        assert str(named.F) == "INV-26-0042.xml"
        assert str(named.EF.F.Subtype) == "/application/xml"
        assert bytes(named.EF.F.read_bytes()) == made.content
        assert list(document.attachments) == ["INV-26-0042.xml"]
