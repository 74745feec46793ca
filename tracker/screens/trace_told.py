"""A card's trace put into words for the screen: the next check, what it may show, suspects with bars."""

from collections.abc import Sequence
from dataclasses import dataclass

from tracker.desk.desk import Desk
from tracker.desk.show import card_view
from tracker.desk.trace import CardTrace, card_trace, repairs_of
from tracker.loom.where import words_of
from tracker.papers.say import plain_name
from tracker.records.money import Money
from tracker.trace.bench import Bench
from tracker.trace.finding import proof
from tracker.trace.parts import zones_of
from tracker.trace.suspects import Suspect
from tracker.trace.words import cautions, expected, sentence, theory_words

MOST = 8
"""Suspects that are listed."""

BAR = 12
"""Columns of the widest bar."""


@dataclass(frozen=True, slots=True)
class Told:
    """A trace in words, worked out away from the keys: `next` is the check, `wants` what it may show."""

    kept: CardTrace
    seen: str
    left: str
    next: str
    wants: tuple[tuple[str, str], ...]
    mind: tuple[str, ...]
    suspects: tuple[str, ...]
    ended: tuple[str, ...]
    promise: str
    problems: tuple[str, ...]


def tell(desk: Desk, card: str, bench: Bench | None = None) -> Told:
    """A card's trace worked out and put into words. Raises NotFoundError."""
    kept = card_trace(desk, card, bench)
    trace, standing = kept.trace, kept.trace.now
    check = standing.next
    seen = [f"{mark.symptom}: {words_of(trace.loom, 'device', mark.load)}" for mark in trace.marks]
    return Told(
        kept=kept,
        seen=f"Seen: {'; '.join(seen)}"
        if seen
        else "Nothing is marked yet: ^D writes down what is dead, weak or works.",
        left=_left(desk, card),
        next=_next(kept),
        wants=tuple(
            (one.outcome, f"{one.outcome} ({one.share:.0%}): {_leaves(kept, one.suspects)}")
            for one in expected(trace.bench, check, standing.suspects[:12])[:4]
        )
        if check
        else (),
        mind=cautions(trace.bench, check) if check else (),
        suspects=tuple(_bar(kept, one, standing.suspects[0].share) for one in standing.suspects[:MOST]),
        ended=_ended(kept),
        promise=_promise(kept),
        problems=tuple(one.sentence for one in (*kept.problems, *standing.problems)),
    )


def _next(kept: CardTrace) -> str:
    trace, standing = kept.trace, kept.trace.now
    if standing.next is not None:
        return f"next: {sentence(trace.bench, standing.next, trace.opened)}"
    if standing.found is not None:
        found = "; or ".join(theory_words(trace.loom, one.theory) for one in standing.found.suspects[:3])
        return f"Found: {found}.   Enter writes the finding down."
    return "Nothing that is marked is wrong: there is nothing to trace."


def _ended(kept: CardTrace) -> tuple[str, ...]:
    """Once it is found: the repairs that it asks for, and the loaded reading that proves them."""
    found = kept.trace.now.found
    if found is None:
        return ()
    trace = kept.trace
    rules = dict.fromkeys(plain_name(rule) for one in repairs_of(kept) for rule in one.rules)
    asked = proof(trace.bench, trace.tables, found.suspects[0].theory[0], trace.marks)
    lines = [f"repair: {', or '.join(rules)}"] if rules else ["nothing to mend: it is made so"]
    if asked is not None:
        lines.append(
            f"then prove it: {sentence(trace.bench, asked.check, trace.opened)} At most {asked.most_v:g} V."
        )
    return tuple(lines)


def _leaves(kept: CardTrace, suspects: Sequence[Suspect]) -> str:
    named = [theory_words(kept.trace.loom, one.theory) for one in suspects[:2]]
    more = f" and {len(suspects) - 2} more" if len(suspects) > 2 else ""
    return "; ".join(named) + more


def _bar(kept: CardTrace, suspect: Suspect, widest: float) -> str:
    loom = kept.trace.loom
    zones = ", ".join(loom.known.zones[zone].words for zone in zones_of(loom, suspect.theory[0])[:1])
    bar = "█" * max(1, round(suspect.share / widest * BAR))
    return f"{suspect.share:>4.0%} {bar:<{BAR}} {theory_words(loom, suspect.theory)}  ({zones})"


def _promise(kept: CardTrace) -> str:
    standing = kept.trace.now
    if standing.next is None:
        return ""
    best = "proved the best" if standing.proved_best else f"not under {standing.lower_bound_minutes:.0f} min"
    sure = f", {standing.sure_minutes:.0f} more to make sure" if standing.sure_minutes >= 0.5 else ""
    return f"about {standing.expected_minutes:.0f} min of looking left{sure} ({best})"


def _left(desk: Desk, card: str) -> str:
    """What is left of the leave to look."""
    view = card_view(desk, card)
    left = view.left
    if left is None:
        return ""
    words = [f"{left.minutes} min"] if left.minutes is not None else []
    words += [str(Money(left.minor, view.facts.shop.currency))] if left.minor is not None else []
    return f"left of the go-ahead: {' and '.join(words)}" if words else ""


def likeliest(told: Told) -> str:
    """The likeliest suspect in words."""
    standing = told.kept.trace.now
    return theory_words(told.kept.trace.loom, standing.suspects[0].theory) if standing.suspects else ""
