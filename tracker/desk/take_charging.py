"""Several readings of one card in one deed: all of them kept, or none and every mistake named."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

from tracker.desk.ask import Where, read_fields
from tracker.desk.take_reading import ReadAfter, TakeReading, keep_reading
from tracker.desk.turn import Turn
from tracker.records.card import Card, Phase
from tracker.records.problem import Mistakes, Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeReadings:
    """Readings of one card, in the order in which they were taken."""

    verb: ClassVar[str] = "read"

    card: str
    readings: tuple[TakeReading, ...]

    def work(self, turn: Turn) -> Card:
        """Keeps them all; raises Mistakes with those of every reading, each with its place in the list."""
        card = turn.card(self.card)
        problems: list[Problem] = []
        for number, reading in enumerate(self.readings, 1):
            try:
                keep_reading(turn, reading)
            except Mistakes as mistakes:
                problems += _placed(number, mistakes.problems)
        if problems:
            raise Mistakes(problems)
        turn.say(f"card {card.number}: {len(self.readings)} readings", card)
        return card


def readings_given(
    card: str, given: Sequence[Mapping[str, object]], phase: Phase, where: Where
) -> TakeReadings:
    """Readings from what was typed, each by the fields of the deed `read`; raises Mistakes with them all.

    A reading may name its own `phase`; else it is of `phase`.
    """
    problems: list[Problem] = []
    found: list[TakeReading] = []
    for number, raw in enumerate(given, 1):
        own = str(raw.get("phase", phase))
        fields = {name: value for name, value in raw.items() if name != "phase"} | {"card": card}
        if own not in tuple(Phase):
            problems += _placed(number, [Problem("phase", "Before or after?", given=own[:60])])
        parsed = read_fields(ReadAfter if own == Phase.AFTER else TakeReading, fields, where)
        problems += _placed(number, parsed.problems)
        found.append(parsed.deed)
    if problems:
        raise Mistakes(problems)
    return TakeReadings(card=card, readings=tuple(found))


def _placed(number: int, problems: Iterable[Problem]) -> list[Problem]:
    return [replace(one, field=f"readings {number} {one.field}") for one in problems]
