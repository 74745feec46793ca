"""The loom's seeds: all that is shipped is sound, and a broken file is told everything wrong with it."""

import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.loom.making import BATTERY, small_pattern
from tests.seedfiles.broken_loom import BROKEN
from tracker.records.loom import LOADS, Colour, End, When
from tracker.records.problem import Problem
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.loom import load_pattern


def told(*texts: str, **own: str) -> list[Problem]:
    """What is said of some texts beside the shipped files."""
    files = {f"loom/own-{number}.toml": text for number, text in enumerate(texts)}
    with pytest.raises(SeedMistakes) as caught:
        load_pattern(Seeds({**files, **{name.replace("__", "/"): text for name, text in own.items()}}))
    return list(caught.value.problems)


def said(problems: list[Problem], field: str) -> str:
    found = [problem.sentence for problem in problems if problem.field == field]
    assert found, f"nothing is said of {field}, but of {[problem.field for problem in problems]}"
    return found[0]


def test_the_shipped_pattern_is_sound_and_kept() -> None:
    pattern = load_pattern()
    assert pattern is load_pattern(SHIPPED)
    assert len([one for one in pattern.devices.values() if one.kind in LOADS]) >= 25
    assert len(pattern.known.zones) >= 18
    assert {"fuel", "abs", "electric-start", "alternator", "battery", "earth"} <= {
        name for name, feature in pattern.known.features.items() if feature.at_book_in
    }


def test_every_load_says_what_it_is_of_and_when_it_works() -> None:
    pattern = load_pattern()
    for device in pattern.devices.values():
        if device.is_load:
            assert device.works, device.id
            body = pattern.bodies.get(device.body)
            assert device.component or (body and body.component), device.id
    for body in pattern.bodies.values():
        assert body.plug, body.id
        assert body.why or body.kind == "bullet", body.id


def test_every_question_is_asked_in_words_and_has_words_for_its_answers() -> None:
    for feature in load_pattern().known.features.values():
        assert feature.question.endswith("?"), feature.id
        assert all(feature.values.values())
        assert "don't know" not in feature.values, "that is always legal and never listed"


def test_what_the_pattern_says_it_does_not_know_is_said() -> None:
    known = load_pattern().known
    for row in (*known.zones.values(), *known.accesses.values(), *known.joints.values(), *known.sizes):
        assert row.status == "common practice"
        assert row.source.startswith("no source")


def test_an_entry_is_read_as_it_is_written() -> None:
    text = """
    [body.lamp]
    words = "lamp"
    synonyms = "light"
    was = "bulb-holder"
    zone = "tail"
    kind = "lamp holder"
    joint = "holder"
    ways = { feed = "feed", earth = { words = "earth", kind = "earth", when = { horn = "none" } } }
    unless = [{ fuel = "injection" }, { abs = "yes", volts = "6" }]
    [wire]
    feed = { from = "battery:live@in", to = "lamp:feed", mm = 500, mm2 = 1, main = "red", tracer = "white" }
    """
    pattern = small_pattern(BATTERY, text)
    body = pattern.bodies["lamp"]
    assert (body.synonyms, body.was) == (("light",), ("bulb-holder",))
    assert body.when == When(
        bar=((("fuel", ("injection",)),), (("abs", ("yes",)), ("volts", ("6",)))),
    )
    assert pattern.places["lamp:feed"].kind == "holder"
    assert pattern.places["lamp:earth"].kind == "earth"
    assert pattern.places["lamp:earth"].when == When(need=((("horn", ("none",)),),))
    wire = pattern.wires["feed"]
    assert (wire.a, wire.b) == (End("battery:live", "in"), End("lamp:feed", "in"))
    assert wire.colour == Colour("red", "white", "words")


def test_an_alteration_keeps_only_what_differs() -> None:
    alter = load_pattern().devices["low-beam"].alter
    leds = next(one for one in alter if one.when.need == ((("headlamp", ("led",)),),))
    assert dict(leds.values) == {"kind": "led", "lamp": "", "watts": 20.0}


@pytest.mark.parametrize(
    ("field", "sentence"),
    [
        ("body lamp: zone", "no zone “attic”"),
        ("body lamp: off", "no access “roof”"),
        ("body lamp: cautions", "no caution “shout”"),
        ("body lamp-two: zone", "missing"),
        ("body lamp-two: zonee", "no such field"),
        ("device bulb: kind", "one of “filament”"),
        ("device glow: works", "no state “night”"),
        ("device glow: watts", "needs its watts"),
        ("device link: rating_a", "needs its rating"),
        ("device link: to", "no place “lamp:fed”"),
        ("device tap: at", "no position of “dip” “sideways”"),
        ("device tap: driven_by", "no device “nobody”"),
        ("device block: drop_v", "volts it takes"),
        ("device block: to", "ends where it begins"),
        ("wire long: mm", "whole number"),
        ("wire none: mm", "more than 0"),
        ("wire odd: mm2", "The sizes are"),
        ("wire odd: main", "no colour “rde”"),
        ("wire odd: when", "no feature “fuell”"),
        ("wire bare: ohm", "needs its ohms"),
        ("wire bare: unless", "no answer to “fuel” “steam”"),
        ("wire thin: from", "no side"),
        ("wire Loud", "small letters"),
    ],
)
def test_every_mistake_of_a_file_is_named_by_file_entry_and_field_at_once(field: str, sentence: str) -> None:
    problems = told(BROKEN)
    assert sentence in said(problems, f"loom/own-0.toml: {field}")


def test_a_misprint_is_offered_its_right_spelling() -> None:
    hints = {problem.field: problem.hint for problem in told(BROKEN)}
    assert hints["loom/own-0.toml: wire odd: main"] == "Did you mean “red”?"
    assert hints["loom/own-0.toml: body lamp-two: zonee"] == "Did you mean “zone”?"
    assert hints["loom/own-0.toml: wire odd: when"] == "Did you mean “fuel”?"
    assert hints["loom/own-0.toml: device link: to"] == "Did you mean “lamp:feed”?"


def test_who_names_an_entry_that_could_not_be_read_made_no_mistake() -> None:
    assert not [p for p in told(BROKEN) if p.field.endswith("wire same: from")]


def test_nothing_more_is_said_than_is_wrong() -> None:
    fields = {problem.field.removeprefix("loom/own-0.toml: ") for problem in told(BROKEN)}
    assert not {
        field for field in fields if field.startswith(("body battery", "wire same", "device glow: kind"))
    }
    assert len(fields) == 23


def test_the_same_id_twice_is_named_in_one_file_and_across_kinds() -> None:
    problems = told('[place.frame]\nwords = "x"\nzone = "tail"\nkind = "metal"\n')
    assert any("is in loom/" in problem.sentence for problem in problems)
    problems = told('[place.horn]\nwords = "x"\nzone = "tail"\nkind = "metal"\n')
    assert "body has this id already" in said(problems, "loom/own-0.toml: place horn")
    problems = told('[place.spot]\nwas = "horn"\nwords = "x"\nzone = "tail"\nkind = "metal"\n')
    assert "belongs to another entry" in said(problems, "loom/own-0.toml: place spot: was")


def test_an_alteration_is_checked_like_an_entry() -> None:
    text = """
    [place.spot]
    words = "spot"
    zone = "tail"
    kind = "joint"
    alter = [
        { when = { fuel = "injection" }, zone = "attic" },
        { zone = "seat" },
        { when = { abs = "yes" }, was = "x" },
        { when = { abs = "yes" }, kind = "glue" },
        { when = { abs = "yes" }, kind = "joint" },
    ]
    """
    problems = told(text)
    at = "loom/own-0.toml: place spot: alter"
    assert "no zone “attic”" in said(problems, f"{at} 1: zone")
    assert "needs a “when”" in said(problems, f"{at} 2")
    assert "cannot differ" in said(problems, f"{at} 3: was")
    assert "one of" in said(problems, f"{at} 4: kind")
    assert "changes nothing" in said(problems, f"{at} 5")


def test_what_is_no_toml_and_what_is_no_table_are_named_with_their_file() -> None:
    assert "not TOML" in said(told("[wire"), "loom/own-0.toml")
    assert "no such table" in said(told("[wires]\na = { mm = 1 }\n"), "loom/own-0.toml: wires")
    assert "named fields" in said(told("[wire]\na = 3\n"), "loom/own-0.toml: wire a")


def test_a_joint_kind_a_size_and_the_lengths_may_not_be_missing() -> None:
    figures = SHIPPED.text("loom/figures.toml")
    without = figures.replace("[joint.bullet]", "[joint.bulet]")
    problems = told(loom__figures="", **{"loom__figures.toml": without})
    assert "ohms of this kind of place are missing" in said(problems, "loom: joint bullet")
    smaller = figures.replace("current_a = 13", "current_a = 9")
    problems = told(**{"loom__figures.toml": smaller})
    assert "bigger wire must carry more" in said(problems, "loom: size 1 mm²: current_a")
    no_route = figures.replace("[route.rules]", "[route.rulez]").replace("[route.rulez]", "[caution.rulez]")
    assert any(
        "how lengths are worked out" in problem.sentence
        for problem in told(**{"loom__figures.toml": no_route})
    )


def test_the_tables_of_zones_and_access_are_checked_by_row_and_column() -> None:
    zones = SHIPPED.text("tables/zones.csv")
    broken = zones.replace(",850,50,seat,", ",850,50,saddle,").replace(
        "tail,tail,middle,1090", "tail,tail,rear,far"
    )
    problems = told(**{"tables__zones.csv": broken})
    fields = [problem.field for problem in problems]
    assert any("zones.csv" in field and "side" in field for field in fields)
    assert any("zones.csv" in field and " x" in field for field in fields)
    assert any("“saddle”" in problem.sentence for problem in problems)
    access = SHIPPED.text("tables/access.csv")
    circle = access.replace("seat,seat,3,,", "seat,seat,3,tank,")
    assert any("circle" in problem.sentence for problem in told(**{"tables__access.csv": circle}))
    unknown = access.replace("tank,fuel tank,20,seat,", "tank,fuel tank,20,saddle,")
    assert any(
        "no access “saddle”" in problem.sentence for problem in told(**{"tables__access.csv": unknown})
    )
    odd = access.replace("fairing=half|full", "fairing=big")
    assert any(
        "no answer to “fairing” “big”" in problem.sentence for problem in told(**{"tables__access.csv": odd})
    )


def test_the_shops_own_file_adds_to_the_pattern_and_its_copy_replaces_one() -> None:
    own = 'caution = { own = { words = "Mind the dog." } }\n'
    pattern = load_pattern(Seeds({"loom/shop.toml": own}))
    assert pattern.known.cautions["own"] == "Mind the dog."
    assert set(load_pattern().devices) == set(pattern.devices)
    assert "own" not in load_pattern().known.cautions


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from(["loom/lighting.toml", "loom/signals.toml", "loom/states.toml", "loom/features.toml"]),
    st.integers(0, 10**6),
)
def test_a_line_lost_from_any_file_is_either_sound_or_named(name: str, number: int) -> None:
    lines = SHIPPED.text(name).splitlines()
    del lines[number % len(lines)]
    problems: tuple[Problem, ...] = ()
    try:
        assert load_pattern(Seeds({name: "\n".join(lines)})).devices
    except SeedMistakes as mistakes:
        problems = mistakes.problems
    assert all(problem.field.startswith(("loom", "tables")) and problem.sentence for problem in problems)


def test_the_loader_is_not_imported_before_it_is_needed() -> None:
    code = "import sys, tracker.seedfiles.loom; print('pydantic' in sys.modules)"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert out.strip() == "False"
