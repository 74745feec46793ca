"""A bike's loom put right: seen here, seen on its model, built from nothing; told first what it breaks."""

import pytest

from tests.desk.conftest import Bench
from tracker.desk.bike_loom import loom_of
from tracker.desk.bikes import bike_named
from tracker.desk.loom_known import loom_known
from tracker.loom.find import find
from tracker.loom.validate import validate
from tracker.loom.where import where
from tracker.papers.loom_known_text import known_text
from tracker.papers.where_text import where_text
from tracker.records.loom import Colour
from tracker.records.loom_made import Loom
from tracker.records.problem import Mistakes, Problem


def loom(bench: Bench, bike: str = "1") -> Loom:
    seeds = bench.desk.seeds
    return bench.desk.read(lambda reader: loom_of(reader, seeds, bike_named(reader, bike)))


def wrong(caught: pytest.ExceptionInfo[Mistakes]) -> Problem:
    (problem,) = caught.value.problems
    return problem


def test_a_wire_as_it_is_says_since_when_and_on_which_card(bench: Bench) -> None:
    bench.booked()
    bench(
        "loom wire", bike="1", part="rear-plug:tail > tail-joint", main="G", tracer="red",
        code="British", length="640", size="1", card="1", words="not brown at all",
    )  # fmt: skip
    wire = loom(bench).wires["tail-joint-run"]
    assert (wire.colour, wire.length_mm, wire.size_mm2) == (Colour("green", "red", "British"), 640, 1.0)
    (fact,) = loom_known(bench.desk, "1").facts
    assert (fact.level, str(fact.on), fact.card, fact.fits) == ("bike", "2026-03-02", "26-0001", "")
    found = where(loom(bench), "wire", "tail-joint-run")
    assert found is not None
    assert "this bike, 2026-03-02, 26-0001: “not brown at all”" in " ".join(where_text(found, ()).split())


def test_a_box_is_moved_renamed_and_plugged_and_all_its_names_find_it(bench: Bench) -> None:
    bench.booked()
    bench("loom move", bike="1", part="reg/rec", zone="tail")
    bench("loom rename", bike="1", part="reg/rec", name="finned box", also=["the hot one"])
    bench("loom plug", bike="1", part="finned box", plug="five ways, sealed")
    body = loom(bench).bodies["regulator"]
    assert (body.zone, body.words, body.plug) == ("tail", "finned box", "five ways, sealed")
    for name in ("finned box", "the hot one", "rectifier", "reg"):
        assert find(loom(bench), name)[0].id == "regulator", name
    bench("undo")
    assert loom(bench).bodies["regulator"].plug != "five ways, sealed"


def test_what_was_learned_on_one_bike_serves_the_next_of_its_model(bench: Bench) -> None:
    bench.booked(model="350")
    bench("loom move", bike="1", part="regulator", zone="tail", model="yes", words="they all sit there")
    bench("loom wire", bike="1", part="tail-joint-run", main="green")
    bench("bike add", make="Halden", model="350")
    bench("bike add", make="Halden", model="400")
    assert loom(bench, "2").bodies["regulator"].zone == "tail"
    assert loom(bench, "3").bodies["regulator"].zone != "tail"
    assert loom(bench, "2").wires["tail-joint-run"].colour != Colour("green")
    assert [fact.level for fact in loom_known(bench.desk, "2").facts] == ["model"]
    said = " ".join(known_text(loom_known(bench.desk, "2")).split())
    assert "regulator/rectifier: sits at tail “they all sit there” [its model, 2026-03-02]" in said


def test_what_would_hang_loose_is_told_before_it_is_kept(bench: Bench) -> None:
    bench.booked()
    with pytest.raises(Mistakes) as caught:
        bench("loom remove", bike="1", part="horn")
    assert wrong(caught).field == "unfinished"
    assert "which is not there" in wrong(caught).sentence
    assert "horn" in loom(bench).bodies
    bench("loom remove", bike="1", part="horn", unfinished="yes")
    assert "horn" not in loom(bench).bodies
    assert any(note.startswith("Unfinished: ") for note in bench.desk.notes)
    known = loom_known(bench.desk, "1")
    assert any("which is not there" in sentence for sentence in known.unfinished)
    assert "Unfinished" in known_text(known)


def test_what_was_written_is_taken_back_however_long_ago(bench: Bench) -> None:
    bench.booked()
    bench("loom rename", bike="1", part="regulator", name="finned box")
    bench("loom add", bike="1", name="spare tail", sort="place", kind="joint", zone="tail", unfinished="yes")
    bench(
        "loom move", bike="1", part="tail-joint-run", end="spare-tail", unfinished="yes", words="moved"
    )  # fmt: skip
    with pytest.raises(Mistakes) as caught:
        bench("loom forget", bike="1", fact="2")
    assert wrong(caught).field == "unfinished"
    bench("loom forget", bike="1", fact="1")
    assert loom(bench).bodies["regulator"].words != "finned box"
    assert [fact.seen for fact in loom_known(bench.desk, "1").facts] == ["", "moved"]
    bench("loom forget", bike="1", fact="2", unfinished="yes")
    assert loom_known(bench.desk, "1").unfinished == ("Nothing hangs on: spare tail.",)
    bench("loom forget", bike="1", fact="1")
    assert loom_known(bench.desk, "1").unfinished == ()
    bench("undo")
    assert len(loom_known(bench.desk, "1").facts) == 1


def test_a_tracer_alone_keeps_the_main_colour(bench: Bench) -> None:
    bench.booked()
    before = loom(bench).wires["tail-joint-run"].colour
    assert before is not None
    bench("loom wire", bike="1", part="tail-joint-run", tracer="pink")
    assert loom(bench).wires["tail-joint-run"].colour == Colour(before.main, "pink")


def test_a_part_and_its_wires_go_in_one_deed_and_come_back_in_one(bench: Bench) -> None:
    bench.booked()
    before = loom(bench)
    with pytest.raises(Mistakes) as caught:
        bench("loom remove", bike="1", part="tail-lamp", wires="yes")
    assert wrong(caught).field == "unfinished"
    bench("loom remove", bike="1", part="tail-lamp", wires="yes", unfinished="yes")
    assert len(before.wires) - len(loom(bench).wires) >= 2
    bench("undo")
    assert loom(bench).wires.keys() == before.wires.keys()


@pytest.mark.parametrize(
    ("verb", "given", "field"),
    [
        ("loom move", {"part": "the flux thing", "zone": "tail"}, "part"),
        ("loom move", {"part": "regulator", "zone": "cellar"}, "zone"),
        ("loom move", {"part": "regulator"}, "zone"),
        ("loom move", {"part": "tail-joint-run"}, "start"),
        ("loom move", {"part": "tail-joint-run", "end": "nowhere"}, "end"),
        ("loom move", {"part": "tail-joint-run", "end": "tail-joint@up"}, "end"),
        ("loom wire", {"part": "tail-joint-run"}, "main"),
        ("loom wire", {"part": "no such wire", "main": "red"}, "part"),
        ("loom wire", {"part": "tail-joint-run", "main": "QX", "code": "British"}, "main"),
        ("loom forget", {"fact": "1"}, "fact"),
        ("loom own", {"pattern": "yes"}, "bike"),
    ],
)
def test_what_cannot_be_is_named_beside_its_field(
    bench: Bench, verb: str, given: dict[str, str], field: str
) -> None:
    bench.booked()
    with pytest.raises(Mistakes) as caught:
        bench(verb, bike="1", **given)
    assert wrong(caught).field == field
    assert not loom_known(bench.desk, "1").facts


def test_all_that_is_wrong_with_an_added_part_is_named_at_once(bench: Bench) -> None:
    bench.booked()
    with pytest.raises(Mistakes) as caught:
        bench(
            "loom add", bike="1", name="lamp", sort="part", kind="candle", start="nowhere", end="frame",
            works=["at midnight"], closed=["key=sideways"],
        )  # fmt: skip
    assert {problem.field for problem in caught.value.problems} == {"kind", "start", "works", "closed"}


def test_a_home_made_loom_starts_empty_and_is_built_part_by_part(bench: Bench) -> None:
    bench.booked()
    bench("loom move", bike="1", part="regulator", zone="tail")
    bench("loom own", bike="1", words="all new, nothing of the maker's")
    assert not loom(bench).wires
    assert loom_known(bench.desk, "1").own

    def add(name: str, **more: object) -> None:
        bench("loom add", bike="1", name=name, **more)

    add("battery", sort="box", kind="battery", zone="battery")
    add("plus", sort="place", kind="post", zone="battery", inside="battery")
    add("minus", sort="place", kind="post", zone="battery", inside="battery")
    add("cell", sort="part", kind="source", start="minus", end="plus", volts="12.6", inside="battery")
    assert any(note.startswith("Unfinished") for note in bench.desk.notes)
    add("fuse in", sort="place", kind="blade", zone="seat")
    add("fuse out", sort="place", kind="blade", zone="seat")
    add("fuse", sort="part", kind="fuse", start="fuse in", end="fuse out", fuse="10")
    add("key in", sort="place", kind="screw", zone="headstock")
    add("key out", sort="place", kind="screw", zone="headstock")
    add("key", sort="part", kind="switch", start="key in", end="key out", closed=["key=on"])
    add("lamp in", sort="place", kind="bullet", zone="headlamp")
    add("lamp out", sort="place", kind="bullet", zone="headlamp")
    add("lamp feed", sort="place", kind="holder", zone="headlamp")
    add("lamp foot", sort="place", kind="holder", zone="headlamp")
    add(
        "riding lamp", sort="part", kind="filament", start="lamp feed", end="lamp foot", watts="35",
        works=["key-on"],
    )  # fmt: skip
    for name, start, end, length in (
        ("w1", "plus", "fuse in", 300), ("w2", "fuse out", "key in", 900), ("w3", "key out", "lamp in", 400),
        ("w4", "lamp in", "lamp feed", 150), ("w5", "lamp foot", "lamp out", 150),
        ("w6", "lamp out", "minus", 1400),
    ):  # fmt: skip
        add(name, sort="wire", start=start, end=end, length=str(length), size="1", main="red")
    made = loom(bench)
    assert [problem.sentence for problem in validate(made)] == []
    assert loom_known(bench.desk, "1").unfinished == ()
    hit = find(made, "riding lamp")[0]
    found = where(made, hit.what, hit.id)
    assert found is not None
    assert [shared.words for shared in found.fuses] == ["fuse"]

    bench("loom own", bike="1", pattern="yes")
    assert loom(bench).bodies["regulator"].zone == "tail", "what was seen before counts again"


def mended(bench: Bench, rule: str, **done: str) -> None:
    """A repair of this type, done."""
    bench("finding", card="1", words="bad")
    bench("estimate", card="1", repair=[rule])
    bench("agree", card="1", limit="9000")
    bench("fix", card="1", **done)


def test_a_wire_made_new_loses_its_splices_and_has_its_own_colours(bench: Bench) -> None:
    bench.booked()
    bench("look", card="1", limit="60")
    ends = {"wire_from": "rear-plug:tail", "wire_to": "tail-joint"}
    mended(bench, "splice-butt:joints=1,zone=seat", splice="butt connector", mm="150", **ends)
    assert any(
        place.kind == "splice" and one.startswith("splice-") for one, place in loom(bench).places.items()
    )
    mended(
        bench,
        "wire:length_mm=600,zone=seat",
        colour="BR",
        colour_code="Japanese",
        size="1",
        **ends,
    )
    made = loom(bench)
    assert not any(one.startswith("splice-") for one in made.places)
    wire = made.wires["tail-joint-run"]
    assert (wire.colour, wire.size_mm2) == (Colour("brown", "", "Japanese"), 1.0)
    assert {fact.card for fact in loom_known(bench.desk, "1").facts} == {"26-0001"}


def test_a_new_connector_is_the_plug_from_then_on(bench: Bench) -> None:
    bench.booked()
    bench("look", card="1", limit="60")
    mended(
        bench, "connector:ways=6,zone=seat", wire_from="rear-plug:tail", connector_old="six way, burnt",
        connector_new="six way, sealed", keeps_ways="no",
    )  # fmt: skip
    assert loom(bench).bodies["rear-plug"].plug == "six way, sealed"
    (fact,) = loom_known(bench.desk, "1").facts
    assert fact.seen == "six way, sealed instead of six way, burnt, re-pinned"


def test_a_repair_at_no_place_of_the_loom_changes_nothing(bench: Bench) -> None:
    bench.booked()
    bench("look", card="1", limit="60")
    mended(
        bench, "terminal:ways=1,zone=seat", wire_from="somewhere", wire_to="elsewhere", colour="red",
        connector_new="whatever",
    )  # fmt: skip
    assert not loom_known(bench.desk, "1").facts
