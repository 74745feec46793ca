"""The demo workshop: half a year of an invented shop, every step and every end among its cards."""

from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from tracker.card.owing import owed_minor
from tracker.card.standing import Standing, Step
from tracker.card.step import standing
from tracker.clock import Clock
from tracker.desk.day import day_sheet
from tracker.desk.desk import Desk, open_desk
from tracker.desk.keeping import check
from tracker.desk.replay import write
from tracker.records.bike import Bike
from tracker.records.card import Card, CardKind, EndKind
from tracker.records.document import Document, DocumentKind
from tracker.records.facts import CardFacts
from tracker.records.people import Customer, CustomerKind, Mechanic
from tracker.records.recheck import Recheck, RecheckState
from tracker.records.stock import MoveKind, PartWanted, StockMove, WantedState
from tracker.seedfiles.script import load_script
from tracker.store.facts import cards_not_over

TODAY = date(2026, 11, 25)
NOW = datetime(2026, 11, 25, 11, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """The desk in the demo workshop at eleven on the day it was made for."""
    path = tmp_path_factory.mktemp("demo") / "demo.loomcard"
    assert write(path, load_script("workshop"), TODAY) > 300
    made = open_desk(path, Clock(UTC, lambda: NOW))
    yield made
    made.close()


@pytest.fixture(scope="module")
def lives(desk: Desk) -> list[tuple[CardFacts, Standing]]:
    """Every card and where it stands."""
    ids = desk.read(lambda reader: [card.id for card in reader.all(Card)])
    return [(facts, standing(facts, NOW, TODAY)) for facts in desk.many_facts(ids)]


def test_who_and_what_there_is(desk: Desk) -> None:
    counts = desk.read(lambda reader: [len(reader.all(cls)) for cls in (Mechanic, Customer, Bike, Card)])
    assert counts == [2, 12, 18, 30]
    kinds = desk.read(lambda reader: {customer.kind for customer in reader.all(Customer)})
    assert kinds == set(CustomerKind)
    bikes = desk.read(lambda reader: reader.all(Bike))
    assert {bike.volts for bike in bikes} >= {0, 6, 12}
    assert "positive" in {bike.earth for bike in bikes}


def test_every_step_every_end_and_every_kind_of_card_is_there(
    lives: list[tuple[CardFacts, Standing]],
) -> None:
    assert {stands.step for _, stands in lives if not stands.over} == set(Step)
    assert {stands.ended for _, stands in lives if stands.ended} == set(EndKind)
    assert {facts.card.kind for facts, _ in lives} == set(CardKind)
    assert any(facts.card.comeback_of for facts, _ in lives)
    assert any(facts.card.call_out for facts, _ in lives)
    assert any(facts.card.excess_minor for facts, _ in lives)


def test_money_is_paid_and_unpaid_and_given_back(desk: Desk, lives: list[tuple[CardFacts, Standing]]) -> None:
    kinds = desk.read(lambda reader: {document.kind for document in reader.all(Document)})
    assert kinds == set(DocumentKind)
    billed = [facts for facts, _ in lives if facts.documents]
    assert any(owed_minor(facts) for facts in billed)
    assert any(owed_minor(facts) == 0 for facts in billed)


def test_rechecks_and_parts_stand_in_every_way(desk: Desk) -> None:
    rechecks = desk.read(lambda reader: reader.all(Recheck))
    assert {recheck.state for recheck in rechecks} >= {
        RecheckState.OPEN,
        RecheckState.DONE,
        RecheckState.NOT_WANTED,
    }
    assert any(recheck.due_on <= TODAY for recheck in rechecks if recheck.state is RecheckState.OPEN)
    states = desk.read(lambda reader: {wanted.state for wanted in reader.all(PartWanted)})
    assert states >= {WantedState.WANTED, WantedState.ORDERED, WantedState.FITTED}
    moves = desk.read(lambda reader: {move.kind for move in reader.all(StockMove)})
    assert MoveKind.SENT_BACK in moves  # a wrong part


def test_the_file_is_sound_and_the_day_sheet_leaves_nothing_out(
    desk: Desk, lives: list[tuple[CardFacts, Standing]]
) -> None:
    assert check(desk) == ()
    kept = set(desk.read(cards_not_over))
    assert {facts.card.id for facts, stands in lives if not stands.over} <= kept
    sheet = day_sheet(desk)
    assert sheet.on_the_clock
    assert sheet.rechecks


def test_dates_are_relative_to_today(tmp_path: Path) -> None:
    path = tmp_path / "later.loomcard"
    write(path, load_script("workshop"), date(2027, 8, 3))
    made = open_desk(path, Clock(UTC, lambda: datetime(2027, 8, 3, 11, 0, tzinfo=UTC)))
    last = made.read(lambda reader: max(card.came_at for card in reader.all(Card)))
    made.close()
    assert abs((last.date() - date(2027, 8, 3)).days) <= 3
