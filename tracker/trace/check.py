"""One check that could be made: what is done, where, in which state, and what it costs."""

from dataclasses import dataclass

from tracker.loom.access import of_part, to_reach
from tracker.records.loom_made import Loom
from tracker.records.loom_pattern import State
from tracker.records.trace import CheckKind, CheckWord, TraceTables

HELPER_MINUTES = 0.5
"""More where somebody else has to hold something (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Check:
    """A check. `place` is `PLACE@side` for a probe, else the id of the part that is looked at or moved.

    `against` is the black probe's place, “” for the battery's earthed post; `load` is what is watched.
    `minutes` are without what has to come off, which `needs` names, closed under its own needs.
    """

    kind: CheckWord
    place: str
    state: str
    against: str = ""
    load: str = ""
    minutes: float = 0.0
    hands: int = 1
    needs: frozenset[str] = frozenset()
    free: bool = False
    misread: float = 0.03

    @property
    def id(self) -> str:
        """As it is kept and named: “volts rear-plug:tail@in, position”."""
        beyond = f" to {self.against}" if self.against else f" for {self.load}" if self.load else ""
        return f"{self.kind} {self.place}{beyond}, {self.state}".strip()

    @property
    def part(self) -> str:
        """The place or part without the side."""
        return self.place.partition("@")[0]

    @property
    def metered(self) -> bool:
        """Whether it gives a number."""
        return self.kind in METERED


LOOKED: frozenset[CheckWord] = frozenset({"look at a fuse", "look at a bulb", "look at a plug"})
"""Checks of a part by itself: how the switches stand says nothing."""

METERED: frozenset[CheckWord] = frozenset(
    {"battery volts", "volts", "volts at the foot", "AC volts", "drop", "drop across a fuse"}
)


def check(
    loom: Loom,
    tables: TraceTables,
    kind: CheckWord,
    place: str,
    state: State,
    *,
    against: str = "",
    load: str = "",
    reach: bool = True,
) -> Check:
    """A check with its cost; `reach` False where nothing has to be reached."""
    row: CheckKind = tables.checks[kind]
    held = kind not in LOOKED and any(
        loom.known.controls[name].hand
        for name, position in state.at.items()
        if name in loom.known.controls and position != loom.known.controls[name].positions[0]
    )
    hands = row.hands + (1 if held and reach else 0)
    parts = [end.partition("@")[0] for end in (place, against) if end] if reach else []
    return Check(
        kind=kind,
        place=place,
        state=state.id,
        against=against,
        load=load,
        minutes=row.minutes + (HELPER_MINUTES if hands > row.hands else 0.0),
        hands=hands,
        needs=needed(loom, parts),
        free=row.free,
        misread=row.misread,
    )


def needed(loom: Loom, parts: list[str]) -> frozenset[str]:
    """What has to be off for some parts, all that they need included."""
    zones: list[str] = []
    also: list[str] = []
    for part in parts:
        more, off = of_part(loom, part)
        zones += more
        also += off
    return frozenset(access.id for access in to_reach(loom, zones, also).off)
