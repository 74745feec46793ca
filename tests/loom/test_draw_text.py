"""The drawing in plain text: whole lines, no colour needed, ASCII where asked, anybody's words safe."""

import dataclasses

import pytest

from tests.hostile import FINE, LINES, REFUSED
from tests.loom.making import BATTERY, bike, small_loom
from tracker.loom.draw_text import ASCII, UNICODE, drawing_text, legend, rows_of
from tracker.loom.facts import splice
from tracker.loom.layout import layout
from tracker.loom.layout_metrics import ASCII_CELLS, CELLS
from tracker.loom.layout_paper import millimetres
from tracker.loom.lighting import light, light_load
from tracker.loom.pattern import apply_all
from tracker.loom.shares import sharing
from tracker.loom.sketch import NumberedRepair, sketch
from tracker.records.loom_made import Loom
from tracker.records.width import width_of

LAMP = """
[body.lamp]
words = "lamp"
zone = "tail"
kind = "lamp holder"
joint = "holder"
ways = { feed = "lamp, feed", earth = "lamp, earth" }
[device.lamp-filament]
words = "lamp"
kind = "filament"
body = "lamp"
from = "lamp:feed"
to = "lamp:earth"
watts = 21
works = ["off"]
[body.horn]
words = "horn"
zone = "headstock"
kind = "horn"
joint = "blade"
ways = { feed = "horn, feed" }
[wire]
lamp-feed = { from = "battery:live", to = "lamp:feed", mm = 700, mm2 = 0.75, main = "red" }
lamp-earth = { from = "lamp:earth", to = "frame", mm = 900, mm2 = 0.75, main = "black" }
horn-feed = { from = "battery:live", to = "horn:feed", mm = 900, mm2 = 0.75, main = "red" }
"""

UNLIT = """\
front                                               rear
┌ headstock                    ┌ tail
├○ horn                        ├○ lamp
╧╤════════════════════════════╤╧════════════════════════
 ├○ frame                     ├○ battery
 └ under tank                 └ battery
"""


def small() -> Loom:
    return small_loom(BATTERY, LAMP)


def test_a_loom_as_it_is_drawn() -> None:
    found = drawing_text(sketch(small()), width=56, height=12)
    assert "\n".join(found) + "\n" == UNLIT


def test_the_lit_circuit_has_heavy_lines_from_place_to_place() -> None:
    loom = small()
    found = drawing_text(sketch(loom, light_load(loom, sharing(loom), "lamp-filament")), width=56, height=12)
    assert found == [
        "front             lamp: everything off              rear",
        "┌ headstock                    ┌ tail",
        "├○ horn                        ┢● lamp",
        "╧┳━━━━━━━━━━━━━━━━━━━━━━━━━━━━┳┻════════════════════════",
        " ┡● frame                     ┡● battery",
        " └ under tank                 └ battery",
    ]


def test_the_same_in_ascii() -> None:
    loom = small()
    lit = light_load(loom, sharing(loom), "lamp-filament")
    found = drawing_text(sketch(loom, lit, here="lamp:feed"), width=56, height=12, ascii_only=True)
    assert found == [
        "front             lamp: everything off              rear",
        "+ headstock                    + tail",
        "+o horn                        #@[lamp]",
        "+###############################========================",
        " #@ frame                     #@ battery",
        " + under tank                 + battery",
    ]


def test_a_splice_is_dotted_and_a_repair_numbered() -> None:
    loom = small()
    loom = apply_all(loom, [splice(loom, "lamp-feed", "splice-1", 600, start="battery:live")])
    drawn = sketch(loom, repairs=[NumberedRepair(1, ("splice-1",)), NumberedRepair(2, ("lamp:earth",))])
    text = "\n".join(drawing_text(drawn, width=80, height=12))
    assert "├┄ splice in lamp-feed (1)" in text
    assert "├○ lamp (2)" in text
    drawing = layout(drawn, CELLS, width=80, height=12)
    assert legend(drawing) == "┄ splice, (1) repair of that number"
    lit = sketch(loom, light_load(loom, sharing(loom), "lamp-filament"))
    assert "┣┅ splice in lamp-feed" in "\n".join(drawing_text(lit, width=80, height=12))


def test_what_is_lit_is_seen_without_colour() -> None:
    loom = bike("twin")
    shared = sharing(loom)
    seen = {}
    for load in shared.uses:
        rows = drawing_text(sketch(loom, light_load(loom, shared, load)), height=20)
        seen[load] = "\n".join(rows[1:])
        heavy = set("".join(rows)) & set("━┃┣┢┡┻┳╋●")
        assert {"┃", "●"} & heavy, load
    assert len(set(seen.values())) > len(seen) * 0.8, "circuits differ by more than the caption"
    plain = "".join(drawing_text(sketch(loom), height=20))
    assert not set(plain) & set("━┃┣┢┡┻┳╋●")


@pytest.mark.parametrize("name", ["twin", "trail", "four"])
@pytest.mark.parametrize("width", [76, 80, 97, 120, 200])
def test_every_line_is_as_wide_as_asked(name: str, width: int) -> None:
    for metrics, signs in ((CELLS, UNICODE), (ASCII_CELLS, ASCII)):
        drawing = layout(sketch(bike(name)), metrics, width=width, height=30)
        rows = ["".join(piece.text for piece in row) for row in rows_of(drawing, signs)]
        assert {width_of(row) for row in rows} == {width}
        assert all(row.isascii() for row in rows) == (signs is ASCII)


@pytest.mark.parametrize("words", [*FINE, *LINES, *REFUSED])
def test_anybodys_words_break_no_line(words: str) -> None:
    loom = bike("trail")
    bodies = {id_: dataclasses.replace(body, words=words) for id_, body in loom.bodies.items()}
    loom = dataclasses.replace(loom, bodies=bodies)
    drawing = layout(sketch(loom, repairs=[NumberedRepair(1, ("headlamp:low",))]), CELLS, height=20)
    for row in rows_of(drawing):
        text = "".join(piece.text for piece in row)
        assert width_of(text) == 80
        assert "\x1b" not in text
        assert not set(text) & set("\n\r\t\x00\x07\x9b\u202e\u2066")


def test_right_to_left_words_keep_their_neighbours_in_place() -> None:
    loom = small()
    horn = dataclasses.replace(loom.bodies["horn"], words="صفارة")
    loom = dataclasses.replace(loom, bodies={**loom.bodies, "horn": horn})
    row = drawing_text(sketch(loom), width=56, height=12)[2]
    assert row.startswith("├○ صفارة\u200e")


def test_a_sheet_in_millimetres_is_no_text() -> None:
    with pytest.raises(ValueError, match="cells"):
        rows_of(layout(sketch(small()), millimetres(), width=160, height=80))


def test_what_words_light() -> None:
    loom = bike("twin")
    shared = sharing(loom)
    by_load = light(loom, shared, "low beam")
    assert by_load is not None
    assert by_load.load == "low-beam"
    assert by_load.places[0] == "battery:live"
    plug = light(loom, shared, "left bar plug")
    assert plug is not None
    assert plug.circuit is None
    assert plug.bodies == {"left-plug"}
    assert plug.wires >= {wire.id for wire in loom.wires.values() if wire.a.place == "left-plug:low"}
    body = light(loom, shared, "horn")
    assert body is not None
    assert body.load == "horn-winding"
    assert light(loom, shared, "xyzzy") is None
