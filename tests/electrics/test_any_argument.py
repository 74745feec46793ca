"""Whatever is asked of a sum, it answers with figures, reasons and sources, or names the wrong arguments."""

import dataclasses
import inspect
import math
from typing import Any, get_args, get_type_hints

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.catalogue import WIRE_SUMS, NamedSum
from tracker.records.problem import Mistakes
from tracker.seedfiles.tables import electric_tables

T = electric_tables()

WORDS = [
    "0.75 mm2 thin wall", "AWG 18", "AWG 28", "JIS 0.85", "3 mm", "", "frame", "wire", "any", "2:1",
    "blade", "AVS", "soldered lap", "western union", "open barrel", "military", "main", "P21W", "indicator",
    "M6", "1.9", "2 x 2.3", "1G4AH59H45G118341", "[/]", "ж",
]  # fmt: skip

SMALL: dict[str, dict[str, Any]] = {
    "wire": {"length_mm": 1800, "current_a": 8},
    "drop": {"wire": "AWG 18", "length_mm": 1800, "current_a": 8},
    "fuse": {"current_a": 8, "wire": "AWG 16"},
    "bundle": {"wires": ["3 x 1.9"]},
    "sleeve": {"widest_mm": 3.4, "narrowest_mm": 1.9, "covered_mm": 15},
    "tape": {"bundle_mm": 10, "covered_mm": 1000},
    "splice": {"left": ["0.75"], "right": ["0.75"]},
    "crimp": {"wire": "AWG 18"},
    "lamp": {"volts": 12.6, "category": "P21W"},
    "ballast": {"led_w": 2},
    "flasher": {"per_min": 90},
    "vin": {"vin": "1M8GDM9AXKP042788"},
}


def numbers() -> st.SearchStrategy[object]:
    return st.one_of(
        st.floats(allow_nan=True, allow_infinity=True), st.integers(-5, 300), st.floats(0, 100), st.booleans()
    )


def values(hint: object) -> st.SearchStrategy[object]:
    """What may be typed for an argument of that kind; wrong more often than right."""
    if hint is str:
        return st.sampled_from(WORDS) | st.text(max_size=8)
    if hint in (int, float):
        return numbers()
    inner = get_args(hint)
    if type(None) in inner:
        return st.none() | values(next(kind for kind in inner if kind is not type(None)))
    return st.lists(values(inner[0]), max_size=5)


def sound(answer: object) -> None:
    fields = dataclasses.asdict(answer)  # type: ignore[call-overload]
    assert fields["why"]
    assert fields["source"]
    assert all(
        sentence.strip() and "nan" not in sentence.split() for sentence in (*fields["why"], *fields["source"])
    )
    for value in fields.values():
        assert not isinstance(value, float) or math.isfinite(value), fields


@pytest.mark.parametrize("named", WIRE_SUMS, ids=lambda named: named.name)
def test_a_plain_question_is_answered_with_reasons_and_sources(named: NamedSum) -> None:
    takes_tables = "tables" in inspect.signature(named.function).parameters
    sound(named.function(**SMALL[named.name], **({"tables": T} if takes_tables else {})))


@pytest.mark.parametrize("named", WIRE_SUMS, ids=lambda named: named.name)
@given(data=st.data())
@settings(max_examples=40, deadline=None)
def test_any_arguments_are_answered_or_named(named: NamedSum, data: st.DataObject) -> None:
    hints = get_type_hints(named.function)
    asked = dict(SMALL[named.name])
    names = [name for name in inspect.signature(named.function).parameters if name != "tables"]
    for name in data.draw(st.lists(st.sampled_from(names), max_size=4, unique=True)):
        asked[name] = data.draw(values(hints[name]), label=name)
    tables = {"tables": T} if "tables" in hints else {}
    try:
        answer = named.function(**asked, **tables)
    except Mistakes as mistakes:
        known = {problem.field.split(" ")[0] for problem in mistakes.problems}
        assert known <= set(names)
        wordless = [problem for problem in mistakes.problems if not problem.sentence]
        assert not wordless
    else:
        sound(answer)
