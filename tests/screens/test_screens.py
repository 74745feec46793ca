"""The screens by keyboard at 80x24: day, card, a form and its draft, booking in; people's text is data."""

from tests.desk.conftest import Bench
from tests.hostile import FINE
from tests.screens.driving import Driver, drive
from tracker.desk.forms import draft_of
from tracker.records.card import Card
from tracker.screens.book_in import BookInPage
from tracker.screens.card import CardPage
from tracker.screens.day import DayPage
from tracker.screens.leaving import LeavingPage
from tracker.screens.rows import Rows


def test_a_known_bike_and_a_one_word_complaint_take_twelve_keys(bench: Bench) -> None:
    bench.booked()
    keys = ["b", "l", "k", "m", "enter", "h", "o", "r", "n", "ctrl+s"]
    assert len(keys) <= 12

    async def job(hand: Driver) -> None:
        await hand.press("b")
        assert hand.shows(BookInPage)
        await hand.press(*keys[1:5])
        assert hand.verb() == "book-in"
        assert "Oona Mirek" in hand.said
        await hand.press(*keys[5:])
        assert hand.shows(CardPage)

    drive(bench.desk, job)
    cards = bench.desk.read(lambda reader: reader.all(Card))
    assert [(card.complaint, card.bike) for card in cards] == [("flat", 1), ("horn", 1)]


def test_space_opens_the_form_of_the_next_thing_and_mistakes_stand_beside_their_fields(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("space")
        assert hand.verb() == "look"
        await hand.fill(limit="soon", limit_amount="much")
        await hand.press("ctrl+s")
        assert hand.verb() == "look"
        assert "span of time" in hand.mistake("limit")
        assert "much" in hand.field("limit_amount").value
        assert hand.mistake("limit_amount")
        await hand.fill(limit="45", limit_amount="")
        await hand.press("ctrl+s")
        assert hand.shows(DayPage)
        assert "u takes it back" in hand.said

    drive(bench.desk, job)
    assert [given.limit_min for given in bench.desk.facts(1).go_aheads] == [45]


def test_what_is_typed_and_not_saved_is_offered_again(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("space")
        await hand.fill(dead=FINE[0])
        await hand.press("escape")
        assert hand.shows(LeavingPage)
        assert "look" in hand.head
        await hand.press("enter")
        assert hand.shows(DayPage)
        assert "half typed: look 26-0001" in hand.text()
        await hand.press("space")
        assert hand.field("dead").value == FINE[0]
        assert "stands here again" in hand.said
        await hand.press("escape")
        assert hand.shows(DayPage), "nothing changed since: leaving asks nothing"

    drive(bench.desk, job)
    kept = draft_of(bench.desk, "look", "26-0001")
    assert kept["dead"] == FINE[0]


def test_what_is_thrown_away_is_named_first_and_gone_then(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("space")
        await hand.fill(dead="rear lamp")
        await hand.press("escape")
        assert "dead: rear lamp" in hand.text()
        await hand.press("x")
        assert hand.shows(DayPage)

    drive(bench.desk, job)
    assert draft_of(bench.desk, "look", "26-0001") == {}


def test_the_last_deed_is_taken_back_by_one_key_and_named(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("u")
        assert "taken back" in hand.said
        assert "26-0001" in hand.said
        assert "Press b" in hand.text()

    drive(bench.desk, job)
    assert bench.desk.read(lambda reader: reader.all(Card)) == ()


def test_rows_of_a_card_open_in_place_and_escape_closes_them_first(bench: Bench) -> None:
    bench.booked(dead=["horn", "rear lamp"])

    async def job(hand: Driver) -> None:
        await hand.press("enter")
        page = hand.page
        assert hand.shows(CardPage)
        assert "rear lamp" not in hand.text()
        await hand.press("enter")
        assert "rear lamp" in hand.text()
        await hand.press("escape")
        assert hand.page is page
        assert "rear lamp" not in hand.text()
        await hand.press("escape")
        assert hand.shows(DayPage)

    drive(bench.desk, job)


def test_lists_keep_their_place_when_they_are_looked_at_anew(bench: Bench) -> None:
    for number in range(30):
        bench.booked(customer=f"Nobody {number:02}", registration=f"AB {number:02}")

    async def job(hand: Driver) -> None:
        await hand.press(*["down"] * 9)
        key = hand.rows.key
        await hand.press("enter", "escape")
        assert hand.rows.key == key
        await hand.press("end")
        assert hand.rows.key == "26-0030"
        await hand.press("u")
        assert hand.rows.key == "26-0029"

    drive(bench.desk, job)


def test_any_text_is_shown_as_it_is(bench: Bench) -> None:
    for number, text in enumerate(FINE):
        bench("book-in", customer=f"A{number} {text}", make=text, complaint=text)

    async def job(hand: Driver) -> None:
        assert hand.app.screen.query_one(Rows).option_count > len(FINE)
        await hand.press("enter")
        assert hand.shows(CardPage)
        await hand.press("enter")
        for key in ("m", "c", "o", "n"):
            await hand.press("escape", "escape", key)

    drive(bench.desk, job)
