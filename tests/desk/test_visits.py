"""Visits: written down with who and when; a tank that goes up twice is seen, priced, explained and billed."""

from dataclasses import replace
from datetime import timedelta

import pytest

from tests.desk.conftest import Bench
from tracker.card.visits import came_off_again, off_on, visit_now, visits
from tracker.desk.explain import explain
from tracker.desk.visits import visits_view
from tracker.errors import WrongUseError
from tracker.papers.gather import paper_of
from tracker.papers.plain import plain
from tracker.records.card import Opened
from tracker.records.document import Document
from tracker.records.problem import Mistakes
from tracker.records.visit import Visit

SPLICE = "splice-butt:joints=2,size_mm2=0.75,zone=under-tank"


def accesses(bench: Bench) -> list[tuple[str, int]]:
    """What the estimate in force has come off, with its minutes."""
    found = explain(bench.desk, "1")
    return [
        (one.line.words.removeprefix("Off and on again: "), one.line.book_min or 0)
        for one in found.lines
        if one.line.kind == "access"
    ]


@pytest.fixture
def agreed(bench: Bench) -> Bench:
    """A splice and a coil under the tank, priced and agreed; the coil is on order."""
    bench.booked()
    bench("finding", card="1", words="rotten joint")
    bench("estimate", card="1", repair=[SPLICE])
    bench("stock add", code="COIL", name="Ignition coil", price="40")
    bench("estimate", card="1", repair=["component:zone=under-tank,fit=COIL"])
    bench("agree", card="1", limit="400")
    bench("part order", card="1", part="1", supplier="Corvane")
    return bench


def test_a_visit_is_from_the_first_thing_off_to_the_last_one_back_on(bench: Bench) -> None:
    bench.booked()
    begun = bench("visit begin", card="1", off=["seat", "tank"])
    assert (begun.by, begun.ended_at) == ("Ines", None)
    bench.later(hours=1)
    bench("look", card="1", off=["headlamp"], refitted=["tank"])
    bench.later(hours=1)
    ended = bench("visit end", card="1", why="waits for its plug")
    assert (ended.id, ended.ended_at - ended.began_at) == (begun.id, bench.desk.clock.now() - begun.began_at)
    found = visits_view(bench.desk, "1")
    (visit,) = found.visits
    assert visit.off == ("seat", "fuel tank", "headlamp out of its shell")
    assert {"under the tank", "under the seat", "headlamp"} <= set(visit.zones)
    assert (visit.again, found.off_now, found.again_min, visit.why) == ((), (), 0, "waits for its plug")


def test_nothing_off_cannot_be_closed_and_nobody_takes_off_what_is_not_there(bench: Bench) -> None:
    bench.booked()
    with pytest.raises(WrongUseError):
        bench("visit end", card="1")
    with pytest.raises(Mistakes):
        bench("visit begin", card="1", off=["roof"])
    with pytest.raises(Mistakes):
        bench("visit begin", card="1")


def test_what_comes_off_again_while_the_seat_is_still_off_begins_another_visit(bench: Bench) -> None:
    bench.booked()
    bench("visit begin", card="1", off=["seat", "tank"])
    bench("look", card="1", refitted=["tank"])
    bench("look", card="1", off=["tank"])
    assert any("fuel tank comes off a second time" in note and "20 min" in note for note in bench.desk.notes)
    found = visits_view(bench.desk, "1")
    assert [(one.off, one.again) for one in found.visits] == [
        (("seat", "fuel tank"), ()),
        (("fuel tank",), ("fuel tank",)),
    ]
    assert found.again_min == 20


def test_what_came_off_before_visits_were_written_down_was_a_visit(bench: Bench) -> None:
    bench.booked()
    bench("visit begin", card="1", off=["seat", "tank"])
    facts = bench.desk.facts(1)
    at = bench.desk.clock.now()
    rows = [Opened(id=n, card=1, access=x, by="Ines", at=at) for n, x in enumerate(("seat", "tank"), 1)]
    older = replace(facts, visits=(), opened=tuple(rows))
    (first,) = visits(older)
    assert (first.id, first.ended_at, off_on(older, first)) == (0, None, ("seat", "tank"))
    back = [replace(row, id=row.id + 2, refitted=True, at=at + timedelta(hours=1)) for row in rows]
    closed = replace(older, opened=(*rows, *back))
    assert visits(closed)[0].ended_at == at + timedelta(hours=1)
    assert visit_now(closed) == 2
    later = Visit(id=1, card=1, began_at=at + timedelta(days=1))
    again = replace(closed, visits=(later,), opened=(*closed.opened, replace(rows[1], id=9, visit=1)))
    assert [(one.access, one.further) for one in came_off_again(again)] == [("tank", 1)]


def test_it_can_be_taken_back(bench: Bench) -> None:
    bench.booked()
    bench("visit begin", card="1", off=["seat"])
    bench("undo")
    kept = bench.desk.read(lambda reader: (reader.all(Visit), reader.all(Opened)))
    assert kept == ((), ())


def test_once_a_visit_however_many_repairs_and_revisions(agreed: Bench) -> None:
    assert accesses(agreed) == [("seat", 3), ("fuel tank", 23)]
    agreed("visit begin", card="1", off=["seat", "tank"])
    # It was asked for before it came off, so it stays in the whole card's estimate.
    agreed("estimate", card="1", repair=["earth:zone=under-tank"])
    assert accesses(agreed) == [("seat", 3), ("fuel tank", 23)]


def test_what_came_off_to_look_is_in_the_looking(bench: Bench) -> None:
    bench.booked()
    bench("visit begin", card="1", off=["seat", "tank"])
    bench("estimate", card="1", repair=[SPLICE])
    assert accesses(bench) == []
    # Closed up before it is mended: then it has to come off again for the repair.
    bench("visit end", card="1")
    bench("estimate", card="1")
    assert accesses(bench) == [("seat, visit 2", 3), ("fuel tank, visit 2", 23)]


def test_a_first_estimate_says_it_too(bench: Bench) -> None:
    bench.booked()
    bench("visit begin", card="1", off=["seat", "tank"])
    bench("visit end", card="1")
    bench("estimate", card="1", repair=[SPLICE])
    assert "Fuel tank, visit 2, 23 min: off before, on visit 1 (2026-03-02)." in bench.desk.notes


def test_a_tank_up_twice_because_the_part_came_later(agreed: Bench) -> None:
    agreed("visit begin", card="1", off=["seat", "tank"])
    agreed("fix", card="1", repair="1")
    agreed("visit end", card="1")
    agreed.later(days=8)
    agreed("estimate", card="1")
    # The splice was done on the first visit; the coil has to have the tank up again.
    assert accesses(agreed) == [
        ("seat", 3), ("fuel tank", 23), ("seat, visit 2", 3), ("fuel tank, visit 2", 23)
    ]  # fmt: skip
    why = "off before, on visit 1 (2026-03-02); Ignition coil came later."
    assert f"Fuel tank, visit 2: {why}" in agreed.desk.notes
    found = explain(agreed.desk, "1")
    assert f"Fuel tank, visit 2: {why}" in found.since
    (tank,) = [one.line for one in found.lines if one.line.words.endswith("fuel tank, visit 2")]
    assert "Off before, on visit 1 (2026-03-02); Ignition coil came later." in tank.why
    assert "once for: Component replaced" in tank.why

    agreed("part arrived", card="1", part="1")
    agreed("visit begin", card="1", off=["seat", "tank"])
    assert any("fuel tank comes off a second time" in note for note in agreed.desk.notes)
    assert agreed("estimate", card="1").revision == found.estimate.revision  # opened as it was priced
    agreed("fix", card="1", repair="2")
    agreed("visit end", card="1")
    assert agreed("estimate", card="1").revision == found.estimate.revision
    agreed("test", card="1", kind="loaded_drop", value="0.1")
    bill: Document = agreed("bill", card="1", by="estimate")
    assert bill.words == (
        "Taken off 2 times: fuel tank, first on 2026-03-02, last on 2026-03-10; Ignition coil came later."
    )
    assert "The fuel tank came off 2 times: 20 min more than once." in agreed.desk.notes


def test_why_is_as_it_was_said(agreed: Bench) -> None:
    agreed("visit begin", card="1", off=["tank"])
    agreed("fix", card="1", repair="1")
    agreed("visit end", card="1")
    agreed.later(days=1)
    agreed("visit begin", card="1", off=["tank"], why="the first coil was wrong")
    first, second = visits_view(agreed.desk, "1").visits
    assert (first.why, second.why) == ("", "the first coil was wrong")


def test_the_papers_say_it_in_german_too(agreed: Bench) -> None:
    agreed("settings change", language="de")
    agreed("visit begin", card="1", off=["seat", "tank"])
    agreed("fix", card="1", repair="1")
    agreed("visit end", card="1")
    agreed.later(days=8)
    agreed("estimate", card="1")
    estimate = " ".join(plain(paper_of(agreed.desk, "estimate", "1")).split())
    assert "Kraftstofftank, 2. Mal" in estimate
    agreed("part arrived", card="1", part="1")
    agreed("visit begin", card="1", off=["seat", "tank"])
    agreed("fix", card="1", repair="2")
    agreed("visit end", card="1")
    number = agreed("bill", card="1", by="estimate").number
    invoice = " ".join(plain(paper_of(agreed.desk, "invoice", number)).split())
    assert "2 Mal abgebaut: " in invoice
    assert "zuerst am 02.03.2026, zuletzt am 10.03.2026; Ignition coil kam später." in invoice
    assert "Taken off" not in invoice
