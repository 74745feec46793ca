"""A circuit to be added: wire and fuse by the sums, relay or not, and in words what the loom cannot carry."""

from tracker.electrics.sizing import size_wire
from tracker.records.electrics import Load, LoadKind, Tables
from tracker.records.new_circuit import Circuit, CircuitAsked
from tracker.records.problem import Mistakes

JOINTS = 4
"""Fuse holder in and out, a plug, a terminal: the ways and crimps on the feed of a new load."""


def plan_circuit(asked: CircuitAsked, tables: Tables) -> Circuit:
    """The circuit for a load.

    The wire is the smallest that meets the drop, what it may carry among its neighbours in its heat, and its
    fuse; the fuse is the next over 1.25 times the current. A relay takes what the switch cannot carry, and
    what must go off with the key though the battery feeds it. Nothing is raised: what will not do is refused
    in words, each reason once.
    """
    try:
        wire = size_wire(
            length_mm=asked.length_mm,
            tables=tables,
            current_a=_given(asked.load, "current"),
            resistance_ohm=_given(asked.load, "resistance"),
            power_w=_given(asked.load, "power"),
            lamp_w=_given(asked.load, "filament"),
            rated_v=asked.load.rated_v,
            supply_v=asked.supply_v,
            limit_percent=asked.drop_percent,
            family=asked.family,
            together=asked.together,
            ambient_c=asked.ambient_c,
            joints=JOINTS,
        )
    except Mistakes as mistakes:
        return _none(tuple(f"{problem.sentence} {problem.hint}".strip() for problem in mistakes.problems))
    size = next(row.fit_mm2 for row in tables.conductors if row.name == wire.wire)
    relay, why = _relay(asked, wire.current_a)
    margin = tables.practice("fuse-margin").low
    refused = _feed_refused(asked, wire.current_a, wire.fuse_a, margin)
    return Circuit(
        wire=wire,
        wire_name=wire.wire,
        size_mm2=size,
        current_a=wire.current_a,
        fuse_a=wire.fuse_a,
        fuse_colour=wire.fuse_colour,
        relay=relay,
        why=(*wire.why, why),
        cautions=wire.cautions,
        refused=refused,
    )


def _none(refused: tuple[str, ...]) -> Circuit:
    return Circuit(
        wire=None, wire_name="", size_mm2=0.0, current_a=0.0, fuse_a=0.0, fuse_colour="", relay=False, why=(),
        cautions=(), refused=refused,
    )  # fmt: skip


def _given(load: Load, kind: LoadKind) -> float | None:
    """A load's figure where it is of that kind: the sums want just one of the four."""
    return load.value if load.kind == kind else None


def _relay(asked: CircuitAsked, current_a: float) -> tuple[bool, str]:
    if asked.switched and current_a > asked.switch_a:
        return (
            True,
            f"With a relay: its switch carries {asked.switch_a:g} A, and {current_a:.3g} A are wanted.",
        )
    if asked.keyed and not asked.feed_keyed:
        feeds = f"the {asked.feed.words}" if asked.feed else "the battery"
        return True, f"With a relay: {feeds} feeds it, which is always live, and it must go off with the key."
    if asked.keyed:
        words = asked.feed.words if asked.feed else "its feed"
        return False, f"Without a relay: the {words} goes off with the key."
    if asked.switched:
        return False, f"Without a relay: {current_a:.3g} A are no more than its switch carries."
    return False, "Without a relay: it is always live, and nothing switches it."


def _feed_refused(asked: CircuitAsked, current_a: float, fuse_a: float, margin: float) -> tuple[str, ...]:
    if asked.feed is None:
        return ()
    refused = []
    for part in (asked.feed, *asked.through):
        good_a = part.rated_a / (margin if part.fuse else 1)
        together = part.carries_a + current_a
        if together > good_a:
            refused.append(
                f"The {part.words} of {part.rated_a:g} A carries {part.carries_a:.1f} A already; with"
                f" {current_a:.1f} A more it would carry {together:.1f} A, and it is good for {good_a:.1f} A"
                " all day. Feed it from the battery with a fuse of its own; a fuse is never uprated."
            )
    if fuse_a >= asked.feed.rated_a:
        refused.append(
            f"Its own fuse of {fuse_a:g} A would not go before the {asked.feed.words} of"
            f" {asked.feed.rated_a:g} A: a fault in it would take the whole circuit."
        )
    return tuple(refused)
