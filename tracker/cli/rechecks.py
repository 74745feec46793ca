"""Rechecks on the command line: who is to be rung, day by day, and the message about one."""

from pathlib import Path
from typing import Any

import click

from tracker.cli.build import merged, shared_options
from tracker.cli.output import say, say_json
from tracker.cli.readings_json import reading_record
from tracker.desk.desk import Desk
from tracker.desk.rechecks_due import DueRecheck, due_list, to_write_to
from tracker.desk.typed import day as read_day
from tracker.papers.recheck_due import due_text, recheck_mail, say_words
from tracker.records.problem import Mistakes, Problem


def _due(**given: Any) -> None:
    context = merged(click.get_current_context(), given)
    with context.desk() as desk:
        until = read_day("on", given["on"], desk.today) if given["on"] else desk.today
        if isinstance(until, Problem):
            raise Mistakes([until])
        found = due_list(desk, until)
        if given["ics"]:
            _calendar(desk, given["ics"])
    if context.as_json:
        rows = [due_record(one) for one in found.rechecks]
        say_json({"on": until, "due": rows, "left_out": found.left_out})
    else:
        say(due_text(found, until))


def _calendar(desk: Desk, name: str) -> None:
    from tracker.cli.papers import write_calendar

    write_calendar(desk, Path(name).expanduser())


def due_record(one: DueRecheck) -> dict[str, Any]:
    """A recheck that is due, for JSON."""
    person = one.person
    return {
        "number": one.row.number,
        "reason": one.recheck.reason,
        "state": one.recheck.state,
        "due_on": one.recheck.due_on,
        "due_odometer": one.recheck.due_odometer,
        "bike": one.row.bike,
        "who": person.name if person else "",
        "phone": person.phone if person else "",
        "reminders": person.reminders if person else True,
        "ask_owner": one.ask_owner,
        "tries": one.tries,
        "say": say_words(one),
        "last": [reading_record(reading, one.judged.get(reading.id)) for reading in one.last],
    }


def _mail(**given: Any) -> None:
    context = merged(click.get_current_context(), given)
    with context.desk() as desk:
        one = to_write_to(desk, given["n"])
        content = recheck_mail(desk, one)
    from tracker.cli.printing import write_file

    path = Path(given["to"]).expanduser()
    write_file(path, content)
    if context.as_json:
        say_json({"files": [str(path)], "to": one.person.email if one.person else ""})
    else:
        say(f"written: {path}")


due = click.Command(
    "due",
    params=[
        click.Option(["--on"], metavar="DATE", help="By this date; today when none is named."),
        click.Option(["--ics"], metavar="FILE", help="Write rechecks and promises as a calendar file."),
        *shared_options(),
    ],
    callback=_due,
    help="Rechecks that are due, day by day: whom to ring, what to say, how it last read.",
)
recheck_mail_command = click.Command(
    "recheck-mail",
    params=[
        click.Argument(["n"], metavar="N"),
        click.Option(["--to"], metavar="FILE", required=True, help="Write the message to this file."),
        *shared_options(),
    ],
    callback=_mail,
    help="The letter about a recheck as a message (.eml) ready to send; N is the card it came from.",
)
