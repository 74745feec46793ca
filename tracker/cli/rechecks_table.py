"""The table of rechecks on the command line: shown as it is kept, changed in one's own editor."""

from typing import Any

import click

from tracker.cli.context import Context
from tracker.cli.output import say, say_json
from tracker.cli.views import view
from tracker.desk.desk import Desk
from tracker.desk.own_rechecks import ChangeRechecks, checked_table
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.rechecks import RECHECKS, load_rechecks


def _show(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    del given
    _shown(desk.seeds, context)


def _show_shipped(context: Context, given: dict[str, Any]) -> None:
    del given
    _shown(SHIPPED, context)


def _shown(seeds: Seeds, context: Context) -> None:
    """The table as text, fit for a file that `rechecks change` takes; nothing else stands in it."""
    if context.as_json:
        say_json({"rechecks": list(load_rechecks(seeds).values()), "own": RECHECKS in seeds.own})
    else:
        say(seeds.text(RECHECKS).rstrip("\n"))


def _edit(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    """Opens the table in one's own editor until it is sound or given up."""
    del context, given
    before = text = desk.seeds.text(RECHECKS)
    while True:
        edited = click.edit(text, extension=".csv")
        if edited is None or edited == before:
            say("Nothing was changed.")
            return
        text = edited
        try:
            checked_table(desk.seeds, text)
        except SeedMistakes as mistakes:
            found = [f"  {p.field}: {p.sentence} {p.hint}".rstrip() for p in mistakes.problems]
            say("\n".join([mistakes.sentence, *found]))
            if not click.confirm("Open it again?", default=True):
                raise
            continue
        break
    desk.do(ChangeRechecks(text=text))
    say("Kept. loomcard rechecks restore gives the program's own table back.")


show = view(
    "show",
    "The table of rechecks that repairs propose, as it is kept.",
    _show,
    without_file=_show_shipped,
)
edit = view("edit", "Change the table of rechecks in your own editor.", _edit)
