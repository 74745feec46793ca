"""`loomcard volts`: a falling line, the same as JSON, and what cannot be said in words."""

from tests.cli.conftest import Loomcard


def test_volts_fall_along_the_low_beams_circuit(loomcard: Loomcard) -> None:
    said = loomcard("volts", "low", "beam")
    assert said.code == 0
    lines = said.out.splitlines()
    assert lines[0] == "low beam, key on, low beam on"
    assert lines[1].startswith("works: ")
    assert "battery live post" in said.out
    assert lines[-1].startswith("Mind: ") or lines[-1].startswith("Or: ")
    drawn = lines[3 : lines.index("", 3)]
    assert {"┐", "└"} <= set("".join(drawn)), "it falls"
    assert max(map(len, lines[: lines.index("", len(drawn) + 4)])) <= 80
    assert "┤" not in loomcard("volts", "low", "beam", "--ascii").out


def test_a_poor_joint_is_tried_and_a_reading_stands_beside(loomcard: Loomcard) -> None:
    found = loomcard(
        "volts", "low-beam", "--joint", "left-plug:low=2", "--read", "headlamp:low=5,9", "--json"
    ).json
    assert found["works"] == "weak"
    assert found["load"] == "low-beam"
    worst = max(
        (step for step in found["steps"] if not step["is_load"]), key=lambda step: float(step["drop_v"])
    )
    assert worst["part"] == "left-plug:low"
    read = [step for step in found["steps"] if step["measured_v"] is not None]
    assert [step["measured_v"] for step in read] == [5.9, 5.9]
    assert not any(step["off"] for step in read)


def test_on_a_bike_of_its_own(loomcard: Loomcard) -> None:
    loomcard("book-in", "--customer", "A", "--make", "B", "--features", "earth=positive", "flat")
    steps = loomcard("volts", "tail lamp", "--bike", "1", "--json").json["steps"]
    assert min(step["volts_v"] for step in steps) < -11
    assert loomcard("volts", "tail lamp", "--bike", "9").code == 1


def test_another_state(loomcard: Loomcard) -> None:
    assert "rear brake" in loomcard("volts", "brake", "lamp", "--state", "rear-brake").out
    riding = loomcard("volts", "low-beam", "--state", "riding", "--json").json
    assert riding["steps"][0]["end"] == "regulator:live@in", "what feeds it is the charging output"


def test_what_cannot_be_is_said(loomcard: Loomcard) -> None:
    assert loomcard("volts", "xyzzy").code == 1
    assert "No circuit" in loomcard("volts", "horn", "--state", "key-on").err
    wrong = loomcard("volts", "horn", "--joint", "moon=1", "--joint", "frame=-1", "--json")
    assert wrong.code == 2
    assert len(wrong.json["error"]["fields"]) == 2
    assert loomcard("volts", "horn", "--joint", "x").code == 2
    assert loomcard("volts", "horn", "--state", "flying").code == 2
    assert loomcard("volts", "horn", "--read", "horn:feed=400").code == 2
    assert loomcard("volts").code == 2
