"""The trail of a card's trace: each check with what it ruled out, its minutes, and what it all came to."""

from tests.desk.conftest import Bench
from tests.desk.test_trace import booked
from tests.trace.following import answer
from tracker.desk.look import Look
from tracker.desk.trace import card_trace, probe_fields
from tracker.desk.trace_read import DoubtCheck, ReadCheck
from tracker.desk.trail import trail
from tracker.trace.bench import Row
from tracker.trace.parts import Single


def test_without_a_check_the_trail_has_what_was_seen(bench: Bench) -> None:
    number = booked(bench.desk, dead=("tail-light",))
    made = trail(bench.desk, number)
    assert [(str(one.kind), load) for one, load in made.symptoms] == [("dead", "tail lamp")]
    assert (made.steps, made.found, made.minutes) == ((), (), 0)


def test_each_step_says_what_it_ruled_out_and_what_it_cost(bench: Bench) -> None:
    desk = bench.desk
    number = booked(desk, dead=("tail-light",))
    desk.given(Look, {"card": number, "works": ("brake-light",), "off": ("seat",)})
    look = {"card": number, "place": "tail-light", "value": "whole", "state": "position"}
    desk.given(ReadCheck, {**look, "check": "look at a bulb", "expected": "whole / broken"})
    bench.later(minutes=5)
    at_lamp = {"card": number, "place": "tail-lamp:tail@in", "value": "12,3", "state": "position"}
    desk.given(ReadCheck, at_lamp)
    desk.given(ReadCheck, {**at_lamp, "value": "40"})
    first, second, third = trail(desk, number).steps
    assert (first.place.words, first.read, first.expected) == ("tail lamp", "whole", "whole / broken")
    assert first.out[0].faults == (("tail lamp", "bulb"),)
    assert first.off == (("lamp lens", 2),)
    assert (second.place.words, second.place.side, second.read) == ("tail lamp, tail", "in", "12,3 V")
    assert second.out_count > 10
    assert 0 < second.left < first.left
    assert second.off == (), "the lens is off already, and so is the seat"
    assert (second.at - first.at).total_seconds() == 300
    assert not third.counts
    assert (third.out_count, third.left, third.minutes) == (0, second.left, 0)
    assert trail(desk, number).opened == ("seat",)
    assert trail(desk, number).minutes == first.minutes + 2 + second.minutes


def test_a_doubted_step_stays_and_rules_out_nothing(bench: Bench) -> None:
    desk = bench.desk
    number = booked(desk, dead=("tail-light",))
    desk.given(ReadCheck, {"card": number, "place": "tail-lamp:tail@in", "value": "0", "state": "position"})
    desk.given(DoubtCheck, {"card": number, "step": 1})
    (step,) = trail(desk, number).steps
    assert (step.doubted, step.counts, step.out_count) == (True, False, 0)
    assert step.minutes > 0, "the minutes were spent"


def test_the_trail_of_a_whole_trace_ends_on_what_is_left(bench: Bench) -> None:
    desk = bench.desk
    number = booked(desk, dead=("tail-light",))
    desk.given(Look, {"card": number, "works": ("brake-light", "plate-light")})
    broken = Row((Single(("device", "tail-light"), "bulb"),))
    for _ in range(8):
        kept = card_trace(desk, number)
        check = kept.trace.now.next
        if check is None:
            break
        read = answer(kept.trace.bench, check, broken)
        desk.given(ReadCheck, probe_fields(kept, check, read.outcome or str(read.value)))
    made = trail(desk, number)
    assert [one.faults for one in made.found] == [(("tail lamp", "bulb"),)]


def test_clocked_minutes_stand_beside(bench: Bench) -> None:
    number = booked(bench.desk, dead=("tail-light",))
    bench("clock on", card=number, kind="looking")
    bench.later(minutes=40)
    assert trail(bench.desk, number).clocked == 40
