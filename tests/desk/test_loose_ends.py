"""What is open when a card is billed or handed over: asked for, or said; a fact is never refused."""

import pytest

from tests.desk.conftest import Bench
from tests.desk.test_money import EARTH, mended, priced
from tracker.records.document import Document
from tracker.records.journal import JournalEntry
from tracker.records.problem import Mistakes


def said(bench: Bench, words: str) -> bool:
    return any(words in note for note in bench.desk.notes)


def test_a_bill_with_a_clock_running_asks_why(bench: Bench) -> None:
    mended(bench)
    bench("clock on", card="1", kind="looking")
    with pytest.raises(Mistakes) as caught:
        bench("bill", card="1")
    (problem,) = caught.value.problems
    assert problem.field == "because"
    assert "Ines is on the clock" in problem.sentence
    assert bench.desk.read(lambda reader: reader.all(Document)) == ()
    bench("bill", card="1", because="sorting the bench for nothing")
    entry = bench.desk.read(lambda reader: reader.first(JournalEntry, newest=True))
    assert entry is not None
    assert entry.words.endswith("(a clock ran: sorting the bench for nothing)")


def test_a_clock_and_a_passed_limit_are_said_together(bench: Bench) -> None:
    mended(bench, minutes=120, limit="100")
    bench("clock on", card="1", kind="looking")
    with pytest.raises(Mistakes) as caught:
        bench("bill", card="1")
    assert {problem.field for problem in caught.value.problems} == {"total", "because"}


def test_a_bill_says_what_it_leaves_out(bench: Bench) -> None:
    priced(bench, EARTH, "splice-butt:joints=2,zone=seat,words=tail wire")
    bench("agree", card="1", limit="500")
    bench("fix", card="1", repair="1", minutes="24")
    bench("start", card="1", repair="2")
    bench("bill", card="1")
    assert said(bench, "Not done, not on this bill: “tail wire” (begun).")
    assert said(bench, "Not read yet after the work: ")


def test_what_was_never_billed_goes_on_somebodys_word_only(bench: Bench) -> None:
    mended(bench)
    with pytest.raises(Mistakes) as caught:
        bench("collect", card="1")
    assert [problem.sentence for problem in caught.value.problems] == ["The work on it is not billed yet."]
    bench("collect", card="1", override="Ines: her brother pays on Monday")
    assert said(bench, "The work on it is not billed yet.")


def test_an_account_collects_before_the_bill_and_it_is_said(bench: Bench) -> None:
    bench("customer add", name="Fennimore Riders", kind="account", address="Weir")
    mended(bench)
    bench("card change", card="1", payer="Fennimore")
    bench("collect", card="1")
    assert said(bench, "The work on it is not billed yet.")


def test_a_hand_over_says_what_is_untested_undone_off_and_clocked(bench: Bench) -> None:
    priced(bench, EARTH, "splice-butt:joints=2,zone=seat,words=tail wire")
    bench("look", card="1", off=["seat", "tank"])
    bench("look", card="1", refitted=["tank"])
    bench("agree", card="1", limit="500")
    bench("fix", card="1", repair="1", minutes="24")
    bench("bill", card="1")
    bench("pay", on="1")
    bench("clock on", card="1")
    bench("collect", card="1")
    for words in (
        "Not done, it goes without: “tail wire”.",
        "Not read yet",
        "written: seat.",
        "A clock still",
    ):
        assert said(bench, words), words


def test_a_sound_card_is_handed_over_without_a_word_of_it(bench: Bench) -> None:
    bench.booked(look_limit="60")
    bench("clock add", card="1", minutes="30", kind="looking")
    bench("end", card="1", kind="nothing found")
    bench("bill", card="1")
    bench("pay", on="1")
    bench("collect", card="1")
    assert [note for note in bench.desk.notes if not note.startswith("Before it goes")] == []
