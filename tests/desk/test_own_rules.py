"""The shop's own rules: checked whole, tried on past cards and a bike, kept, given back."""

import sqlite3
from contextlib import closing
from datetime import UTC
from pathlib import Path

import pytest

from tests.desk.conftest import Bench
from tests.desk.test_learned import one_card
from tracker.clock import Clock
from tracker.desk.desk import open_desk
from tracker.desk.rule_trial import try_text
from tracker.errors import NotFoundError, WrongUseError
from tracker.records.problem import Mistakes
from tracker.records.shop import ShopFile
from tracker.seedfiles.door import SHIPPED, SeedMistakes
from tracker.seedfiles.repairs import rule

TRACE = SHIPPED.text("repairs/trace.toml")
DOUBLE = (
    TRACE.replace("least = 0.25", "least = 0.5")
    .replace("likely = 0.55", "likely = 1.1")
    .replace("most = 1\n", "most = 2\n")
)


def test_a_changed_text_is_used_from_then_on_and_can_be_given_back(bench: Bench) -> None:
    kept = bench("rules change", rule="trace", text=DOUBLE)
    assert (kept.name, kept.text.strip()) == ("repairs/trace.toml", DOUBLE.strip())
    bench.booked()
    assert bench("estimate", card="1", repair=["trace"]).expected_min == 69  # twice (15 + 132 + 60) / 6
    bench("rules restore", rule="trace")
    assert bench.desk.read(lambda reader: reader.all(ShopFile)) == ()
    assert bench("estimate", card="1").expected_min == 35
    assert "The rule “trace” was changed in between." in bench.desk.notes
    with pytest.raises(NotFoundError):
        bench("rules restore", rule="trace")


def test_it_can_be_undone(bench: Bench) -> None:
    bench("rules change", rule="trace", text=DOUBLE)
    bench("undo")
    assert rule("trace", bench.desk.seeds).text == TRACE


def test_every_mistake_is_named_at_once_and_nothing_kept(bench: Bench) -> None:
    broken = DOUBLE.replace("likely = 1.1", "likely = 9").replace('counts = "minute"', 'counts = "hour"')
    broken = broken.replace('group = "looking"', 'group = "looking"\ncolour = "red"')
    with pytest.raises(SeedMistakes) as caught:
        bench("rules change", rule="trace", text=broken)
    fields = [problem.field.split(": ", 1)[1] for problem in caught.value.problems]
    assert any(field.startswith("minutes 1") and "likely" in field for field in fields)
    assert any("per" in field for field in fields)
    assert any("colour" in field for field in fields)
    assert bench.desk.read(lambda reader: reader.all(ShopFile)) == ()


def test_a_text_is_tried_on_past_cards_before_it_is_kept(bench: Bench) -> None:
    for minutes in (60, 75, 80):
        one_card(bench, minutes, rule="trace")
    trial = try_text(bench.desk, "trace", DOUBLE)
    assert [(row.before_min, row.after_min, row.took_min) for row in trial.past] == [
        (34.5, 69.0, 80.0), (34.5, 69.0, 75.0), (34.5, 69.0, 60.0),
    ]  # fmt: skip
    # The middle of |ln(took / expected)|: 60, 75 and 80 beside 34.5, then beside 69.
    assert trial.off_before == pytest.approx((60 * 75 * 80 / 34.5**3) ** (1 / 3))
    assert trial.off_after == pytest.approx((69 / 60 * 75 / 69 * 80 / 69) ** (1 / 3))
    assert "Tried on 3 past cards of its kind." in trial.sentences
    assert any(words.endswith("nearer.") and "no nearer" not in words for words in trial.sentences)
    assert bench.desk.read(lambda reader: reader.all(ShopFile)) == ()


def test_only_the_last_twenty_of_its_kind_are_tried(bench: Bench) -> None:
    bench.booked()
    bench("estimate", card="1", repair=[*(["trace"] * 22), "lamp"])
    assert len(try_text(bench.desk, "trace", DOUBLE).past) == 20


def test_a_question_taken_away_says_which_cards_no_longer_fit(bench: Bench) -> None:
    bench.booked()
    bench("estimate", card="1", repair=["trace:limit_min=200"])
    short = TRACE.replace("most = 600", "most = 120")
    trial = try_text(bench.desk, "trace", short)
    (row,) = trial.past
    assert (row.before_min, row.after_min) == (115.0, None)
    assert "out of range" in row.why
    assert any(words.startswith("Card 26-0001:") for words in trial.sentences)


def test_it_is_tried_on_a_bike_too(bench: Bench) -> None:
    bench.booked()
    trial = try_text(bench.desk, "trace", DOUBLE, bike="LKM 412", repairs=["trace:limit_min=120"])
    assert trial.bike_before is not None
    assert trial.bike_after is not None
    assert (
        trial.bike_before.worked.result.minutes.expected,
        trial.bike_after.worked.result.minutes.expected,
    ) == (69, 138)


def test_a_new_rule_of_ones_own(bench: Bench, tmp_path: Path) -> None:
    text = TRACE.replace('id = "trace"', 'id = "polish"').replace(
        "Trace an electrical fault", "Polish the lamp"
    )
    file = tmp_path / "polish.toml"
    file.write_text(text, "utf-8")
    assert try_text(bench.desk, "polish", text).new
    bench("rules change", rule="polish", path=str(file))
    bench.booked()
    bench("estimate", card="1", repair=["polish"])
    with pytest.raises(WrongUseError, match="1 repair not done yet needs “polish”"):
        bench("rules restore", rule="polish")
    bench("drop", card="1", repair=1, reason="no")
    bench("rules restore", rule="polish")
    with pytest.raises(NotFoundError):
        rule("polish", bench.desk.seeds)


def test_a_name_that_another_rule_had_is_refused(bench: Bench) -> None:
    text = TRACE.replace("was = []", 'was = ["lamp"]')
    with pytest.raises(SeedMistakes, match="not taken"):
        bench("rules change", rule="trace", text=text)


@pytest.mark.parametrize("content", [None, b"\xff\xfe\x00", b"x" * 100_001])
def test_a_file_that_is_no_rule_is_refused_in_words(
    bench: Bench, tmp_path: Path, content: bytes | None
) -> None:
    file = tmp_path / "trace.toml"
    if content is not None:
        file.write_bytes(content)
    with pytest.raises(Mistakes) as caught:
        bench("rules change", rule="trace", path=str(file))
    assert [problem.field for problem in caught.value.problems] == ["path"]


def test_a_text_that_an_older_program_kept_can_still_be_put_right(bench: Bench) -> None:
    bench("rules change", rule="trace", text=DOUBLE)
    bench.desk.close()
    with closing(sqlite3.connect(bench.path)) as connection, connection:
        connection.execute("UPDATE shop_file SET text = 'id = 3'")
    bench.desk = open_desk(bench.path, Clock(UTC, bench.time), who="Ines")
    with pytest.raises(SeedMistakes):
        rule("trace", bench.desk.seeds)
    bench("rules change", rule="trace", text=DOUBLE)
    assert rule("trace", bench.desk.seeds).id == "trace"
