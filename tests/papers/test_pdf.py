"""Papers as pages: what a person wrote is data, heads repeat, pages are counted, nothing comes out blank."""

from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import pypdfium2
import pytest

from tests.hostile import FINE
from tests.papers.every import EVERY
from tracker.papers.paper import Column, ColumnKind, Pair, Pairs, Paper, Party, Table, Words, WordsKind
from tracker.papers.pdf import A4, LETTER, STAND_IN, Pdf, pdf, unshown

AT = datetime(2026, 3, 6, 15, 0, tzinfo=UTC)
MM = 72 / 25.4
SHORT = [text for text in FINE if len(text) < 300]


def made(paper: Paper, **more: Any) -> Pdf:
    return pdf(paper, at=AT, **{"system_fonts": False, "shop": "Copperleaf", **more})


def pages(content: bytes) -> list[str]:
    """The text of each page, in one line, without the marks that only allow a break."""
    document = pypdfium2.PdfDocument(content)
    return [
        " ".join(page.get_textpage().get_text_bounded().replace("\u200b", "").split()) for page in document
    ]


def one(text: str) -> Paper:
    """A paper with one text wherever a person's text can stand."""
    table = Table((Column(text), Column("No.", ColumnKind.FIGURES)), ((text, text),), text)
    return Paper(
        text,
        text,
        (Party("To", text, (text,)),),
        (Pairs((Pair(text, text),)), table, Words((text,), WordsKind.LIST)),
    )


@pytest.mark.parametrize("name", EVERY)
def test_every_paper_makes_pages_with_its_number_and_their_count(name: str) -> None:
    paper = EVERY[name]()
    found = made(paper)
    texts = pages(found.content)
    assert not found.missing
    for number, text in enumerate(texts, 1):
        assert f"page {number} of {len(texts)}" in text
        assert paper.number in text
    assert paper.title in texts[0]


@pytest.mark.parametrize(("page", "wide", "high"), [(A4, 210, 297), (LETTER, 215.9, 279.4)])
def test_the_page_is_a4_or_letter(page: str, wide: float, high: float) -> None:
    document = pypdfium2.PdfDocument(made(EVERY["invoice"](), page=page).content)
    assert document[0].get_size() == pytest.approx((wide * MM, high * MM), abs=0.5)


def test_the_same_paper_gives_the_same_bytes() -> None:
    assert made(EVERY["invoice"]()).content == made(EVERY["invoice"]()).content


def test_a_long_table_repeats_its_heads_on_every_page() -> None:
    rows = tuple((f"Terminal number {at}", f"{at}.50") for at in range(150))
    table = Table((Column("What it was"), Column("How much", ColumnKind.FIGURES)), rows)
    texts = pages(made(Paper("List", "L-1", blocks=(table,))).content)
    assert len(texts) > 2
    for text in texts:
        assert text.count("What it was How much") == 1
    whole = " ".join(texts)
    assert all(f"Terminal number {at} {at}.50" in whole for at in range(150))


def test_the_shops_name_stands_at_the_head_of_a_paper_that_is_from_nobody() -> None:
    assert "Copperleaf" in pages(made(EVERY["job_card"]()).content)[0]
    assert "Copperleaf" not in pages(made(EVERY["invoice"]()).content)[0]


@pytest.mark.parametrize("text", [text for text in SHORT if text.isascii()])
def test_what_a_person_wrote_is_printed_and_never_read_as_markup(text: str) -> None:
    found = made(one(text))
    shown = " ".join(pages(found.content))
    assert not found.missing
    assert shown.replace(" ", "").count("".join(text.split())) >= 8


@pytest.mark.parametrize("text", SHORT)
def test_any_text_comes_out_or_is_named(text: str) -> None:
    found = made(one(text))
    shown = " ".join(pages(found.content))
    if found.missing:
        assert STAND_IN in shown
    for sign in found.missing:
        assert sign in text
        assert sign not in shown


def test_a_character_that_no_font_has_is_replaced_and_named() -> None:
    found = made(Paper("Invoice", "1", blocks=(Words(("Kabel 配線 Ωμέγα Жук",)),)))
    assert found.missing == ("配", "線")
    assert f"Kabel {STAND_IN}{STAND_IN} Ωμέγα Жук" in pages(found.content)[0]


def test_a_word_without_end_stays_on_the_page() -> None:
    text = "W" * 300
    paper = replace(one(text), title="Invoice", number="1")
    content = made(paper).content
    assert "".join(pages(content)).count("W") >= 300 * 8
    document = pypdfium2.PdfDocument(content)
    wide, _ = document[0].get_size()
    for page in document:
        text_page = page.get_textpage()
        for at in range(text_page.count_chars()):
            assert text_page.get_charbox(at)[2] <= wide - 15 * MM


def test_a_picture_stands_at_the_head_and_says_what_it_is() -> None:
    drawn = (
        b'<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40"><rect width="40" height="40"/></svg>'
    )
    plain, with_picture = made(EVERY["invoice"]()), made(EVERY["invoice"](), picture=drawn)
    assert dark(with_picture.content) > dark(plain.content)
    assert b"/Alt" in with_picture.content


def test_what_is_no_picture_is_refused() -> None:
    with pytest.raises(ValueError, match="picture"):
        made(EVERY["invoice"](), picture=b"not a picture")


def dark(content: bytes) -> int:
    """How many dark dots stand in the upper left quarter of the first page."""
    picture = pypdfium2.PdfDocument(content)[0].render(scale=1, grayscale=True).to_numpy()
    return int((picture[: picture.shape[0] // 4, : picture.shape[1] // 2] < 100).sum())


def test_only_a_missing_character_is_taken_for_one() -> None:
    assert unshown('PDF/A-3b error: the PDF contains the codepoint `"\\u{e000}"`') == "\ue000"
    assert unshown("unknown variable: x") is None
