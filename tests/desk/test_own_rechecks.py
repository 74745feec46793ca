"""The shop's own table of rechecks: checked whole, used from then on, given back."""

from pathlib import Path

import pytest

from tests.desk.conftest import Bench
from tracker.errors import NotFoundError
from tracker.records.problem import Mistakes
from tracker.records.shop import ShopFile
from tracker.seedfiles.door import SHIPPED, SeedMistakes
from tracker.seedfiles.rechecks import RECHECKS, load_rechecks

TABLE = SHIPPED.text(RECHECKS)
LONGER = TABLE.replace("again,90,2000,wiggle", "again,120,3000,wiggle")
MORE = LONGER + "winter,,Laid up: standing volts,60,0,standing_volts,common practice,no source\n"


def kept(bench: Bench) -> tuple[ShopFile, ...]:
    return bench.desk.read(lambda reader: reader.all(ShopFile))


def test_the_shops_own_days_are_used_until_it_is_given_back(bench: Bench) -> None:
    assert LONGER != TABLE
    bench("rechecks change", text=MORE)
    own = load_rechecks(bench.desk.seeds)
    assert (own["chafe"].days, own["chafe"].distance_km, own["winter"].days) == (120, 3000, 60)
    bench("rechecks change", text=LONGER)
    assert "winter" not in load_rechecks(bench.desk.seeds)
    bench("rechecks restore")
    assert load_rechecks(bench.desk.seeds) == load_rechecks()
    assert kept(bench) == ()
    with pytest.raises(NotFoundError):
        bench("rechecks restore")


def test_a_recheck_is_due_by_the_shops_own_table(bench: Bench) -> None:
    bench.set_up()
    bench("rechecks change", text=TABLE.replace("after standing,14,0", "after standing,21,0"))
    bench.booked()
    bench("recheck", card="1", reason="drain")
    (one,) = bench.desk.facts(1).rechecks
    assert one.days == 21


def test_it_can_be_undone(bench: Bench) -> None:
    bench("rechecks change", text=LONGER)
    bench("undo")
    assert load_rechecks(bench.desk.seeds)["chafe"].days == 90


def test_every_mistake_is_named_at_once_and_nothing_kept(bench: Bench) -> None:
    broken = LONGER.replace("again,120,3000,wiggle", "again,soon,3000,wobble")
    with pytest.raises(SeedMistakes) as caught:
        bench("rechecks change", text=broken)
    said = " ".join(f"{p.field} {p.sentence}" for p in caught.value.problems)
    assert "days" in said
    assert "wobble" in said
    assert kept(bench) == ()


def test_what_a_repair_type_proposes_cannot_be_left_out(bench: Bench) -> None:
    without = "".join(line for line in TABLE.splitlines(keepends=True) if not line.startswith("chafe,"))
    with pytest.raises(SeedMistakes, match="1 mistake"):
        bench("rechecks change", text=without)
    assert kept(bench) == ()


@pytest.mark.parametrize("given", [{}, {"path": "no/such/file.csv"}, {"text": "  \n"}])
def test_without_a_text_nothing_is_changed(bench: Bench, given: dict[str, str]) -> None:
    with pytest.raises(Mistakes):
        bench("rechecks change", **given)
    assert kept(bench) == ()


def test_it_is_read_from_a_file(bench: Bench, tmp_path: Path) -> None:
    (tmp_path / "own.csv").write_text(LONGER, "utf-8")
    bench("rechecks change", path=str(tmp_path / "own.csv"))
    assert load_rechecks(bench.desk.seeds)["chafe"].days == 120
