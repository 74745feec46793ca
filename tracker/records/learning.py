"""What past cards say of the rules: each job’s time beside its book time, and what was made of them all."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from tracker.records.estimating import Factor

NONE = Factor()
"""No card has told anything."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PastJob:
    """One repair that was done: minutes it took and minutes the rule expects, both without what comes off.

    Minutes are unrounded. `mechanic` is who did it, None where several had a hand in it. `meant` says that
    the time was typed in or put right by hand; `doubt` is why its clock is hard to believe, empty otherwise.
    """

    repair: int
    rule: str
    took_min: float
    book_min: float
    mechanic: int | None = None
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
    """What was learned: factors by rule, and by mechanic on top of them where cards suffice.

    `rules` has every rule with a card that counts; `unseen` stands for those without one.
    """

    rules: Mapping[str, Factor] = field(default_factory=dict)
    mechanics: Mapping[int, Factor] = field(default_factory=dict)
    unseen: Factor = NONE
    spreads: Spreads
    jobs: int = 0
    doubts: tuple[Doubt, ...] = ()

    def of(self, rule: str, mechanic: int | None = None) -> Factor:
        """The factor of a rule, done by that mechanic where one is named and known well enough."""
        by_rule = self.rules.get(rule, self.unseen)
        by_hand = self.mechanics.get(mechanic) if mechanic is not None else None
        if by_hand is None:
            return by_rule
        return Factor(
            by_rule.n,
            by_rule.times * by_hand.times,
            by_rule.expected_times * by_hand.expected_times,
            by_rule.spread,
            by_rule.raw,
        )
