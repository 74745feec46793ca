"""The tables of the trace as shipped, and a shop's own copies with mistakes."""

import pytest

from tracker.records.trace import CHECK_WORDS, CONDITIONS
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.trace import CHECKS, CONDITIONS_FILE, RATES, TRAITS_FILE, load_trace


def changed(name: str, old: str, new: str) -> Seeds:
    text = SHIPPED.text(name)
    assert text.count(old) == 1, old
    return Seeds({name: text.replace(old, new)})


def refused(seeds: Seeds) -> str:
    with pytest.raises(SeedMistakes) as caught:
        load_trace(seeds)
    return "\n".join(f"{problem.field}: {problem.sentence}" for problem in caught.value.problems)


def test_the_shipped_tables_are_read_once() -> None:
    assert load_trace() is load_trace(SHIPPED)


def test_every_row_says_where_it_is_from_and_every_check_has_its_cost() -> None:
    tables = load_trace()
    every = [*tables.rates.values(), *tables.traits, *tables.conditions, *tables.checks.values()]
    assert all(row.status and row.source for row in every)
    assert set(tables.checks) == set(CHECK_WORDS)
    assert {row.condition for row in tables.conditions} == set(CONDITIONS)


def test_bulb_and_fuse_come_first_and_plugs_before_wires() -> None:
    rates = {key: row.weight for key, row in load_trace().rates.items()}
    lasting = max(rate for (_, of), rate in rates.items() if of not in {"filament", "fuse", "battery"})
    assert min(rates["bulb", "filament"], rates["blown", "fuse"]) > lasting
    assert rates["weak", "way"] > rates["open", "thin wall"]
    assert rates["weak", "earth"] > rates["weak", "way"]


def test_a_shop_can_have_its_own_rates() -> None:
    own = load_trace(changed(RATES, "bulb,filament,300", "bulb,filament,3"))
    assert own.rates["bulb", "filament"].weight == 3


def test_every_mistake_is_named_by_row_and_column() -> None:
    said = refused(changed(RATES, "bulb,filament,300", "bulp,filament,none"))
    assert "rates.csv row 2, fault: There is no fault “bulp”." in said
    assert "bulb" in said.splitlines()[0]
    assert "rates.csv row 2, weight: This must be a number over 0" in said
    assert "row 3" in refused(changed(RATES, "blown,fuse,200", "bulb,filament,200"))
    assert "no “clay”" in refused(changed(TRAITS_FILE, "steering,way; ", "steering,clay; "))
    assert "no trait “dry”" in refused(changed(TRAITS_FILE, "wet,way", "dry,way"))
    assert "of: This cell is empty." in refused(
        changed(TRAITS_FILE, "suspension,thin wall; thick wall", "suspension,")
    )
    assert "most" not in refused(changed(CONDITIONS_FILE, "hot,,any,0.02", "hot,,way,1.02"))
    assert "“hot” needs a row" in refused(changed(CONDITIONS_FILE, "hot,,any,0.02", "hot,wet,any,0.02"))
    assert "hands" in refused(changed(CHECKS, "another looks,3,2,", "another looks,3,0,"))
    assert "No row for: click." in refused(
        changed(CHECKS, "click,listen for the relay,0.5,1,yes,0.05,common practice,no source\n", "")
    )
