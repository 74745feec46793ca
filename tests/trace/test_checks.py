"""Checks: what each costs, what it gives under each suspect, and how it is said."""

import pytest

from tests.trace.making import bench, dead, mark, tables, weak, works
from tracker.loom.network_ports import word
from tracker.records.card import SymptomKind
from tracker.records.trace import CheckWord, Mark, TraceReading
from tracker.trace.bench import SOUND, Row
from tracker.trace.check import Check, check
from tracker.trace.deciding import decide
from tracker.trace.expect import likelihood, numbers, outcomes
from tracker.trace.finding import proof, proposals
from tracker.trace.offering import PARTED
from tracker.trace.parts import Single
from tracker.trace.shown import acted, plainly, words
from tracker.trace.trace import Trace, begin, reading_of
from tracker.trace.words import cautions, expected, sentence


def made(kind: CheckWord, place: str, state: str, against: str = "", load: str = "") -> Check:
    twin = bench("twin")
    return check(twin.loom, tables(), kind, place, twin.states[state], against=against, load=load)


def row(what: str, id_: str, fault: str) -> Row:
    found = next(one for one in bench("twin").every if one.part == (what, id_) and one.fault == fault)
    return Row((found,))


def started(*marks: Mark, name: str = "twin") -> Trace:
    return begin(bench(name).whole, tables(), bench=bench(name)).marked(*marks)


OPEN, WEAK = row("wire", "tail-run", "open"), row("place", "tail-lamp:tail", "weak")


def test_what_has_to_come_off_comes_from_the_loom_with_all_it_needs() -> None:
    assert made("volts", "battery:live@in", "position").needs == {"seat", "battery-cover"}
    assert made("volts", "frame@in", "position").needs >= {"tank", "seat"}
    assert (
        made("see", "tail-light", "position").minutes < made("volts", "tail-lamp:tail@in", "position").minutes
    )


def test_a_lever_that_has_to_be_held_takes_somebody_else() -> None:
    plain, held = (
        made("volts", "tail-lamp:brake@in", "position"),
        made("volts", "tail-lamp:brake@in", "rear-brake"),
    )
    assert (plain.hands, held.hands) == (1, 2)
    assert held.minutes > plain.minutes


def test_volts_before_and_after_a_break() -> None:
    twin = bench("twin")
    before, after = (
        made("volts", "right-plug:tail@in", "position"),
        made("volts", "tail-lamp:tail@in", "position"),
    )
    assert numbers(twin, before, (OPEN, SOUND)).tolist() == pytest.approx([12.4, 12.3], abs=0.3)
    assert numbers(twin, after, (OPEN, SOUND)).tolist() == pytest.approx([0.0, 12.3], abs=0.3)
    assert outcomes(twin, before, (OPEN, SOUND)) == (0, 0), "ahead of the break it tells nothing"
    assert len(set(outcomes(twin, after, (OPEN, SOUND)))) == 2


def test_a_drop_across_the_joint_shows_a_poor_one_only_with_current() -> None:
    twin = bench("twin")
    with_current = made("drop", "headlamp:low@in", "head-low", against="headlamp:low@out")
    without = made("drop", "headlamp:low@in", "key-on", against="headlamp:low@out")
    poor = row("place", "headlamp:low", "weak")
    assert numbers(twin, with_current, (poor,))[0] > 1.0
    assert numbers(twin, with_current, (SOUND,))[0] < 0.1
    assert numbers(twin, without, (poor,))[0] < 0.01


def test_one_probe_at_the_foot_proves_feed_and_load_together() -> None:
    twin = bench("twin")
    foot = made("volts at the foot", "horn:out@in", "key-on", load="horn-winding")
    dead_horn, dead_earth = (
        row("device", "horn-winding", "open"),
        row("device", "horn-button-earth", "stuck open"),
    )
    volts = numbers(twin, foot, (SOUND, dead_earth, dead_horn)).tolist()
    assert volts[0] > 12
    assert volts[1] == pytest.approx(volts[0]), "the button side is not asked"
    assert volts[2] < 0.1


def test_a_bridged_switch_a_swapped_relay_and_a_lead_to_earth() -> None:
    twin = bench("twin")
    bad_switch = row("device", "horn-button-earth", "stuck open")
    bridge = made("bridge a switch", "horn-button-earth", "horn", load="horn-winding")
    assert words(twin, bridge, (bad_switch, row("device", "horn-winding", "open"))) == ["works", "dead"]
    neutral = row("device", "neutral-contact", "stuck open")
    lead = made("earth the lead", "neutral-switch:lead@out", "key-on", load="neutral-lamp")
    assert words(twin, lead, (neutral, row("device", "neutral-lamp", "bulb"))) == ["works", "dead"]
    swap = made("swap a relay", "starter-relay", "start-neutral")
    coil = row("device", "starter-relay-coil", "open")
    assert words(twin, swap, (coil, neutral)) == ["cured", "no change"]
    click = made("click", "starter-relay-coil", "start-neutral", load="starter-relay-coil")
    assert words(twin, click, (SOUND, coil)) == ["clicks", "silent"]


def test_a_lamp_for_the_fuse_burns_bright_on_a_short_only() -> None:
    twin = bench("twin")
    lamp = made("lamp for the fuse", "fuse-tail", "position")
    short, blown = row("wire", "tail-run", "to frame"), row("device", "fuse-tail", "blown")
    assert words(twin, lamp, (short, blown, OPEN))[:2] == ["bright", "dim"]
    hunt = made("unplug", "rear-plug", "position", load="fuse-tail")
    behind = row("wire", "tail-joint-lamp", "to frame")
    assert words(twin, hunt, (behind,)) == ["dim"], "the short is behind the plug that is parted"
    assert words(twin, hunt, (short, row("wire", "tail-switched", "to frame")))[1] == "bright"


def test_looks() -> None:
    twin = bench("twin")
    fuse = made("look at a fuse", "fuse-tail", "position")
    short = row("wire", "tail-run", "to frame")
    assert words(twin, fuse, (short, OPEN, row("device", "fuse-tail", "blown"))) == [
        "blown",
        "whole",
        "blown",
    ]
    bulb = made("look at a bulb", "tail-light", "position")
    assert words(twin, bulb, (row("device", "tail-light", "bulb"), OPEN)) == ["broken", "whole"]
    plug = made("look at a plug", "rear-plug", "position")
    assert words(twin, plug, (row("place", "rear-plug:tail", "open"), WEAK)) == ["bad", "good"]


def test_a_drain_shows_across_the_fuse_with_everything_off() -> None:
    twin = bench("twin")
    fuse = made("drop across a fuse", "main-fuse-link", "off")
    leak, sound = numbers(twin, fuse, (row("device", "regulator-output", "leaks"), SOUND)).tolist()
    assert leak > 0.3
    assert sound == 0.0


def test_ac_volts_pair_by_pair_show_a_winding_that_is_open() -> None:
    twin = bench("twin")
    pair = made("AC volts", "stator-plug:u@in", "riding", against="stator-plug:v@in")
    broken, sound = numbers(twin, pair, (row("device", "stator-uv", "open"), SOUND)).tolist()
    assert sound > 5
    assert broken < 0.95 * sound


def test_a_reading_is_likely_where_it_was_expected() -> None:
    twin = bench("twin")
    probe = made("volts", "tail-lamp:tail@in", "position")
    twelve = TraceReading(kind="volts", place="tail-lamp:tail@in", state="position", value=12.3)
    nothing = TraceReading(kind="volts", place="tail-lamp:tail@in", state="position", value=0.0)
    at_12, at_0 = (likelihood(twin, probe, one, (OPEN, SOUND))[0].tolist() for one in (twelve, nothing))
    assert (at_12[1] > 0.3, at_12[0] < 0.05) == (True, True)
    assert (at_0[0] > 0.3, at_0[1] < 0.05) == (True, True)


def test_a_poor_joint_may_be_poorer_than_supposed() -> None:
    twin = bench("twin")
    probe = made("volts", "headlamp:low@out", "head-low")
    poor = row("place", "headlamp:low", "weak")
    expected_v = float(numbers(twin, probe, (poor,))[0])
    read = TraceReading(kind="volts", place="headlamp:low@out", state="head-low", value=expected_v - 1.5)
    joint, sound = likelihood(twin, probe, read, (poor, SOUND))[0].tolist()
    assert joint > 5 * sound


def test_the_battery_s_own_volts_are_taken_into_account() -> None:
    low = [
        TraceReading(kind="battery volts", place="battery:live@in", against="battery:earthed@out",
                     state="position", value=12.0),
        TraceReading(kind="volts", place="tail-lamp:tail@in", state="position", value=11.7),
    ]  # fmt: skip
    trace = started(*dead("tail-light"), *works("brake-light")).read(*low)
    assert not trace.weighed.contradicted
    assert trace.weighed.suspects[0].theory[0].part[1] == "tail-light"


def test_the_sentence_says_what_off_where_the_probes_and_who_holds_what() -> None:
    twin = bench("twin")
    said = sentence(twin, made("volts", "tail-lamp:brake@in", "rear-brake"))
    assert said == (
        "Lamp lens off; key on, rear brake pressed; red probe on tail lamp, brake (incoming side), black on "
        "the battery's earthed post; somebody else holds it."
    )
    assert (
        sentence(twin, made("volts", "tail-lamp:brake@in", "rear-brake"), frozenset({"tail-lens"}))[0] == "K"
    )
    every = {
        sentence(twin, made(kind, "fuse-tail", "position", load="tail-light")) for kind in tables().checks
    }
    assert len(every) == len(tables().checks)


def test_cautions_stand_beside_the_check() -> None:
    twin = bench("twin")
    assert any(
        "Crank for 5 s" in one
        for one in cautions(twin, made("volts", "starter-motor:stud@in", "start-neutral"))
    )
    plug = cautions(twin, made("volts", "rear-plug:tail@in", "position"))
    assert any("probe from the back" in one for one in plug)
    box = cautions(twin, made("volts", "ignition-box:feed@in", "key-on"))
    assert any("No filament test lamp" in one for one in box)
    pulses = cautions(twin, made("volts", "ignition-coil-1:switched@in", "idle", load="coil-1"))
    assert any("volts cannot tell" in one for one in pulses)
    assert any("uprated" in one for one in cautions(twin, made("look at a fuse", "fuse-tail", "position")))


def test_what_to_expect_names_the_suspects_behind_each_outcome() -> None:
    trace = started(*dead("tail-light"), *works("brake-light", "plate-light"))
    suspects = trace.now.suspects
    groups = expected(trace.bench, made("look at a bulb", "tail-light", "position"), suspects)
    assert [one.outcome for one in groups] == ["broken", "whole"]
    assert sum(one.share for one in groups) == pytest.approx(1)
    volts = expected(trace.bench, made("volts", "tail-lamp:tail@in", "position"), suspects)
    assert any("battery less" in one.outcome for one in volts)


def test_every_offered_check_parts_the_classes_it_is_offered_for() -> None:
    now = started(*weak("low-beam"), *works("high-beam")).now
    assert len(now.classes) > 2
    assert now.offered
    for one in now.offered:
        rows = tuple(some.suspects[0].row for some in now.classes)
        assert len(set(outcomes(bench("twin"), one, rows))) > 1, one.id


def test_what_is_already_off_costs_nothing_and_free_looks_come_first() -> None:
    trace = started(*dead("low-beam", "horn-winding"))
    shut, opened = trace.now, trace.opened_up("tank", "headlamp", "right-panel", "tail-unit").now
    assert opened.expected_minutes < shut.expected_minutes
    assert opened.next is not None
    same = decide(trace.bench, trace.weighed.suspects, opened.offered, trace.opened_up("tank").opened)
    assert same.plan.expected_minutes >= opened.expected_minutes - 1e-9


def test_what_was_found_asks_for_its_repair_and_its_proof() -> None:
    trace = started(*dead("tail-light"), *works("brake-light", "plate-light"))
    for _ in range(12):
        one = trace.now.next
        if one is None:
            break
        trace = trace.read(_answered(trace, one, row("place", "tail-lamp:tail", "open")))
    assert trace.now.found is not None
    (repair,) = proposals(trace.bench, trace.now.found, trace.marks)
    assert repair.rules[0] == "lamp" or "component" in repair.rules
    assert repair.circuit == "tail lamp circuit"
    assert repair.zone == "tail"
    asked = proof(trace.bench, tables(), Single(("place", "tail-lamp:tail"), "open"), trace.marks)
    assert asked is not None
    assert asked.check.kind == "drop"
    assert 0.1 <= asked.most_v < 0.3
    assert proof(trace.bench, tables(), Single(("device", "tail-light"), "bulb"), trace.marks) is None


def _answered(trace: Trace, one: Check, truth: Row) -> TraceReading:
    if one.metered:
        return reading_of(one, value=float(numbers(trace.bench, one, (truth,))[0]))
    return reading_of(one, outcome=words(trace.bench, one, (truth,))[0])


def test_every_kind_of_part_has_its_repair() -> None:
    from tracker.seedfiles.repairs import load_rules
    from tracker.trace.deciding import SuspectClass
    from tracker.trace.suspects import Suspect

    known = {rule.id for rule in load_rules()}
    for single in bench("four").every:
        found = SuspectClass((Suspect((single,), Row((single,)), 1.0),), 1.0)
        (repair,) = proposals(bench("four"), found, (mark("tail-light", SymptomKind.DEAD),))
        assert repair.rules, single
        assert set(repair.rules) <= known, single
    assert word(bench("four").loom.devices["horn-winding"], 0.0) == "dead"


@pytest.mark.parametrize("name", ["twin", "old six", "four"])
def test_a_hunt_planned_by_what_hangs_together_is_as_the_network_has_it(name: str) -> None:
    """A 21 W lamp for the fuse, each plug parted: the word for every short that blows it, both ways.

    What never comes to rest (a flasher that clicks on through the lamp) has no one word.
    """
    tested = bench(name)
    shorts = [Row((one,)) for one in tested.every if one.fault == "to frame"]
    blows = tested.view("position", shorts).blows
    fuse = max(sorted({f for some in blows for f in some}), key=lambda f: sum(f in some for some in blows))
    mine = tuple(row for row, some in zip(shorts, blows, strict=True) if fuse in some)
    assert len(mine) > 5
    parted = 0
    for body in sorted({one.body for one in tested.loom.places.values() if one.body and one.kind in PARTED}):
        hunt = check(tested.loom, tables(), "unplug", body, tested.states["position"], load=fuse)
        exact, planned = words(tested, hunt, mine), words(tested, hunt, plainly(tested, hunt, mine))
        restless = tested.view("position", acted(tested, hunt, mine)).oscillating
        assert {n for n in range(len(mine)) if exact[n] != planned[n]} <= set(restless), body
        assert len(restless) < len(mine) / 4
        parted += len(set(planned)) > 1
    assert parted >= 2
