"""A trace on a card: begun from what is written there, kept step by step, ended as a finding."""

from typing import Any

from tests.desk.conftest import Bench
from tracker.desk.book_in import BookIn
from tracker.desk.desk import Desk
from tracker.desk.look import Look, WriteFinding
from tracker.desk.trace import bike_trace, card_trace, finding_fields, probe_fields, repairs_of
from tracker.desk.trace_read import BarPlace, DoubtCheck, ReadCheck
from tracker.records.card import Card, Finding, SymptomKind


def booked(desk: Desk, **more: Any) -> str:
    card = desk.given(
        BookIn, {"customer": "A", "make": "Halden", "model": "Twin", "complaint": "no tail lamp", **more}
    )
    assert isinstance(card, Card)
    return card.number


def test_a_card_s_symptoms_and_what_is_off_begin_the_trace(bench: Bench) -> None:
    desk = bench.desk
    number = booked(desk, dead=("tail-light",))
    desk.given(Look, {"card": number, "works": ("brake-light",), "off": ("seat",)})
    found = card_trace(desk, number)
    assert [(one.load, str(one.symptom)) for one in found.trace.marks] == [
        ("tail-light", "dead"), ("brake-light", "works"),
    ]  # fmt: skip
    assert found.trace.opened == {"seat"}
    assert found.trace.now.next is not None
    assert found.problems == ()


def test_all_symptoms_find_their_way(bench: Bench) -> None:
    desk = bench.desk
    number = booked(desk, flat_when_parked=True)
    desk.given(
        Look,
        {
            "card": number, "wont_go_off": ("brake-light",),
            "comes_on_with": {"turn-rear-right": "turn-rear-left"},
            "bulbs_blow": ("tail-light",), "flashes_slow": ("turn-front-left",), "when": "wet",
        },
    )  # fmt: skip
    marks = card_trace(desk, number).trace.marks
    assert {one.symptom for one in marks} == {
        SymptomKind.FLAT_PARKED, SymptomKind.WONT_GO_OFF, SymptomKind.COMES_ON_WITH, SymptomKind.BULBS_BLOW,
        SymptomKind.FLASHES_SLOW,
    }  # fmt: skip
    assert next(one for one in marks if one.other).other == "turn-rear-left"
    assert {one.when for one in marks if one.symptom is not SymptomKind.FLAT_PARKED} == {"wet"}


def test_what_the_loom_does_not_know_is_said_and_kept(bench: Bench) -> None:
    desk = bench.desk
    number = booked(desk, dead=("sidecar lamp", "tail-light"))
    found = card_trace(desk, number)
    assert [one.given for one in found.problems] == ["sidecar lamp"]
    assert len(found.facts.symptoms) == 2
    assert found.trace.now.suspects


def test_a_trace_to_its_end_becomes_a_finding_with_its_repair(bench: Bench) -> None:
    desk = bench.desk
    number = booked(desk, dead=("tail-light",))
    desk.given(Look, {"card": number, "works": ("brake-light", "plate-light")})
    answers = {"look at a bulb": "broken", "see": "works", "swap a bulb": "cured", "look at a plug": "good"}
    for _ in range(8):
        found = card_trace(desk, number)
        check = found.trace.now.next
        if check is None:
            break
        read = answers.get(check.kind) or {"tail-lamp:tail": "12.3", "tail-lamp:earth": "0.0"}.get(
            check.part, "12.3"
        )
        fields = probe_fields(found, check, read)
        assert fields["expected"]
        desk.given(ReadCheck, fields)
    found = card_trace(desk, number)
    assert found.trace.now.found is not None
    assert [one.rules for one in repairs_of(found)] == [("lamp",)]
    finding = desk.given(WriteFinding, finding_fields(found))
    assert isinstance(finding, Finding)
    assert (finding.place, finding.fault, finding.zone) == ("tail-light", "bulb", "tail")
    assert finding.circuit == "tail lamp circuit"
    assert all(step.conditions["expected"] and step.state for step in found.steps)


def test_what_was_found_before_moves_the_next_trace(bench: Bench) -> None:
    desk = bench.desk
    first = booked(desk, dead=("low-beam",))
    desk.given(
        WriteFinding,
        {"card": first, "words": "x", "place": "headlamp:low", "fault": "open", "zone": "headlamp"},
    )
    second = booked(desk, dead=("low-beam",), customer="B")
    trace = card_trace(desk, second).trace
    assert [(one.element, one.same_model, one.came_back) for one in trace.rates.own] == [
        ("headlamp:low", True, 0)
    ]
    suspect = next(one for one in trace.now.suspects if one.theory[0].part[1] == "headlamp:low")
    assert trace.rates.fixed_here(suspect.theory[0]) == (1, 0)
    fresh = bike_trace(desk).marked(*trace.marks).now.suspects
    assert suspect.share > next(one.share for one in fresh if one.theory == suspect.theory)
    assert card_trace(desk, first).trace.rates.own == (), "a card does not count for itself"


def test_doubt_and_bars_are_kept_and_can_be_taken_back(bench: Bench) -> None:
    desk = bench.desk
    number = booked(desk, dead=("tail-light",))
    desk.given(ReadCheck, {"card": number, "place": "tail-lamp:tail@in", "value": "0", "state": "position"})
    desk.given(DoubtCheck, {"card": number, "step": 1})
    desk.given(BarPlace, {"card": number, "place": "tail-lamp:tail@in"})
    trace = card_trace(desk, number).trace
    assert trace.readings[0].doubted
    assert trace.barred == {"tail-lamp:tail"}
    desk.given(DoubtCheck, {"card": number, "step": 1, "again": True})
    desk.given(BarPlace, {"card": number, "place": "tail-lamp:tail", "again": True})
    trace = card_trace(desk, number).trace
    assert not trace.readings[0].doubted
    assert trace.barred == frozenset()
