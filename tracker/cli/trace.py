"""`loomcard trace`: what it can be, and the check to make next, for a bike, a card or the general pattern."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import click

from tracker.cli.build import merged, shared_options
from tracker.cli.context import Context
from tracker.cli.trace_out import say_trace
from tracker.desk.desk import Desk
from tracker.errors import NotFoundError
from tracker.records.card import SymptomKind
from tracker.records.problem import Mistakes, Problem

if TYPE_CHECKING:
    from tracker.trace.trace import Trace

LISTS: dict[str, tuple[SymptomKind, str]] = {
    "dead": (SymptomKind.DEAD, "What does nothing."),
    "weak": (SymptomKind.WEAK, "What is dull, hoarse or slow."),
    "works": (SymptomKind.WORKS, "What does its job."),
    "comes_and_goes": (SymptomKind.COMES_AND_GOES, "What works at times."),
    "wont_go_off": (SymptomKind.WONT_GO_OFF, "What stays on."),
    "blows_fuse": (SymptomKind.BLOWS_FUSE, "What blows its fuse."),
    "bulbs_blow": (SymptomKind.BULBS_BLOW, "What keeps blowing its bulb."),
    "flashes_fast": (SymptomKind.FLASHES_FAST, "Indicators that flash fast."),
    "flashes_slow": (SymptomKind.FLASHES_SLOW, "Indicators that flash slowly."),
    "no_flash": (SymptomKind.NO_FLASH, "Indicators that stay on without flashing."),
}


def _trace(**given: Any) -> None:
    context = merged(click.get_current_context(), given)
    if given["card"]:
        with context.desk() as desk:
            _card(desk, context, given)
    elif context.path.exists() and not given["features"]:
        with context.desk() as desk:
            _bike(desk, context, given)
    else:
        _shipped(context, given)


def _card(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    from tracker.desk.trace import card_trace

    kept = card_trace(desk, given["card"])
    trace, problems = _with(kept.trace, given)
    say_trace(context, trace, (*kept.problems, *problems))


def _bike(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    from tracker.desk.trace import bike_trace

    say_trace(context, *_with(bike_trace(desk, given["bike"] or ""), given))


def _shipped(context: Context, given: dict[str, Any]) -> None:
    from tracker.desk.trace import pattern_trace

    if given["bike"]:
        raise NotFoundError(f"There is no bike “{given['bike']}”: there is no file {context.path}.")
    say_trace(context, *_with(pattern_trace(_features(given["features"])), given))


def _features(texts: Sequence[str]) -> dict[str, str | None]:
    wrong = [
        Problem("features", "Write it as question=answer.", "fuel=injection", one)
        for one in texts
        if "=" not in one
    ]
    if wrong:
        raise Mistakes(wrong)
    return {name.strip(): value.strip() for name, _, value in (one.partition("=") for one in texts)}


def _with(trace: "Trace", given: dict[str, Any]) -> "tuple[Trace, tuple[Problem, ...]]":
    """The trace with what was said on the command line; what does not fit is said and left out."""
    from tracker.trace.naming import condition, marks_named, reading_named

    problems: list[Problem] = []
    when = condition(given["when"] or "")
    if given["when"] and when is None:
        problems.append(
            Problem(
                "when", "This condition says nothing here.", "hot, wet, at full lock, shaken", given["when"]
            )
        )
    for name, (symptom, _) in LISTS.items():
        for text in _listed(given[name]):
            marks, problem = marks_named(trace.bench, symptom, text, when=when)
            trace = trace.marked(*marks) if marks else trace
            problems += [problem] if problem else []
    for text in given["with_"]:
        load, _, other = text.partition("=")
        marks, problem = marks_named(
            trace.bench, SymptomKind.COMES_ON_WITH, load, other=other or "?", when=when
        )
        trace = trace.marked(*marks) if marks else trace
        problems += [problem] if problem else []
    if given["flat"]:
        marks, problem = marks_named(trace.bench, SymptomKind.FLAT_PARKED, "battery", when=when)
        trace = trace.marked(*marks) if marks else trace
        problems += [problem] if problem else []
    for text in given["reading"]:
        reading, problem = reading_named(trace.bench, text, trace.marks)
        trace = trace.read(reading) if reading else trace
        problems += [problem] if problem else []
    accesses = trace.loom.known.accesses
    for name in _listed(given["off"]):
        if name not in accesses:
            problems.append(
                Problem("off", "There is no such thing to take off.", f"One of: {', '.join(accesses)}.", name)
            )
        trace = trace.opened_up(name)
    barred = _listed(given["cannot_reach"])
    return (trace.cannot_reach(*barred) if barred else trace), tuple(problems)


def _listed(texts: Sequence[str]) -> list[str]:
    """`A,B` and repeated options alike."""
    return [one.strip() for text in texts for one in text.split(",") if one.strip()]


def _options() -> list[click.Parameter]:
    return [
        click.Option([f"--{name.replace('_', '-')}", name], multiple=True, metavar="A,B", help=words)
        for name, (_, words) in LISTS.items()
    ]


trace = click.Command(
    "trace",
    params=[
        click.Option(["--bike"], metavar="N", help="The bike: its number or registration."),
        click.Option(["--card"], metavar="N", help="The card, with all that is written on it."),
        click.Option(["--features"], multiple=True, metavar="QUESTION=ANSWER", help="Without a bike."),
        *_options(),
        click.Option(["--with", "with_"], multiple=True, metavar="X=Y", help="X comes on with Y."),
        click.Option(["--flat"], is_flag=True, help="The battery is flat after the bike was parked."),
        click.Option(["--when"], metavar="TEXT", help="Only hot, wet, at full lock, shaken."),
        click.Option(
            ["--reading"],
            multiple=True,
            metavar="PLACE=VOLTS@STATE",
            help="What was read: volts at a place, PLACE..PLACE=V for a drop, PART=WORD for what was seen.",
        ),
        click.Option(["--off"], multiple=True, metavar="A,B", help="What is off anyway: seat, tank, ..."),
        click.Option(["--cannot-reach"], multiple=True, metavar="A,B", help="Places, plugs, zones."),
        *shared_options(),
    ],
    callback=_trace,
    help="What it can be and the check to make next, from what is dead and what works. A load may be said as"
    " NAME@STATE; a state's name (hazard, turn-left) stands for all that works in it.",
)
