"""The repair types: all that is shipped, and what a broken file is told."""

import subprocess
import sys
import tomllib
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.errors import NotFoundError
from tracker.records.document import LineKind
from tracker.records.problem import Problem
from tracker.records.repair_rule import AskKind, Reach
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.readings import load_readings
from tracker.seedfiles.rechecks import load_rechecks
from tracker.seedfiles.repairs import known_names, load_rules, read_rule, rule

NAME = "repairs/tug.toml"
HEAD = """
id = "tug"
words = "Tug at it"
group = "joints"
on = "wire"
status = "common practice"
source = "own bench"
"""
SOUND = (
    HEAD
    + """
proves = ["pull"]
recheck = "chafe"

[access]
reach = "ends"
zones = ["battery"]

[record]
splice = "tugged, {colour}"

[[asks]]
name = "tugs"
kind = "count"
counts = "tug"
words = "How many tugs"
least = 1
most = 9
default = 2

[[asks]]
name = "colour"
kind = "colour"
words = "Colour"
optional = true

[[asks]]
name = "size_mm2"
kind = "size"
words = "Size"
least = 0.5
most = 2
default = 1

[[minutes]]
words = "stand up"
least = 1
likely = 2
most = 3.5

[[minutes]]
per = "tug"
words = "tug at {colour}"
least = 1
likely = 1
most = 2
status = "read"
source = "a book"

[[wire]]
per = ["tug"]
mm = 12.5
size = "{size_mm2}"
colour = "{colour}"
"""
)


def told(text: str, seeds: Seeds = SHIPPED) -> dict[str, str]:
    """What a text is told, sentence by field; the file's name left out."""
    with pytest.raises(SeedMistakes) as caught:
        read_rule(NAME, text, seeds)
    assert all(problem.field.startswith(NAME) for problem in caught.value.problems)
    return {problem.field.removeprefix(f"{NAME}: "): problem.sentence for problem in caught.value.problems}


def test_every_repair_type_of_the_trade_is_there() -> None:
    assert {
        "splice-butt", "splice-soldered", "splice-western-union", "splice-open-barrel", "terminal", "bullet",
        "earth", "connector", "wire", "branch", "new-feed", "re-sleeve", "component", "regulator", "stator",
        "battery", "switch", "lamp", "led", "stator-plug", "charging-check", "trace", "drain-hunt",
    } <= set(load_rules().by_id)  # fmt: skip


def test_the_book_times_own_up_to_be_unmeasured() -> None:
    for one in load_rules():
        assert one.status == "common practice"
        assert "not measured" in one.source
        assert all(
            figure.source for figure in (*one.minutes, *one.wire, *one.parts, *one.sleeves, *one.tapes)
        )


def test_what_they_prove_and_look_at_again_exists() -> None:
    for one in load_rules():
        assert set(one.proves) <= set(load_readings())
        assert not one.recheck or one.recheck in load_rechecks()


def test_charging_repairs_ask_to_be_looked_at_again() -> None:
    assert {one.id: one.recheck for one in load_rules() if one.group == "charging"} == {
        "regulator": "charging",
        "stator": "charging",
        "battery": "battery",
        "stator-plug": "stator_plug",
    }


def test_looking_is_billed_as_looking() -> None:
    looking = {one.id for one in load_rules() if one.bills_as is LineKind.DIAGNOSIS}
    assert looking == {"trace", "charging-check", "drain-hunt"}


def test_a_rule_reads_as_it_is_written() -> None:
    found = read_rule(NAME, SOUND)
    assert (found.id, found.on, found.reach, found.zones) == ("tug", "wire", Reach.ENDS, ("battery",))
    assert [ask.kind for ask in found.asks] == [AskKind.COUNT, AskKind.COLOUR, AskKind.SIZE]
    assert found.asks[2].default == Decimal(1)
    assert found.minutes[0].spread.most == Decimal("3.5")
    assert (found.minutes[0].per, found.minutes[1].per) == ((), ("tug",))
    assert (found.minutes[0].cited, found.minutes[1].cited) == ("own bench (common practice)", "a book")
    assert found.wire[0].mm == Decimal("12.5")
    assert found.record == {"splice": "tugged, {colour}"}
    assert found.text == SOUND


def test_a_caution_that_parts_share_is_named_by_its_id() -> None:
    found = read_rule(
        NAME, SOUND.replace('id = "tug"', 'id = "tug"\ncautions = ["fuse-never-up", "Mind it."]')
    )
    assert found.cautions == ("A fuse is never uprated to cure a blow.", "Mind it.")
    assert all(" " in words for one in load_rules() for words in one.cautions)


def test_the_shops_own_copy_wins_and_its_additions_count() -> None:
    own = SHIPPED.text("repairs/lamp.toml").replace('words = "Lamp replaced"', 'words = "New lamp"')
    seeds = Seeds({"repairs/lamp.toml": own, NAME: SOUND})
    assert rule("lamp", seeds).words == "New lamp"
    assert rule("tug", seeds).words == "Tug at it"
    assert rule("lamp").words == "Lamp replaced"
    assert "tug" not in load_rules().by_id


def test_shipped_rules_are_read_once() -> None:
    assert load_rules() is load_rules(SHIPPED)


def test_a_former_name_still_leads_to_the_rule() -> None:
    seeds = Seeds({NAME: SOUND.replace('id = "tug"', 'id = "tug"\nwas = ["pull-at-it"]')})
    assert rule("pull-at-it", seeds).id == "tug"


def test_a_name_nobody_knows_is_guessed() -> None:
    with pytest.raises(NotFoundError) as caught:
        rule("splice-but")
    assert caught.value.hint == "Did you mean “splice-butt”?"


def test_a_text_that_is_no_toml() -> None:
    assert list(told("id = ")) == ["text"]


def test_an_empty_text_is_told_all_it_lacks() -> None:
    assert set(told("")) == {"id", "words", "group", "on", "status", "source", "minutes"}


def test_every_mistake_of_a_file_at_once() -> None:
    text = """
    id = "tog"
    words = ""
    group = "joints"
    on = "moon"
    status = "guessed"
    proves = ["vibes"]
    recheck = "never"
    colour = "red"

    [access]
    reach = "far"
    zones = ["moon"]

    [record]
    splice = "{tug}"
    colour = "red"

    [[asks]]
    name = "tugs"
    kind = "count"
    counts = "tug"
    words = "How many"
    least = 5
    most = 2

    [[asks]]
    name = "tugs"
    kind = "choice"
    words = "Which"

    [[asks]]
    name = "Size!"
    kind = "sise"
    words = "Size"

    [[minutes]]
    least = 3
    likely = 2
    most = 4

    [[minutes]]
    per = "pull"
    likely = "two"
    least = 1
    most = true

    [[wire]]
    mm = "long"
    size = "{tugs}"
    colour = "{hue}"

    [[parts]]
    fits = "slieve"
    fits_mm2 = "fat"

    [[sleeves]]
    kind = "4:1"
    size = 3

    [[tapes]]
    """
    assert set(told(text)) == {
        "id", "words", "on", "status", "source", "proves", "recheck", "colour",
        "access: reach", "access: zones", "record: splice", "record: colour",
        "asks 1: most", "asks 2: name", "asks 2: choices", "asks 3: name", "asks 3: kind",
        "minutes 1: likely", "minutes 2: likely", "minutes 2: most",
        "wire 1: mm", "wire 1: colour", "wire 1: size",
        "parts 1: kind", "parts 1: fits", "parts 1: fits_mm2",
        "sleeves 1: kind", "sleeves 1: size", "sleeves 1: length_mm",
        "tapes 1: size", "tapes 1: length_mm", "tapes 1: width_mm", "tapes 1: lap",
    }  # fmt: skip


def test_names_that_lead_nowhere() -> None:
    text = (
        SOUND.replace('proves = ["pull"]', 'proves = ["pul"]')
        .replace('recheck = "chafe"', 'recheck = "never"')
        .replace('zones = ["battery"]', 'zones = ["moon"]')
        .replace('splice = "tugged, {colour}"', 'splice = "tugged, {color}"')
        .replace('per = "tug"', 'per = "tugs"')
        .replace('words = "stand up"', 'words = "stand {up"')
        .replace('size = "{size_mm2}"', 'size = "{tugs}"')
        + """
[[parts]]
kind = "thing"
fits = "slieve"
fits_mm2 = "{colour}"
when = { colour = "red" }

[[sleeves]]
kind = "4:1"
length_mm = 10
size = "{size_mm2}"
wires = "{tug}"

[[tapes]]
length_mm = 10
width_mm = 0
lap = 1
size = "fat"
"""
    )
    found = told(text)
    assert set(found) == {
        "proves", "recheck", "access: zones", "record: splice", "minutes 2: per", "minutes 1: words",
        "wire 1: size", "parts 1: fits", "parts 1: fits_mm2", "parts 1: when", "sleeves 1: kind",
        "sleeves 1: wires", "tapes 1: width_mm", "tapes 1: lap", "tapes 1: size",
    }  # fmt: skip
    assert found["minutes 2: per"] == "No question counts “tugs”."


@pytest.mark.parametrize(
    ("was", "now", "field"),
    [
        ("most = 3.5", "most = 20.5", "minutes 1: most"),
        ("most = 3.5", "most = -1", "minutes 1: most"),
        ("most = 3.5", "most = inf", "minutes 1: most"),
        ("most = 3.5", "most = 1.5", "minutes 1: likely"),
        ("default = 2", "default = 10", "asks 1: default"),
        ("default = 2", "default = 2.5", "asks 1: default"),
        ("default = 2", "default = true", "asks 1: default"),
        ("default = 2", 'default = "2"', "asks 1: default"),
        ("default = 2", "optional = true", "asks 1: optional"),
        ("least = 0.5", "least = 0", "wire 1: size"),
        ('name = "tugs"', 'name = "fit"', "asks 1: name"),
        ('id = "tug"', 'id = "tug"\nwas = ["tug"]', "was"),
        ('per = ["tug"]', "per = 3", "wire 1: per"),
        ('id = "tug"', 'id = "tug"\ncautions = ["fuse-newer-up"]', "cautions"),
        ('on = "wire"', 'on = "bike"', "access: reach"),
        ("mm = 12.5", 'mm = "12"', "wire 1: mm"),
        ('counts = "tug"', 'counts = "tug"\nfrom_loom = "magic"', "asks 1: from_loom"),
        ("[[wire]]", "[wire]", "wire"),
    ],
)
def test_one_mistake_is_told_beside_its_field(was: str, now: str, field: str) -> None:
    assert was in SOUND
    assert [name.split(": str")[0] for name in told(SOUND.replace(was, now, 1))][:1] == [field]


JUNK = st.recursive(
    st.none() | st.booleans() | st.integers() | st.decimals() | st.text(max_size=6) | st.just("{tugs}"),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["tugs", "per", "x"]), inner, max_size=3)
    ),
    max_leaves=5,
)


@given(st.data())
@settings(max_examples=150, deadline=None)
def test_whatever_stands_in_a_file_is_told_not_tripped_over(data: st.DataObject) -> None:
    from tracker.seedfiles.repair_file import read_file

    raw = tomllib.loads(SOUND, parse_float=Decimal)
    for _ in range(data.draw(st.integers(1, 4))):
        spot = raw
        while True:
            key = data.draw(st.sampled_from(sorted(spot)))
            inner = spot[key][0] if isinstance(spot[key], list) and spot[key] else spot[key]
            if not isinstance(inner, dict) or not inner or data.draw(st.booleans()):
                break
            spot = inner
        spot[key] = data.draw(JUNK)
    problems: list[Problem] = []
    found = read_file(NAME, raw, "", known_names(SHIPPED), problems)
    assert (found is None) == bool(problems)
    assert all(problem.sentence and problem.field.startswith(NAME) for problem in problems)


def test_two_lengths_need_two_words() -> None:
    more = """
[[asks]]
name = "{}"
kind = "length"
words = "Length"
least = 0
most = 9
default = 0
"""
    found = told(SOUND + more.format("one_mm") + more.format("two_mm"))
    assert found == {"asks 5: counts": "asks 4 counts “metre” as well."}


def test_mistakes_of_several_files_come_together() -> None:
    seeds = Seeds({NAME: HEAD, "repairs/lamp.toml": "words = 3"})
    with pytest.raises(SeedMistakes) as caught:
        load_rules(seeds)
    files = {problem.field.split(":")[0] for problem in caught.value.problems}
    assert files == {NAME, "repairs/lamp.toml"}
    assert caught.value.name == "repairs"


def test_a_former_name_may_lead_to_one_rule_only() -> None:
    seeds = Seeds({NAME: SOUND.replace('id = "tug"', 'id = "tug"\nwas = ["lamp"]')})
    with pytest.raises(SeedMistakes) as caught:
        load_rules(seeds)
    assert [problem.field for problem in caught.value.problems] == [f"{NAME}: was"]


def test_reading_a_rules_module_imports_no_pydantic() -> None:
    code = "import sys, tracker.seedfiles.repairs; print('pydantic' in sys.modules)"
    done = subprocess.run((sys.executable, "-c", code), capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
