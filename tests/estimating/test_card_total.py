"""A whole card: what comes off once, the bench minimum, and what must hold whatever is asked."""

from decimal import Decimal
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.estimating.making import BIKE, SIZES, asked, asked_with, card
from tracker.estimating.card_total import CardAsked, estimate_card
from tracker.records.document import LineKind
from tracker.records.estimating import Asked, EstimateResult, Factor
from tracker.records.repair_rule import Ask, AskKind
from tracker.seedfiles.repairs import load_rules, rule

ZONES = ("under-tank", "seat", "battery", "headlamp", "left-engine", "")
NAMES = tuple(load_rules().by_id)


def typed(ask: Ask) -> st.SearchStrategy[str]:
    """What a person might type in answer to one question."""
    least, most = int(ask.least or 0), int(ask.most or 0)
    match ask.kind:
        case AskKind.COUNT:
            return st.integers(least, min(most, least + 12)).map(str)
        case AskKind.LENGTH:
            return st.integers(least, min(most, 2500)).map(str)
        case AskKind.SIZE:
            return st.sampled_from(["0.35", "0.5", "0.75", "1.5", "2"])
        case AskKind.NUMBER:
            return st.integers(least, most).map(str)
        case AskKind.CHOICE:
            return st.sampled_from(ask.choices)
        case AskKind.YES_NO:
            return st.sampled_from(["yes", "no"])
        case _:
            return st.sampled_from(["green", "brown/white"])


@st.composite
def repairs(draw: st.DrawFn) -> Asked:
    """Any repair of the shipped rules."""
    name = draw(st.sampled_from(NAMES))
    given = {
        ask.name: draw(typed(ask))
        for ask in rule(name).asks
        if (ask.default is None and not ask.optional) or draw(st.booleans())
    }
    return asked_with(name, given, draw(st.sampled_from(ZONES)), draw(st.sampled_from([1, 1, 1, 2])))


def figures(result: EstimateResult) -> tuple[object, ...]:
    """What an estimate comes to, the order of its lines left out."""
    return (
        result.minutes,
        result.band,
        result.wire_mm,
        sorted((need.kind, need.size, need.code, need.qty) for need in result.parts),
    )


@given(st.lists(repairs(), max_size=4), st.randoms(use_true_random=False))
@settings(max_examples=40, deadline=None)
def test_the_order_of_repairs_does_not_matter(some: list[Asked], random: Random) -> None:
    shuffled = list(some)
    random.shuffle(shuffled)
    assert figures(card(*shuffled)) == figures(card(*some))


@given(st.lists(repairs(), max_size=3), st.lists(repairs(), max_size=3), st.sampled_from([0, 30, 120]))
@settings(max_examples=60, deadline=None)
def test_together_never_costs_more_than_apart(one: list[Asked], other: list[Asked], minimum: int) -> None:
    both = card(*one, *other, minimum=minimum)
    apart = card(*one, minimum=minimum), card(*other, minimum=minimum)
    for name in ("least", "likely", "most", "expected"):
        assert getattr(both.minutes, name) <= sum(getattr(part.minutes, name) for part in apart)
    assert both.band.high <= apart[0].band.high + apart[1].band.high
    for key, mm in both.wire_mm.items():
        assert mm == apart[0].wire_mm.get(key, 0) + apart[1].wire_mm.get(key, 0)


@given(repairs(), st.lists(repairs(), max_size=2), st.data())
@settings(max_examples=60, deadline=None)
def test_more_of_what_is_counted_never_costs_less(
    one: Asked, others: list[Asked], data: st.DataObject
) -> None:
    counted = [
        ask
        for ask in one.rule.asks
        if ask.kind in {AskKind.COUNT, AskKind.LENGTH} and (ask.counts or ask.unit)
    ]
    if not counted:
        return
    ask = data.draw(st.sampled_from(counted))
    had = one.answers.values[ask.name]
    assert isinstance(had, int)
    assert ask.most is not None
    more = min(had + data.draw(st.integers(1, 5)), int(ask.most))
    given_ = {name: str(value) for name, value in one.answers.values.items() if not isinstance(value, bool)}
    given_ |= {n: "yes" if v else "no" for n, v in one.answers.values.items() if isinstance(v, bool)}
    grown = asked_with(one.rule.id, given_ | {ask.name: str(more)}, one.where.spot, one.visit)
    before, after = card(one, *others), card(grown, *others)
    for name in ("least", "likely", "most", "expected"):
        assert getattr(after.minutes, name) >= getattr(before.minutes, name)
    assert after.band.low >= before.band.low
    assert after.band.high >= before.band.high
    assert all(after.wire_mm.get(key, 0) >= mm for key, mm in before.wire_mm.items())


@given(st.lists(repairs(), max_size=4), st.sampled_from([0, 45]))
@settings(max_examples=40, deadline=None)
def test_lines_add_up_and_the_band_holds_what_is_expected(some: list[Asked], minimum: int) -> None:
    result = card(*some, minimum=minimum)
    assert result.minutes.expected == sum(line.minutes.expected for line in result.lines)
    assert result.minutes.least <= result.band.low <= result.minutes.expected
    assert result.minutes.expected <= result.band.high <= result.minutes.most


def test_nothing_asked_is_nothing() -> None:
    result = card(minimum=30)
    assert result.lines == ()
    assert result.minutes.expected == 0
    assert (result.band.low, result.band.high) == (0, 0)


def test_a_small_job_is_made_up_to_the_bench_minimum() -> None:
    result = card(asked("lamp", "left-engine"), minimum=30)
    assert result.lines[-1].words == "Made up to the bench minimum"
    assert result.lines[-1].minutes.expected == 30 - 3
    assert result.minutes.least == result.minutes.expected == 30


def test_a_larger_job_is_not() -> None:
    result = card(asked("splice-butt", "under-tank", joints="6"), minimum=30)
    assert "Made up to the bench minimum" not in [line.words for line in result.lines]


def test_wire_and_parts_of_several_repairs_are_one_line_each() -> None:
    result = card(
        asked("splice-butt", "seat", joints="2", colour="green", gap_mm="200"),
        asked("splice-butt", "headlamp", joints="1", colour="green"),
        asked("splice-butt", "headlamp", joints="1", colour="red"),
    )
    assert result.wire_mm == {"0.75 green": 230, "0.75 red": 10}
    butts = [need for need in result.parts if need.kind == "butt connector"]
    assert [need.qty for need in butts] == [Decimal(4)]


def test_what_is_proved_rechecked_and_warned_of_is_said_once() -> None:
    result = card(asked("regulator", "seat"), asked("stator", "left-engine"), asked("splice-butt", "seat"))
    assert result.rechecks == ("charging",)
    assert len(set(result.proves)) == len(result.proves)
    assert len(set(result.cautions)) == len(result.cautions)


def test_factors_are_used_where_the_shop_says_so() -> None:
    one = asked("splice-butt", "seat", joints="3")
    book = estimate_card(CardAsked(repairs=(one,)), BIKE, SIZES)
    learned = estimate_card(
        CardAsked(repairs=(one,), factors={"splice-butt": Factor(20, 1.4, 1.5)}), BIKE, SIZES
    )
    assert learned.minutes.expected > book.minutes.expected
    access = [[x.minutes for x in r.lines if x.kind is LineKind.ACCESS] for r in (book, learned)]
    assert access[0] == access[1]
