"""A trace as JSON and as words."""

import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from tracker.cli.context import Context
from tracker.cli.output import say, say_json
from tracker.papers.twins import WIDTH
from tracker.records.problem import Problem

if TYPE_CHECKING:
    from tracker.trace.check import Check
    from tracker.trace.suspects import Suspect
    from tracker.trace.trace import Trace

SHOWN = 12
"""So many suspects are listed in words; JSON has all of a thousandth and more."""


def say_trace(context: Context, trace: "Trace", problems: Sequence[Problem] = ()) -> None:
    """What it can be and what to do next."""
    every = (*problems, *trace.problems)
    if context.as_json:
        say_json(trace_record(trace, every))
    else:
        say("\n".join(_text(trace, every)))


def trace_record(trace: "Trace", problems: Sequence[Problem]) -> dict[str, Any]:
    """A trace for JSON."""
    now = trace.now
    return {
        "suspects": [_suspect(trace, one) for one in now.suspects if one.share >= 0.001],
        "next": None if now.next is None else _next(trace, now.next),
        "confirms": now.confirms,
        "found": None if now.found is None else [_suspect(trace, one) for one in now.found.suspects],
        "repairs": _repairs(trace),
        "proof": _proof(trace),
        "expected_minutes": round(now.expected_minutes, 2),
        "lower_bound_minutes": round(now.lower_bound_minutes, 2),
        "proved_best": now.proved_best,
        "sure_minutes": round(now.sure_minutes, 2),
        "contradicted": now.contradicted,
        "marks": trace.marks,
        "readings": trace.readings,
        "problems": problems,
    }


def _suspect(trace: "Trace", one: "Suspect") -> dict[str, Any]:
    from tracker.trace.parts import zones_of
    from tracker.trace.words import theory_words

    first = one.theory[0]
    zones = zones_of(trace.loom, first)
    fixed, back = trace.rates.fixed_here(first)
    return {
        "element": first.part[1],
        "what": first.part[0],
        "fault": first.fault,
        "share": round(one.share, 4),
        "zone": zones[0] if zones else "",
        "with": [{"element": other.part[1], "fault": other.fault} for other in one.theory[1:]],
        "words": theory_words(trace.loom, one.theory),
        "fixed_here": fixed,
        "came_back": back,
        "contradicts": one.contradicts,
    }


def _next(trace: "Trace", check: "Check") -> dict[str, Any]:
    from tracker.trace.words import cautions, expected, sentence, theory_words

    off = sorted(check.needs - trace.opened)
    return {
        "kind": check.kind,
        "place": check.place,
        "against": check.against,
        "load": check.load,
        "state": check.state,
        "access": off,
        "minutes": check.minutes + sum(trace.loom.known.accesses[name].minutes for name in off),
        "hands": check.hands,
        "sentence": sentence(trace.bench, check, trace.opened),
        "cautions": cautions(trace.bench, check),
        "expect": [
            {
                "outcome": one.outcome,
                "share": round(one.share, 4),
                "suspects": [theory_words(trace.loom, other.theory) for other in one.suspects[:6]],
            }
            for one in expected(trace.bench, check, _asked(trace))
        ],
    }


def _asked(trace: "Trace") -> "tuple[Suspect, ...]":
    if trace.now.confirms:
        return trace.weighed.likely(0.005)
    return tuple(one for some in trace.now.classes for one in some.suspects)


def _repairs(trace: "Trace") -> list[dict[str, Any]]:
    from tracker.trace.finding import proposals

    if trace.now.found is None:
        return []
    return [
        {"words": one.words, "rules": one.rules, "circuit": one.circuit, "zone": one.zone, "on": one.on}
        for one in proposals(trace.bench, trace.now.found, trace.marks)
    ]


def _proof(trace: "Trace") -> dict[str, Any] | None:
    from tracker.trace.finding import proof
    from tracker.trace.words import sentence

    if trace.now.found is None:
        return None
    asked = proof(trace.bench, trace.tables, trace.now.found.suspects[0].theory[0], trace.marks)
    if asked is None:
        return None
    check = asked.check
    return {
        "place": check.place,
        "against": check.against,
        "state": check.state,
        "most_v": asked.most_v,
        "sentence": sentence(trace.bench, check, trace.opened),
    }


def _text(trace: "Trace", problems: Sequence[Problem]) -> list[str]:
    now = trace.now
    lines = [f"  ! {one.sentence} {one.hint}".rstrip() for one in problems]
    if not now.suspects:
        return [
            *lines,
            "Nothing to trace yet: say what is wrong. loomcard trace --dead tail-lamp --works horn",
        ]
    lines.append("It can be")
    for one in now.suspects[:SHOWN]:
        if one.share >= 0.001:
            lines.append(_line(trace, one))
    more = len([one for one in now.suspects if one.share >= 0.001]) - SHOWN
    lines += [f"        and {more} more"] if more > 0 else []
    if now.contradicted:
        lines += ["", "Nothing explains all that was said and read: something was misread, or more is wrong."]
    if now.next is not None:
        lines += ["", *_next_text(trace, now.next)]
    if now.found is not None:
        lines += ["", *_found_text(trace)]
    return lines


def _line(trace: "Trace", one: "Suspect") -> str:
    record = _suspect(trace, one)
    zone = trace.loom.known.zones.get(record["zone"])
    fixed = f"; you fixed {record['fixed_here']} of these here" if record["fixed_here"] else ""
    back = f", {record['came_back']} came back" if record["came_back"] else ""
    return f"{one.share:>6.0%}  {record['words']} ({zone.words if zone else 'anywhere'}{fixed}{back})"


def _next_text(trace: "Trace", check: "Check") -> list[str]:
    record = _next(trace, check)
    first = "To make sure" if trace.now.confirms else "Next"
    lines = _row(first, f"{record['sentence']} ({record['minutes']:g} min)")
    for one in record["expect"][:5]:
        lines += _row("", f"{one['outcome']}: {'; '.join(one['suspects'][:3])} ({one['share']:.0%})")
    for caution in record["cautions"]:
        lines += _row("Mind", caution)
    now = trace.now
    gap = ""
    if not now.proved_best and now.lower_bound_minutes > 0 and not now.confirms:
        over = 100 * (now.expected_minutes / now.lower_bound_minutes - 1)
        gap = f", at most {over:.0f} % from the best possible"
    sure = f", and {now.sure_minutes:.0f} to make sure" if now.sure_minutes >= 0.5 else ""
    lines += _row("In all", f"about {now.expected_minutes:.0f} min to the end{gap}{sure}")
    return lines


def _found_text(trace: "Trace") -> list[str]:
    from tracker.trace.words import theory_words

    assert trace.now.found is not None
    names = [theory_words(trace.loom, one.theory) for one in trace.now.found.suspects]
    lines = _row("It is", names[0] if len(names) == 1 else f"one of: {'; or '.join(names[:6])}")
    for one in _repairs(trace):
        lines += _row("Repair", ", or ".join(one["rules"]) or "none: it is made so")
    asked = _proof(trace)
    if asked:
        lines += _row("Then prove", f"{asked['sentence']} At most {asked['most_v']:g} V.")
    return lines


def _row(name: str, text: str) -> list[str]:
    wrapped = textwrap.wrap(text, WIDTH - 13) or [text]
    return [f"{name if n == 0 else '':<13}{line}" for n, line in enumerate(wrapped)]
