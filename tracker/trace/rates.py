"""How likely each fault is before anything was seen: the tables, what wears there, what this shop found."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from tracker.records.loom_made import Loom
from tracker.records.trace import ANY, ConditionWord, OwnFix, TraceTables
from tracker.trace.bench import Theory
from tracker.trace.parts import Single, kind_of, traits_of, zones_of

TABLE_WORTH: Final = 150.0
"""The table weighs as much as so many faults that this shop found itself (a choice, no source)."""

SECOND: Final = 0.15
"""How likely a second fault is beside a first that has nothing to do with it (common practice, no source)."""

LEAST_RATE: Final = 0.5
"""A fault the table has no row for is not impossible."""


@dataclass(slots=True)
class Rates:
    """Weights of faults on one loom; `own` are what this shop fixed before."""

    loom: Loom
    tables: TraceTables
    own: Sequence[OwnFix] = ()
    _prior: dict[Single, float] = field(default_factory=dict)
    _total: float = 0.0

    def prepare(self, every: Sequence[Single]) -> None:
        """Weighs every fault that the loom can have; what the shop found moves those it found."""
        table = {single: self._by_table(single) for single in every}
        self._total = sum(table.values())
        groups: dict[tuple[str, str, str], list[Single]] = {}
        for single in every:
            groups.setdefault(self._group(single), []).append(single)
        for (fault, of, zone), members in groups.items():
            expected = TABLE_WORTH * sum(table[one] for one in members) / self._total
            found = sum(
                _proven(fix) for fix in self.own if (fix.fault, fix.of, fix.zone) == (fault, of, zone)
            )
            for one in members:
                self._prior[one] = table[one] * (expected + found) / expected
        for one in every:
            here = sum(_proven(fix) for fix in self.here(one) if fix.same_model)
            if here:
                self._prior[one] += self._total / TABLE_WORTH * here

    def prior(self, theory: Theory) -> float:
        """The weight of a theory: a rate, times a small part of another's for each fault more."""
        weight = 1.0
        for number, single in enumerate(theory):
            own = self._prior.get(single, self._by_table(single))
            weight *= own if number == 0 else SECOND * own / self._total
        return weight

    def here(self, single: Single) -> tuple[OwnFix, ...]:
        """What this shop fixed of just this fault in just this element, on any model."""
        return tuple(fix for fix in self.own if fix.element == single.part[1] and fix.fault == single.fault)

    def fixed_here(self, single: Single) -> tuple[int, int]:
        """How often it was fixed here, and how often of these it came back."""
        some = self.here(single)
        return sum(fix.fixed for fix in some), sum(fix.came_back for fix in some)

    def shows_when(self, single: Single, condition: ConditionWord) -> float:
        """The part of such faults that show under a condition only."""
        of, traits = kind_of(self.loom, single), traits_of(self.loom, single)
        return max(
            row.share
            for row in self.tables.conditions
            if row.condition == condition
            and (not row.trait or row.trait in traits)
            and (of in row.of or ANY in row.of)
        )

    def _by_table(self, single: Single) -> float:
        of = kind_of(self.loom, single)
        row = self.tables.rates.get((single.fault, of))
        weight = row.weight if row else LEAST_RATE
        traits = traits_of(self.loom, single)
        for trait in self.tables.traits:
            if trait.trait in traits and of in trait.of:
                weight *= trait.times
        return weight

    def _group(self, single: Single) -> tuple[str, str, str]:
        zones = zones_of(self.loom, single)
        return single.fault, kind_of(self.loom, single), zones[0] if zones else ""


def _proven(fix: OwnFix) -> int:
    """A repair that came back does not count as found."""
    return max(0, fix.fixed - fix.came_back)
