"""A job card and all that is written on it while a bike goes through its life here."""

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from tracker.records.row import Kept, Row


class CardKind(StrEnum):
    """What came in: a bike, a loom or unit without one, or an owner-builder's project work."""

    BIKE = "bike"
    UNIT = "unit"
    PROJECT = "project"


@dataclass(frozen=True, slots=True, kw_only=True)
class Card(Kept):
    """The head of a job card. Everything about where it stands is worked out, nothing of it is kept here.

    `customer` is who brought it, `payer` who pays when that is another, `rider` who rides it.
    `excess_minor` is what the customer pays beside an insurer, `claim` the payer's own number for the work
    (an order, a claim). `distance` is one way, in the shop's unit. `comes_on` is the day on which a bike that
    is still to come is expected, None once it is here; `came_at` is then when the card was written.
    `comeback_of` names the first card; `comeback_charged` says whether this one is billed.
    """

    number: str
    kind: CardKind = CardKind.BIKE
    bike: int | None = None
    unit: str = ""
    customer: int | None = None
    payer: int | None = None
    rider: int | None = None
    complaint: str
    came_at: datetime
    came_how: str = ""
    odometer: int | None = None
    promised_on: date | None = None
    marks: str = ""
    keys: str = ""
    stands: str = ""
    road_test: bool | None = None
    call_out: bool = False
    distance: float | None = None
    excess_minor: int | None = None
    comeback_of: int | None = None
    comeback_charged: bool = True
    notes: str = ""
    comes_on: date | None = None
    claim: str = ""


class SymptomKind(StrEnum):
    """What a load does, as the customer or the mechanic says it."""

    DEAD = "dead"
    WEAK = "weak"
    WORKS = "works"
    COMES_AND_GOES = "comes and goes"
    BLOWS_FUSE = "blows its fuse"
    BULBS_BLOW = "bulbs keep blowing"
    WONT_GO_OFF = "won't go off"
    COMES_ON_WITH = "comes on with another"
    FLASHES_FAST = "flashes fast"
    FLASHES_SLOW = "flashes slow"
    NO_FLASH = "does not flash"
    FLAT_PARKED = "flat when parked"


@dataclass(frozen=True, slots=True, kw_only=True)
class Symptom(Row):
    """One thing that is wrong, or works, on a card. `load` is a name from the loom where one fits."""

    card: int
    kind: SymptomKind
    load: str = ""
    words: str = ""
    when: str = ""
    at: datetime


class Phase(StrEnum):
    """When in a card's life a reading was taken."""

    BEFORE = "before"
    AFTER = "after"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading(Row):
    """One reading. `value` is in `unit`; None with `words` “OL” where the meter was over its range.

    `kind` is a name from seeds/tables/readings.csv; `side` tells which side of a place was probed;
    `state` and `conditions` say how the bike stood (key, lamps, rev/min, hours standing, temperature).
    """

    card: int
    bike: int | None = None
    kind: str
    value: float | None = None
    unit: str = ""
    words: str = ""
    place: str = ""
    side: str = ""
    state: str = ""
    conditions: dict[str, str]
    phase: Phase = Phase.BEFORE
    repair: int | None = None
    by: str = ""
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding(Kept):
    """What was found to be wrong. `left` is why it is not being mended here (the customer said no, ...)."""

    card: int
    words: str
    circuit: str = ""
    place: str = ""
    zone: str = ""
    fault: str = ""
    left: str = ""
    told_unsafe: bool = False
    by: str = ""
    at: datetime


class GoAheadFor(StrEnum):
    """What somebody gave leave to."""

    LOOK = "look"
    WORK = "work"


class Tolerance(StrEnum):
    """How far past its limit a go-ahead may be billed without a further one."""

    NONE = "none"
    PERCENT = "percent"
    OFF = "off"


@dataclass(frozen=True, slots=True, kw_only=True)
class GoAhead(Row):
    """Who gave leave, how, and up to how much in all on this card.

    `limit_minor` includes tax, in the shop's currency; `limit_min` is minutes at the bench; either may be
    None for “no limit named”. A go-ahead to work names the estimate it answers and the repairs it covers.
    """

    card: int
    what: GoAheadFor
    estimate: int | None = None
    covers: tuple[int, ...] = ()
    who: str
    how: str
    limit_minor: int | None = None
    limit_min: int | None = None
    tolerance: Tolerance = Tolerance.NONE
    tolerance_percent: int = 0
    words: str = ""
    by: str = ""
    at: datetime


class Need(StrEnum):
    """What a card needs to come one step further; each can be waived with a reason."""

    LEAVE_TO_LOOK = "leave to look"
    FINDINGS = "findings"
    ESTIMATE = "estimate"
    GO_AHEAD = "go-ahead"
    REPAIRS = "repairs"
    TESTS = "tests"
    INVOICE = "invoice"
    PAYMENT = "payment"
    COLLECTION = "collection"
    RECHECK = "recheck"


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiver(Row):
    """A need set aside by somebody, with the reason."""

    card: int
    need: Need
    reason: str
    by: str = ""
    at: datetime


class EndKind(StrEnum):
    """The other ways a card ends."""

    DECLINED = "declined"
    NOTHING_FOUND = "nothing found"
    CANT_MAKE_IT = "can't make it do it"
    NOT_WORTH_IT = "not worth it"
    COLLECTED_UNDONE = "collected undone"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ending(Row):
    """A card that stops before its repairs: looking is billed, and what is unsafe was said."""

    card: int
    kind: EndKind
    words: str = ""
    told_unsafe: bool = False
    by: str = ""
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Collection(Row):
    """The bike left: when, with whom, and by whose word if something was still owed."""

    card: int
    to_whom: str = ""
    odometer: int | None = None
    override: str = ""
    by: str = ""
    at: datetime


class CallOutcome(StrEnum):
    """How a call or message ended."""

    SPOKE = "spoke"
    NO_ANSWER = "no answer"
    LEFT_WORD = "left word"
    SENT = "sent"


@dataclass(frozen=True, slots=True, kw_only=True)
class Call(Row):
    """Who rang or wrote to whom about a card."""

    card: int
    who: str
    inward: bool = False
    outcome: CallOutcome
    words: str = ""
    by: str = ""
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened(Row):
    """Something taken off to reach a zone on a visit, so that it is paid once and a second time is seen."""

    card: int
    access: str
    refitted: bool = False
    by: str = ""
    at: datetime
    visit: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Attachment(Row):
    """A photo or paper, kept in the file with its SHA-256."""

    card: int | None = None
    bike: int | None = None
    repair: int | None = None
    name: str
    mime: str
    content: bytes
    sha256: str
    words: str = ""
    by: str = ""
    at: datetime
