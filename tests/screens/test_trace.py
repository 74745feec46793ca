"""The trace on the screen at 80x24: marks, checks, what is off, taken back, found, proved, written down."""

import re

from tests.desk.conftest import Bench
from tests.screens.driving import Driver, drive
from tracker.screens.card import CardPage
from tracker.screens.marks import MarksPage
from tracker.screens.paper import PaperPage
from tracker.screens.plan import ChooseRulePage, RepairForm
from tracker.screens.trace import OffPage, TracePage


def test_a_trace_goes_from_what_is_dead_to_a_finding(bench: Bench) -> None:
    bench.booked(dead=["horn"], look_limit="60")

    async def job(hand: Driver) -> None:
        await hand.press("enter", "g")
        page = hand.app.screen
        assert isinstance(page, TracePage)
        assert "dead: horn" in hand.text()
        assert "next:" in hand.text()
        assert "left of the go-ahead: 60 min" in hand.text()
        assert "%" in hand.text()
        checks = []
        for _ in range(12):
            assert page.told is not None
            check = page.told.kept.trace.now.next
            if check is None:
                break
            checks.append(check.id)
            outcome, _ = page.told.wants[0]
            number = re.search(r"\d+(\.\d+)?", outcome)
            await hand.put(number.group() if check.metered and number else outcome)
            await hand.press("enter")
        assert page.told is not None
        assert page.told.kept.trace.now.next is None
        assert len(set(checks)) == len(checks), "no check is asked twice"
        await hand.press("enter")
        assert hand.verb() == "finding"
        assert hand.field("words").value
        await hand.press("ctrl+s", "escape")
        assert hand.shows(CardPage)

    drive(bench.desk, job)
    [finding] = bench.desk.facts(1).findings
    assert finding.circuit
    assert finding.fault


def test_a_step_is_taken_back_a_check_taken_out_and_what_is_off_costs_nothing(bench: Bench) -> None:
    bench.booked(dead=["tail lamp"], look_limit="60")

    async def job(hand: Driver) -> None:
        await hand.press("enter", "g")
        page = hand.app.screen
        assert isinstance(page, TracePage)
        assert page.told is not None
        first = page.told.kept.trace.now.next
        assert first is not None
        await hand.press("enter")
        assert hand.said.startswith("!")
        await hand.press("ctrl+r")
        assert page.told.kept.trace.now.next != first
        await hand.press("ctrl+o")
        assert hand.shows(OffPage)
        await hand.put("seat")
        await hand.press("enter")
        assert page.told.kept.trace.opened
        after = page.told.kept.trace.now
        assert after.next is not None
        assert "seat" not in after.next.needs - page.told.kept.trace.opened
        check = page.told.kept.trace.now.next
        assert check is not None
        await hand.put("12" if check.metered else page.told.wants[0][0])
        await hand.press("enter", "ctrl+b")
        assert page.told.kept.trace.readings[-1].doubted

    drive(bench.desk, job)


def test_loads_are_marked_with_one_key_each(bench: Bench) -> None:
    bench.booked(dead=["tail lamp"], look_limit="60")

    async def job(hand: Driver) -> None:
        await hand.press("enter", "g", "ctrl+d")
        assert hand.shows(MarksPage)
        assert len(hand.text().split("\n")) == 24
        assert re.search(r"dead +tail lamp", hand.text())
        first = hand.rows.key
        await hand.press("o")
        second = hand.rows.key
        assert second != first, "on to the next"
        await hand.press("w", "enter")
        page = hand.app.screen
        assert isinstance(page, TracePage)
        assert page.told is not None
        said = {one.load: str(one.symptom) for one in page.told.kept.trace.marks}
        assert (said["tail-light"], said[first], said[second]) == ("dead", "works", "weak")
        await hand.press("ctrl+d", "u", "escape")
        assert second not in {one.load for one in page.told.kept.trace.marks}, "taken back"
        await hand.press("ctrl+d", "e")
        assert hand.verb() == "look"

    drive(bench.desk, job)


def test_what_is_found_says_its_repair_and_the_loaded_reading_that_proves_it(bench: Bench) -> None:
    bench.booked(dead=["tail lamp"], works=["plate lamp", "brake lamp"], look_limit="60")
    for place, value in (("tail-lamp:tail@in", "12.2"), ("tail-lamp:tail@out", "0.0")):
        bench("probe", card="1", place=place, value=value, state="position")

    async def job(hand: Driver) -> None:
        await hand.press("enter", "g")
        page = hand.app.screen
        assert isinstance(page, TracePage)
        assert page.told is not None
        found = page.told.kept.trace.now.found
        assert found is not None
        assert found.suspects[0].theory[0].part == ("place", "tail-lamp:tail")
        assert "repair: lamp, or component" in hand.text()
        assert "then prove it: " in hand.text()
        assert "At most 0.1" in " ".join(hand.text().split())
        await hand.press("ctrl+t")
        assert hand.shows(PaperPage)
        assert "Why looking took" in hand.text()
        await hand.press("escape", "ctrl+s")
        assert hand.verb() == "finding"
        assert hand.field("place").value == "tail-lamp:tail"
        assert hand.field("circuit").value == "tail lamp circuit"
        await hand.press("ctrl+s", "escape", "space")
        assert hand.shows(ChooseRulePage)
        assert hand.rows.key == "lamp", "what the finding asks for stands first"
        await hand.press("enter")
        assert isinstance(hand.app.screen, RepairForm)
        assert hand.field("circuit").value == "tail lamp circuit"
        assert hand.field("place").value == "tail-lamp:tail"
        assert {hand.field("from").value, hand.field("to").value} >= {"tail-lamp:tail"}

    drive(bench.desk, job)
    [finding] = bench.desk.facts(1).findings
    assert (finding.place, finding.fault) == ("tail-lamp:tail", "open")


def test_what_cannot_be_is_said_and_kept(bench: Bench) -> None:
    """An unknown load, an unfinished loom, volts that no loom has: all is kept, and the trace goes on."""
    bench.booked(dead=["tail lamp", "sidecar lamp"], look_limit="60")
    bench("loom remove", bike="1", part="horn", unfinished="yes")

    async def job(hand: Driver) -> None:
        await hand.press("enter", "g")
        page = hand.app.screen
        assert isinstance(page, TracePage)
        assert page.told is not None
        assert "No load in the loom is called “sidecar lamp”." in " ".join(page.told.problems)
        assert "The loom is not finished" in " ".join(hand.text().split()), page.told.problems
        for _ in range(8):
            assert page.told is not None
            check = page.told.kept.trace.now.next
            assert check is not None
            if check.metered:
                break
            await hand.put(page.told.wants[0][0])
            await hand.press("enter")
        assert check is not None
        assert check.metered
        shares = [one.share for one in page.told.kept.trace.now.suspects]
        for typed, said in (("40", "40 V cannot be there."), ("-9", "-9 V cannot be there.")):
            await hand.put(typed)
            await hand.press("enter")
            assert said in " ".join(hand.text().split())
            assert page.told.kept.trace.now.next == check, "it is asked again"
        assert [one.share for one in page.told.kept.trace.now.suspects] == shares
        assert [one.value for one in page.told.kept.trace.readings[-2:]] == [40, -9]
        await hand.put("twelve")
        await hand.press("enter")
        assert hand.said.startswith("!")
        assert page.line.value == "twelve", "nothing typed is lost"

    drive(bench.desk, job)
