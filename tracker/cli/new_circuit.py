"""A new circuit or a conversion: what it needs, what it costs, what it does to the charging balance."""

from typing import Any

import click

from tracker.cli.context import Context
from tracker.cli.output import say, say_json
from tracker.cli.views import view
from tracker.desk.desk import Desk
from tracker.desk.new_circuit import NewCircuit, NewCircuitAsked, work_out_new
from tracker.desk.new_circuit_asked import LIMITS, asked_from
from tracker.desk.trying import tried_record
from tracker.papers.new_circuit_text import new_circuit_text
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
        say(new_circuit_text(found))
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
    typed = {name: given[name] or "" for name in ("to", "feed", "takes")}
    figures = {name: given[name] for name in LIMITS}
    return asked_from(given["load"] or "", typed, figures, gives=given["gives"], keyed=given["keyed"])


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
