"""Ways to mend it: kept with their prices, printed for the customer, one of them chosen and shown."""

import pytest

from tests.desk.conftest import Bench
from tracker.desk.on_card import in_order
from tracker.desk.show import card_view
from tracker.errors import NotFoundError, WrongUseError
from tracker.papers.gather import paper_of, papers_of
from tracker.papers.plain import plain
from tracker.papers.twins import card_text
from tracker.records.document import Estimate
from tracker.records.problem import Mistakes
from tracker.records.visit import Way

SPLICE = "splice = splice-butt:joints=2,size_mm2=0.75,zone=under-tank"
PLUG = "new connector = connector:ways=3,zone=under-tank"
BRANCH = "new branch = branch:ways=3,length_mm=900,zone=under-tank"


@pytest.fixture
def offered(bench: Bench) -> Bench:
    """Three ways on a card that has no estimate yet."""
    bench.booked()
    bench("finding", card="1", words="rotten joint")
    bench("offer", card="1", way=[SPLICE, PLUG, BRANCH])
    return bench


def ways(bench: Bench) -> tuple[Way, ...]:
    return bench.desk.read(lambda reader: reader.all(Way, order="id"))


def test_they_are_kept_with_their_prices_and_print_side_by_side(offered: Bench) -> None:
    splice, plug, branch = ways(offered)
    assert (splice.name, splice.repairs) == (
        "splice",
        ("splice-butt:joints=2,size_mm2=0.75,zone=under-tank",),
    )
    assert splice.words == ("Splice with a butt connector",)
    assert splice.total_minor < plug.total_minor < branch.total_minor
    assert splice.low_min <= splice.expected_min <= splice.high_min
    assert any(note.startswith("new connector: ") for note in offered.desk.notes)
    text = plain(paper_of(offered.desk, "ways", "1"))
    assert "Ways to choose from" in text
    for name in ("splice", "new connector", "new branch", "rotten joint", "no invoice", "Which one?"):
        assert name in text
    assert "%" not in text
    assert ("ways", "26-0001") in [(kind, paper.number) for kind, paper in papers_of(offered.desk, "1")]


def test_one_is_chosen_and_shown_on_the_estimate(offered: Bench) -> None:
    estimate: Estimate = offered("choose", card="1", way="NEW connector", by="Oona Mirek")
    splice, plug, _ = ways(offered)
    assert (plug.chosen_by, plug.chosen_on, plug.estimate) == ("Oona Mirek", offered.desk.today, estimate.id)
    assert estimate.total_minor == plug.total_minor
    assert splice.chosen_on is None
    assert any(note.startswith("Not chosen: splice") for note in offered.desk.notes)
    text = plain(paper_of(offered.desk, "estimate", "1"))
    assert "new connector (chosen)" in text
    assert "Chosen on 2 Mar 2026: new connector" in text
    assert "new branch" in text
    shown = card_text(card_view(offered.desk, "1"), offered.desk.clock)
    assert "chosen on 2026-03-02 by Oona Mirek" in " ".join(shown.split())
    assert "ways" not in [kind for kind, _ in papers_of(offered.desk, "1")]
    with pytest.raises(WrongUseError):
        offered("choose", card="1", way="new connector")


def test_another_one_may_be_chosen_until_the_first_is_begun(offered: Bench) -> None:
    offered("choose", card="1", way="splice")
    second: Estimate = offered("choose", card="1", way="new connector")
    splice, plug, _ = ways(offered)
    assert (splice.chosen_on, splice.planned, plug.planned) == (None, (), (2,))
    assert (second.revision, second.covers, second.total_minor) == (2, (2,), plug.total_minor)
    assert "No longer chosen: splice. Its repairs are dropped." in offered.desk.notes
    first, _ = in_order(offered.desk.facts(1).repairs)
    assert first.dropped == "“new connector” was chosen instead"
    offered("agree", card="1", limit="500")
    offered("start", card="1")
    with pytest.raises(WrongUseError, match="is begun already"):
        offered("choose", card="1", way="new branch")


def test_in_german_too(offered: Bench) -> None:
    offered("settings change", language="de")
    text = plain(paper_of(offered.desk, "ways", "1"))
    assert "Varianten zur Auswahl" in text
    assert "Verbindung mit Stoßverbinder" in " ".join(text.split())
    offered("choose", card="1", way="splice")
    assert "splice (gewählt)" in plain(paper_of(offered.desk, "estimate", "1"))


def test_the_finding_says_where_it_is_for_the_ways_too(bench: Bench) -> None:
    bench.booked()
    bench("finding", card="1", words="rotten joint", zone="under-tank")
    bench("offer", card="1", way=["splice = splice-butt:joints=2"])
    (splice,) = ways(bench)
    assert bench("choose", card="1", way="splice").total_minor == splice.total_minor
    assert not any("It was offered at" in note for note in bench.desk.notes)


def test_a_price_that_moved_since_is_said(offered: Bench) -> None:
    offered("settings change", labour_rate="90")
    offered("choose", card="1", way="splice")
    assert any("It was offered at" in note and "2026-03-02" in note for note in offered.desk.notes)


def test_new_ways_take_the_place_of_those_not_chosen(offered: Bench) -> None:
    offered("choose", card="1", way="splice")
    offered("offer", card="1", way=["lamp = lamp"])
    assert [(one.name, one.withdrawn) for one in ways(offered)] == [
        ("splice", False), ("new connector", True), ("new branch", True), ("lamp", False),
    ]  # fmt: skip
    # What is planned already is in it: the lamp is what it adds.
    lamp = ways(offered)[-1]
    assert 0 < lamp.more_minor < lamp.total_minor
    assert lamp.words == ("Lamp replaced",)


def test_what_cannot_be_offered_or_chosen_is_said(bench: Bench) -> None:
    bench.booked()
    with pytest.raises(NotFoundError):
        bench("choose", card="1", way="splice")
    with pytest.raises(NotFoundError):
        paper_of(bench.desk, "ways", "1")
    with pytest.raises(Mistakes) as caught:
        bench("offer", card="1", way=["lamp", "a = nothing"])
    assert {problem.field for problem in caught.value.problems} == {"way"}
    bench("offer", card="1", way=["a = lamp"])
    with pytest.raises(Mistakes):
        bench("choose", card="1", way="b")
    assert len(ways(bench)) == 1
