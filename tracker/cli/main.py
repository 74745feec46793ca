"""The command line: one verb a deed, nouns where they show; errors as a sentence, a hint and an exit code."""

import importlib
import sys
from typing import Any

import click

from tracker import __version__
from tracker.cli.context import Context
from tracker.cli.net import caught
from tracker.cli.opening import open_screens
from tracker.cli.output import say_error
from tracker.desk.deeds import DEEDS
from tracker.errors import WrongUseError

VIEWS: dict[str, str] = {
    "day": "views:day",
    "find": "views:find",
    "visit show": "visits:visits",
    "card show": "views:card",
    "customer show": "views:customer",
    "customer list": "views:customers",
    "customer export": "privacy:export",
    "bike show": "views:bike",
    "bike list": "views:bikes",
    "invoice": "views:invoice",
    "due": "rechecks:due",
    "recheck-mail": "rechecks:recheck_mail_command",
    "rechecks show": "rechecks_table:show",
    "rechecks edit": "rechecks_table:edit",
    "stock list": "views:stock",
    "stock show": "views:part",
    "settings show": "views:settings",
    "rules show": "rules:show",
    "rules list": "rules:list_",
    "rules check": "rules:check",
    "rules try": "rules:try_",
    "rules edit": "rules:edit",
    "learned": "learned:learned",
    "options": "explain:options",
    "new-circuit": "new_circuit:new_circuit",
    "where": "views:where",
    "loom show": "loom:loom",
    "loom facts": "loom_facts:facts",
    "repairs": "repairs:repairs",
    "sums": "sums:sums",
    "volts": "volts:volts",
    "trace": "trace:trace",
    "charging": "charging:charging",
    "readings": "readings:readings",
    "paper": "papers:paper",
    "owed": "books:owed",
    "day-book": "books:day_book_command",
    "margin": "books:margin",
    "demo": "demo:demo",
    "backup": "keeping:backup",
    "restore": "keeping:restore",
    "check": "keeping:check",
}
"""Commands that show or keep: `module:name` inside this package."""

USUAL: dict[str, str] = {
    "card": "show", "customer": "show", "bike": "show", "stock": "show", "settings": "show", "rules": "show",
    "rechecks": "show", "loom": "show", "visit": "show",
}  # fmt: skip
"""What a noun does when something else than a verb follows it."""

ALONE: dict[str, str] = {
    "customer": "list", "bike": "list", "stock": "list", "settings": "show", "rules": "list",
    "rechecks": "show", "loom": "show",
}  # fmt: skip
"""What a noun does when nothing follows it."""

SAME: dict[str, str] = {"customers": "customer", "bikes": "bike", "parts": "stock", "cards": "day"}
"""Other words that people try first."""

VERBS = tuple(DEEDS) + tuple(VIEWS)


class Verbs(click.Group):
    """Finds a command when it is called, so that no other is loaded."""

    def __init__(self, prefix: str = "", **more: Any) -> None:
        super().__init__(**more)
        self.prefix = prefix

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The first words of all verbs below this group, in the order of a card's life."""
        del ctx
        inside = [verb[len(self.prefix) :] for verb in VERBS if verb.startswith(self.prefix)]
        return list(dict.fromkeys(verb.split(" ")[0] for verb in inside))

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command, or a group where several verbs begin with the same noun."""
        del ctx
        verb = f"{self.prefix}{cmd_name if self.prefix else SAME.get(cmd_name, cmd_name)}"
        if verb == "estimate":
            from tracker.cli.estimate import estimate_command

            return estimate_command()
        if verb in DEEDS:
            from tracker.cli.build import deed_command

            return deed_command(verb)
        if verb in VIEWS:
            module, _, name = VIEWS[verb].partition(":")
            found: click.Command = getattr(importlib.import_module(f"tracker.cli.{module}"), name)
            return found
        if any(other.startswith(f"{verb} ") for other in VERBS):
            return Verbs(f"{verb} ", name=cmd_name, help=f"{cmd_name.capitalize()}: add, change, show.")
        return None

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """A noun followed by anything but a verb shows: `loomcard bike LKM412`."""
        noun = self.prefix.strip()
        if noun in USUAL and (not args or self.get_command(ctx, args[0]) is None):
            args = [USUAL[noun], *args]
        return super().resolve_command(ctx, args)

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Lets `loomcard stock --json` show the stock, `loomcard bike` list all, and options come first."""
        noun = self.prefix.strip()
        if noun in USUAL and "--help" not in args and (not args or args[0].startswith("-")):
            place = _first_bare(args)
            if place is None:
                args = [ALONE.get(noun, USUAL[noun]), *args]
            elif self.get_command(ctx, args[place]) is None:
                args = [USUAL[noun], *args]
            else:
                args = [args[place], *args[:place], *args[place + 1 :]]
        return super().parse_args(ctx, args)


def _first_bare(args: list[str]) -> int | None:
    """Where the first word stands that is neither an option nor the value of a shared one."""
    valued = False
    for place, word in enumerate(args):
        if not word.startswith("-") and not valued:
            return place
        valued = word in {"--file", "--who"}
    return None


def _begin(**given: Any) -> None:
    ctx = click.get_current_context()
    ctx.obj = Context(file=given["file_"] or "", who=given["who_"] or "", as_json=given["as_json"])
    if ctx.invoked_subcommand is None:
        if given["as_json"] or not sys.stdout.isatty():
            click.echo(ctx.get_help())
        elif code := open_screens(ctx.obj):
            raise click.exceptions.Exit(code)


def program() -> Verbs:
    """The whole command line."""
    from tracker.cli.build import shared_options

    return Verbs(
        name="loomcard",
        help="Job cards, wiring loom, estimates and invoices for the person who mends motorcycle electrics.",
        params=[
            *shared_options(),
            click.Option(
                ["--version"],
                is_flag=True,
                help="Say the version and stop.",
                callback=_version,
                expose_value=False,
                is_eager=True,
            ),
        ],
        callback=_begin,
        invoke_without_command=True,
    )


def _version(ctx: click.Context, _param: click.Parameter, value: bool) -> None:
    if value:
        click.echo(f"loomcard {__version__}")
        ctx.exit()


def run(args: list[str]) -> int:
    """Runs one command line; the exit code is 0 done, 1 nothing found, 2 a mistake, 3 the store refused."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    as_json = "--json" in args
    return caught(lambda: _run(args, as_json=as_json), as_json=as_json)


def _run(args: list[str], *, as_json: bool) -> int:
    try:
        result = program().main(args, prog_name="loomcard", standalone_mode=False)
    except click.exceptions.Exit as done:
        return done.exit_code
    except click.Abort:
        raise KeyboardInterrupt from None
    except click.ClickException as error:
        hint = error.ctx.get_usage() if isinstance(error, click.UsageError) and error.ctx else ""
        say_error(WrongUseError(error.format_message(), hint), as_json=as_json)
        return 2
    return result if isinstance(result, int) else 0
