"""Names of the loom on papers in another language: said whole or part by part, a person's own left alone."""

import re
from dataclasses import replace

import pytest

from tests.loom.making import bike
from tests.papers import build
from tests.papers.test_tongue import OTHERS
from tracker.loom.facts import splice
from tracker.loom.lighting import light
from tracker.loom.pattern import apply_all
from tracker.loom.shares import sharing
from tracker.loom.sketch import NumberedRepair, sketch
from tracker.papers.charging import charging_paper
from tracker.papers.job_card import job_card
from tracker.papers.known import Known
from tracker.papers.loom_record import loom_record
from tracker.papers.loom_words import is_said, loom_words, pattern_words
from tracker.papers.pictured import in_words, spoken
from tracker.papers.plain import plain
from tracker.papers.tongue import speaking
from tracker.records.card import Symptom, SymptomKind
from tracker.seedfiles.loom import load_pattern
from tracker.seedfiles.readings import load_readings

PLACES = {place.id: place.words for place in load_pattern().places.values()}


@pytest.mark.parametrize("language", OTHERS)
def test_every_name_of_the_pattern_is_said(language: str) -> None:
    """What is missing prints in English; it is named here so that it gets its entry."""
    missing = sorted(words for words in pattern_words() if not is_said(words, language))
    assert missing == []


@pytest.mark.parametrize(
    ("english", "german"),
    [
        ("brake lamp", "Bremslicht"),
        ("right bar plug, ignition feed", "rechter Lenkerstecker, Zuleitung Zündung"),
        ("stator plug, way 3", "Statorstecker, Pol 3"),
        ("pump relay, 87", "Pumpenrelais, 87"),
        ("control box, D", "Reglerkasten, D"),
        ("rear multi-connector, tail", "Mehrfachstecker am Heck, Rücklicht"),
        ("splice in charging feed", "Spleißstelle in Ladeleitung"),
        ("splice in brake-run", "Spleißstelle in brake-run"),
        ("key on, engine stopped, in neutral", "Zündung ein, Motor steht, Leerlauf eingelegt"),
    ],
)
def test_a_name_is_said(english: str, german: str) -> None:
    assert loom_words(english) == english
    with speaking("de"):
        assert loom_words(english) == german


@pytest.mark.parametrize(
    "words",
    ["Brake lamp", "the brake lamp", "engine, horn", "horn of Nia's", "", ", ", "way {n}", "splice in "],
)
def test_what_the_pattern_does_not_call_something_stays(words: str) -> None:
    with speaking("de"):
        assert loom_words(words) == words


def test_a_name_without_an_entry_stays_whole_and_english(monkeypatch: pytest.MonkeyPatch) -> None:
    """Never half of it, and nothing falls over."""
    new = frozenset({"stator plug, gold pin", "flux sensor", "stator plug, way 9"})
    monkeypatch.setattr("tracker.papers.loom_words.pattern_words", lambda: new)
    assert sorted(one for one in new if not is_said(one, "de")) == ["flux sensor", "stator plug, gold pin"]
    with speaking("de"):
        said = {one: loom_words(one) for one in new}
    assert said == {
        "stator plug, gold pin": "stator plug, gold pin",
        "flux sensor": "flux sensor",
        "stator plug, way 9": "Statorstecker, Pol 9",
    }


def test_the_drawing_has_no_english_name() -> None:
    loom = bike("twin")
    loom = apply_all(loom, [splice(loom, "brake-run", "splice-1", 200)])
    lit = light(loom, sharing(loom), "brake lamp")
    assert lit is not None
    drawn = sketch(loom, lit, repairs=[NumberedRepair(1, ("splice-1",))])
    before = {spot.words for zone in drawn.zones for spot in zone.spots}
    with speaking("de"):
        said = spoken(drawn)
        text = in_words(said)
    after = {spot.words for zone in said.zones for spot in zone.spots}
    unchanged = {"stator", "dynamo"} | {word for word in after if word.startswith("Spleißstelle in ")}
    assert before & after <= unchanged
    assert len(after) > 20
    assert said.caption.startswith("Bremslicht: Zündung ein, ")
    assert "Zündschloss" in text
    assert spoken(drawn) is drawn


def test_papers_for_the_bench_and_the_owner() -> None:
    known = Known(kinds=load_readings(), places=PLACES)
    repair = replace(
        build.CONNECTOR, circuit="charging output", wire_from="regulator-plug:live", wire_to="main-fuse:in",
        mm_end="main-fuse:in",
    )  # fmt: skip
    symptom = Symptom(id=9, card=1, kind=SymptomKind.DEAD, load="rear left indicator", at=build.CAME)
    reading = replace(build.READINGS[6], place="regulator-plug:live")
    facts = replace(build.FACTS, repairs=(repair,), symptoms=(symptom,), readings=(reading,))
    facts = replace(facts, card=replace(facts.card, came_how="ridden"))
    with speaking("de"):
        card = flat(plain(job_card(facts, known=known)))
        record = flat(plain(loom_record(facts, known=known)))
        check = flat(plain(charging_paper([reading], shop=build.SHOP, card=build.CARD, known=known)))
    for text in (card, record, check):
        assert "Reglerstecker, Spannungsseite" in text
    assert "60 mm von Hauptsicherung, Batterieseite" in record
    assert "Ladeausgang" in record
    for said in ("Blinker hinten links", "bei der Annahme", "am Telefon", "gefahren"):
        assert said in card
    assert "at book in" not in card


def test_how_it_came_in_somebodys_own_words_stays() -> None:
    with speaking("de"):
        assert "in a van, would not start" in flat(plain(job_card(build.FACTS, known=build.KNOWN)))


def flat(text: str) -> str:
    return re.sub(r"\s+", " ", text)
