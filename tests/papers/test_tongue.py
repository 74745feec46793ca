"""Papers in another language: every text of ours said, figures and dates as people there write them."""

import ast
import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import product
from pathlib import Path

import pytest

import tracker.papers
from tests.papers import billed, build
from tests.papers.einvoices import in_currency
from tests.papers.every import EVERY, of_document
from tracker.errors import WrongUseError
from tracker.loom.sketch import ELSEWHERE
from tracker.papers.cautions import for_the_bench
from tracker.papers.own_words import line_words, note_words, seed_words, sentence
from tracker.papers.plain import plain
from tracker.papers.say import amount, day, exact, number, odometer, plain_name, price
from tracker.papers.tongue import catalogue, languages, local_decimal, speaking, t
from tracker.records.bike import Earth
from tracker.records.billing import Why
from tracker.records.card import Phase, SymptomKind
from tracker.records.charging import ChargingWord
from tracker.records.limits import LimitClass, Word
from tracker.records.stock import WantedState
from tracker.seedfiles.charging import load_charging
from tracker.seedfiles.door import SHIPPED
from tracker.seedfiles.loom_tables import read_zones
from tracker.seedfiles.readings import load_readings
from tracker.seedfiles.rechecks import load_rechecks
from tracker.seedfiles.repairs import load_rules
from tracker.seedfiles.tables import electric_tables

OTHERS = [language for language in languages() if language != "en"]
HERE = Path(tracker.papers.__file__).parent


def said_in_code() -> Iterator[str]:
    """Every text that the code hands to `t` or marks for it."""
    for path in HERE.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if (
                isinstance(node, ast.Call)
                and isinstance(node.func, ast.Name)
                and node.func.id in {"t", "mark"}
            ):
                first = node.args[0]
                if isinstance(first, ast.Constant) and isinstance(first.value, str):
                    yield first.value


def said_by_value() -> Iterator[str]:
    """What records and seeds say that papers say on: kinds, states, cautions, readings."""
    for kinds in (SymptomKind, Phase, WantedState, Why, Earth):
        yield from (str(one) for one in kinds)
    yield from (kind.words for kind in load_readings().values())
    yield from (kind.words for kind in load_rechecks().values())
    for rule in load_rules().by_id.values():
        yield from (rule.words, plain_name(rule.id), *rule.cautions)
        yield from (plain_name(ask.name) for ask in rule.asks)
        yield from (choice for ask in rule.asks for choice in ask.choices if is_word(choice))
        yield from (part.unit for part in rule.parts if len(part.unit) > 2)
    whole, places = seed_words()
    yield from (*whole, *places)
    for feature, asked in SHIPPED.toml("loom/features.toml")["feature"].items():
        yield plain_name(feature)
        yield from (answer for answer in asked["values"] if is_word(answer))
    yield from (zone.words for zone in read_zones(SHIPPED, []).values())
    yield ELSEWHERE
    for row in load_charging().rows:
        yield from (row.reason, row.confidence)
    for verdicts in (ChargingWord, Word, LimitClass):
        yield from (str(one) for one in verdicts)
    answers = [{}, {"fuel": "carburettor", "abs": "no", "cooling": "air"}]
    for earth, battery, known in product(Earth, ("agm", "lithium"), answers):
        yield from for_the_bench(replace(build.BIKE, earth=earth, battery_kind=battery), known)
        yield from for_the_bench(replace(build.BIKE, volts=6, battery_kind=battery), known)
    yield from for_the_bench(None, {})


def is_word(text: str) -> bool:
    """Whether a choice is a word, and no size or figure."""
    return not any(map(str.isdigit, text))


@pytest.mark.parametrize("language", OTHERS)
def test_nothing_is_missing_from_a_catalogue(language: str) -> None:
    known = catalogue(language)
    missing = {text for text in (*said_in_code(), *said_by_value()) if text not in known}
    assert missing == set()


@pytest.mark.parametrize("language", OTHERS)
def test_a_said_text_has_the_same_places(language: str) -> None:
    for english, own in catalogue(language).items():
        assert sorted(re.findall(r"\{(\w+)\}", english)) == sorted(re.findall(r"\{(\w+)\}", own)), english


@pytest.mark.parametrize("language", OTHERS)
def test_no_sentence_of_a_catalogue_is_left_over(language: str) -> None:
    said = {*said_in_code(), *said_by_value()}
    sentences = {text for text in catalogue(language) if text.endswith(".") and " " in text}
    assert sentences - said == set()


@pytest.mark.parametrize("name", EVERY)
def test_no_english_is_left_on_a_german_paper(name: str) -> None:
    """Words that stand on the English paper and in no value: none of them is on the German one."""
    with speaking("de"):
        text = plain(EVERY[name]())
    english = {
        "Total",
        "Issued",
        "Received",
        "Owed",
        "Repair",
        "Reading",
        "Tax",
        "Paid",
        "Unit",
        "Made",
        "Quantity",
    }
    assert english & set(re.findall(r"[A-Za-z]+", text)) == set()
    assert text != plain(EVERY[name]())


def test_a_german_invoice() -> None:
    with speaking("de"):
        text = plain(of_document(billed.INVOICE))
    for seen in (
        "Rechnung ", "INV-26-0042", "06.03.2026", "Std.", "66,00", "Summe ohne Steuer", "205,00 EUR",
        "Steuer 20 % auf 178,16", "Zu zahlen bis 20.03.2026", "220,65 EUR", "41.230 km", "60,00 je 60",
        "0,0042",
    ):  # fmt: skip
        assert seen in text


def test_figures_for_machines_stay_as_they_are() -> None:
    with speaking("de"):
        assert exact(Decimal("1234.50")) == "1234.5"
        assert number(Decimal("1234.50")) == "1.234,5"


@pytest.mark.parametrize(
    ("minor", "currency", "english", "german"),
    [
        (1234567, "JPY", "1234567", "1.234.567"),
        (1234567, "EUR", "12345.67", "12.345,67"),
        (-1234567, "KWD", "-1234.567", "-1.234,567"),
        (5, "EUR", "0.05", "0,05"),
    ],
)
def test_currencies_of_no_two_and_three_decimals(
    minor: int, currency: str, english: str, german: str
) -> None:
    assert amount(minor, currency) == english
    with speaking("de"):
        assert amount(minor, currency) == german


@pytest.mark.parametrize(("currency", "payable"), [("JPY", "2299"), ("EUR", "2299.20"), ("KWD", "2299.200")])
def test_an_invoice_in_each_of_them(currency: str, payable: str) -> None:
    text = plain(of_document(in_currency(currency, ("1250.000", "333.000"))))
    assert f"{payable} {currency}" in text


def test_another_language_needs_only_its_locale() -> None:
    with speaking("de"):
        assert day(date(2026, 12, 3)) == "03.12.2026"
        assert odometer(41230, "km") == "41.230 km"
        assert price(Decimal(60), "EUR", Decimal(60)) == "60,00 je 60"
    assert local_decimal(Decimal("1234.5"), 2) == "1,234.50"


def test_the_programs_own_lines_are_said_and_peoples_are_not() -> None:
    with speaking("de"):
        assert line_words("Looking for the fault") == "Fehlersuche"
        assert line_words("Deposit DEP-26-0007 of 2026-03-03") == "Anzahlung DEP-26-0007 vom 03.03.2026"
        assert line_words("Lamp (customer's own, no guarantee)") == "Lamp (mitgebracht, ohne Gewähr)"
        assert line_words("Wire joined at the seat") == "Wire joined at the seat"
        assert sentence("About 180 EUR, and not past 220.50 EUR without a call.") == (
            "Etwa 180 EUR, und nicht über 220,50 EUR ohne Rückruf."
        )


@pytest.mark.parametrize(
    ("english", "german"),
    [
        ("Battery replaced", "Batterie ersetzt"),
        ("Off and on again: fuel tank, visit 2", "Aus- und Einbau: Kraftstofftank, 2. Mal"),
        ("open splice barrel for 2 x 0.75 mm²", "offene Crimphülse für 2 x 0,75 mm²"),
        ("connector, 3 ways, one half, not sealed", "Stecker, 3-polig, eine Hälfte, nicht abgedichtet"),
        ("blade 6.3 terminal for 2 mm²", "Flachkontakt 6,3 für 2 mm²"),
        ("plug pin terminal for 0.5 mm²", "Stiftkontakt für 0,5 mm²"),
        ("ignition coil for this bike", "Zündspule für dieses Motorrad"),
        ("Wire 0.75 mm² green/red", "Leitung 0,75 mm² grün/rot"),
        ("Wire 2.5 mm²", "Leitung 2,5 mm²"),
        ("horn (customer's own, no guarantee)", "Hupe (mitgebracht, ohne Gewähr)"),
    ],
)
def test_what_rules_and_tables_put_on_papers_is_said(english: str, german: str) -> None:
    assert line_words(english) == english
    with speaking("de"):
        assert line_words(english) == german


@pytest.mark.parametrize(
    "text", ["Nia's saddle for this bike", "ring bent for him", "battery replaced", "Battery replaced again"]
)
def test_what_only_looks_like_a_seeds_text_is_left_alone(text: str) -> None:
    with speaking("de"):
        assert line_words(text) == text


def test_a_name_is_no_word() -> None:
    with speaking("de"):
        said = note_words("Claim 7\nOf this the excess of 25.50 EUR is paid by Horn.\nhorn")
    assert said == "Claim 7\nDavon zahlt Horn die Selbstbeteiligung von 25,50 EUR.\nhorn"


def test_colours_of_wire_and_of_connectors_are_said_too() -> None:
    with speaking("de"):
        assert line_words("Wire 0.75 mm² green/black") == "Leitung 0,75 mm² grün/schwarz"
        assert line_words("Wire 0.75 mm² ours") == "Leitung 0,75 mm² ours"
        assert line_words("butt connector, red, for 0.75 mm²") == "Stoßverbinder, rot, für 0,75 mm²"
        named = {row.colour for row in electric_tables().colours}
        assert named <= set(catalogue("de"))


@pytest.mark.parametrize("text", ["{0}", "{name} {x!r}", "%s", "{{x}}"])
def test_what_a_person_wrote_is_no_pattern(text: str) -> None:
    assert t("Hello {name},", name=text) == f"Hello {text},"
    assert line_words(text) == text


def test_a_language_without_a_catalogue_is_refused() -> None:
    with pytest.raises(WrongUseError, match="no papers"), speaking("xx"):
        pass
