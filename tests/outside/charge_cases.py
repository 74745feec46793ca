"""Reading the published cases on batteries and alternators, each with its source, tolerance and status."""

import csv
import re
from dataclasses import dataclass
from pathlib import Path

DATA = Path(__file__).parent / "data"
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


@dataclass(frozen=True)
class Case:
    """One row of a case file. `status` says how far its source can be trusted; `note` what to beware of."""

    id: str
    topic: str
    input: str
    expected: str
    tolerance: str
    source: str
    status: str
    note: str

    @property
    def number(self) -> float:
        """The first number of what is expected."""
        found = _NUMBER.search(self.expected)
        assert found, self.expected
        return float(found[0])

    @property
    def within(self) -> float:
        """The tolerance as a number; 0 where it is said in words."""
        found = _NUMBER.match(self.tolerance)
        return float(found[0]) if found else 0.0

    def meets(self, value: float | None) -> bool:
        """Whether `value` is what is expected, within the case's own tolerance."""
        return value is not None and abs(value - self.number) <= self.within + 1e-9


def cases(name: str) -> list[Case]:
    """The rows of a case file; each must name its source."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        rows = [Case(**row) for row in csv.DictReader(file)]
    assert all(row.source and row.status for row in rows)
    return rows
