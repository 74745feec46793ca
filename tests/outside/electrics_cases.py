"""The published cases about wire, joints, lamps and frame numbers, each with its source beside it."""

import csv
from dataclasses import dataclass
from pathlib import Path

DATA = Path(__file__).parent / "data"


@dataclass(frozen=True)
class Case:
    """One published case; `expected` as it is written down, its first figure in `number`."""

    id: str
    expected: str
    tolerance: str
    source: str

    @property
    def number(self) -> float:
        return float(self.expected.split()[0])

    @property
    def within(self) -> float:
        return max(float(self.tolerance), 1e-9)


def rows(name: str) -> list[dict[str, str]]:
    """The rows of a data file beside the tests."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


CASES = {
    row["id"]: Case(row["id"], row["expected"], row["tolerance"], row["source"])
    for row in rows("electrics_cases.csv")
}
