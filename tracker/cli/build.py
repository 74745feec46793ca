"""A command from a deed: its options, its JSON file and its mistakes all come from the deed's own fields."""

import json
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import click

from tracker.cli.context import Context
from tracker.cli.output import say, say_json
from tracker.desk.ask import Field, fields_of
from tracker.desk.deeds import deed
from tracker.errors import WrongUseError
from tracker.records.problem import Mistakes, Problem


def shared_options() -> list[click.Parameter]:
    """The options that every command takes behind its verb too."""
    return [
        click.Option(["--json", "as_json"], is_flag=True, help="Answer in JSON."),
        click.Option(["--file", "file_"], metavar="FILE", help="The shop's file."),
        click.Option(["--who", "who_"], metavar="NAME", help="The mechanic at the keyboard."),
    ]


def deed_command(verb: str) -> click.Command:
    """The command of a deed."""
    kind = deed(verb)
    params: list[click.Parameter] = []
    fields = fields_of(kind)
    places = tuple(f for f in sorted(fields, key=lambda f: f.ask.place) if f.ask.place)
    if places:
        shown = " ".join(field.name.upper() for field in places)
        params.append(click.Argument(["words"], required=False, nargs=-1, metavar=shown))
    params += [_option(field) for field in fields]
    params.append(
        click.Option(["--from", "from_file"], metavar="FILE", help="Fields from a JSON file; - reads stdin.")
    )
    params.append(
        click.Option(["--token"], metavar="TEXT", help="Do it once: the same token again changes nothing.")
    )
    params += shared_options()
    return click.Command(
        verb.rsplit(" ", maxsplit=1)[-1],
        params=params,
        callback=click.pass_context(lambda ctx, **given: _do(ctx, verb, kind, given)),
        help=kind.__doc__,
    )


def _option(field: Field) -> click.Option:
    name = field.name.replace("_", "-")
    help_text = field.ask.label + (f": {field.ask.hint}" if field.ask.hint else "")
    if field.kind is bool and not field.many:
        return click.Option([f"--{name}/--no-{name}", f"opt_{field.name}"], default=None, help=help_text)
    metavar = "NAME=VALUE" if field.pairs else "TEXT"
    return click.Option(
        [f"--{name}", f"opt_{field.name}"],
        multiple=field.many or field.pairs,
        metavar=metavar,
        help=help_text,
        hidden=bool(field.ask.place),
    )


def _do(ctx: click.Context, verb: str, kind: type[Any], given: dict[str, Any]) -> None:
    from tracker.cli.standing import after_deed
    from tracker.desk.desk import name_of

    context = merged(ctx, given)
    raw = _raw(kind, given)
    with context.desk_for_a_deed() as desk:
        record = desk.given(kind, raw, given.get("token"))
        more = after_deed(desk, record)
        notes = desk.notes
    if context.as_json:
        say_json({"deed": verb, name_of(record): record, "notes": notes, **more.as_json()})
        return
    say(more.words(verb, notes))


def merged(ctx: click.Context, given: dict[str, Any]) -> Context:
    """The shared words of a command, given before or behind its verb."""
    context = ctx.find_object(Context) or Context()
    context.as_json = context.as_json or bool(given.pop("as_json", False))
    context.file = given.pop("file_", None) or context.file
    context.who = given.pop("who_", None) or context.who
    return context


def _raw(kind: type[Any], given: dict[str, Any]) -> dict[str, object]:
    raw: dict[str, object] = {}
    if given.get("from_file"):
        raw.update(_from_file(given["from_file"]))
    for field in fields_of(kind):
        value = given.get(f"opt_{field.name}")
        if value is not None and value != ():
            raw[field.name] = list(value) if isinstance(value, tuple) else value
    words = tuple(given.get("words") or ())
    bare = getattr(kind, "bare", None)
    raw.update(bare(words, raw) if bare else in_places(kind, words, raw))
    return raw


def in_places(kind: type[Any], words: tuple[str, ...], raw: Mapping[str, object]) -> dict[str, object]:
    """Bare words by the places of a deed's fields that no option has filled; the last one takes the rest."""
    places = [
        f for f in sorted(fields_of(kind), key=lambda f: f.ask.place) if f.ask.place and f.name not in raw
    ]
    found: dict[str, object] = {}
    rest = list(words)
    for field in places:
        if not rest:
            break
        last = field is places[-1]
        taken = rest if last and (field.ask.lines or field.many) else rest[:1]
        rest = rest[len(taken) :]
        found[field.name] = taken if field.many else " ".join(taken)
    if rest:
        raise WrongUseError(
            f"“{' '.join(rest)[:60]}” is one word too many here.", "Quote what belongs together."
        )
    return found


def _from_file(name: str) -> dict[str, object]:
    try:
        text = sys.stdin.read() if name == "-" else Path(name).expanduser().read_text("utf-8")
        found = json.loads(text)
    except OSError as error:
        raise Mistakes(
            [Problem("from", f"The file could not be read: {error.strerror}.", given=name)]
        ) from error
    except ValueError as error:
        raise Mistakes([Problem("from", f"This is not JSON: {error}.", given=name)]) from error
    if not isinstance(found, dict):
        raise Mistakes(
            [Problem("from", "A JSON object with the fields is expected.", '{"complaint": "..."}', name)]
        )
    return found
