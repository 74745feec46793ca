"""Sizes chosen from the tables of conductors, sleeves and terminals, by the sums of `tracker.electrics`."""

from dataclasses import dataclass
from decimal import Decimal

from tracker.electrics.bundle import bundle_diameter_mm
from tracker.electrics.conductor import find_conductor
from tracker.electrics.sleeve import sleeve
from tracker.electrics.tape import tape
from tracker.estimating.sizing import Chosen
from tracker.estimating.words import plain
from tracker.records.electrics import Conductor, Tables
from tracker.records.problem import Mistakes

AS_SOLD = " as sold"
"""A kind of terminal goes by its standard, and where that has a gap by what is sold under its name."""


@dataclass(frozen=True, slots=True)
class TableSizes:
    """Chooses by the tables; `family` is the shop's usual wire (“AVS”), empty for thin wall to ISO 6722."""

    tables: Tables
    family: str = ""

    def sleeve(self, kind: str, size_mm2: Decimal, over: int, grips: int, adds_mm: Decimal) -> Chosen:
        """The smallest sleeve over `over` wires and `adds_mm` more that shrinks to `grips` of them."""
        diameter = self._outside_mm(size_mm2)
        if diameter is None:
            return Chosen("", f"no outside diameter is known for {plain(size_mm2)} mm²")
        widest = bundle_diameter_mm([diameter] * over) + float(adds_mm)
        narrowest = bundle_diameter_mm([diameter] * grips)
        try:
            found = sleeve(
                widest_mm=widest,
                narrowest_mm=narrowest,
                covered_mm=0,
                tables=self.tables,
                kind=kind,
            )
        except Mistakes as mistakes:
            return Chosen("", mistakes.sentence.rstrip("."))
        tube = f"{found.expanded_mm:g} mm shrinking to {found.recovered_mm:g}"
        return Chosen(found.size, f"{tube} goes over {widest:.1f} mm and grips {narrowest:.1f}")

    def terminal(self, kind: str, takes_mm2: Decimal) -> Chosen:
        """The size whose range holds the wire; the standard's before what is sold."""
        for named in (kind, kind + AS_SOLD):
            for row in self.tables.terminals:
                if row.kind != named or row.least_mm2 is None or row.most_mm2 is None:
                    continue
                if row.least_mm2 <= float(takes_mm2) <= row.most_mm2:
                    why = f"{row.size} takes {row.least_mm2:g} to {row.most_mm2:g} mm² ({row.cited})"
                    return Chosen(row.size, why)
        return Chosen("", f"none in the table takes {plain(takes_mm2)} mm²")

    def tape_mm(
        self, size_mm2: Decimal, wires: int, length_mm: Decimal, width_mm: Decimal, lap: Decimal
    ) -> tuple[Decimal, str]:
        """Tape wound round the wires as they lie together."""
        diameter = self._outside_mm(size_mm2)
        if diameter is None:
            return length_mm, f"no outside diameter is known for {plain(size_mm2)} mm²: one turn a length"
        round_mm = bundle_diameter_mm([diameter] * wires)
        try:
            found = tape(
                bundle_mm=round_mm,
                covered_mm=float(length_mm),
                tape_width_mm=float(width_mm),
                lap_percent=float(lap * 100),
            )
        except Mistakes as mistakes:
            return length_mm, mistakes.sentence.rstrip(".")
        turns = f"{plain(width_mm)} mm tape lapped by {plain(lap * 100)} %"
        return Decimal(
            found.tape_mm
        ), f"{wires} wires are {round_mm:.1f} mm together; {turns}, {found.turns:.0f} turns"

    def _outside_mm(self, size_mm2: Decimal) -> float | None:
        """Outside diameter of a wire; of the next size up, where there is none of just that size."""
        named = f"{self.family} {plain(size_mm2)}".strip()
        found = find_conductor(named, self.tables.conductors)
        if isinstance(found, Conductor) and found.od_mm is not None:
            return found.od_mm
        usual = self.family or "thin wall"
        larger = [
            row.od_mm
            for row in self.tables.conductors
            if row.family == usual and row.fit_mm2 >= float(size_mm2) and row.od_mm is not None
        ]
        return min(larger, default=None)
