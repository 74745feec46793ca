"""`loomcard sums`: the electrical sums by name, in words with reasons and sources, or in JSON."""

import json
import sys
import textwrap
from collections.abc import Sequence
from dataclasses import fields
from pathlib import Path
from typing import Any

import click

from tracker.cli.build import merged, shared_options
from tracker.cli.context import Context
from tracker.cli.output import say, say_json
from tracker.desk.sums import Answered, all_sums, named_sum, work_out
from tracker.electrics.arguments import shown
from tracker.electrics.catalogue import NamedSum
from tracker.electrics.catalogue_arguments import Argument, arguments_of, choices_of
from tracker.electrics.catalogue_figures import figures
from tracker.electrics.catalogue_headline import headline
from tracker.electrics.handbook import command_line, section
from tracker.records.problem import Mistakes, Problem
from tracker.seedfiles.door import SHIPPED, Seeds
from tracker.seedfiles.tables import electric_tables

WIDTH = 80
LABEL = 8
HOW = "loomcard sums NAME, then what is known: --argument VALUE or argument=VALUE"


class Sums(click.Group):
    """Builds a sum's command when it is called for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Every sum, the smaller ones last."""
        del ctx
        return [named.name for group in all_sums() for named in group]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command:
        """The command of one sum; raises WrongUseError where there is none of that name."""
        del ctx
        return sum_command(named_sum(cmd_name))


def sum_command(named: NamedSum) -> click.Command:
    """One sum as a command: its arguments are its options, and bare words NAME=VALUE."""
    params: list[click.Parameter] = [click.Argument(["words"], nargs=-1, metavar="[NAME=VALUE]...")]
    params += [_option(named, argument) for argument in arguments_of(named)]
    params.append(
        click.Option(
            ["--from", "from_file"], metavar="FILE", help="Arguments from a JSON file; - reads stdin."
        )
    )
    params += shared_options()
    return click.Command(
        named.name,
        params=params,
        callback=click.pass_context(lambda ctx, **given: _do(ctx, named, given)),
        help=f"{named.words[0].upper()}{named.words[1:]}.\n\nRange: {section(named.function, 'Range')}",
        short_help=named.words,
        epilog=f"\b\nLike: {command_line(named)}",
    )


def _option(named: NamedSum, argument: Argument) -> click.Option:
    choices = choices_of(named, argument, electric_tables())
    words = argument.words + (f": {', '.join(choices)}" if choices else "")
    if argument.required:
        words += " (needed)"
    elif argument.default not in (None, (), ""):
        words += f" ({_default(argument.default)} where none is said)"
    if argument.kind is bool:
        name = argument.option.removeprefix("--")
        return click.Option([f"--{name}/--no-{name}", f"opt_{argument.name}"], default=None, help=words)
    metavar = {str: "TEXT", int: "COUNT"}.get(argument.kind, argument.unit or "FIGURE")
    if argument.many:
        words += "; again for each"
    return click.Option([argument.option, f"opt_{argument.name}"], multiple=True, metavar=metavar, help=words)


def _default(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return shown(value) if isinstance(value, int | float) else str(value)


def _do(ctx: click.Context, named: NamedSum, given: dict[str, Any]) -> None:
    context = merged(ctx, given)
    raw, problems = _raw(named, given)
    answered = work_out(named, raw, _seeds(context), problems)
    if context.as_json:
        say_json(answer_record(answered))
    else:
        say(answer_text(answered))


def _seeds(context: Context) -> Seeds:
    """The published figures: the shop's own copies where there is a shop's file, else as they came."""
    if not context.path.exists():
        return SHIPPED
    with context.desk() as desk:
        return desk.seeds


def _raw(named: NamedSum, given: dict[str, Any]) -> tuple[dict[str, object], list[Problem]]:
    """What was given by argument, and words that say nothing; options and words win over a file."""
    from_file = _from_file(given["from_file"]) if given["from_file"] else {}
    raw = {name.replace("-", "_"): value for name, value in from_file.items()}
    typed: dict[str, list[object]] = {}
    arguments = arguments_of(named)
    for argument in arguments:
        value = given.get(f"opt_{argument.name}")
        if value not in (None, ()):
            typed[argument.name] = list(value) if isinstance(value, tuple) else [value]
    needed = [argument.name for argument in arguments if argument.required]
    problems = []
    for word in given["words"]:
        name, sign, value = word.partition("=")
        if sign:
            typed.setdefault(name.strip().lstrip("-").replace("-", "_"), []).append(value)
        elif len(needed) == 1:  # a word without a name can only be for the one argument that is needed
            typed.setdefault(needed[0], []).append(word)
        else:
            hint = f"Arguments: {', '.join(argument.name for argument in arguments)}."
            problems.append(Problem("words", "A word without a name: write NAME=VALUE.", hint, word[:60]))
    return raw | typed, problems


def _from_file(name: str) -> dict[str, object]:
    try:
        text = sys.stdin.read() if name == "-" else Path(name).expanduser().read_text("utf-8")
        found = json.loads(text)
    except OSError as error:
        words = f"The file could not be read: {error.strerror}."
        raise Mistakes([Problem("from", words, given=name[:60])]) from error
    except (ValueError, RecursionError) as error:
        raise Mistakes([Problem("from", f"This is not JSON: {error}.", given=name[:60])]) from error
    if not isinstance(found, dict):
        raise Mistakes(
            [Problem("from", "A JSON object of arguments is expected.", '{"current_a": 8}', name[:60])]
        )
    return found


def answer_record(answered: Answered) -> dict[str, Any]:
    """An answer for JSON: figures whole, each under a name with its unit; then why, and from where."""
    answer = answered.answer
    last = ("why", "source", "cautions")
    names = [field.name for field in fields(answer) if field.name not in last]
    return {
        "sum": answered.named.name,
        "given": dict(answered.given),
        "in_short": headline(answer),
        **{name: getattr(answer, name) for name in (*names, *last)},
    }


def answer_text(answered: Answered) -> str:
    """An answer in words: what to do, the figures, why, what to beware of, and from where."""
    answer, named = answered.answer, answered.named
    rows = figures(answer)
    wide = max((len(row.words) for row in rows), default=0) + 2
    lines = [f"{named.name}: {named.words}", "", *textwrap.wrap(headline(answer), WIDTH), ""]
    for row in rows:
        lines += _row(row.words, [row.value], wide, "  ")
    lines += [""]
    lines += _row("Why", answer.why)
    lines += _row("Mind", answer.cautions)
    lines += _row("From", answer.source)
    return "\n".join(lines)


def _row(name: str, contents: Sequence[str], wide: int = LABEL, before: str = "") -> list[str]:
    """A named row whose contents are written out whole, each beginning a line."""
    lines: list[str] = []
    for content in contents:
        lines += textwrap.wrap(content, WIDTH - wide - len(before), break_on_hyphens=False) or [content]
    return [f"{before}{name if n == 0 else '':<{wide}}{line}" for n, line in enumerate(lines)]


def list_text() -> str:
    """Every sum with its words and its arguments; those in brackets can be left out."""
    lines = [HOW, ""]
    for heading, group in zip(("", "Also"), all_sums(), strict=True):
        lines += ["", heading] if heading else []
        for named in group:
            asked = [
                one.name.replace("_", "-") if one.required else f"[{one.name.replace('_', '-')}]"
                for one in arguments_of(named)
            ]
            lines += _row(named.name, [named.words, " ".join(asked)], 16)
    return "\n".join(lines)


def list_record() -> dict[str, Any]:
    """Every sum for JSON, with what each argument is, its unit and its answers where they are few."""
    listed = {}
    for heading, group in zip(("sums", "also"), all_sums(), strict=True):
        listed[heading] = [
            {
                "name": named.name,
                "words": named.words,
                "arguments": [_argument_record(named, one) for one in arguments_of(named)],
            }
            for named in group
        ]
    return listed


def _argument_record(named: NamedSum, argument: Argument) -> dict[str, Any]:
    return {
        "name": argument.name,
        "words": argument.words,
        "unit": argument.unit,
        "kind": {float: "figure", int: "count", str: "text", bool: "yes or no"}[argument.kind],
        "many": argument.many,
        "needed": argument.required,
        "default": argument.default,
        "choices": choices_of(named, argument, electric_tables()),
    }


def _list(**given: Any) -> None:
    ctx = click.get_current_context()
    context = merged(ctx, given)
    ctx.obj = context
    if ctx.invoked_subcommand is not None:
        return
    if context.as_json:
        say_json(list_record())
    else:
        say(list_text())


sums = Sums(
    name="sums",
    params=shared_options(),
    callback=_list,
    invoke_without_command=True,
    help="The electrical sums: figures with their reasons, cautions and sources. Alone it lists them.",
    subcommand_metavar="[NAME [ARGUMENT=VALUE]...]",
)
