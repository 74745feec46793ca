"""`loomcard loom`: the drawing in the terminal and as data, repairs on it; `where` with the drawing."""

from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Loomcard
from tracker.records.width import width_of

SPLICE = ("--splice", "butt connector", "--wire-from", "rear-plug:tail", "--wire-to", "tail-joint")


@pytest.fixture
def mended(loomcard: Loomcard) -> Loomcard:
    """A project bike with one splice in its tail lamp's wire."""
    for words in (
        ("settings", "change", "--mode", "project", "--name", "The shed"),
        ("book-in", "--make", "Halden", "--registration", "LKM 412", "no tail lamp"),
        ("finding", "1", "tail wire chafed through", "--zone", "seat"),
        ("estimate", "1", "--repair", "splice-butt:joints=1,zone=seat"),
        ("start", "1"),
        ("fix", "1", "--circuit", "tail lamp", *SPLICE, "--mm", "150", "--mm-end", "rear-plug:tail"),
    ):
        said = loomcard(*words)
        assert said.code == 0, (words, said.err)
    return loomcard


def drawing_of(out: str) -> list[str]:
    lines = out.splitlines()
    start = next(at for at, line in enumerate(lines) if line.startswith("front "))
    return lines[start : start + 20]


def test_the_general_pattern_is_drawn_where_no_bike_is_named(loomcard: Loomcard) -> None:
    said = loomcard("loom")
    assert said.code == 0
    drawn = drawing_of(said.out)
    assert drawn[0].split() == ["front", "rear"]
    assert max(width_of(line) for line in drawn) == 80
    assert any("═══" in line for line in drawn)
    assert not set("━┃●") & set("".join(drawn))


def test_a_lit_circuit_and_its_way_in_words(loomcard: Loomcard) -> None:
    said = loomcard("loom", "--lit", "low beam")
    assert "low beam: key on, low beam on" in said.out
    assert {"━", "┃", "●"} <= set(said.out)
    assert "Way          battery live post > " in said.out
    found = loomcard("loom", "--lit", "low beam", "--json").json
    assert found["lit"]["load"] == "low-beam"
    assert found["lit"]["places"][0] == "battery:live"
    lit = {spot["id"] for zone in found["zones"] for spot in zone["spots"] if spot["lit"]}
    assert {"battery", "left-switch", "headlamp", "frame"} <= lit
    stations = [zone["station_mm"] for zone in found["zones"]]
    assert stations == sorted(stations)
    assert loomcard("loom", "--lit", "xyzzy").code == 1


def test_any_width_and_ascii(loomcard: Loomcard) -> None:
    wide = loomcard("loom", "--lit", "horn", "--width", "140", "--height", "40").out.splitlines()
    assert max(width_of(line) for line in wide) == 140
    plain = loomcard("loom", "--lit", "horn", "--ascii").out
    assert "\n".join(drawing_of(plain)).isascii()
    assert loomcard("loom", "--width", "5").code == 2


def test_a_repair_is_numbered_on_the_drawing_and_listed(mended: Loomcard) -> None:
    said = mended("loom", "lkm412")
    assert said.code == 0
    assert said.out.startswith("Halden  LKM 412\n")
    assert any(line.count("(1)") for line in drawing_of(said.out))
    assert "┄" in "".join(drawing_of(said.out))
    assert "(1) 26-0001: " in said.out
    assert "150 mm from rear-plug:tail" in said.out
    repair: Any = mended("loom", "1", "--json").json["repairs"]
    assert [(one["number"], one["drawn"]) for one in repair] == [(1, True)]


def test_where_comes_with_the_drawing_when_asked(mended: Loomcard) -> None:
    words = mended("where", "tail lamp", "--bike", "1")
    assert "\nfront " not in words.out, "not into a pipe, unless asked"
    drawn = mended("where", "tail lamp", "--bike", "1", "--picture")
    assert drawn.out.startswith(words.out.rstrip("\n"))
    assert "●" in drawn.out
    assert "(1)" in drawn.out
    assert mended("where", "tail lamp", "--bike", "1", "--picture", "--json").json["where"]["id"]


def test_a_bike_that_is_not_there(loomcard: Loomcard) -> None:
    assert loomcard("loom", "9").code == 1
    loomcard("book-in", "--customer", "A", "--make", "B", "flat")
    assert loomcard("loom", "9").code == 1
    assert loomcard("loom", "1").code == 0


def test_the_bikes_record_as_text_pages_and_picture(mended: Loomcard, tmp_path: Path) -> None:
    text = mended("loom", "1", "--record").out
    assert text.startswith("Loom record")
    assert "Repair 1 ─" in text
    assert "(1)" in text
    assert mended("loom", "1", "--record", "--json").json["text"] in text
    files = [tmp_path / "loom.pdf", tmp_path / "loom.svg"]
    said = mended(
        "loom", "1", "--pdf", str(files[0]), "--svg", str(files[1]), "--lit", "tail lamp", "--json"
    ).json
    assert said == {"files": [str(files[1]), str(files[0])], "notes": []}
    assert files[0].read_bytes().startswith(b"%PDF")
    assert '<title id="title">Halden</title>' in files[1].read_text()
    assert mended("paper", "loom-record", "1").out.count("(1)") == 1
    assert mended("loom", "--record").code == 2


def test_the_patterns_picture_needs_no_shop(loomcard: Loomcard, tmp_path: Path) -> None:
    file = tmp_path / "pattern.svg"
    assert loomcard("loom", "--svg", str(file)).code == 0
    assert "The general pattern" in file.read_text()
    assert loomcard("loom", "--record").code == 2
    assert loomcard("loom", "--svg", str(tmp_path / "no" / "where.svg")).code == 3


def test_a_loom_is_put_right_by_commands_and_says_what_is_known(mended: Loomcard) -> None:
    assert mended("loom", "move", "1", "regulator", "tail", "--card", "1").code == 0
    refused = mended("loom", "remove", "1", "horn", "--json")
    assert refused.code == 2
    assert refused.json["error"]["fields"][0]["field"] == "unfinished"
    assert mended("loom", "remove", "1", "horn", "--unfinished").code == 0
    facts = mended("loom", "facts", "1", "--json").json
    assert [one["level"] for one in facts["facts"]] == ["bike", "bike", "bike"]
    assert facts["facts"][1]["card"] == "26-0001"
    assert facts["unfinished"]
    shown = mended("loom", "1", "--json").json
    assert shown["unfinished"] == facts["unfinished"]
    assert "Unfinished" in mended("loom", "--width", "80", "1").out
    assert "regulator/rectifier: sits at tail" in mended("loom", "facts", "1").out


def test_repairs_are_found_again(mended: Loomcard) -> None:
    found = mended("repairs", "--connector", "rear multi", "--json").json["repairs"]
    assert [one["card"] for one in found] == ["26-0001"]
    assert "butt connector" in mended("repairs", "butt").out
    assert mended("repairs", "nothing", "like", "that").code == 1


def test_a_loom_is_put_right_from_the_command_line_and_what_is_unfinished_is_said(mended: Loomcard) -> None:
    said = mended("loom", "remove", "1", "horn")
    assert said.code == 2
    assert "which is not there" in said.err
    assert mended("loom", "remove", "1", "horn", "--unfinished").code == 0
    for words in (
        ("loom", "1"),
        ("loom", "show", "1"),
        ("loom", "facts", "1"),
        ("where", "reg", "--bike", "1"),
    ):
        assert "Unfinished" in mended(*words).out, words
    facts: Any = mended("loom", "facts", "1", "--json").json["facts"]
    number = 1 + [fact["words"] for fact in facts].index("horn: not there")
    assert mended("loom", "forget", "1", str(number)).code == 0
    assert "Unfinished" not in mended("where", "reg", "--bike", "1").out


def test_repairs_are_found_by_plug_and_zone_and_nothing_says_so(mended: Loomcard) -> None:
    found: Any = mended("repairs", "--connector", "rear multi", "--zone", "seat", "--json").json["repairs"]
    assert [one["card"] for one in found] == ["26-0001"]
    assert "rear multi-connector" in mended("repairs", "butt").out
    assert mended("repairs", "--model", "no such").code == 1
