"""The demo workshop: written to a file, or walked through in words."""

import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import click

from tracker.cli.build import merged, shared_options
from tracker.cli.output import say, say_json
from tracker.cli.standing import after_deed
from tracker.clock import clock_of_this_machine
from tracker.desk.desk import name_of
from tracker.desk.replay import Played, Stage, write
from tracker.seedfiles.script import load_script

RULE = "─" * 80


def _demo(**given: Any) -> None:
    context = merged(click.get_current_context(), given)
    if given["write"]:
        path = Path(given["write"]).expanduser()
        count = write(path, load_script("workshop"), clock_of_this_machine().today())
        if context.as_json:
            say_json({"file": str(path), "deeds": count})
        else:
            say(f"{path}: the demo workshop, {count} deeds.\nLook: loomcard --file {path} day")
        return
    if given["walk"]:
        walk(as_json=context.as_json)
        return
    with tempfile.TemporaryDirectory(prefix="loomcard-demo-") as folder:
        context.file = str(Path(folder) / "demo.loomcard")

        def set_up() -> None:
            write(Path(context.file), load_script("workshop"), clock_of_this_machine().today())

        if sys.stdout.isatty() and not context.as_json:
            from tracker.cli.opening import open_screens

            context.who = context.who or "Ines Halloran"
            note = "DEMO: a throwaway copy of an invented workshop; nothing of it is kept."
            if code := open_screens(context, note, set_up):
                raise click.exceptions.Exit(code)
            return
        set_up()
        from tracker.desk.day import day_sheet
        from tracker.papers.day_text import day_text

        with context.desk() as desk:
            sheet = day_sheet(desk)
            if context.as_json:
                say_json(sheet)
                return
            say("The demo workshop: a throwaway copy, gone when this ends; nothing here is real.")
            say("loomcard demo --write FILE keeps one; loomcard demo --walk follows one bike.\n")
            say(day_text(sheet, desk.clock.now(), desk.clock))


def walk(*, as_json: bool) -> None:
    """One bike from the phone call to the recheck, on a real file that is thrown away afterwards."""
    steps: list[dict[str, Any]] = []
    with _stage("walk") as stage:
        for number, played in enumerate(stage.play(), 1):
            papers = [_paper(stage, kind) for kind in played.entry.papers]
            if as_json:
                steps.append(_as_json(stage, played, papers))
            else:
                _in_words(stage, number, played, papers)
    if as_json:
        say_json({"walk": steps})


@contextmanager
def _stage(name: str) -> Iterator[Stage]:
    with tempfile.TemporaryDirectory(prefix="loomcard-") as folder:
        stage = Stage(Path(folder) / f"{name}.loomcard", load_script(name), clock_of_this_machine().today())
        try:
            yield stage
        finally:
            stage.close()


def _paper(stage: Stage, kind: str) -> tuple[str, str]:
    from tracker.papers.gather import paper_of
    from tracker.papers.plain import plain

    card = stage.number("card")
    of_document = {"deposit", "invoice"}
    name = stage.number(kind) if kind in of_document else card
    return kind, plain(paper_of(stage.desk, kind, name))


def _as_json(stage: Stage, played: Played, papers: list[tuple[str, str]]) -> dict[str, Any]:
    entry = played.entry
    step: dict[str, Any] = {
        "day": entry.day,
        "at": entry.at,
        "who": entry.who,
        "deed": entry.verb,
        "say": entry.say,
    }
    if played.refusal is not None:
        from tracker.cli.output import error_record

        return {**step, **error_record(played.refusal)}
    assert played.record is not None
    step[name_of(played.record)] = played.record
    step["notes"] = played.notes
    step |= after_deed(stage.desk, played.record).as_json()
    step["papers"] = dict(papers)
    return step


def _in_words(stage: Stage, number: int, played: Played, papers: list[tuple[str, str]]) -> None:
    entry = played.entry
    if entry.say:
        say(f"\n{RULE}\n{entry.say.upper()}\n{RULE}")
    day = "today" if entry.day == 0 else f"{-entry.day} days ago" if entry.day < 0 else f"in {entry.day} days"
    say(f"{number:>2}. {day} {entry.at}  {entry.who}: loomcard {entry.verb}")
    if played.refusal is not None:
        sentences = [problem.sentence for problem in getattr(played.refusal, "problems", ())]
        say("    refused: " + (" ".join(sentences) or played.refusal.sentence))
        return
    assert played.record is not None
    for line in after_deed(stage.desk, played.record).words(entry.verb, played.notes).splitlines():
        say(f"    {line}")
    for _, text in papers:
        say("\n" + "\n".join(f"  │ {line}".rstrip() for line in text.splitlines()) + "\n")


demo = click.Command(
    "demo",
    params=[
        click.Option(["--walk"], is_flag=True, help="Take one bike through its whole life, in words."),
        click.Option(["--write"], metavar="FILE", help="Write the demo workshop to a new file."),
        *shared_options(),
    ],
    callback=_demo,
    help="The demo workshop, invented from end to end.",
)
