"""A card's visits: what was off when, by whom, and what came off a further time."""

from typing import Any

import click

from tracker.cli.context import Context
from tracker.cli.learned import wrapped
from tracker.cli.output import say, say_json
from tracker.cli.views import view
from tracker.clock import Clock
from tracker.desk.desk import Desk
from tracker.desk.visits import VisitsView, visits_view


def _visits(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    found = visits_view(desk, given["n"])
    if context.as_json:
        say_json(found)
    else:
        say(visits_text(found, desk.clock))


def visits_text(found: VisitsView, clock: Clock) -> str:
    """A few lines for each visit, then what is off now and what a further time came to."""
    if not found.visits:
        return f"Nothing has come off on card {found.card}."
    lines = [f"Card {found.card}"]
    for one in found.visits:
        until = f" to {clock.local(one.ended_at):%d %b %H:%M}" if one.ended_at else ", still open"
        by = f", {one.by}" if one.by else ""
        lines.append(f"{one.number}. {clock.local(one.began_at):%d %b %H:%M}{until}{by}")
        said = [f"off: {', '.join(one.off)}"]
        said += [f"opened: {', '.join(one.zones)}"] if one.zones else []
        said += [f"a further time: {', '.join(one.again)}"] if one.again else []
        said += [f"why: {one.why}"] if one.why else []
        lines += [f"   {line}" for words in said for line in wrapped(words)]
    lines.append(f"Off now: {', '.join(found.off_now)}." if found.off_now else "Nothing is off now.")
    if found.again_min:
        lines.append(f"What came off a further time takes {found.again_min} min more than once.")
    return "\n".join(lines)


visits = view(
    "show",
    "What was off when, by whom, and what came off a further time.",
    _visits,
    [click.Argument(["n"], metavar="CARD")],
)
