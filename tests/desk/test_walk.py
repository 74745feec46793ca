"""The walk: one bike through its whole life by the script that the demo plays."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from tracker.card.standing import Step
from tracker.card.step import standing
from tracker.desk.bike_loom import loom_of
from tracker.desk.replay import Played, Stage
from tracker.errors import StoreRefusedError
from tracker.papers.gather import PAPERS, paper_of
from tracker.papers.plain import plain
from tracker.records.facts import CardFacts
from tracker.seedfiles.door import SHIPPED
from tracker.seedfiles.script import load_script

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def stage(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Stage]:
    """The walk's stage, ready to play."""
    made = Stage(tmp_path_factory.mktemp("walk") / "walk.loomcard", load_script("walk"), TODAY)
    yield made
    made.close()


@pytest.fixture(scope="module")
def played(stage: Stage) -> list[tuple[Played, Step]]:
    """Every deed with the step the card stood at afterwards."""
    done = []
    for one in stage.play():
        facts = stage.desk.facts(1) if "card" in stage.names else None
        step = standing(facts, stage.desk.clock.now(), stage.desk.today).step if facts else Step.IN
        done.append((one, step))
    return done


@pytest.fixture(scope="module")
def facts(stage: Stage, played: list[tuple[Played, Step]]) -> CardFacts:
    """The card at the end."""
    del played
    return stage.desk.facts(1)


def test_the_card_goes_through_every_step_and_loops_once(played: list[tuple[Played, Step]]) -> None:
    seen = [step for _, step in played]
    order = [step for n, step in enumerate(seen) if n == 0 or seen[n - 1] is not step]
    assert order == [
        Step.IN, Step.LOOK, Step.PRICE, Step.AGREE, Step.FIX,
        Step.PRICE, Step.AGREE, Step.FIX,  # the second fault
        Step.TEST, Step.BILL, Step.PAID, Step.COLLECTED, Step.RECHECK,
    ]  # fmt: skip


def test_what_must_be_refused_is_refused(played: list[tuple[Played, Step]]) -> None:
    refused = [one.entry.verb for one, _ in played if one.refusal is not None]
    assert refused == ["start", "collect"]


def test_the_repair_is_where_it_was_done(facts: CardFacts) -> None:
    splice = facts.repairs[1]
    assert (splice.circuit, splice.wire_from, splice.mm, splice.mm_end) == (
        "left rear indicator", "rear-plug:left", 180, "rear-plug:left"
    )  # fmt: skip
    assert (splice.colour, splice.size_mm2, splice.splice, splice.pull_n, splice.pull_tested) == (
        "violet", 0.75, "butt connector", 110, True
    )  # fmt: skip


def test_the_money_adds_up(facts: CardFacts) -> None:
    deposit, invoice = facts.documents
    assert deposit.payable_minor == 10000
    assert invoice.payable_minor + deposit.payable_minor <= 37500
    assert (
        sum(part.amount_minor for part in facts.allocations) == invoice.payable_minor + deposit.payable_minor
    )
    for document in facts.documents:
        lines = [line for line in facts.document_lines if line.document == document.id]
        assert sum(line.net_minor for line in lines) == document.net_minor


def test_the_places_of_its_wire_are_places_of_the_loom(stage: Stage, facts: CardFacts) -> None:
    loom = stage.desk.read(lambda reader: loom_of(reader, SHIPPED, facts.bike))
    splice = facts.repairs[1]
    assert splice.wire_from in loom.places
    assert splice.wire_to in loom.places


def test_the_splice_is_a_new_place_on_that_wire(stage: Stage, facts: CardFacts) -> None:
    loom = stage.desk.read(lambda reader: loom_of(reader, SHIPPED, facts.bike))
    assert loom.unfinished == ()
    place = f"splice-{facts.repairs[1].id}"
    pieces = [wire for wire in loom.wires.values() if place in (wire.a.place, wire.b.place)]
    assert sorted(piece.length_mm for piece in pieces)[0] == 180


@pytest.mark.parametrize(
    "kind", [kind for kind in PAPERS if kind not in {"credit-note", "statement", "ways"}]
)
def test_every_paper_of_the_card_prints(stage: Stage, facts: CardFacts, kind: str) -> None:
    name = {"deposit": "DEP-26-0001", "invoice": "INV-26-0001"}.get(kind, facts.card.number)
    text = plain(paper_of(stage.desk, kind, name))
    assert max(len(line) for line in text.splitlines()) <= 80
    if kind == "invoice":
        assert "DEP-26-0001" in text


def test_the_statement_says_that_nothing_is_owed(stage: Stage, facts: CardFacts) -> None:
    assert "Oona" in plain(paper_of(stage.desk, "statement", "Oona Mirek-Tal"))


def test_nothing_of_it_stands_beside_an_existing_file(tmp_path: Path) -> None:
    path = tmp_path / "there.loomcard"
    path.write_text("mine", "utf-8")
    with pytest.raises(StoreRefusedError):
        Stage(path, load_script("walk"), TODAY)
    assert path.read_text("utf-8") == "mine"
