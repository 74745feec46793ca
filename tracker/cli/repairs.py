"""`loomcard repairs`: what was mended where, found again over all bikes."""

from typing import Any

import click

from tracker.cli.context import Context
from tracker.cli.output import say, say_json
from tracker.cli.views import view
from tracker.desk.desk import Desk
from tracker.desk.repairs_found import Wanted, repairs_found
from tracker.errors import NotFoundError
from tracker.papers.repairs_text import found_line


def _repairs(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    wanted = Wanted(
        " ".join(given["words"]),
        given["zone"] or "",
        given["connector"] or "",
        given["model"] or "",
        given["bike"] or "",
    )
    found = repairs_found(desk, wanted)
    if context.as_json:
        say_json({"repairs": found})
    elif not found:
        raise NotFoundError("No repair fits that.", "Fewer words find more; loomcard repairs lists all.")
    else:
        say("\n".join(found_line(one) for one in found))


repairs = view(
    "repairs",
    "Every repair that was done: by words, zone, connector, make and model, or bike; the newest first.",
    _repairs,
    [
        click.Argument(["words"], nargs=-1, metavar="[WORDS]"),
        click.Option(["--zone"], metavar="ZONE", help="Done there: headstock, tail."),
        click.Option(["--connector"], metavar="NAME", help="On this plug, old or new: rear multi."),
        click.Option(["--model"], metavar="NAME", help="On bikes of this make and model."),
        click.Option(["--bike"], metavar="BIKE", help="On this bike."),
    ],
)
