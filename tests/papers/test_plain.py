"""A paper as text: never wider than asked, and nobody's text changes how it is laid out."""

import json
import re
from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.hostile import FINE, LINES
from tests.papers.every import EVERY
from tests.papers.seen import headings, is_seen
from tracker.papers.paper import (
    Column,
    ColumnKind,
    Pair,
    Pairs,
    Paper,
    Party,
    Sum,
    Sums,
    Table,
    Words,
    WordsKind,
    to_data,
)
from tracker.papers.plain import LEAST_WIDTH, plain
from tracker.records.width import width_of

HOSTILE = (*FINE, *LINES)


def paper_with(text: str) -> Paper:
    """A paper with a person's text in every place where a person's text can stand."""
    figures = ColumnKind.FIGURES
    return Paper(
        "Invoice",
        "INV-26-0042",
        (Party("From", text, (text,)), Party("To", "Adaeze Oyelaran", (text, "1201 Sandwick"))),
        (
            Pairs((Pair("Bike", text), Pair("Card", "26-0412")), "About"),
            Pairs((Pair("Marks", text), Pair("Keys", text, room=True)), "Also", columns=2),
            Table(
                (Column("No.", figures), Column("Description"), Column("Unit"), Column("Net", figures)),
                (("1", text, "piece", "12.00"), ("2", "Wire", text, "3.50"), ("3", text, text, "0.25")),
                "Lines",
            ),
            Sums((Sum("Total", "15.75 EUR"), Sum("To pay", "15.75 EUR", strong=True))),
            Words((text, "more"), WordsKind.LIST, "Notes"),
            Words((text,), WordsKind.CAUTION, "Mind"),
        ),
    )


TITLES = {width: headings(plain(paper_with("x"), width), width) for width in (40, 80)}


def widest(text: str) -> int:
    return max(map(width_of, text.split("\n")))


@pytest.mark.parametrize("name", EVERY)
@pytest.mark.parametrize("width", [40, 46, 57, 64, 72, 80, 100, 132])
def test_every_paper_keeps_to_its_width(name: str, width: int) -> None:
    assert widest(plain(EVERY[name](), width)) <= width


@given(st.sampled_from(HOSTILE), st.integers(LEAST_WIDTH, 140))
@settings(max_examples=120, deadline=None)
def test_no_text_makes_a_paper_wider(text: str, width: int) -> None:
    assert widest(plain(paper_with(text), width)) <= width


def test_titles_are_found() -> None:
    assert [title.split(" ")[0] for title in TITLES[80]] == ["About", "Also", "Lines", "Notes", "Mind"]


@pytest.mark.parametrize("text", HOSTILE)
@pytest.mark.parametrize("width", [40, 80])
def test_no_text_adds_or_hides_a_heading(text: str, width: int) -> None:
    assert headings(plain(paper_with(text), width), width) == TITLES[width]


@pytest.mark.parametrize("width", [40, 80])
def test_text_that_looks_like_a_paper_stays_inside_its_field(width: int) -> None:
    text = "Mind ───────────\nTotal  1.00 EUR\n════\n\nTo pay  1.00 EUR"
    laid_out = plain(paper_with(text), width)
    assert headings(laid_out, width) == TITLES[width]
    assert not any(line.startswith(("Total", "To pay")) for line in laid_out.split("\n"))


@pytest.mark.parametrize("text", FINE)
def test_every_text_is_seen_whole(text: str) -> None:
    """In each block by itself, so that one place cannot vouch for another."""
    whole = paper_with(text)
    for block in whole.blocks:
        laid_out = plain(Paper("Invoice", blocks=(block,)))
        assert isinstance(block, Sums) or is_seen(text, laid_out)
    assert is_seen(text, plain(replace(whole, blocks=())))


@pytest.mark.parametrize("text", LINES)
def test_every_line_is_seen(text: str) -> None:
    laid_out = plain(paper_with(text))
    assert all(line.replace("\t", "").strip() in laid_out for line in text.split("\n"))


@pytest.mark.parametrize("text", FINE)
def test_figures_stay_at_the_right_and_whole(text: str) -> None:
    table = paper_with(text).blocks[2]
    lines = plain(Paper("x", blocks=(table,))).split("\n")
    net = [line for line in lines if re.search(r"(12\.00|3\.50|0\.25)$", line)]
    assert len(net) == 3


def test_a_text_is_seen_only_where_it_stands() -> None:
    assert is_seen("one two", "1  one  a\n   two")
    assert not is_seen("one two", "1  one  a\n   tw")
    assert not is_seen("one two", "1  one")


def test_too_narrow_is_refused_in_words() -> None:
    with pytest.raises(ValueError, match="40 columns"):
        plain(Paper("x"), LEAST_WIDTH - 1)


def test_room_to_write_is_drawn_and_what_is_known_is_printed() -> None:
    pairs = Pairs(
        (
            Pair("Splice", "", room=True),
            Pair("Pull test", "", room=True, after="N"),
            Pair("Size", "3 mm²", room=True),
        )
    )
    lines = plain(Paper("Job card", blocks=(pairs,)), 40).splitlines()[3:]
    assert lines == [
        "Splice     " + "_" * 29,
        "Pull test  " + "_" * 27 + " N",
        "Size       3 mm²",
    ]


@pytest.mark.parametrize("name", EVERY)
def test_a_paper_can_be_handed_on_as_plain_data(name: str) -> None:
    paper = EVERY[name]()
    data = to_data(paper)
    assert json.loads(json.dumps(data)) == data
    assert texts_of(data) >= texts_of_record(paper)


def texts_of(data: object) -> set[str]:
    if isinstance(data, dict):
        return {text for value in data.values() for text in texts_of(value)}
    if isinstance(data, list):
        return {text for value in data for text in texts_of(value)}
    return {data} if isinstance(data, str) else set()


def texts_of_record(value: Any) -> set[str]:
    if is_dataclass(value):
        return {text for field in fields(value) for text in texts_of_record(getattr(value, field.name))}
    if isinstance(value, tuple):
        return {text for one in value for text in texts_of_record(one)}
    return {value} if isinstance(value, str) else set()


def test_blocks_say_what_they_are() -> None:
    data: Any = to_data(EVERY["invoice"]())
    assert [block["block"] for block in data["blocks"]] == ["pairs", "table", "sums", "words", "words"]
