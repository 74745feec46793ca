"""The price by keyboard at 80x24: lines opened, revisions compared, ways chosen, rules changed and tried."""

import sqlite3
from contextlib import closing
from datetime import UTC

from tests.desk.conftest import Bench
from tests.screens.driving import Driver, drive
from tracker.clock import Clock
from tracker.desk.desk import open_desk
from tracker.desk.repair_asked import rule_lines
from tracker.records.visit import Way
from tracker.screens.card import CardPage
from tracker.screens.form import FormPage
from tracker.screens.paper import PaperPage
from tracker.screens.plan import ChooseRulePage
from tracker.screens.price import PricePage
from tracker.screens.rows import Rows
from tracker.screens.rules import RulePage, RulesPage
from tracker.screens.ways import WaysPage

SPLICE = "splice-butt:joints=2,size_mm2=0.75,zone=under-tank"


def priced(bench: Bench) -> None:
    bench.booked()
    bench("finding", card="1", words="rotten joint")
    bench("estimate", card="1", repair=[SPLICE])


def stand_on(hand: Driver, place: int) -> None:
    """Puts the cursor on a row; from the end where `place` is below 0."""
    rows = hand.rows
    assert isinstance(rows, Rows)
    rows.highlighted = place % rows.option_count


def one_line(hand: Driver) -> str:
    return " ".join(hand.text().split())


def test_every_line_opens_to_its_sum_and_its_rule(bench: Bench) -> None:
    priced(bench)

    async def job(hand: Driver) -> None:
        await hand.press("enter", "m")
        assert hand.shows(PricePage)
        text = one_line(hand)
        assert "EST-26-0001, revision 1 of 1" in text
        assert "To the customer: About" in text
        assert "in 8 of 10" in text
        await hand.press("enter")
        assert "Off and on again 3 min, once for: Splice with a butt connector." in one_line(hand)
        await hand.press("enter", "down", "down", "enter")
        text = one_line(hand)
        assert "17 minutes at 60 for 60 = 17.00" in text
        assert "each joint x 2" in text
        assert "Rule splice-butt (r shows its text). Answers: " in text
        await hand.press("r")
        assert hand.shows(RulePage)
        assert 'id = "splice-butt"' in hand.text()
        await hand.press("escape", "p")
        assert hand.shows(PaperPage)
        await hand.press("escape", "escape")
        assert hand.shows(CardPage)

    drive(bench.desk, job)


def test_revisions_are_compared(bench: Bench) -> None:
    priced(bench)
    bench("settings change", labour_rate="66")
    bench("estimate", card="1", repair=["earth:zone=under-tank"])

    async def job(hand: Driver) -> None:
        await hand.press("enter", "m", "left")
        assert "revision 1 of 2" in hand.text()
        await hand.press("left")
        assert "no earlier revision" in hand.said
        await hand.press("right")
        stand_on(hand, -1)
        text = one_line(hand)
        assert "Since revision 1" in text
        assert "New: Earth or ring terminal cleaned" in text
        assert "Labour rate 66, was 60." in text
        await hand.press("right")
        assert "revision in force" in hand.said

    drive(bench.desk, job, size=(80, 60))


def test_a_card_without_an_estimate_says_what_to_press(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("enter", "m")
        assert "e chooses a repair" in hand.said
        await hand.press("e")
        assert hand.shows(ChooseRulePage)

    drive(bench.desk, job)


def test_ways_are_added_set_beside_each_other_and_one_is_chosen(bench: Bench) -> None:
    bench.booked()
    bench("finding", card="1", words="rotten joint")

    async def job(hand: Driver) -> None:
        await hand.press("enter", "o")
        assert hand.shows(WaysPage)
        assert "a adds the first" in hand.said
        await hand.press("a")
        await hand.put("splice with a butt")
        await hand.press("enter")
        assert isinstance(hand.app.screen, FormPage)
        await hand.fill(joints="many")
        await hand.press("ctrl+s")
        assert hand.mistake("@name")
        await hand.fill(**{"@name": "splice"})
        await hand.press("ctrl+s")
        assert "not a number" in hand.mistake("joints")
        await hand.fill(joints="2", zone="under-tank")
        await hand.press("ctrl+s")
        assert hand.shows(WaysPage)
        await hand.press("a")
        await hand.put("connector replaced")
        await hand.press("enter")
        await hand.fill(**{"@name": "new plug"}, ways="3")
        await hand.press("ctrl+s")
        assert hand.shows(WaysPage)
        assert "splice" in hand.text()
        assert "new plug" in hand.text()
        await hand.press("p")
        assert "Which one?" in hand.text()
        await hand.press("escape")
        stand_on(hand, 0)
        await hand.press("enter")
        assert hand.verb() == "choose"
        await hand.press("ctrl+s")
        assert "chosen on 2026-03-02 by Oona Mirek" in one_line(hand)

    drive(bench.desk, job, size=(80, 40))
    kept = bench.desk.read(lambda reader: reader.all(Way, withdrawn=False))
    assert {one.name for one in kept} == {"splice", "new plug"}
    assert len([one for one in kept if one.chosen_on]) == 1
    assert len(bench.desk.facts(1).estimates) == 1


def test_a_rule_is_changed_tried_kept_and_given_back(bench: Bench) -> None:
    priced(bench)

    async def job(hand: Driver) -> None:
        await hand.press("t")
        assert hand.shows(RulesPage)
        stand_on(hand, [one.id for one in rule_lines(bench.desk)].index("splice-butt"))
        await hand.press("enter")
        page = hand.app.screen
        assert isinstance(page, RulePage)
        sound = page.area.text
        page.area.text = sound.replace("likely = 6", "likely = 600")
        await hand.press("ctrl+t")
        assert "mistake" in hand.said
        assert "600" in hand.text() or "most" in hand.text()
        page.area.text = sound.replace("least = 4\nlikely = 6", "least = 4\nlikely = 7")
        assert page.area.text != sound
        await hand.press("ctrl+t")
        text = one_line(hand)
        assert "nothing is kept yet" in text
        assert "As it is, Halden LKM 412: expected" in text
        assert "Tried on 1 past card of its kind." in text
        await hand.press("escape", "enter")
        page = hand.app.screen
        assert isinstance(page, RulePage)
        assert "likely = 7" in page.area.text, "what was not kept stands there again"
        await hand.press("ctrl+s")
        assert "Kept" in hand.said
        await hand.press("ctrl+r")
        assert page.area.text == sound
        await hand.press("ctrl+s")
        assert "Kept" in hand.said
        await hand.press("escape")
        assert hand.shows(RulesPage)

    drive(bench.desk, job, size=(80, 40))


def test_a_clock_that_is_asked_about_is_put_right(bench: Bench) -> None:
    priced(bench)
    bench("agree", card="1", limit="400")
    bench("start", card="1")
    bench("clock on", card="1")
    bench.later(hours=15)
    bench("clock off")
    bench("fix", card="1")

    async def job(hand: Driver) -> None:
        await hand.press("t")
        assert "? card 26-0001" in hand.text()
        stand_on(hand, 0)
        await hand.press("enter")
        assert hand.verb() == "clock fix"
        await hand.fill(minutes="22")
        await hand.press("ctrl+s")
        assert hand.shows(RulesPage)
        assert "? card" not in hand.text()

    drive(bench.desk, job)


def test_what_is_left_is_said_by_the_running_clock_and_past_it_nothing_goes_on(bench: Bench) -> None:
    priced(bench)
    bench("agree", card="1", limit_time="50")
    bench("start", card="1")
    bench("clock on", card="1")
    bench.later(minutes=32)

    async def job(hand: Driver) -> None:
        await hand.press("enter")
        assert "18 minutes left of what was agreed. Ring before it is used up." in one_line(hand)
        await hand.press("m")
        assert "18 minutes left of what was agreed." in one_line(hand)
        await hand.press("escape")
        bench.later(minutes=40)
        await hand.press("k")
        assert "past" in one_line(hand) or "further go-ahead" in one_line(hand)
        await hand.press("x", "ctrl+s")
        assert hand.shows(CardPage)
        await hand.press("d")
        await hand.put("bill")
        await hand.press("enter", "ctrl+s")
        assert hand.verb() == "bill"
        assert "72 min in all is past what may be billed, 50 min." in one_line(hand)
        assert "further go-ahead" in one_line(hand)

    drive(bench.desk, job)
    assert bench.desk.facts(1).documents == ()


def test_a_second_repair_found_is_not_begun_before_it_is_agreed(bench: Bench) -> None:
    priced(bench)
    bench("agree", card="1", limit="400")
    bench("estimate", card="1", repair=["earth:zone=seat"])

    async def job(hand: Driver) -> None:
        await hand.press("enter", "d")
        await hand.put("start")
        await hand.press("enter")
        assert hand.verb() == "start"
        await hand.fill(repair="2")
        await hand.press("ctrl+s")
        assert hand.verb() == "start"
        assert "go-ahead" in one_line(hand)

    drive(bench.desk, job)


def test_a_tank_up_twice_is_seen_on_the_card_and_in_the_price(bench: Bench) -> None:
    priced(bench)
    bench("agree", card="1", limit="400")
    bench("visit begin", card="1", off=["seat", "tank"])
    bench("visit end", card="1", why="waits for its joint")
    bench("estimate", card="1")

    async def job(hand: Driver) -> None:
        await hand.press("enter")
        assert "Visits" in hand.text()
        await hand.press("d")
        await hand.put("visit begin")
        await hand.press("enter")
        assert hand.verb() == "visit begin"
        await hand.fill(off="roof")
        await hand.press("ctrl+s")
        assert "no such thing to take off" in hand.mistake("off")
        await hand.fill(off="seat; tank", why="the joint came")
        await hand.press("ctrl+s")
        assert "fuel tank comes off a second time on this card (visit 2)" in one_line(hand)
        await hand.press("m")
        assert "fuel tank, visit 2" in one_line(hand)
        stand_on(hand, 1)
        await hand.press("enter")
        assert "Off before, on visit 1 (2026-03-02)" in one_line(hand)

    drive(bench.desk, job, size=(80, 40))


def test_a_text_that_is_no_rule_any_more_is_put_right_here(bench: Bench) -> None:
    """As an older program may have kept one, or somebody from outside."""
    sound = bench.desk.seeds.text("repairs/trace.toml")
    bench("rules change", rule="trace", text=sound + "\n# ours\n")
    bench.desk.close()
    with closing(sqlite3.connect(bench.path)) as connection, connection:
        connection.execute("UPDATE shop_file SET text = 'id = 3'")
    bench.desk = open_desk(bench.path, Clock(UTC, bench.time), who="Ines")

    async def job(hand: Driver) -> None:
        await hand.press("t")
        assert "Open it here and put it right" in one_line(hand)
        await hand.press("enter")
        page = hand.app.screen
        assert isinstance(page, RulePage)
        assert "! " in hand.text()
        page.area.text = sound
        await hand.press("ctrl+s")
        assert "Kept" in hand.said
        await hand.press("escape")
        assert "clocked repairs tell" in one_line(hand)

    drive(bench.desk, job)
