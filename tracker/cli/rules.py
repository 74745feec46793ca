"""The repair rules: listed, shown with what cards say of them, checked, tried, changed in one's editor."""

from pathlib import Path
from typing import Any

import click

from tracker.cli.context import Context
from tracker.cli.learned import wrapped
from tracker.cli.output import say, say_json
from tracker.cli.views import view
from tracker.desk.desk import Desk
from tracker.desk.own_rules import ChangeRule, rule_text
from tracker.desk.rule_trial import Trial, file_of, try_text
from tracker.desk.trying import tried_record
from tracker.errors import NotFoundError
from tracker.papers.twins import table
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.repairs import load_rules, read_rule, rule


def _list(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    del given
    _listed(desk.seeds, context)


def _listed(seeds: Seeds, context: Context) -> None:
    found = list(load_rules(seeds))
    own = {one.id for one in found if file_of(one.id) in seeds.own}
    if context.as_json:
        rows = [
            {"id": r.id, "words": r.words, "asks": r.asks, "proves": r.proves, "own": r.id in own}
            for r in found
        ]
        say_json({"rules": rows})
        return
    lines = [
        (r.id + (" *" if r.id in own else ""), r.words, " ".join(ask.name for ask in r.asks)) for r in found
    ]
    note = ["", "* your own text; loomcard rules restore NAME gives it back."] if own else []
    say("\n".join([*table(lines, (24, 28, 0)), *note]))


def _show(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    if not given["name"]:
        _listed(desk.seeds, context)
        return
    from tracker.desk.learned import learned_view

    found = rule(given["name"], desk.seeds)
    learned = next((row for row in learned_view(desk).rules if row.rule == found.id), None)
    own = file_of(found.id) in desk.seeds.own
    if context.as_json:
        say_json({"rule": found, "own": own, "learned": learned})
        return
    notes = ["# Your own text."] if own else []
    notes += [f"# {learned.sentence}"] if learned is not None else []
    say("\n".join([found.text.rstrip("\n"), *notes]))


def _shipped(context: Context, given: dict[str, Any]) -> None:
    if given.get("name"):
        found = rule(given["name"], SHIPPED)
        say_json({"rule": found, "own": False, "learned": None}) if context.as_json else say(found.text)
    else:
        _listed(SHIPPED, context)


def _check(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    _checked(desk.seeds, context, given)


def _checked(seeds: Seeds, context: Context, given: dict[str, Any]) -> None:
    """Raises SeedMistakes with every mistake: of a file that is named, else of all the shop's rules."""
    if given["file"]:
        path = Path(given["file"])
        found = [read_rule(file_of(path.stem), rule_text(given["file"]), seeds)]
    else:
        found = list(load_rules(seeds))
    if context.as_json:
        say_json({"checked": [one.id for one in found], "mistakes": []})
    else:
        say(f"{len(found)} rule{'' if len(found) == 1 else 's'}: nothing wrong.")


def _check_shipped(context: Context, given: dict[str, Any]) -> None:
    _checked(SHIPPED, context, given)


def _try(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    file = given["file"]
    text = rule_text(file)
    trial = try_text(desk, given["name"], text, given["bike"] or "", given["repair"])
    if context.as_json:
        say_json(trial_record(trial))
    else:
        say(trial_text(trial))


def trial_record(trial: Trial) -> dict[str, Any]:
    """As JSON has it."""
    bike = {
        name: tried_record(tried) if tried else None
        for name, tried in (("before", trial.bike_before), ("after", trial.bike_after))
    }
    return {
        "rule": trial.rule,
        "new": trial.new,
        "past": trial.past,
        "off_before": trial.off_before,
        "off_after": trial.off_after,
        "bike": bike if trial.bike_after else None,
        "says": trial.sentences,
    }


def trial_text(trial: Trial) -> str:
    """Card by card: minutes before and after, what was clocked; then the bike."""
    lines = [f"{trial.rule}, {trial.words}: the text is sound. Nothing is kept yet."]
    if trial.past:
        rows = [("card", "was", "would be", "took", "wire was", "would be", "")]
        rows += [
            (
                row.card,
                _min(row.before_min),
                _min(row.after_min),
                _min(row.took_min),
                _mm(row.before_mm),
                _mm(row.after_mm),
                row.words,
            )
            for row in trial.past
        ]
        lines += ["", *table(rows, (9, 8, 8, 8, 9, 9, 0), frozenset({1, 2, 3, 4, 5})), ""]
    lines += [line for words in trial.sentences for line in wrapped(words)]
    for name, tried in (("as it is", trial.bike_before), ("with this text", trial.bike_after)):
        if tried is not None:
            expected, range_ = tried.worked.result.minutes.expected, tried.worked.result.band
            lines.append(
                f"{tried.bike.name} {tried.bike.registration}, {name}: expected {expected} min,"
                f" {range_.low} to {range_.high} in 8 of 10; {tried.total} {tried.total.currency} with tax."
            )
    return "\n".join(lines)


def _min(minutes: float | None) -> str:
    return "-" if minutes is None else f"{minutes:.1f}"


def _mm(length: int | None) -> str:
    return "-" if length is None else f"{length} mm"


def _edit(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    """Opens the text in one's own editor until it is sound or given up, tries it, and asks before keeping."""
    del context
    name = given["name"]
    try:
        before = desk.seeds.text(file_of(name))
    except NotFoundError as error:
        raise NotFoundError(
            f"There is no repair type “{name}”.", "loomcard rules change NAME FILE adds a new one."
        ) from error
    text = before
    while True:
        edited = click.edit(text, extension=".toml")
        if edited is None or edited == before:
            say("Nothing was changed.")
            return
        text = edited
        try:
            trial = try_text(desk, name, text, given["bike"] or "")
        except SeedMistakes as mistakes:
            say(
                "\n".join(
                    [mistakes.sentence, *(f"  {p.field}: {p.sentence} {p.hint}" for p in mistakes.problems)]
                )
            )
            if not click.confirm("Open it again?", default=True):
                raise
            continue
        break
    say(trial_text(trial))
    if click.confirm("Keep it?", default=False):
        desk.do(ChangeRule(rule=name, text=text))
        say("Kept. loomcard rules restore gives the program's own text back.")
    else:
        say("Not kept.")


NAME = click.Argument(["name"], metavar="NAME")
BIKE = click.Option(["--bike"], metavar="N", help="Try it on this bike too.")
list_ = view("list", "The repair rules.", _list, without_file=_shipped)
show = view(
    "show",
    "A rule whole, with what your cards say of it.",
    _show,
    [click.Argument(["name"], required=False, metavar="NAME")],
    without_file=_shipped,
)
check = view(
    "check",
    "Every mistake of a file with a rule, or of all the shop's rules.",
    _check,
    [click.Argument(["file"], required=False, metavar="FILE")],
    without_file=_check_shipped,
)
try_ = view(
    "try",
    "Try a text on the last 20 cards of its kind, and on a bike; nothing is kept.",
    _try,
    [
        NAME,
        click.Argument(["file"], metavar="FILE"),
        BIKE,
        click.Option(
            ["--repair"],
            multiple=True,
            metavar="TEXT",
            help="As the estimate is asked; RULE alone when none.",
        ),
    ],
)
edit = view(
    "edit", "Change a rule in your own editor: checked, tried, then kept or not.", _edit, [NAME, BIKE]
)
