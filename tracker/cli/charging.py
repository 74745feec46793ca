"""`loomcard charging`: the charging check of a card, with readings given beside it; `loomcard readings`."""

import json
import re
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import click

from tracker.cli.build import merged, shared_options
from tracker.cli.context import Context
from tracker.cli.output import say, say_json
from tracker.cli.readings_json import reading_record, verdict_record
from tracker.desk.charging import ChargingCheck, charging_check
from tracker.desk.desk import Desk
from tracker.desk.show import card_or_bike
from tracker.desk.take_charging import readings_given
from tracker.errors import WrongUseError
from tracker.papers.charging_text import check_text
from tracker.records.card import Phase
from tracker.records.charging import ChargingStep
from tracker.records.problem import Mistakes, Problem
from tracker.seedfiles.charging import load_charging

_STOOD = re.compile(r"(.+?)\s+after\s+([\d.,]+)\s*h(?:ours?)?", re.IGNORECASE)
_AT = re.compile(r"(.+?)\s+at\s+(.+)", re.IGNORECASE)
APART = ("card", "phase", "state", "conditions", "readings")
"""What a file of readings may hold beside readings by their names."""


def _charging(**given: Any) -> None:
    context = merged(click.get_current_context(), given)
    steps = load_charging().steps
    from_file = _file(given["from_file"]) if given["from_file"] else {}
    card = given["card"] or str(from_file.get("card", ""))
    if not card:
        raise Mistakes([Problem("card", "Which card?", "--card 26-0412")])
    phase = Phase.AFTER if given["after"] else Phase(_phase(from_file))
    taken = [*_from_file(from_file, steps), *_from_options(given, steps)]
    with context.desk() as desk:
        notes: tuple[str, ...] = ()
        number = desk.read(lambda reader: card_or_bike(reader, card)).number
        if taken:
            deed = readings_given(number, taken, phase, desk.where)
            desk.do(deed, given["token"])
            notes = desk.notes
        _show(desk, context, number, notes)


def _show(desk: Desk, context: Context, card: str, notes: Sequence[str]) -> None:
    check = charging_check(desk, card)
    if context.as_json:
        say_json({**check_record(check), "notes": list(notes)})
    else:
        say("\n".join([*(f"  ! {note}" for note in notes), check_text(check)]))


def check_record(check: ChargingCheck) -> dict[str, Any]:
    """The check for JSON; numbers are finite, OL stands in the words of a reading."""
    after = None if check.after is None else verdict_record(check.after)
    return {
        "card": check.facts.card.number,
        "bike": {
            "volts": check.bike.volts,
            "battery": check.bike.battery,
            "alternator": check.bike.alternator,
            "earth": check.bike.earth,
            "sense": check.bike.sense,
            "own_figures": check.bike.own,
        },
        "unsaid": check.unsaid,
        "steps": [
            {
                "step": taken.step,
                "before": [one.id for one in taken.before],
                "after": [one.id for one in taken.after],
            }
            for taken in check.steps
        ],
        "readings": [reading_record(one, check.judged.get(one.id)) for one in check.facts.readings],
        "before": verdict_record(check.before),
        "after": after,
    }


def _file(name: str) -> dict[str, Any]:
    try:
        text = sys.stdin.read() if name == "-" else Path(name).expanduser().read_text("utf-8")
        found = json.loads(text)
    except (OSError, ValueError) as error:
        raise Mistakes([Problem("from", f"The file could not be read: {error}.", given=name[:60])]) from error
    if not isinstance(found, dict):
        raise Mistakes(
            [Problem("from", "A JSON object is expected.", '{"standing_volts": "12.8"}', name[:60])]
        )
    return found


def _phase(raw: Mapping[str, Any]) -> str:
    said = str(raw.get("phase", Phase.BEFORE))
    if said not in tuple(Phase):
        raise Mistakes([Problem("phase", "Before or after?", given=said[:60])])
    return said


def _from_file(raw: Mapping[str, Any], steps: Sequence[ChargingStep]) -> list[dict[str, object]]:
    """Readings of a file: a list under `readings`, and single ones by a step's or a kind's name."""
    listed = raw.get("readings", [])
    if not isinstance(listed, list) or not all(isinstance(one, dict) for one in listed):
        raise Mistakes(
            [Problem("readings", "A list of readings is expected.", '[{"kind": ..., "value": ...}]')]
        )
    found: list[dict[str, object]] = [dict(one) for one in listed]
    kinds = {step.kind for step in steps}
    by_id = {step.id: step for step in steps}
    problems = []
    for name, value in raw.items():
        if name in APART:
            continue
        plain = name.replace("_", "-")
        if plain not in by_id and name not in kinds:
            known = ", ".join([*by_id, *sorted(kinds)])
            problems.append(Problem(name[:60], "There is no such reading here.", f"One of: {known}."))
            continue
        step = by_id.get(plain)
        for one in value if isinstance(value, list) else [value]:
            found.append(_reading(step.kind if step else name, step.place if step else "", one))
    if problems:
        raise Mistakes(problems)
    return [_with(raw, one) for one in found]


def _reading(kind: str, place: str, value: object) -> dict[str, object]:
    more = dict(value) if isinstance(value, Mapping) else {"value": value}
    return {"kind": kind, **({"place": place} if place else {}), **more}


def _from_options(given: Mapping[str, Any], steps: Sequence[ChargingStep]) -> list[dict[str, object]]:
    """Readings given as options: `VALUE`, `VALUE at STATE` or `VALUE after HOURS h`."""
    found = []
    for step in steps:
        for text in given[_name(step)]:
            found.append(_reading(step.kind, step.place, _split(text)))
    if (given["state"] or given["conditions"]) and not found and not given["from_file"]:
        raise WrongUseError("State and conditions go with a reading.", "--regulated 14.2 --state 'lamps off'")
    shared = {"state": given["state"] or "", "conditions": _pairs(given["conditions"])}
    return [_with(shared, one) for one in found]


def _with(shared: Mapping[str, Any], one: Mapping[str, object]) -> dict[str, object]:
    """A reading with the state and conditions that hold for all, where it has none of its own."""
    noted, own = shared.get("conditions") or {}, one.get("conditions") or {}
    together = {**noted, **own} if isinstance(noted, Mapping) and isinstance(own, Mapping) else own or noted
    return {**one, "state": one.get("state") or shared.get("state") or "", "conditions": together}


def _pairs(given: Sequence[str]) -> dict[str, str]:
    problems = [
        Problem("conditions", "Write it as name=value.", "amps=9", one[:60])
        for one in given
        if "=" not in one
    ]
    if problems:
        raise Mistakes(problems)
    return {name.strip(): value.strip() for name, _, value in (one.partition("=") for one in given)}


def _split(text: str) -> dict[str, object]:
    if stood := _STOOD.fullmatch(text.strip()):
        return {"value": stood[1], "conditions": {"hours_standing": stood[2]}}
    if at := _AT.fullmatch(text.strip()):
        return {"value": at[1], "state": at[2]}
    return {"value": text}


def _name(step: ChargingStep) -> str:
    return f"step_{step.id.replace('-', '_')}"


def _options() -> list[click.Parameter]:
    return [
        click.Option([f"--{step.id}", _name(step)], multiple=True, metavar="VALUE", help=step.words)
        for step in load_charging().steps
    ]


charging = click.Command(
    "charging",
    params=[
        click.Option(["--card"], metavar="N", help="The card, or its bike's registration."),
        *_options(),
        click.Option(["--after"], is_flag=True, help="These readings were taken after the repair."),
        click.Option(["--state"], metavar="TEXT", help="How the bike stood: 5000 rev/min, lamps off."),
        click.Option(["--conditions"], multiple=True, metavar="NAME=VALUE", help="amps=9, temperature=20"),
        click.Option(["--from", "from_file"], metavar="FILE", help="Readings from a JSON file; - is stdin."),
        click.Option(["--token"], metavar="TEXT", help="Do it once: the same token again changes nothing."),
        *shared_options(),
    ],
    callback=_charging,
    help="The charging check of a card: its steps in working order, what was read, and what that says. A"
    " reading is VALUE, VALUE at STATE, or VALUE after HOURS h; it is kept on the card.",
)
