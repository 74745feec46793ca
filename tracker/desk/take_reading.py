"""Readings: what was measured, where, and how the bike stood; before a repair and after it."""

from dataclasses import dataclass
from typing import Annotated, ClassVar

from tracker.desk.ask import Ask
from tracker.desk.meter import metered
from tracker.desk.on_card import numbered
from tracker.desk.turn import Turn
from tracker.records.card import Phase, Reading
from tracker.records.problem import Mistakes, Problem
from tracker.seedfiles.readings import load_readings


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeReading:
    """Write down a reading: what was measured, where, and how the bike stood."""

    verb: ClassVar[str] = "read"
    phase: ClassVar[Phase] = Phase.BEFORE

    card: Annotated[str, Ask("Card", place=1)]
    kind: Annotated[str, Ask("Reading", "standing_volts, regulated_volts, drain, ...", place=2)]
    value: Annotated[str, Ask("Value", "13.9, 850 mA, 1M2, OL", place=3)]
    place: Annotated[str, Ask("Place", "where the probe was")] = ""
    side: Annotated[str, Ask("Side", choices=("in", "out"))] = ""
    state: Annotated[str, Ask("State", "key, lamps, engine")] = ""
    conditions: Annotated[dict[str, str] | None, Ask("Conditions", "hours_standing=8, temperature=12")] = None
    repair: Annotated[int | None, Ask("Repair", "its number on the card", least=1)] = None

    def work(self, turn: Turn) -> Reading:
        """Keeps the reading as one of its phase."""
        return keep_reading(turn, self)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadAfter(TakeReading):
    """Write down a reading taken after the repair."""

    verb: ClassVar[str] = "test"
    phase: ClassVar[Phase] = Phase.AFTER


def keep_reading(turn: Turn, given: TakeReading) -> Reading:
    """Judges nothing and refuses no fact: a reading is kept as it was read, in its kind's unit."""
    card = turn.card(given.card)
    facts = turn.facts(card)
    known = load_readings(turn.seeds)
    name = given.kind.strip().replace(" ", "_").replace("-", "_").casefold()
    problems: list[Problem] = []
    repair = None
    if given.repair is not None:
        try:
            repair = numbered("repair", facts.repairs, given.repair)
        except Mistakes as error:
            problems += error.problems
    kind = known.get(name)
    if kind is None:
        problems.append(
            Problem("kind", "There is no such reading.", f"One of: {', '.join(known)}.", given.kind)
        )
        raise Mistakes(problems)
    read = metered("value", given.value, kind.unit)
    if isinstance(read, Problem):
        problems.append(read)
        raise Mistakes(problems)
    if read.value is not None and not (
        (kind.least is None or kind.least <= read.value) and (kind.most is None or read.value <= kind.most)
    ):
        between = f"{kind.least:g} to {kind.most:g} {kind.unit}" if kind.most is not None else "more"
        problems.append(
            Problem("value", f"No meter shows that here: {between} is possible.", given=given.value)
        )
    if problems:
        raise Mistakes(problems)
    if kind.caution:
        turn.note(kind.caution)
    reading = turn.unit.insert(
        Reading(
            card=card.id,
            bike=card.bike,
            kind=name,
            value=read.value,
            unit=kind.unit,
            words=read.words,
            place=given.place,
            side=given.side,
            state=given.state,
            conditions=given.conditions or {},
            phase=given.phase,
            repair=repair.id if repair else None,
            by=turn.who,
            at=turn.at,
        )
    )
    turn.say(f"card {card.number}: {kind.words} {read.words}", card)
    return reading
