"""Deeds of a trace: what a check gave, a reading doubted, a place that cannot be reached."""

from dataclasses import dataclass
from typing import Annotated, ClassVar

from tracker.desk.ask import Ask
from tracker.desk.turn import Turn
from tracker.records.card import Reading
from tracker.records.problem import Mistakes, Problem
from tracker.records.trace import CHECK_WORDS

CHECK, DOUBT, BAR = "trace_check", "trace_doubt", "trace_bar"
"""The kinds under which a trace's steps are kept among a card's readings."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadCheck:
    """Write down what a check of the trace gave."""

    verb: ClassVar[str] = "probe"

    card: Annotated[str, Ask("Card", place=1)]
    place: Annotated[str, Ask("Place", "rear-plug:tail@in, or a part", place=2)]
    value: Annotated[str, Ask("Read", "12.3, or: dead, weak, works, blown, whole, ...", place=3)]
    state: Annotated[str, Ask("State", "position, turn-left, start-neutral, ...", place=4)]
    check: Annotated[str, Ask("Check", choices=CHECK_WORDS)] = "volts"
    against: Annotated[str, Ask("Black probe", "the battery's earthed post if empty")] = ""
    expected: Annotated[str, Ask("Expected", "as the check said")] = ""

    def work(self, turn: Turn) -> Reading:
        """Keeps it as it was read; only an empty reading is refused."""
        card = turn.card(self.card)
        if not self.value.strip():
            raise Mistakes([Problem("value", "What did it read or show?")])
        place, _, side = self.place.partition("@")
        reading = turn.unit.insert(
            Reading(
                card=card.id,
                bike=card.bike,
                kind=CHECK,
                value=figure(self.value),
                unit="mV" if self.check == "drop across a fuse" else "V",
                words=self.value.strip(),
                place=place,
                side=side,
                state=self.state,
                conditions={
                    name: text
                    for name, text in (
                        ("check", self.check),
                        ("against", self.against),
                        ("expected", self.expected),
                    )
                    if text
                },
                by=turn.who,
                at=turn.at,
            )
        )
        turn.say(f"card {card.number}: {self.check} {self.place} {self.value.strip()}", card)
        return reading


@dataclass(frozen=True, slots=True, kw_only=True)
class DoubtCheck:
    """Doubt a reading of the trace: it is kept and counts for nothing; --again lets it count."""

    verb: ClassVar[str] = "doubt"

    card: Annotated[str, Ask("Card", place=1)]
    step: Annotated[int, Ask("Step", "its number in the trace", place=2, least=1)]
    again: Annotated[bool, Ask("It counts again")] = False

    def work(self, turn: Turn) -> Reading:
        """Notes the doubt; the reading itself stays as it was taken."""
        card = turn.card(self.card)
        steps = [one for one in turn.facts(card).readings if one.kind == CHECK]
        steps.sort(key=lambda one: one.id)
        if self.step > len(steps):
            raise Mistakes(
                [Problem("step", f"There are {len(steps)} steps in this trace.", given=str(self.step))]
            )
        doubted = steps[self.step - 1]
        kept = turn.unit.insert(
            Reading(
                card=card.id,
                bike=card.bike,
                kind=DOUBT,
                value=0.0 if self.again else 1.0,
                words="counts again" if self.again else "doubted",
                conditions={"reading": str(doubted.id)},
                by=turn.who,
                at=turn.at,
            )
        )
        turn.say(f"card {card.number}: step {self.step} {kept.words}", card)
        return kept


@dataclass(frozen=True, slots=True, kw_only=True)
class BarPlace:
    """Say that a place, plug, zone or access cannot be reached; --again offers it once more."""

    verb: ClassVar[str] = "bar"

    card: Annotated[str, Ask("Card", place=1)]
    place: Annotated[str, Ask("Place", "a place, plug, zone, or what would have to come off", place=2)]
    again: Annotated[bool, Ask("It can be reached again")] = False

    def work(self, turn: Turn) -> Reading:
        """Notes it; its checks are no longer offered on this card."""
        card = turn.card(self.card)
        kept = turn.unit.insert(
            Reading(
                card=card.id,
                bike=card.bike,
                kind=BAR,
                value=0.0 if self.again else 1.0,
                words="can be reached again" if self.again else "cannot be reached",
                place=self.place.partition("@")[0],
                conditions={},
                by=turn.who,
                at=turn.at,
            )
        )
        turn.say(f"card {card.number}: {self.place} {kept.words}", card)
        return kept


def figure(text: str) -> float | None:
    """What a meter shows as typed: “12.3”, “12,3 V”; None where it is no figure."""
    plain = text.strip().removesuffix("V").removesuffix("v").strip().replace(",", ".")
    try:
        value = float(plain)
    except ValueError:
        return None
    return value if -1e6 < value < 1e6 else None
