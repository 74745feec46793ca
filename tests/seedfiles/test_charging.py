"""The steps and the table of the charging check as shipped, and a shop's own copy with mistakes."""

import csv
import io

import pytest

from tracker.records.charging import SIGNS, ChargingWord
from tracker.seedfiles.charging import STEPS, VERDICTS, load_charging
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds


def changed(name: str, row: str, column: str, to: str) -> Seeds:
    """The shipped file with one cell changed."""
    rows = list(csv.DictReader(io.StringIO(SHIPPED.text(name))))
    for each in rows:
        if each["id"] == row:
            each[column] = to
    out = io.StringIO()
    writer = csv.DictWriter(out, rows[0])
    writer.writeheader()
    writer.writerows(rows)
    return Seeds({name: out.getvalue()})


def refused(seeds: Seeds) -> str:
    with pytest.raises(SeedMistakes) as caught:
        load_charging(seeds)
    return "\n".join(f"{problem.field}: {problem.sentence}" for problem in caught.value.problems)


def test_the_shipped_table_is_read_once() -> None:
    assert load_charging() is load_charging(SHIPPED)


def test_every_verdict_can_be_come_to() -> None:
    assert {row.word for row in load_charging().rows} == set(ChargingWord)


def test_every_row_is_sourced_and_says_why() -> None:
    table = load_charging()
    assert all(row.source and row.status and row.reason.endswith(".") for row in table.rows)
    assert all(step.source and step.words for step in table.steps)


def test_steps_and_rows_stay_in_the_order_of_the_file() -> None:
    table = load_charging()
    assert table.steps[0].id == "standing"
    assert [row.when for row in table.rows if not row.when] == [{}]
    assert table.rows[-1].id == "begin"


def test_not_enough_names_what_would_decide() -> None:
    for row in load_charging().rows:
        if row.word is ChargingWord.NOT_ENOUGH and row.id != "c-twice":
            assert row.next, row.id


def test_a_shop_can_have_its_own_words() -> None:
    own = load_charging(changed(VERDICTS, "begin", "reason", "Begin."))
    assert own.rows[-1].reason == "Begin."
    assert load_charging().rows[-1].reason != "Begin."


@pytest.mark.parametrize(
    ("column", "to", "words"),
    [
        ("when", "weather: wet", "“weather” is none of volts"),
        ("when", "charge: wet", "“wet” is no word for “charge”"),
        ("when", "charge: low; charge: good", "“charge” is there twice"),
        ("when", "", "Only the last row may hold for everything"),
        ("verdict", "gremlins", "must be one of “battery”"),
        ("could_be", "stator; gremlins", "“gremlins” is none of"),
        ("next", "kick", "“kick” is none of"),
        ("confidence", "utter", "must be one of “good”"),
        ("reason", "", "This cell is empty"),
        ("status", "hearsay", "must be one of"),
        ("contradiction", "perhaps", "must be one of “yes”"),
        ("id", "low", "“low” is already in row"),
    ],
)
def test_a_mistake_in_a_row_is_named(column: str, to: str, words: str) -> None:
    assert words in refused(changed(VERDICTS, "worn", column, to))


def test_the_last_row_holds_for_everything() -> None:
    assert "The last row must hold" in refused(changed(VERDICTS, "begin", "when", "charge: low"))


def test_a_contradiction_of_nothing_is_none() -> None:
    assert "Which readings contradict" in refused(changed(VERDICTS, "c-twice", "when", ""))


@pytest.mark.parametrize(
    ("column", "to", "words"),
    [
        ("kind", "weather", "no kind of reading"),
        ("alternators", "windmill", "“windmill” is none of"),
        ("batteries", "nickel", "“nickel” is none of"),
        ("volts", "48", "“48” is none of"),
        ("sense", "no", "must be one of “yes”"),
        ("leads", "", "This cell is empty"),
        ("id", "cranking", "“cranking” is already in row"),
    ],
)
def test_a_mistake_in_a_step_is_named(column: str, to: str, words: str) -> None:
    assert words in refused(changed(STEPS, "standing", column, to))


def test_signs_have_words_that_differ() -> None:
    assert all(len(set(words)) == len(words) for words in SIGNS.values())
