"""`loomcard backup`, `restore` and `check`."""

from pathlib import Path
from typing import Any

import click

from tracker.cli.build import merged, shared_options
from tracker.cli.output import plain, say, say_json
from tracker.clock import clock_of_this_machine
from tracker.desk import keeping


def _backup(**given: Any) -> None:
    context = merged(click.get_current_context(), given)
    target = Path(given["target"]).expanduser()
    with context.desk() as desk:
        made = keeping.back_up(desk, target, overwrite=given["overwrite"])
    if context.as_json:
        say_json({"backup": str(made), "bytes": made.stat().st_size})
    else:
        say(f"{made}: a whole copy, checked.")


def _restore(**given: Any) -> None:
    context = merged(click.get_current_context(), given)
    aside = keeping.restore(context.path, Path(given["source"]).expanduser(), clock_of_this_machine().now())
    if context.as_json:
        say_json({"restored": str(context.path), "kept_aside": str(aside) if aside else None})
    else:
        kept = f" What was there before is kept as {aside}." if aside else ""
        say(f"{context.path} is restored.{kept}")


def _check(**given: Any) -> None:
    context = merged(click.get_current_context(), given)
    with context.desk() as desk:
        found = keeping.check(desk)
    if context.as_json:
        say_json({"sound": not found, "found": plain(found)})
    elif found:
        say("\n".join(f"{problem.field}: {problem.sentence}" for problem in found))
    else:
        say("Sound: the file, its keys and seals, every number and every total.")
    if found:
        click.get_current_context().exit(1)


backup = click.Command(
    "backup",
    params=[
        click.Argument(["target"], metavar="FILE"),
        click.Option(["--overwrite"], is_flag=True, help="Replace FILE if it is there."),
        *shared_options(),
    ],
    callback=_backup,
    help="Copy the file while it is open, and check the copy.",
)
restore = click.Command(
    "restore",
    params=[click.Argument(["source"], metavar="BACKUP"), *shared_options()],
    callback=_restore,
    help="Put a backup in the file's place; what is there now is kept beside it.",
)
check = click.Command(
    "check",
    params=shared_options(),
    callback=_check,
    help="Check the file: integrity, keys, seals, totals from their lines, numbers without gaps, stock.",
)
