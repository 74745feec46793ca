"""`loomcard volts`: volts along a load's circuit with the load on, as a falling line."""

import dataclasses
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import click

from tracker.cli.context import Context
from tracker.cli.output import say, say_json
from tracker.cli.views import view
from tracker.desk.desk import Desk
from tracker.errors import NotFoundError
from tracker.records.problem import Mistakes, Problem

if TYPE_CHECKING:
    from tracker.loom.network import LoomSolution
    from tracker.loom.volts_along import AlongStep
    from tracker.records.loom import Device
    from tracker.records.loom_made import Loom
    from tracker.records.loom_pattern import State

MOST_OHM = 1e6
MOST_COLUMNS = 120
"""A wider line says no more."""


def _volts(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    from tracker.desk.bike_loom import loom_of
    from tracker.desk.bikes import bike_named

    named, seeds = given["bike"], desk.seeds
    show_volts(
        desk.read(lambda reader: loom_of(reader, seeds, bike_named(reader, named) if named else None)),
        context,
        given,
    )


def _volts_shipped(context: Context, given: dict[str, Any]) -> None:
    from tracker.loom.pattern import build
    from tracker.seedfiles.loom import load_pattern

    if given["bike"]:
        raise NotFoundError(f"There is no bike “{given['bike']}”: there is no file {context.path}.")
    show_volts(build(load_pattern(), {}), context, given)


def show_volts(whole: "Loom", context: Context, given: Mapping[str, Any]) -> None:
    """Volts along the circuit of the load named; open questions of the loom are answered as is usual."""
    from tracker.loom.find import find_loads
    from tracker.loom.network import solve_loom
    from tracker.loom.pattern import suppose
    from tracker.loom.volts_along import along

    loom = suppose(whole)
    joints, read = _pairs(given["joint"], "joint", "ohm"), _pairs(given["read"], "read", "volts")
    loom = _with_joints(loom, joints)
    name = " ".join(given["words"])
    hits = find_loads(loom, name)
    if not hits:
        raise NotFoundError(
            f"No load in the loom is called “{name}”.", "loomcard where --list names every part."
        )
    device = loom.devices[hits[0]]
    state = _state(loom, device, given["state"])
    seen = solve_loom(loom, state)
    rows = along(loom, device.id, seen, read)
    if not rows:
        raise NotFoundError(
            f"No circuit for {device.words}, with {state.words}.",
            f"It should work in: {', '.join(device.works) or 'no standard state'}.",
        )
    if context.as_json:
        say_json(_record(device, seen, rows))
        return
    say("\n".join(_text(device, seen, rows, plain=given["ascii"])))
    if len(hits) > 1:
        say(f"Or: {', '.join(loom.devices[other].words for other in hits[1:6])}")


def _state(loom: "Loom", device: "Device", named: str | None) -> "State":
    from tracker.loom.states import powered, standard

    states = standard(loom)
    wanted = named or next((name for name in device.works if name in states), "")
    if wanted not in states:
        raise Mistakes(
            [
                Problem(
                    "state", "There is no such state for this bike.", f"One of: {', '.join(states)}.", wanted
                )
            ]
        )
    return powered(loom, states[wanted])


def _pairs(texts: Sequence[str], field: str, unit: str) -> dict[str, float]:
    """`PLACE=NUMBER` as typed; every one that cannot be read is named."""
    found: dict[str, float] = {}
    problems: list[Problem] = []
    for text in texts:
        place, _, number = text.rpartition("=")
        try:
            found[place.strip()] = float(number.replace(",", "."))
        except ValueError:
            problems.append(Problem(field, f"“{text}” does not say PLACE={unit.upper()}.", given=text))
    if problems:
        raise Mistakes(problems)
    return found


def _with_joints(loom: "Loom", joints: Mapping[str, float]) -> "Loom":
    problems = []
    places = dict(loom.places)
    for place, ohm in joints.items():
        if place not in places:
            problems.append(Problem("joint", f"There is no place “{place}” in this loom.", given=place))
        elif not 0 <= ohm <= MOST_OHM:
            problems.append(
                Problem("joint", f"{ohm:g} ohm cannot be.", f"From 0 to {MOST_OHM:g} ohm.", f"{ohm:g}")
            )
        else:
            places[place] = dataclasses.replace(places[place], joint_ohm=ohm)
    if problems:
        raise Mistakes(problems)
    return dataclasses.replace(loom, places=places)


def _record(device: "Device", seen: "LoomSolution", rows: "Sequence[AlongStep]") -> dict[str, object]:
    loom, state = seen.network.loom, seen.network.state
    it = seen.loads[device.id]
    return {
        "load": device.id,
        "words": device.words,
        "state": state.id,
        "state_words": state.words,
        "works": it.word,
        "volts_v": it.volts_v,
        "share": it.share,
        "current_a": it.current_a,
        "flow": _flow(seen, device.id),
        "blows": seen.blows,
        "oscillates": seen.network.oscillating,
        "supposed": dict(loom.supposed),
        "cautions": _cautions(loom, device),
        "steps": [dataclasses.asdict(row) | {"end": str(row.end)} for row in rows],
    }


def _flow(seen: "LoomSolution", load: str) -> str:
    flow = seen.loads[load].flow
    return "AC" if seen.network.reads_ac and flow == "steady" else flow


def _cautions(loom: "Loom", device: "Device") -> list[str]:
    body = loom.bodies.get(device.body)
    named = (*device.cautions, *(body.cautions if body else ()))
    return [loom.known.cautions[name] for name in dict.fromkeys(named)]


def _text(device: "Device", seen: "LoomSolution", rows: "Sequence[AlongStep]", *, plain: bool) -> list[str]:
    from tracker.cli.loom_drawn import columns
    from tracker.loom.volts_chart import volts_chart
    from tracker.loom.volts_text import volts_table

    loom, it, flow = seen.network.loom, seen.loads[device.id], _flow(seen, device.id)
    kind = {"steady": "", "AC": " AC, rms", "pulses": " in pulses"}[flow]
    share = f"{100 * it.share:.0f} % of what it is made for"
    lines = [
        f"{device.words}, {seen.network.state.words}",
        f"{it.word}: {it.volts_v:.2f} V{kind} across it, {share}, {it.current_a:.2f} A",
    ]
    if flow == "pulses":
        lines.append("A meter does not read pulses as volts: the line below is only what is steady.")
    for fuse in seen.blows:
        lines.append(f"Blows: {loom.devices[fuse].words}.")
    for coil in seen.network.oscillating:
        lines.append(f"Goes on and off for ever: {loom.devices[coil].words}.")
    wide = min(columns(), MOST_COLUMNS)
    lines += ["", *volts_chart(rows, width=wide, ascii_only=plain), "", *volts_table(rows, wide), ""]
    lines.append("Against the battery's earthed post, load on; worked out, not measured.")
    lines += [f"Mind: {caution}" for caution in _cautions(loom, device)]
    return lines


volts = view(
    "volts",
    "Volts along a load's circuit with the load on: what a meter should read from place to place.",
    _volts,
    [
        click.Argument(["words"], nargs=-1, required=True, metavar="LOAD"),
        click.Option(["--bike"], metavar="N", help="On this bike; the general pattern when none is named."),
        click.Option(["--state"], metavar="STATE", help="In this state; the first in which it should work."),
        click.Option(["--joint"], multiple=True, metavar="PLACE=OHM", help="With this joint so poor."),
        click.Option(["--read"], multiple=True, metavar="PLACE=VOLTS", help="Beside what was read there."),
        click.Option(["--ascii"], is_flag=True, help="Draw with ASCII signs only."),
    ],
    without_file=_volts_shipped,
)
