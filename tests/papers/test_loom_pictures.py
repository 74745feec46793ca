"""The loom from the side on paper and as SVG: real text, numbered repairs, nobody's words break anything."""

import dataclasses
import xml.etree.ElementTree as ET
from datetime import UTC, datetime
from functools import cache

import pypdfium2
import pytest

from tests.bench.loom import fullest
from tests.hostile import FINE, LINES, REFUSED
from tests.loom.making import BATTERY, bike, small_loom
from tests.papers import build
from tracker.loom.facts import splice
from tracker.loom.lighting import light
from tracker.loom.pattern import apply_all
from tracker.loom.pattern import build as built
from tracker.loom.shares import sharing
from tracker.loom.sketch import NumberedRepair, sketch
from tracker.papers.bike_record import bike_loom_record
from tracker.papers.loom_record import done_in_order, loom_record
from tracker.papers.loom_svg import loom_svg
from tracker.papers.paper import Paper, Picture
from tracker.papers.pdf import pdf
from tracker.papers.pictured import on_paper, picture
from tracker.papers.plain import plain
from tracker.papers.tongue import speaking
from tracker.records.drawing import Sketch
from tracker.records.loom_made import Loom
from tracker.records.width import width_of
from tracker.seedfiles.loom import load_pattern

AT = datetime(2026, 3, 6, 15, 0, tzinfo=UTC)
SVG = "{http://www.w3.org/2000/svg}"
MM = 72 / 25.4


@cache
def mended() -> Sketch:
    """The fullest bike with a splice, its brake lamp lit."""
    loom = fullest(load_pattern())
    loom = apply_all(loom, [splice(loom, "brake-run", "splice-1", 200)])
    lit = light(loom, sharing(loom), "brake lamp")
    assert lit is not None
    numbers = [
        NumberedRepair(1, ("splice-1",)),
        NumberedRepair(2, ("main-fuse:in",)),
        NumberedRepair(12, ("frame",)),
    ]
    return sketch(loom, lit, repairs=numbers)


def called(words: str) -> Loom:
    """A trail bike on which everything is called so."""
    loom = bike("trail")
    zones = {id_: dataclasses.replace(zone, words=words) for id_, zone in loom.known.zones.items()}
    bodies = {id_: dataclasses.replace(body, words=words) for id_, body in loom.bodies.items()}
    return dataclasses.replace(loom, known=dataclasses.replace(loom.known, zones=zones), bodies=bodies)


def page(drawn: Sketch) -> pypdfium2.PdfPage:
    block = picture(drawn, "The loom")
    assert block is not None
    made = pdf(Paper("Loom record", "26-0412", blocks=(block,)), at=AT, system_fonts=False)
    return pypdfium2.PdfDocument(made.content)[0]


def test_the_picture_has_a_title_a_description_and_real_text() -> None:
    root = ET.fromstring(loom_svg(mended(), "Halden 650 twin"))
    assert root.get("role") == "img"
    title, words = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None
    assert words is not None
    assert f"{title.get('id')} {words.get('id')}" == root.get("aria-labelledby")
    assert title.text == "Halden 650 twin"
    assert words.text is not None
    assert words.text.startswith("brake lamp: ")
    assert "main fuse (repair 2)" in words.text
    texts = [text.text for text in root.iter(f"{SVG}text")]
    assert {"front", "rear", "main fuse", "1", "2", "12", "right panel"} <= set(texts)


def test_what_is_lit_mended_or_spliced_is_seen_without_colour() -> None:
    root = ET.fromstring(loom_svg(mended(), "x"))
    weights = {line.get("stroke-width") for line in root.iter(f"{SVG}line")}
    assert {"0.3", "0.8", "1.5", "2.0"} <= weights
    assert any(
        line.get("stroke-dasharray") for line in root.iter(f"{SVG}line") if line.get("stroke-width") != "0.6"
    )
    sizes = {circle.get("r") for circle in root.iter(f"{SVG}circle")}
    assert sizes == {"0.5", "0.65"}


@pytest.mark.parametrize("words", [*FINE, *LINES, *REFUSED])
def test_anybodys_words_are_text_in_the_picture_and_nothing_else(words: str) -> None:
    made = loom_svg(sketch(called(words), repairs=[NumberedRepair(1, ("frame",))]), words)
    root = ET.fromstring(made.encode())
    kinds = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert kinds == {"svg", "title", "desc", "rect", "g", "line", "circle", "text"}
    assert "<!" not in made.replace("&lt;", "")


@pytest.mark.parametrize(
    "words", ["#set page(width: 1pt)", "כרטיס 12 V", "配線 全角Ａ", "[/] $x$ <b>", "x" * 2000]
)
def test_anybodys_words_are_text_on_the_page_and_nothing_else(words: str) -> None:
    text = page(sketch(called(words))).get_textpage().get_text_bounded()
    assert "Loom record" in text
    assert "front" in text


def test_names_on_the_page_stay_in_their_boxes() -> None:
    """What the layout takes for a name's width is enough for the font it is set in."""
    drawing = on_paper(mended())
    seen = page(mended())
    spots = [label for label in drawing.labels if label.kind in {"part", "zone"}]
    found = 0
    textpage = seen.get_textpage()
    for label in spots:
        if "…" in label.text or label.text.count(" ") == 0:
            continue
        searcher = textpage.search(label.text, match_case=True, match_whole_word=True)
        widths = []
        while (place := searcher.get_next()) is not None:
            boxes = [textpage.get_rect(at) for at in range(textpage.count_rects(*place))]
            widths.append(max(box[2] for box in boxes) - min(box[0] for box in boxes))
        if widths:
            found += 1
            assert min(widths) / MM <= label.width + 0.1, label.text
    assert found > 20


def test_the_record_of_a_card_has_the_drawing_with_its_numbers() -> None:
    loom = small_loom(BATTERY)
    done = done_in_order(build.FACTS.repairs)
    drawn = sketch(loom, repairs=[NumberedRepair(n, ("battery:live",)) for n, _ in enumerate(done, 1)])
    paper = loom_record(build.FACTS, sketch=drawn)
    assert sum(isinstance(block, Picture) for block in paper.blocks) == 1
    text = plain(paper)
    assert "battery (1,2)" in text
    assert "The numbers are those of the repairs." in text
    assert "Repair 2 ─" in text
    assert max(width_of(line) for line in text.splitlines()) <= 80
    assert not any(isinstance(block, Picture) for block in loom_record(build.FRESH, sketch=drawn).blocks)


def test_the_record_of_a_bike_names_each_repairs_card() -> None:
    rows = [(n, one, build.FACTS) for n, one in enumerate(done_in_order(build.FACTS.repairs), 1)]
    paper = bike_loom_record(
        build.BIKE, rows, shop=build.SHOP, known=build.KNOWN, sketch=sketch(bike("twin"))
    )
    text = plain(paper)
    assert text.count(f"Card          {build.CARD.number}") == len(rows)
    assert "right panel" in text
    assert "Readings of the bike" in text
    bare = plain(bike_loom_record(build.BIKE, [], shop=build.SHOP))
    assert "No repair of this loom is written down yet." in bare


def test_the_drawing_speaks_the_papers_language() -> None:
    with speaking("de"):
        block = picture(sketch(bike("twin")))
        assert block is not None
        text = plain(Paper("x", blocks=(block,)))
    assert "vorn" in text
    assert "hinten" in text
    assert "Lenker" in text


def test_a_loom_without_a_part_has_no_drawing() -> None:
    nothing = dataclasses.replace(load_pattern(), bodies={}, places={}, devices={}, wires={})
    assert picture(sketch(built(nothing, {}))) is None
    assert "Nothing is in this loom yet." in loom_svg(sketch(built(nothing, {})), "x")
