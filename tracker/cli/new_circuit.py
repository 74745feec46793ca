"""A new circuit or a conversion: what it needs, what it costs, what it does to the charging balance."""

from typing import Any

import click

from tracker.cli.context import Context
from tracker.cli.learned import wrapped
from tracker.cli.output import say, say_json
from tracker.cli.views import view
from tracker.desk.desk import Desk
from tracker.desk.new_circuit import NewCircuit, NewCircuitAsked, work_out_new
from tracker.desk.trying import tried_record
from tracker.electrics.arguments import Arguments
from tracker.electrics.catalogue_budget import read_loads, read_points
from tracker.papers.twins import table
from tracker.seedfiles.new_loads import load_new_loads


def _new_circuit(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    if given["list"]:
        _listed(desk, context)
        return
    found = work_out_new(desk, given["bike"], _asked(given))
    if context.as_json:
        say_json(record(found))
    else:
        say(text(found))
    if found.refused:
        raise click.exceptions.Exit(1)


def _listed(desk: Desk, context: Context) -> None:
    loads = load_new_loads(desk.seeds).values()
    if context.as_json:
        say_json({"loads": list(loads)})
        return
    rows = [(one.id, one.words, f"{one.load.value:g} {one.load.kind}", one.rule) for one in loads]
    say("\n".join(table(rows, (18, 0, 14, 10))))


def _asked(given: dict[str, Any]) -> NewCircuitAsked:
    arguments = Arguments()
    takes = read_loads(arguments, "takes", [f"it: {given['takes']}"]) if given["takes"] else []
    gives = read_points(arguments, given["gives"])
    if not given["load"]:
        arguments.wrong("load", "", "Which load?", "loomcard new-circuit N --list names them.")
    for name, least, most, unit in (
        ("length", 100, 6000, "mm"), ("control", 0, 4000, "mm"), ("earth", 0, 4000, "mm"),
        ("together", 1, 100, "wires"), ("switch_a", 0, 60, "A"), ("ambient", -40, 150, "°C"),
        ("alternator_w", 1, 3000, "W"),
    ):  # fmt: skip
        if given[name] is not None:
            arguments.number(name, given[name], least, most, unit)
    arguments.settle()
    return NewCircuitAsked(
        name=given["load"],
        to=given["to"] or "",
        load=takes[0].load if takes else None,
        feed=given["feed"] or "",
        keyed=given["keyed"],
        switch_a=given["switch_a"],
        length_mm=given["length"],
        control_mm=given["control"],
        earth_mm=given["earth"],
        ambient_c=given["ambient"],
        together=given["together"],
        gives=gives,
        alternator_w=given["alternator_w"],
    )


def record(found: NewCircuit) -> dict[str, Any]:
    """As JSON has it; `fits` is whether nothing speaks against it."""
    return {
        "load": found.load,
        "from": found.start,
        "to": found.goal,
        "length_mm": found.length_mm,
        "circuit": found.circuit,
        "repair": found.repair,
        "estimate": tried_record(found.tried) if found.tried else None,
        "balance": found.balance,
        "balance_words": found.balance_words,
        "fits": not found.refused,
        "refused": found.refused,
    }


def text(found: NewCircuit) -> str:
    """The circuit, the balance, the estimate, and first of all what speaks against it."""
    circuit, load = found.circuit, found.load
    lines = [f"{load.words[:1].upper()}{load.words[1:]}"]
    for words in found.refused:
        lines += wrapped(f"REFUSED: {words}")
    if circuit is not None and circuit.wire is not None:
        relay = "with a relay" if circuit.relay else "without a relay"
        head = (
            f"From {found.start} to {found.goal}, {found.length_mm} mm: {circuit.current_a:.1f} A,"
            f" {circuit.wire_name}, fuse {circuit.fuse_a:g} A ({circuit.fuse_colour}), {relay}."
        )
        lines += wrapped(head)
        lines += [f"  {line}" for words in circuit.why for line in wrapped(words)]
    lines += [line for words in found.balance_words for line in wrapped(words)]
    if found.tried is not None:
        tried = found.tried
        expected, range_ = tried.worked.result.minutes.expected, tried.worked.result.band
        lines += [
            f"Time: expected {expected} min, {range_.low} to {range_.high} in 8 of 10.",
            f"Total with tax {tried.total} {tried.total.currency}. {tried.customer}",
            *(line for words in tried.notes for line in wrapped(words)),
            f'On a card: loomcard estimate N --repair "{found.repair}"',
        ]
    if circuit is not None:
        lines += [line for words in circuit.cautions for line in wrapped(words)]
    return "\n".join(lines)


def _option(name: str, help_text: str, kind: Any = None, **more: Any) -> click.Option:
    return click.Option([name], type=kind, help=help_text, **more)


new_circuit = view(
    "new-circuit",
    "What a new load or an LED conversion needs and costs on a bike, and whether the alternator feeds it.",
    _new_circuit,
    [
        click.Argument(["bike"], metavar="BIKE"),
        click.Argument(["load"], metavar="LOAD", required=False),
        click.Option(["--list"], is_flag=True, help="Name the loads."),
        _option("--to", "Where it goes: a place, a part or a zone of the loom.", metavar="PLACE"),
        _option(
            "--takes",
            "What it takes, if not the usual: “7 A”, “90 W”, “4 ohm”, “lamp 110 W”.",
            metavar="TEXT",
        ),
        _option(
            "--feed", "A fuse of the loom to hang it on; the battery when none is named.", metavar="FUSE"
        ),
        click.Option(["--keyed/--always", "keyed"], default=None, help="Off with the key, or always live."),
        _option("--switch-a", "What its switch carries, in amperes.", float),
        _option("--length", "Another length than the loom's, in mm.", int),
        _option("--control", "Length of a relay's control wire, in mm.", int),
        _option("--earth", "Length of its earth wire, in mm.", int),
        _option("--ambient", "Air around the wire, in °C.", float),
        _option("--together", "Loaded wires that it lies among.", int),
        _option("--alternator-w", "The alternator's rated watts.", float),
        _option("--gives", "What it was measured to give: “6 A at 1200”.", multiple=True, metavar="TEXT"),
    ],
)
