"""`loomcard trace`: the keys of its JSON, its words, and what cannot be, said."""

from pathlib import Path

from tests.cli.conftest import Loomcard

KEYS = {"suspects", "next", "expected_minutes", "lower_bound_minutes", "proved_best", "problems"}


def test_json_has_suspects_and_the_next_check(loomcard: Loomcard) -> None:
    found = loomcard("trace", "--dead", "tail-light", "--works", "brake-light,horn", "--json").json
    assert set(found) >= KEYS
    first = found["suspects"][0]
    assert (first["element"], first["fault"], first["zone"]) == ("tail-light", "bulb", "tail")
    assert sum(one["share"] for one in found["suspects"]) <= 1.001
    assert set(found["next"]) >= {"kind", "place", "state", "access", "minutes", "expect"}
    assert found["next"]["state"]
    assert len(found["next"]["expect"]) >= 2
    assert 0 < found["lower_bound_minutes"] <= found["expected_minutes"]
    assert found["problems"] == []


def test_a_reading_moves_it_on(loomcard: Loomcard) -> None:
    dead = ("trace", "--dead", "tail-light", "--works", "brake-light")
    before = loomcard(*dead, "--json").json
    after = loomcard(*dead, "--reading", "tail-light=whole", "--json").json

    def share(found: dict[str, object]) -> float:
        suspects = found["suspects"]
        assert isinstance(suspects, list)
        return float(sum(one["share"] for one in suspects if one["fault"] == "bulb"))

    assert share(after) < 0.25 * share(before)
    assert after["readings"][0]["kind"] == "look at a bulb"


def test_words_for_a_person(loomcard: Loomcard) -> None:
    said = loomcard("trace", "--dead", "tail-light", "--works", "brake-light")
    assert said.code == 0
    assert said.out.startswith("It can be")
    assert "Next " in said.out
    assert "min)" in said.out
    assert "to the end" in said.out


def test_a_card_keeps_its_trail(loomcard: Loomcard) -> None:
    card = loomcard(
        "book-in", "--customer", "A", "--make", "Halden", "--dead", "tail-light", "tail lamp dead", "--json"
    ).json
    number = str(card["card"]["number"]) if "card" in card else "1"
    loomcard("look", number, "--works", "brake-light", "--off", "seat")
    assert loomcard("probe", number, "tail-light", "whole", "position", "--check", "look at a bulb").code == 0
    found = loomcard("trace", "--card", number, "--json").json
    assert [mark["load"] for mark in found["marks"]] == ["tail-light", "brake-light"]
    assert found["readings"][0]["outcome"] == "whole"
    assert "seat" not in (found["next"] or {"access": []})["access"]
    loomcard("doubt", number, "1")
    assert loomcard("trace", "--card", number, "--json").json["readings"][0]["doubted"] is True
    loomcard("bar", number, "tail")
    barred = loomcard("trace", "--card", number, "--json").json
    assert not str(barred["next"]["place"]).startswith("tail-lamp")


def test_several_symptoms_and_a_condition(loomcard: Loomcard) -> None:
    found = loomcard("trace", "--dead", "low-beam", "--when", "at full lock", "--json").json
    assert found["suspects"][0]["what"] == "wire"
    found = loomcard("trace", "--with", "turn-rear-right=turn-rear-left", "--json").json
    assert found["marks"][0]["other"] == "turn-rear-left"
    found = loomcard("trace", "--flat", "--json").json
    assert found["suspects"][0]["element"] == "battery-cells"
    hazard = loomcard(
        "trace", "--dead", "turn-left", "--works", "hazard", "--features", "hazard=yes", "--json"
    )
    assert "turn-left-contact" in [one["element"] for one in hazard.json["suspects"][:3]]


def test_what_cannot_be_is_said_and_the_rest_goes_on(loomcard: Loomcard) -> None:
    said = loomcard(
        "trace", "--dead", "tail-light,tale-lihgt", "--works", "tail-light", "--reading",
        "tail-lamp:tail=40@position", "--reading", "tail-lamp:tail=-9@position",
        "--reading", "moon=1@position", "--reading", "x", "--off", "wheels", "--when", "sundays", "--json",
    )  # fmt: skip
    assert said.code == 0
    sentences = " ".join(one["sentence"] for one in said.json["problems"])
    assert "40 V cannot be there" in sentences
    assert "-9 V cannot be there" in sentences
    assert "“tale-lihgt”" in sentences
    assert "“moon”" in sentences
    assert "Both “dead” and “works”" in sentences
    assert "does not say PLACE=VOLTS@STATE" in sentences
    assert any("tail-light" in one["hint"] for one in said.json["problems"])
    assert said.json["suspects"]


def test_without_anything_said_it_asks(loomcard: Loomcard) -> None:
    assert "say what is wrong" in loomcard("trace").out
    assert loomcard("trace", "--bike", "9").code == 1
    assert loomcard("trace", "--card", "9").code in {1, 3}
    assert loomcard("trace", "--features", "x", "--dead", "horn").code == 2


def test_the_trail_is_a_paper_as_text_as_pdf_and_in_german(loomcard: Loomcard, tmp_path: Path) -> None:
    loomcard("book-in", "--customer", "A", "--make", "Halden", "--dead", "tail-light", "tail lamp dead")
    assert "Nothing was checked yet." in loomcard("paper", "trail", "1").out
    assert "trail" not in [one["kind"] for one in loomcard("paper", "all", "1", "--json").json["papers"]]
    loomcard("probe", "1", "tail-light", "whole", "position", "--check", "look at a bulb")
    loomcard("probe", "1", "tail-lamp:tail@in", "12,3", "position")
    said = loomcard("paper", "trail", "1").out
    assert "Why looking took" in said
    assert "look at the bulb:" in said
    assert "12.3 V" in said
    assert "still can be" in said
    assert "trail" in [one["kind"] for one in loomcard("paper", "all", "1", "--json").json["papers"]]
    pdf = tmp_path / "trail.pdf"
    assert loomcard("paper", "trail", "1", "--pdf", str(pdf)).code == 0
    assert pdf.read_bytes().startswith(b"%PDF")
    loomcard("settings", "change", "--language", "de")
    german = loomcard("paper", "trail", "1").out
    assert "Warum die Suche" in german
    assert "12,3 V" in german
    assert "still can be" not in german
    assert loomcard("paper", "trail", "9").code == 1
