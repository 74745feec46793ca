"""An owner-builder's project: no customer, no tax, no invoice; hours and cost instead."""

from decimal import Decimal

from tests.desk.conftest import Bench
from tracker.card.standing import Step
from tracker.desk.show import bike_view, stock_rows
from tracker.records.stock import WantedState


def test_a_project_card_goes_from_in_to_the_end_without_a_bill(bare: Bench) -> None:
    bare("settings change", mode="project", name="The shed", mechanic="Ines")
    card = bare("book-in", make="Brackwater", model="trail", complaint="no spark")
    assert bare.stands(card).step is Step.LOOK
    bare("clock add", card="1", minutes="90", kind="looking")
    bare("finding", card="1", words="coil feed open")
    bare("estimate", card="1", repair=["splice-butt:joints=1,zone=under-tank"])
    bare("part want", card="1", part="A length of wire", unit_price="4.50", repair="1")
    by_hand = str(len(bare.desk.facts(card.id).wanted))
    bare("part arrived", card="1", part=by_hand)
    bare("fix", card="1", minutes="30")
    assert bare.stands(card).step is Step.TEST
    bare("test", card="1", kind="loaded_drop", value="0.1")
    bare("test", card="1", kind="function", value="yes")
    assert bare.stands(card).over
    view = bike_view(bare.desk, "1")
    assert (view.clocked_s, view.parts_cost) == (2 * 3600, Decimal("4.50"))
    assert view.people == ()


def test_the_parts_of_a_project_are_put_by_when_it_is_planned_and_used_when_it_is_done(bare: Bench) -> None:
    bare("settings change", mode="project", name="The shed", mechanic="Ines")
    bare("stock add", code="BUTT-red", name="Butt connector", price="0.45", cost="0.20", count="10")
    card = bare("book-in", make="Brackwater", complaint="no spark")
    bare("estimate", card="1", repair=["splice-butt:joints=3,size_mm2=0.75,zone=under-tank"])
    (butts,) = (one for one in bare.desk.facts(card.id).wanted if one.part is not None)
    assert (butts.qty, butts.state) == (Decimal(3), WantedState.HERE)
    bare("estimate", card="1", repair=["splice-butt:joints=2,size_mm2=0.75,zone=under-tank"])
    put_by = [one.qty for one in bare.desk.facts(card.id).wanted if one.part is not None]
    assert put_by == [3, 2]
    bare("start", card="1", repair="1")
    bare("fix", card="1", repair="1")
    (row,) = stock_rows(bare.desk)
    assert (row.stock, row.free) == (Decimal(7), Decimal(5))
    assert bike_view(bare.desk, "1").parts_cost == Decimal("0.60")
