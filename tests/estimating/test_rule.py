"""One repair from its rule: what counts, how often, and how it is explained."""

from decimal import Decimal

import pytest

from tests.estimating.making import SIZES, asked, asked_with
from tracker.estimating.counting import counting, counts, decided
from tracker.estimating.rule import estimate_repair, zones_of
from tracker.estimating.sizing import WithoutTables
from tracker.records.estimating import Factor, Where
from tracker.records.repair_rule import Reach, Rules
from tracker.seedfiles.repairs import load_rules, rule

RULES: Rules = load_rules()


def test_lengths_count_metres_and_products_are_taken() -> None:
    one = asked("connector", ways="6", tail_mm="150")
    assert counts(one.rule, one.answers) == {"way": 6, "metre": Decimal("0.15")}
    assert sum(need.mm for need in estimate_repair(one, SIZES).wire) == 6 * 150


def test_a_figure_counts_only_under_its_answers() -> None:
    ballast = asked("led", method="ballast")
    flasher = asked("led", method="fixed-rate flasher")
    kinds = {need.kind for need in estimate_repair(ballast, SIZES).parts}
    assert "ballast" in kinds
    assert "flasher relay" not in kinds
    assert len(counting(flasher.rule.minutes, flasher.answers)) < len(flasher.rule.minutes)


def test_one_warning_lamp_takes_two_diodes() -> None:
    parts = {need.kind: need.qty for need in estimate_repair(asked("led", warning="one"), SIZES).parts}
    assert parts["diode"] == 2
    assert "diode" not in {need.kind for need in estimate_repair(asked("led", warning="two"), SIZES).parts}


def test_the_sum_is_told_with_its_source() -> None:
    why = estimate_repair(asked("splice-butt", joints="2"), SIZES).time.why
    assert "each joint x 2 = 12 min (8 to 20)" in why
    assert "In all 16 min (10 to 28)" in why
    assert "common practice" in why
    assert "not measured" in why


def test_what_nobody_said_is_noted_only_where_it_matters() -> None:
    notes = estimate_repair(asked("earth", "seat", joints="1"), SIZES).notes
    assert "New ring terminal: no was taken, as nobody said." in notes
    assert not any("Size of the wire" in note for note in notes)
    with_ring = estimate_repair(asked("earth", "seat", joints="1", new_ring="yes"), SIZES).notes
    assert "Size of the wire: 2.5 mm² was taken, as nobody said." in with_ring


def test_the_answers_that_matter_are_those_a_figure_uses() -> None:
    one = asked("earth", joints="1")
    assert decided(one.rule, one.answers) == {"joints", "new_ring"}


def test_a_place_nobody_knows_is_said() -> None:
    notes = estimate_repair(asked("splice-butt"), SIZES).notes
    assert "Where it is isn’t known yet, so what has to come off is not counted." in notes
    assert not any(note.startswith("Where it is") for note in estimate_repair(asked("trace"), SIZES).notes)


def test_without_tables_sizes_stay_open_and_codes_with_them() -> None:
    found = estimate_repair(asked("splice-butt", "seat"), WithoutTables())
    assert [need.size for need in found.parts] == ["", ""]
    assert [need.code for need in found.parts] == ["", ""]
    assert "No size of butt connector was chosen: no table of sleeve at hand." in found.notes


def test_a_sleeve_that_no_size_fits_is_said() -> None:
    found = estimate_repair(asked("splice-open-barrel", "seat", wires="6", size_mm2="0.35"), SIZES)
    assert any(note.startswith("No size of 3:1 adhesive sleeve was chosen") for note in found.notes)


def test_the_repair_record_is_filled_from_the_answers() -> None:
    found = estimate_repair(asked("connector", "seat", ways="2", connector_old="bullets"), SIZES)
    assert found.record == {"connector_old": "bullets", "connector_new": ""}
    assert estimate_repair(asked("splice-butt", "seat"), SIZES).record == {"splice": "butt connector"}


def test_a_factor_moves_the_shown_minutes_and_leaves_the_book() -> None:
    one = asked("splice-butt", "seat", joints="2")
    book, learned = estimate_repair(one, SIZES), estimate_repair(one, SIZES, Factor(9, 1.2, 1.25))
    assert learned.time.book == book.time.book == book.time.minutes
    assert learned.time.minutes.likely == 20  # 16 x 1.25
    assert "Times 1.25 from 9 past cards." in learned.time.why
    assert learned.wire == book.wire


def test_a_factor_from_no_cards_changes_nothing() -> None:
    one = asked("splice-butt", "seat")
    assert estimate_repair(one, SIZES, Factor()) == estimate_repair(one, SIZES)


@pytest.mark.parametrize(
    ("reach", "zones"),
    [
        (Reach.NONE, ("battery",)),
        (Reach.SPOT, ("battery", "seat")),
        (Reach.ENDS, ("battery", "tail", "headlamp")),
        (Reach.ROUTE, ("battery", "tail", "headlamp", "under-tank", "seat")),
    ],
)
def test_zones_by_reach(reach: Reach, zones: tuple[str, ...]) -> None:
    from dataclasses import replace

    where = Where(spot="seat", ends=("tail", "headlamp"), route=("under-tank", "tail"))
    assert zones_of(replace(rule("splice-butt"), reach=reach, zones=("battery",)), where) == zones


@pytest.mark.parametrize("name", sorted(RULES.by_id))
def test_every_rule_gives_time_and_words(name: str) -> None:
    wanted = {ask.name: "2" for ask in rule(name).asks if ask.default is None and not ask.optional}
    wanted |= {"length_mm": "500"} if "length_mm" in wanted else {}
    found = estimate_repair(asked_with(name, wanted, "seat"), SIZES)
    assert 0 < found.time.minutes.least <= found.time.minutes.likely <= found.time.minutes.most
    texts = [found.time.why, *(need.words for need in found.parts), *(need.why for need in found.wire)]
    assert not any("{" in text or "  " in text or not text for text in texts)
