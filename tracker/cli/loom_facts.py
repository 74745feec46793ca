"""`loomcard loom facts`: what differs from the pattern on a bike, since when, and what is unfinished."""

from typing import Any

import click

from tracker.cli.context import Context
from tracker.cli.output import say, say_json
from tracker.cli.views import view
from tracker.desk.desk import Desk
from tracker.desk.loom_known import loom_known
from tracker.papers.loom_known_text import known_text


def _facts(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    known = loom_known(desk, given["bike"])
    if context.as_json:
        say_json(known)
    else:
        say(known_text(known))


facts = view(
    "facts",
    "What was seen on a bike's loom, or on its model's: when, on which card; what is unfinished.",
    _facts,
    [click.Argument(["bike"], metavar="BIKE")],
)
