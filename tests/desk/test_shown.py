"""What a card, a bike and a customer say of themselves in plain text."""

from tests.desk.conftest import Bench
from tests.desk.test_money import EARTH, mended, priced
from tracker.desk.day import day_sheet
from tracker.desk.show import bike_view, card_view, customer_view
from tracker.papers.twins import WIDTH, bike_text, card_text, customer_text


def card(bench: Bench, number: str = "1") -> str:
    return card_text(card_view(bench.desk, number), bench.desk.clock)


def one_line(text: str) -> str:
    return " ".join(text.split())


def test_readings_are_said_in_words_as_they_were_read_off(bench: Bench) -> None:
    bench.booked()
    bench("read", card="1", kind="standing_volts", value="13,0 V", conditions={"hours_standing": "4"})
    bench("read", card="1", kind="supply_volts", value="850mV", place="horn:feed", state="key on")
    bench("test", card="1", kind="function", value="yes", place="horn")
    text = one_line(card(bench))
    assert "before, Standing volts: 13.0 V" in text
    assert "before, Volts at a place: 0.85 V" in text
    assert "at horn:feed, key on" in text
    assert "after, Works: yes, at horn" in text
    bike = one_line(bike_text(bike_view(bench.desk, "1"), bench.desk.clock))
    assert "before, Standing volts: 13.0 V" in bike
    assert "_" not in text + bike


def test_nothing_of_a_card_is_cut(bench: Bench) -> None:
    long = "The left rear indicator goes fast when the brake lamp is on, and slow again when it rains hard"
    bench.booked(complaint=long, notes="ring before ten")
    text = card(bench)
    assert long in one_line(text)
    assert "ring before ten" in text
    assert max(map(len, text.splitlines())) <= WIDTH


def test_what_was_never_done_on_a_card_that_ended_is_not_to_do(bench: Bench) -> None:
    priced(bench)
    assert "[to do] Main earth cleaned" in card(bench)
    bench("end", card="1", kind="declined", told_unsafe="yes")
    assert "[not done] Main earth cleaned" in card(bench)
    assert "[not done]" in bike_text(bike_view(bench.desk, "1"), bench.desk.clock)
    bench("bill", card="1")
    assert not any(note.startswith("Estimated") for note in bench.desk.notes)


def test_a_part_is_expected_until_it_is_here(bench: Bench) -> None:
    bench.booked()
    bench("part want", card="1", part="Regulator", unit_price="90")
    bench("part order", card="1", expected="+3")
    assert "ordered, expected 2026-03-05" in card(bench)
    bench("part arrived", card="1")
    assert "Regulator: here" in card(bench)
    bench("part fit", card="1")
    assert "expected" not in card(bench)


def test_who_pays_with_which_number_stands_on_the_card(bench: Bench) -> None:
    bench("customer add", name="Gannet Mutual", kind="insurer")
    bench.booked(payer="Gannet", claim="CL-77", excess="100")
    text = one_line(card(bench))
    for words in ("Gannet Mutual pays", "their number CL-77", "excess 100.00"):
        assert words in text


def test_a_customer_says_what_is_owed(bench: Bench) -> None:
    mended(bench)
    assert "Owes -" in one_line(customer_text(customer_view(bench.desk, "1"), bench.desk.clock))
    bench("bill", card="1", due="+5")
    view = customer_view(bench.desk, "1")
    assert view.owed_minor == 6480
    assert "64.80 EUR on INV-26-0001, due Saturday" in customer_text(view, bench.desk.clock)
    bench("pay", on="1", amount="100")
    assert "35.20 EUR of theirs is in hand" in customer_text(customer_view(bench.desk, "1"), bench.desk.clock)


def test_a_payer_sees_the_cards_they_pay_for(bench: Bench) -> None:
    bench("customer add", name="Fennimore Riders", kind="account")
    bench.booked(payer="Fennimore")
    assert [card.number for card in customer_view(bench.desk, "Fennimore").cards] == ["26-0001"]


def test_an_own_project_has_a_name_on_the_day_sheet(bench: Bench) -> None:
    bench("book-in", kind="project", make="Ketterly", complaint="new loom")
    assert day_sheet(bench.desk).groups[0].rows[0].who == "own project"


def test_a_loose_unit_is_reached_without_taking_anything_off_and_proved_on_the_bench(bench: Bench) -> None:
    made = bench("book-in", unit="main loom", customer="Oona", complaint="cut", look_limit="30")
    bench("finding", card="1", words="six wires cut")
    bench("estimate", card="1", repair=["splice-butt:joints=6,zone=seat"])
    (repair,) = bench.desk.facts(made.id).repairs
    assert repair.proves == ("continuity_ohms",)
    lines = card_view(bench.desk, "1").estimate_lines
    assert not any("Off and on again" in line.words for line in lines)


def test_a_stator_on_the_bench_is_proved_by_its_ohms(bench: Bench) -> None:
    made = bench("book-in", unit="stator", customer="Oona", complaint="dead", look_limit="30")
    bench("finding", card="1", words="burnt")
    bench("estimate", card="1", repair=["stator"])
    (repair,) = bench.desk.facts(made.id).repairs
    assert repair.proves == ("winding_ohms", "insulation_ohms")


def test_a_paper_counts_time_in_one_unit(bench: Bench) -> None:
    priced(bench, EARTH, "splice-butt:joints=2,zone=seat,words=tail wire")
    units = {line.unit for line in card_view(bench.desk, "1").estimate_lines}
    assert not {"hour", "minute"} <= units
