"""What a rule has chosen from the tables: sleeve over its wires, a terminal for a wire, tape for a bundle."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol


@dataclass(frozen=True, slots=True)
class Chosen:
    """A size out of a table, empty when none fits; `why` says what it had to do, or what is missing."""

    size: str
    why: str


class Sizes(Protocol):
    """Chooses sizes; wire sizes in mm², lengths in mm."""

    def sleeve(self, kind: str, size_mm2: Decimal, over: int, grips: int, adds_mm: Decimal) -> Chosen:
        """The sleeve that passes over `over` wires plus `adds_mm` and still grips `grips` of them."""

    def terminal(self, kind: str, takes_mm2: Decimal) -> Chosen:
        """The size of a kind of the terminals table that takes `takes_mm2` of copper."""

    def tape_mm(
        self, size_mm2: Decimal, wires: int, length_mm: Decimal, width_mm: Decimal, lap: Decimal
    ) -> tuple[Decimal, str]:
        """Length of tape wound over a bundle with `lap` (0..1) of its width overlapping, and why."""


class WithoutTables:
    """Chooses nothing and says so: for a shop without tables, and for tests of what does not need them."""

    def sleeve(self, kind: str, size_mm2: Decimal, over: int, grips: int, adds_mm: Decimal) -> Chosen:
        """No sleeve."""
        del size_mm2, over, grips, adds_mm
        return Chosen("", f"no table of {kind} sleeve at hand")

    def terminal(self, kind: str, takes_mm2: Decimal) -> Chosen:
        """No terminal."""
        del takes_mm2
        return Chosen("", f"no table of {kind} at hand")

    def tape_mm(
        self, size_mm2: Decimal, wires: int, length_mm: Decimal, width_mm: Decimal, lap: Decimal
    ) -> tuple[Decimal, str]:
        """The bare length: what winding round the wires adds is not known."""
        del size_mm2, wires, width_mm, lap
        return length_mm, "no table of wire diameters at hand"
