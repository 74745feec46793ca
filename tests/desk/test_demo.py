"""The demo workshop: its script plays into a new file and shows every step, every end and a real day."""

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from pathlib import Path

import pytest

from tracker.card.owing import owed_minor, owed_on
from tracker.card.standing import Standing, Step, StopKind
from tracker.card.step import standing
from tracker.clock import Clock, MovableTime, zone_named
from tracker.desk.bike_loom import loom_of
from tracker.desk.desk import Desk, open_desk
from tracker.desk.keeping import check
from tracker.desk.replay import write
from tracker.desk.stock import in_stock
from tracker.records.bike import UNKNOWN, Bike, BikeFeature, Earth
from tracker.records.card import CallOutcome, Card, CardKind, EndKind
from tracker.records.document import DocumentKind
from tracker.records.facts import CardFacts
from tracker.records.people import Customer, CustomerKind, Mechanic, Ownership, Role
from tracker.records.recheck import RecheckState
from tracker.records.script import Script, ScriptDeed
from tracker.records.stock import MoveKind, Part, StockMove, WantedState
from tracker.records.work import TimeEntry
from tracker.seedfiles.door import SHIPPED
from tracker.seedfiles.script import load_script
from tracker.store.reader import Reader

TODAY, OTHER_DAY = date(2026, 11, 25), date(2027, 7, 30)
"""Two days whose half year before lies in one year, so that no series of numbers begins anew in it."""

MAKES = {"Aldmoor", "Brindle", "Corvane", "Halden", "Ketterly", "Orrin", "Skarde", "Tessaro", "Vesk"}
"""All invented; a make that is not here is looked into before it is added."""


@dataclass(frozen=True, slots=True)
class Demo:
    """The demo as a person finds it at ten in the morning of its last day."""

    desk: Desk
    facts: tuple[CardFacts, ...]
    stands: tuple[Standing, ...]

    def steps(self) -> Counter[Step]:
        """How many cards that are not over stand at each step."""
        return Counter(stands.step for stands in self.stands if not stands.over)

    def one(self, number: int) -> tuple[CardFacts, Standing]:
        """A card by its place in the series."""
        return self.facts[number - 1], self.stands[number - 1]


def played(path: Path, today: date) -> Iterator[Demo]:
    """The demo written to a new file and opened."""
    write(path, load_script("workshop"), today)
    zone = zone_named("Europe/Dublin")
    desk = open_desk(path, Clock(zone, MovableTime(datetime.combine(today, time(10), zone))))
    ids = [card.id for card in desk.read(lambda reader: reader.all(Card, order="id"))]
    facts = tuple(sorted(desk.many_facts(ids), key=lambda each: each.card.id))
    yield Demo(desk, facts, tuple(standing(each, desk.clock.now(), desk.today) for each in facts))
    desk.close()


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Demo]:
    """The demo on TODAY."""
    yield from played(tmp_path_factory.mktemp("demo") / "demo.loomcard", TODAY)


@pytest.fixture(scope="session")
def script() -> Script:
    """The demo's script."""
    return load_script("workshop")


def test_it_has_the_people_bikes_and_cards_that_it_promises(demo: Demo) -> None:
    kinds = (Mechanic, Customer, Bike, Card)
    counts = demo.desk.read(lambda reader: [len(reader.all(kind)) for kind in kinds])
    assert counts == [2, 12, 18, 30]


def test_every_step_has_a_card_and_some_cards_are_over(demo: Demo) -> None:
    assert set(demo.steps()) == set(Step)
    assert 8 <= sum(stands.over for stands in demo.stands) <= 15


def test_every_card_that_is_not_over_says_what_is_next(demo: Demo) -> None:
    for facts, stands in zip(demo.facts, demo.stands, strict=True):
        assert stands.over == (stands.next is None), facts.card.number


def test_every_other_end_has_a_card(demo: Demo) -> None:
    assert {stands.ended for stands in demo.stands} == {None, *EndKind}
    unsafe = [facts.card.number for facts in demo.facts if any(e.told_unsafe for e in facts.endings)]
    assert len(unsafe) >= 2


def test_cards_wait_for_all_that_a_card_can_wait_for(demo: Demo) -> None:
    stops = {stop.kind for stands in demo.stands for stop in stands.stops}
    assert stops == set(StopKind)


def test_the_file_is_sound(demo: Demo) -> None:
    assert check(demo.desk) == ()


def test_invoices_are_paid_unpaid_and_long_overdue(demo: Demo) -> None:
    invoices = [
        (document, owed_on(facts, document))
        for facts in demo.facts
        for document in facts.documents
        if document.kind is DocumentKind.INVOICE
    ]
    overdue = [(TODAY - document.due_on).days for document, owed in invoices if owed > 0]
    assert sum(owed == 0 for _, owed in invoices) >= 10
    assert len(overdue) >= 3
    assert max(overdue) > 90
    assert min(overdue) <= 0
    assert all(owed >= 0 for _, owed in invoices)


def test_money_has_its_deposits_a_credit_note_and_a_write_off(demo: Demo) -> None:
    kinds = Counter(document.kind for facts in demo.facts for document in facts.documents)
    assert kinds[DocumentKind.DEPOSIT] >= 2
    assert kinds[DocumentKind.CREDIT_NOTE] == 1
    assert any(facts.write_offs for facts in demo.facts)
    assert any(line.sets_off for facts in demo.facts for line in facts.document_lines)
    credited = next(
        facts
        for facts in demo.facts
        if any(document.kind is DocumentKind.CREDIT_NOTE for document in facts.documents)
    )
    assert owed_minor(credited) == 0


def test_rechecks_are_to_come_due_done_booked_moved_and_not_wanted(demo: Demo) -> None:
    rechecks = [recheck for facts in demo.facts for recheck in facts.rechecks]
    open_ones = [recheck for recheck in rechecks if recheck.state is RecheckState.OPEN]
    assert {recheck.state for recheck in rechecks} == set(RecheckState)
    assert any(recheck.due_on < TODAY for recheck in open_ones)
    assert any(recheck.due_on > TODAY for recheck in open_ones)
    assert any((recheck.due_on - recheck.anchor_on).days > recheck.days for recheck in open_ones)
    assert all(recheck.outcome for recheck in rechecks if recheck.state is RecheckState.DONE)


def test_people_settle_in_every_way_and_one_wants_no_reminders(demo: Demo) -> None:
    everybody = demo.desk.read(lambda reader: reader.all(Customer))
    kinds = Counter(customer.kind for customer in everybody)
    assert (kinds[CustomerKind.ACCOUNT], kinds[CustomerKind.INSURER]) == (1, 1)
    assert [customer.terms_days for customer in everybody if customer.kind is CustomerKind.ACCOUNT] == [30]
    assert [customer.name for customer in everybody if not customer.reminders] == ["Petra Vann-Ossory"]
    insured = [facts for facts in demo.facts if facts.payer and facts.payer.kind is CustomerKind.INSURER]
    assert [facts.card.excess_minor for facts in insured] == [25000]
    ties = demo.desk.read(lambda reader: reader.all(Ownership))
    assert {tie.role for tie in ties} == set(Role)


def test_a_real_day_is_in_it(demo: Demo) -> None:
    cards = [facts.card for facts in demo.facts]
    wanted = [part for facts in demo.facts for part in facts.wanted]
    calls = Counter(call.outcome for facts in demo.facts for call in facts.calls)
    assert any(card.comeback_of is not None and not card.comeback_charged for card in cards)
    assert any(card.kind is CardKind.UNIT and card.unit and card.bike is None for card in cards)
    assert any(card.kind is CardKind.PROJECT and card.customer is None for card in cards)
    assert any(card.call_out and card.distance for card in cards)
    assert any(part.customers_own for part in wanted)
    assert any(
        part.state is WantedState.ORDERED and part.expected_on is not None and part.expected_on < TODAY
        for part in wanted
    )
    assert calls[CallOutcome.NO_ANSWER] >= 2
    assert calls[CallOutcome.LEFT_WORD] >= 2
    moves = demo.desk.read(lambda reader: {move.kind for move in reader.all(StockMove)})
    assert moves >= {MoveKind.SENT_BACK, MoveKind.ARRIVED, MoveKind.USED, MoveKind.COUNTED}


def test_a_second_fault_waits_for_the_word_while_the_agreed_part_goes_on(demo: Demo) -> None:
    facts, stands = demo.one(22)
    assert stands.step is Step.AGREE
    assert len(facts.estimates) == 2
    assert any(repair.started_at and not repair.done_at for repair in facts.repairs)
    assert any("Starter relay" in thing.words for thing in stands.also)


def test_one_clock_runs_since_this_morning(demo: Demo) -> None:
    times = demo.desk.read(lambda reader: reader.all(TimeEntry))
    running = [entry for entry in times if entry.off_at is None]
    assert [demo.desk.clock.date_of(entry.on_at) for entry in running] == [TODAY]


def test_some_shelves_are_at_their_reorder_level_and_none_below_nothing(demo: Demo) -> None:
    def shelves(reader: Reader) -> list[tuple[Part, Decimal]]:
        return [(part, in_stock(reader, part.id)) for part in reader.all(Part)]

    listed = demo.desk.read(shelves)
    assert all(left >= 0 for _, left in listed)
    assert sum(part.least > 0 and left <= part.least for part, left in listed) >= 3
    assert sum(part.least > 0 and left > part.least for part, left in listed) >= 10


def test_bikes_reach_from_no_battery_to_injection_with_abs(demo: Demo) -> None:
    def garage(reader: Reader) -> dict[int, tuple[Bike, dict[str, str]]]:
        return {
            bike.id: (bike, {f.feature: f.answer for f in reader.all(BikeFeature, bike=bike.id)})
            for bike in reader.all(Bike)
        }

    bikes = list(demo.desk.read(garage).values())
    assert {bike.volts for bike, _ in bikes} == {0, 6, 12}
    assert {bike.earth for bike, _ in bikes} == set(Earth)
    assert any(bike.earth is Earth.POSITIVE and loom["alternator"] == "dynamo" for bike, loom in bikes)
    assert any(bike.battery_kind == "none" and loom["ignition"] == "magneto" for bike, loom in bikes)
    assert any(loom["fuel"] == "injection" and loom["abs"] == "yes" for _, loom in bikes)
    assert all(len(loom) >= 8 for _, loom in bikes)
    assert sum(UNKNOWN in loom.values() for _, loom in bikes) >= 5
    assert {bike.make for bike, _ in bikes} == MAKES


def test_what_is_said_of_a_wire_is_on_that_bikes_loom(demo: Demo) -> None:
    def strange(reader: Reader) -> list[str]:
        found = []
        for facts in demo.facts:
            if facts.bike is None:
                continue
            loom = loom_of(reader, SHIPPED, facts.bike)
            found += [f"{facts.card.number}: {one.reason}" for one in loom.unfinished]
            known = {"", *loom.places, *loom.bodies}
            said = [finding.place for finding in facts.findings]
            for repair in facts.repairs:
                said += [repair.wire_from, repair.wire_to, repair.mm_end, repair.asked.get("@place", "")]
            found += [f"{facts.card.number}: {place}" for place in said if place not in known]
        return found

    assert demo.desk.read(strange) == []


def test_nothing_in_it_is_anybodys(demo: Demo) -> None:
    shop = demo.desk.shop
    everybody = demo.desk.read(lambda reader: reader.all(Customer))
    mails = [shop.email, *(customer.email for customer in everybody if customer.email)]
    # RFC 2606, section 2: names under .example belong to nobody.
    assert all(mail.endswith(".example") for mail in mails)
    phones = [shop.phone, *(customer.phone for customer in everybody)]
    assert all(re.fullmatch(r"0155 01\d\d \d{3}", phone) for phone in phones)
    assert all(customer.address.endswith(("Sedley", "Gannet Rock")) for customer in everybody)
    assert all(len(facts.bike.vin) != 17 for facts in demo.facts if facts.bike)


def test_another_day_gives_the_same_cards_at_the_same_distance(demo: Demo, tmp_path: Path) -> None:
    (other,) = played(tmp_path / "other.loomcard", OTHER_DAY)
    for one, two in zip(demo.facts, other.facts, strict=True):
        assert (one.card.number[:2], two.card.number[:2]) == ("26", "27")
        assert one.card.number[2:] == two.card.number[2:]
        assert TODAY - one.card.came_at.date() == OTHER_DAY - two.card.came_at.date()
    assert [stands.step for stands in demo.stands] == [stands.step for stands in other.stands]
    assert [stands.over for stands in demo.stands] == [stands.over for stands in other.stands]


def test_the_lines_of_a_card_stand_in_the_order_they_are_done(script: Script) -> None:
    last: dict[str, tuple[int, str]] = {}
    for entry in script.deeds:
        named = _card_of(entry)
        if not named:
            continue
        assert last.get(named, (-1000, "")) <= (entry.day, entry.at), f"{entry.verb} {named} {entry.at}"
        last[named] = (entry.day, entry.at)


def _card_of(entry: ScriptDeed) -> str:
    """The card a line is about: by its name, or by that of its document, which ends in the same number."""
    of = ("card", "on", "document", "credit")
    named = entry.name or next((str(entry.give[field]) for field in of if field in entry.give), "")
    return re.sub(r"\D", "", named)


def test_only_its_mechanics_do_anything_and_nothing_is_done_after_today(script: Script) -> None:
    assert {entry.who for entry in script.deeds} == set(script.shop["mechanic"])  # type: ignore[call-overload]
    assert [entry.verb for entry in script.deeds if entry.day > 0] == []
    assert not any(entry.refused for entry in script.deeds)
