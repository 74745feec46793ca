"""Drafts: what is typed and not yet saved survives, by person, form and card."""

from tests.desk.conftest import Bench
from tests.hostile import FINE
from tracker.desk.forms import draft_of, drop_draft, keep_draft


def test_what_was_typed_is_offered_again_until_it_is_dropped(bench: Bench) -> None:
    typed = {"complaint": FINE[0], "customer": "Zoë", "marks": ""}
    keep_draft(bench.desk, "book-in", "", typed)
    assert draft_of(bench.desk, "book-in", "") == {"complaint": FINE[0], "customer": "Zoë"}
    assert draft_of(bench.desk, "book-in", "26-0001") == {}
    bench.desk.who = "Tobiah"
    assert draft_of(bench.desk, "book-in", "") == {}
    bench.desk.who = "Ines"
    drop_draft(bench.desk, "book-in", "")
    assert draft_of(bench.desk, "book-in", "") == {}


def test_an_emptied_form_keeps_nothing(bench: Bench) -> None:
    keep_draft(bench.desk, "look", "26-0001", {"dead": "horn"})
    keep_draft(bench.desk, "look", "26-0001", {"dead": " "})
    assert draft_of(bench.desk, "look", "26-0001") == {}


def test_a_draft_survives_closing_the_file(bench: Bench) -> None:
    keep_draft(bench.desk, "look", "26-0001", {"dead": "horn"})
    bench.desk.close()
    again = Bench(bench.path)
    assert draft_of(again.desk, "look", "26-0001") == {"dead": "horn"}
    again.desk.close()
