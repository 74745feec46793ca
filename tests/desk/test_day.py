"""The day sheet: what is next, the oldest wait first, what stops it; promises, rechecks, clocks, money."""

from tests.desk.conftest import Bench
from tests.desk.test_recheck import collected
from tracker.card.step import standing
from tracker.desk.day import day_sheet, due
from tracker.papers.day_text import day_text
from tracker.records.card import Card
from tracker.store.facts import cards_not_over


def test_cards_stand_under_their_next_thing_the_oldest_wait_first(bench: Bench) -> None:
    bench.booked()
    bench.later(hours=2)
    bench("book-in", bike="1", complaint="horn dead")
    bench("book-in", bike="1", complaint="tail lamp", look_limit="30")
    bench("clock add", card="3", minutes="20", kind="looking")
    bench("finding", card="3", words="bulb holder green")
    sheet = day_sheet(bench.desk)
    assert [(group.name, [row.number for row in group.rows]) for group in sheet.groups] == [
        ("look", ["26-0001", "26-0002"]),
        ("price", ["26-0003"]),
    ]
    assert sheet.groups[0].rows[0].stops


def test_a_promise_of_today_is_in_sight_until_the_bike_has_gone(bench: Bench) -> None:
    bench.booked(promised="today", look_limit="30")
    assert [row.number for row in day_sheet(bench.desk).promised] == ["26-0001"]
    bench("end", card="1", kind="nothing found")
    bench("collect", card="1")
    assert day_sheet(bench.desk).promised == ()


def test_who_is_on_the_clock_and_what_is_owed(bench: Bench) -> None:
    bench.booked(look_limit="60")
    bench("clock on", card="1")
    bench.later(minutes=30)
    (on,) = day_sheet(bench.desk).on_the_clock
    assert (on.mechanic, on.number, on.kind) == ("Ines", "26-0001", "looking")
    bench("clock off")
    bench("end", card="1", kind="nothing found")
    bench("bill", card="1")
    assert day_sheet(bench.desk).owed_minor == 3600


def test_a_recheck_shows_when_it_is_due_and_not_before(bench: Bench) -> None:
    bench.booked(look_limit="60")
    bench("recheck", card="1")
    assert due(bench.desk, bench.desk.today) == ()
    bench.later(days=28)
    (row,) = due(bench.desk, bench.desk.today)
    assert (row.number, row.who, row.phone) == ("26-0001", "Oona Mirek", "0155 0199 204")


def test_a_recheck_of_somebody_who_wants_no_reminders_stands_nowhere_on_the_sheet(bench: Bench) -> None:
    collected(bench)
    bench("customer change", customer="1", reminders="no")
    bench.later(days=28)
    sheet = day_sheet(bench.desk)
    assert (sheet.groups, sheet.rechecks, sheet.left_out) == ((), (), 1)
    assert due(bench.desk, bench.desk.today) == ()
    bench("recheck", card="1", asked="yes")
    sheet = day_sheet(bench.desk)
    assert [row.who for row in sheet.rechecks] == ["Oona Mirek"]
    assert [group.name for group in sheet.groups] == ["recheck"]
    assert sheet.left_out == 0


def test_a_recheck_of_a_bike_that_was_sold_names_its_new_owner(bench: Bench) -> None:
    collected(bench)
    bench("customer add", name="Tavi Ro", phone="0155 0199 205")
    bench.later(days=10)
    bench("bike change", bike="1", owner="Tavi Ro")
    bench.later(days=18)
    sheet = day_sheet(bench.desk)
    (row,) = sheet.rechecks
    assert (row.who, row.phone, row.ask_owner) == ("Tavi Ro", "0155 0199 205", True)
    assert [(group.name, group.rows[0].who) for group in sheet.groups] == [("recheck", "Tavi Ro")]
    text = day_text(sheet, bench.desk.clock.now(), bench.desk.clock)
    assert "Oona" not in text
    assert "ask whether they want it" in text


def test_the_cheap_look_leaves_out_no_card_that_still_stands_somewhere(bench: Bench) -> None:
    for ending in ("nothing found", "declined", "collected undone", ""):
        card = bench.booked(customer=f"A {ending}", registration="", look_limit="60")
        number = card.number
        bench("clock add", card=number, minutes="10", kind="looking")
        if ending:
            bench("end", card=number, kind=ending)
            bench("bill", card=number)
            bench("pay", on=number)
            if ending != "collected undone":
                bench("collect", card=number)
    every = [card.id for card in bench.desk.read(lambda reader: reader.all(Card))]
    kept = set(bench.desk.read(cards_not_over))
    for facts in bench.desk.many_facts(every):
        stands = standing(facts, bench.desk.clock.now(), bench.desk.today)
        assert stands.over or facts.card.id in kept
    assert len(kept) < len(every)
