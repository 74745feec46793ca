"""Where a card stands, as plain values: its step, the one next thing, what else can go on, what stops it."""

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from tracker.records.card import EndKind, Need


class Step(StrEnum):
    """The ten steps of a card's life, in order."""

    IN = "In"
    LOOK = "Look"
    PRICE = "Price"
    AGREE = "Agree"
    FIX = "Fix"
    TEST = "Test"
    BILL = "Bill"
    PAID = "Paid"
    COLLECTED = "Collected"
    RECHECK = "Recheck"


class Reach(StrEnum):
    """How the life line draws one step."""

    DONE = "done"
    HERE = "here"
    AHEAD = "ahead"
    PASSED_OVER = "passed over"


class Deed(StrEnum):
    """The verbs of the command line that a next thing can be."""

    CAME = "came"
    LOOK = "look"
    READ = "read"
    FINDING = "finding"
    ESTIMATE = "estimate"
    AGREE = "agree"
    START = "start"
    FIX = "fix"
    PART = "part"
    CLOCK = "clock"
    TEST = "test"
    BILL = "bill"
    PAY = "pay"
    COLLECT = "collect"
    RECHECK = "recheck"


@dataclass(frozen=True, slots=True)
class NextThing:
    """One thing to do: the deed, a short plain sentence, and what the deed's form wants to know.

    `needs` is the need it goes towards, None where no need is behind it. `about` are ids, of findings and
    repairs for the work, of wanted parts for `part`, of documents for `pay`, of rechecks for `recheck`, of
    time entries for `clock`. `readings` are the kinds still to be taken.
    """

    deed: Deed
    words: str
    needs: Need | None = None
    about: tuple[int, ...] = ()
    readings: tuple[str, ...] = ()


class StopKind(StrEnum):
    """What a card can be waiting for."""

    BIKE = "the bike"
    WORD = "the customer's word"
    PARTS = "parts"
    READING = "a reading"
    MONEY = "money"
    RECHECK = "the recheck's date"
    SENT_OUT = "sent out"


@dataclass(frozen=True, slots=True)
class Stop:
    """One thing that holds a card where it is. `on` is the date it should end by, where one is known.

    `about` are ids as in `NextThing`: parts, repairs, documents or rechecks, by the kind.
    """

    kind: StopKind
    words: str
    on: date | None = None
    about: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a card stands. `next` is None only when the card is over.

    `step` is the first one with an unmet need, or the last one gone through when the card is `over`.
    `reached` has all ten steps in order. `also` may go on meanwhile: the agreed part of the work while a
    second fault is being agreed, a part to order, a clock to ask about. `since` is the instant from which it
    waits at this step, never after the present one. `ended` tells the ending in force, if any.
    """

    step: Step
    over: bool
    reached: tuple[tuple[Step, Reach], ...]
    next: NextThing | None
    also: tuple[NextThing, ...]
    stops: tuple[Stop, ...]
    since: datetime
    ended: EndKind | None = None

    def reach(self, step: Step) -> Reach:
        """How far the card is with one step."""
        return dict(self.reached)[step]
