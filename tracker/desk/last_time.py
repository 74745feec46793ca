"""A recheck beside the repair it came from: the last readings, and how to compare like with like."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from tracker.electrics.taken import hours_standing, lamps_on, plug, rev_min
from tracker.records.card import Phase, Reading
from tracker.records.repair_rule import ReadingKind

REV_MIN_APART = 500.0
"""Speeds further apart than this are not the same way of reading (ours)."""
HOURS_APART = 0.5
"""A rest shorter or longer than by this part of the other is another way of reading (ours)."""


@dataclass(frozen=True, slots=True)
class Compared:
    """One reading beside last time's; `apart` says in which way it was taken differently, if it was."""

    kind: str
    now: Reading
    then: Reading | None
    apart: str


def last_time(readings: Iterable[Reading], kinds: Sequence[str]) -> tuple[Reading, ...]:
    """The last reading of each kind, those after the repair before those before it; in the kinds' order."""
    newest: dict[str, Reading] = {}
    for one in sorted(readings, key=lambda one: (one.phase is Phase.AFTER, one.at, one.id)):
        newest[one.kind] = one
    return tuple(newest[kind] for kind in kinds if kind in newest)


def compared(now: Iterable[Reading], then: Iterable[Reading], kinds: Sequence[str]) -> tuple[Compared, ...]:
    """What was read this time beside the same of last time, kind by kind."""
    before = {one.kind: one for one in last_time(then, kinds)}
    return tuple(
        Compared(one.kind, one, before.get(one.kind), _apart(one, before.get(one.kind)))
        for one in last_time(now, kinds)
    )


def _apart(now: Reading, then: Reading | None) -> str:
    if then is None:
        return ""
    found = []
    speeds = rev_min(now), rev_min(then)
    if speeds[0] and speeds[1] and abs(speeds[0] - speeds[1]) > REV_MIN_APART:
        found.append(f"{speeds[0]:g} rev/min, {speeds[1]:g} last time")
    hours = hours_standing(now), hours_standing(then)
    if hours[0] is not None and hours[1] is not None and _further(hours[0], hours[1]):
        found.append(f"after {hours[0]:g} h, {hours[1]:g} h last time")
    if now.state and then.state and lamps_on(now) != lamps_on(then):
        found.append("lamps on in one of the two only")
    if "unsaid" not in (plug(now), plug(then)) and plug(now) != plug(then):
        found.append(f"plug {plug(now)}, {plug(then)} last time")
    if now.place and then.place and now.place.casefold() != then.place.casefold():
        found.append(f"at {now.place}, {then.place} last time")
    return "; ".join(found)


def _further(one: float, other: float) -> bool:
    return abs(one - other) > HOURS_APART * max(one, other)


def value_words(reading: Reading) -> str:
    """What was read, with its unit."""
    if reading.value is None:
        return reading.words or "OL"
    if reading.unit == "yes/no":
        return "yes" if reading.value else "no"
    return f"{reading.value:g} {reading.unit}"


def taken_words(reading: Reading) -> str:
    """How the bike stood when it was read."""
    noted = [f"{name.replace('_', ' ')} {value}" for name, value in sorted(reading.conditions.items())]
    place = [f"at {reading.place}"] if reading.place else []
    return ", ".join([*place, *([reading.state] if reading.state else []), *noted])


def repeat_words(readings: Iterable[Reading], kinds: Mapping[str, ReadingKind]) -> tuple[str, ...]:
    """What to read again, and in which way it was read last time."""
    found = []
    for one in readings:
        how = taken_words(one)
        said = f" ({how})" if how else ""
        found.append(f"{_name(one.kind, kinds)}: {value_words(one)} last time{said}")
    return tuple(found)


def compared_words(pairs: Iterable[Compared], kinds: Mapping[str, ReadingKind]) -> tuple[str, ...]:
    """This time beside last time, a sentence for each."""
    found = []
    for pair in pairs:
        then = f", {value_words(pair.then)} last time" if pair.then else ", not read last time"
        apart = f" (not taken alike: {pair.apart})" if pair.apart else ""
        found.append(f"{_name(pair.kind, kinds)} {value_words(pair.now)}{then}{apart}")
    return tuple(found)


def _name(kind: str, kinds: Mapping[str, ReadingKind]) -> str:
    return kinds[kind].words if kind in kinds else kind.replace("_", " ")
