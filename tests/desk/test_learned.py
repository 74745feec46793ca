"""Learning at the desk: what clocks say of the rules, what is asked about, and whether estimates use it."""

from typing import Any

import pytest

from tests.desk.conftest import Bench
from tracker.desk.explain import explain
from tracker.desk.learned import LearnedView, learned_view
from tracker.desk.past_jobs import Past, past_jobs
from tracker.errors import WrongUseError
from tracker.records.shop import Shop
from tracker.seedfiles.repairs import load_rules


def one_card(bench: Bench, minutes: int, *, rule: str = "lamp", typed: bool = True, **booked: Any) -> str:
    """A card with one repair done in so many minutes; the book gives a lamp a few."""
    if bench.desk.read(lambda reader: reader.sql("SELECT count(*) FROM bike"))[0][0]:
        card = bench("book-in", bike="1", complaint="again", **booked)
    else:
        card = bench.booked(**booked)
    bench("finding", card=card.number, words="dead")
    bench("estimate", card=card.number, repair=[rule])
    bench("agree", card=card.number, limit="5000")
    if typed:
        bench("clock add", card=card.number, repair=1, minutes=str(minutes))
    else:
        bench("clock on", card=card.number, repair=1)
        bench.later(minutes=minutes)
        bench("clock off")
    bench("fix", card=card.number)
    return str(card.number)


def jobs(bench: Bench) -> Past:
    """The past as it is learned from."""
    return bench.desk.read(lambda reader: past_jobs(reader, load_rules(), Shop()))


def seen(bench: Bench) -> LearnedView:
    """What is shown."""
    return learned_view(bench.desk)


def test_nothing_is_learned_from_nothing(bench: Bench) -> None:
    found = seen(bench)
    assert (found.jobs, found.rules, found.asked, found.used) == (0, (), (), False)


def test_a_card_tells_of_its_rule_in_unrounded_minutes(bench: Bench) -> None:
    one_card(bench, 17, rule="trace", typed=False)
    (job,) = jobs(bench).jobs
    # Sixty minutes allowed by the rule’s own default: 0.25, 0.55 and 1 min each, (15 + 132 + 60) / 6 = 34.5.
    assert (job.rule, job.took_min, job.book_min) == ("trace", 17.0, 34.5)
    (row,) = seen(bench).rules
    assert row.factor.n == 1
    assert row.sentence.startswith("You took 0.49 times the book over 1 card")


def test_what_comes_off_is_no_part_of_it(bench: Bench) -> None:
    number = bench.booked().number
    bench("finding", card=number, words="dead")
    bench("estimate", card=number, repair=["splice-butt:joints=1,zone=under-tank"])
    opens = bench.desk.facts(1).estimates[0].frozen["opens"]
    assert isinstance(opens, list)
    off = sum(row["minutes"] for row in opens)
    assert off > 0
    bench("agree", card=number, limit="5000")
    bench("clock add", card=number, repair=1, minutes=str(off + 12))
    bench("fix", card=number)
    (job,) = jobs(bench).jobs
    assert job.took_min == pytest.approx(12)


def test_two_repairs_share_what_came_off_for_both_and_only_once(bench: Bench) -> None:
    number = bench.booked().number
    both = ["splice-butt:joints=1,zone=under-tank", "splice-butt:joints=3,zone=under-tank"]
    bench("estimate", card=number, repair=both)
    opens = bench.desk.facts(1).estimates[0].frozen["opens"]
    assert isinstance(opens, list)
    off = sum(row["minutes"] for row in opens)
    bench("agree", card=number, limit="5000")
    for repair in (1, 2):
        bench("clock add", card=number, repair=repair, minutes="60")
        bench("fix", card=number)
    one, three = sorted(jobs(bench).jobs, key=lambda job: job.book_min)
    assert one.took_min + three.took_min == pytest.approx(120 - off)
    assert (60 - three.took_min) / (60 - one.took_min) == pytest.approx(three.book_min / one.book_min)


def test_a_repair_whose_neighbour_was_not_clocked_tells_nothing(bench: Bench) -> None:
    number = bench.booked().number
    bench("estimate", card=number, repair=["lamp", "switch"])
    bench("agree", card=number, limit="5000")
    bench("clock add", card=number, repair=1, minutes="60")
    bench("fix", card=number)
    bench("fix", card=number)
    found = jobs(bench)
    assert found.jobs == ()
    assert {one.why for one in found.unused} == {
        "Another repair of the card was not clocked, and may be in its time.",
        "Nobody clocked it.",
    }


def test_a_comebacks_minutes_count_against_the_first_repair(bench: Bench) -> None:
    first = one_card(bench, 20, rule="trace")
    one_card(bench, 15, rule="trace", comeback_of=first, charged="no")
    (job,) = jobs(bench).jobs
    assert (job.repair, job.took_min) == (1, 35.0)


def test_an_overnight_clock_is_asked_about_and_answered(bench: Bench) -> None:
    number = one_card(bench, 16 * 60, rule="trace", typed=False)
    found = seen(bench)
    assert found.jobs == 0
    (asked,) = found.asked
    assert "16.0 h" in asked.why
    assert asked.answer.startswith(f"loomcard clock fix {number} 1 MINUTES")
    bench("clock fix", card=number, entry=1, minutes="40")
    assert (seen(bench).jobs, seen(bench).asked) == (1, ())


def test_the_same_minutes_again_say_that_it_is_right(bench: Bench) -> None:
    number = one_card(bench, 16 * 60, rule="trace", typed=False)
    bench("clock fix", card=number, entry=1, minutes=str(16 * 60))
    (asked,) = seen(bench).asked
    assert asked.counted
    assert seen(bench).jobs == 1


def test_it_is_shown_and_used_only_when_the_shop_says_so(bench: Bench) -> None:
    for _ in range(5):
        one_card(bench, 69, rule="trace")  # twice the book
    number = bench("book-in", bike="1", complaint="more").number
    bench("finding", card=number, words="dead")
    book = bench("estimate", card=number, repair=["trace"])
    assert any("You took 2.00 times the book over 5 cards" in note for note in bench.desk.notes)
    assert any("The book was used." in note for note in bench.desk.notes)
    bench("settings change", use_learned="yes")
    learned = bench("estimate", card=number)
    # Five cards against a book worth five: √2 times 34.5, the middle of equal cards being their mean.
    assert (book.expected_min, learned.expected_min) == (35, 49)
    assert not any("The book was used." in note for note in bench.desk.notes)
    assert bench.desk.read(
        lambda reader: reader.sql("SELECT book_min FROM estimate_line WHERE estimate = 7")
    ) == [(35,)]


def test_a_job_tells_of_its_zone_its_bike_and_its_card(bench: Bench) -> None:
    one_card(bench, 30, rule="splice-butt:joints=2,zone=under-tank")
    (job,) = jobs(bench).jobs
    assert (job.zone, job.model, job.card) == ("under-tank", "Halden", 1)


def test_a_zone_that_takes_longer_counts_in_estimates_that_use_what_was_learned(bench: Bench) -> None:
    for _ in range(10):
        one_card(bench, 20, rule="trace:zone=seat,limit_min=60")
        one_card(bench, 80, rule="trace:zone=tail,limit_min=60")
    found = seen(bench)
    assert {zone for zone, _ in found.zones} == {"seat", "tail"}
    bench("settings change", use_learned="yes")
    number = bench("book-in", bike="1", complaint="more").number
    bench("finding", card=number, words="dead")
    bench("estimate", card=number, repair=["trace:zone=tail,limit_min=60"])
    tail = explain(bench.desk, number)
    assert "in tail" in tail.factors
    (line,) = [one for one in tail.lines if one.rule]
    assert "by mechanic, zone or model" in line.line.why
    assert line.line.likely_min is not None
    assert line.line.book_min is not None
    assert line.line.likely_min > line.line.book_min


def test_a_mechanic_nobody_knows_is_said(bench: Bench) -> None:
    bench.booked()
    with pytest.raises(WrongUseError, match="no mechanic"):
        bench("estimate", card="1", repair=["lamp"], mechanic="Nobody")


def test_a_rule_put_right_since_is_not_put_right_twice(bench: Bench) -> None:
    from tracker.seedfiles.door import Seeds

    one_card(bench, 69, rule="trace")
    text = (
        Seeds()
        .text("repairs/trace.toml")
        .replace("likely = 0.55", "likely = 1")
        .replace("least = 0.25", "least = 1")
    )
    doubled = load_rules(Seeds({"repairs/trace.toml": text}))
    found = bench.desk.read(lambda reader: past_jobs(reader, doubled, Shop()))
    assert [job.book_min for job in found.jobs] == [60.0]
