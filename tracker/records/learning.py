"""What past cards say of the rules: each job’s time beside its book time, and what was made of them all."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from tracker.records.estimating import Factor

NONE = Factor()
"""No card has told anything."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PastJob:
    """One repair that was done: minutes it took and minutes the rule expects, both without what comes off.

    Minutes are unrounded. `mechanic` is who did it, None where several had a hand in it; `zone` of the loom
    and `model` of the bike are empty where they are not known. `meant` says that
    the time was typed in or put right by hand; `doubt` is why its clock is hard to believe, empty otherwise.
    """

    repair: int
    rule: str
    took_min: float
    book_min: float
    card: int | None = None
    mechanic: int | None = None
    zone: str = ""
    model: str = ""
    meant: bool = False
    doubt: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spreads:
    """How far jobs lie apart, as standard deviations of ln(took / book).

    `cards` from card to card of one rule, `rules` between the rules, `worth` how many cards the book weighs
    as much as: `cards`² / `rules`². None where there are not cards enough to tell.
    """

    cards: float | None = None
    rules: float | None = None
    worth: float


@dataclass(frozen=True, slots=True)
class Doubt:
    """A job whose time is asked about, and why.

    `counted` where it was meant so: then it counts, but no further out than another would be believed.
    """

    job: PastJob
    why: str
    counted: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Learned:
    """What was learned: factors by rule; by mechanic, zone and model on top of them where cards suffice.

    `rules` has every rule with a card that counts; `unseen` stands for those without one. `together` is how
    repairs of one card go together, and `pairs` from how many pairs of them; None where too few tell it.
    """

    rules: Mapping[str, Factor] = field(default_factory=dict)
    mechanics: Mapping[int, Factor] = field(default_factory=dict)
    zones: Mapping[str, Factor] = field(default_factory=dict)
    models: Mapping[str, Factor] = field(default_factory=dict)
    together: float | None = None
    pairs: int = 0
    unseen: Factor = NONE
    spreads: Spreads
    jobs: int = 0
    doubts: tuple[Doubt, ...] = ()

    def of(self, rule: str, mechanic: int | None = None, zone: str = "", model: str = "") -> Factor:
        """The factor of a rule, by that mechanic, in that zone, on that model where these are known."""
        found = self.rules.get(rule, self.unseen)
        if mechanic is not None:
            found = found.on_top(self.mechanics.get(mechanic, NONE))
        return found.on_top(self.zones.get(zone, NONE)).on_top(self.models.get(model, NONE))
