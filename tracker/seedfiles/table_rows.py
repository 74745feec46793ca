"""A table of seeds read cell by cell; what is wrong is noted by file, row and column, and reading goes on."""

import csv
import io
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import TypedDict

from tracker.records.electrics import STATUSES, Status
from tracker.records.problem import Problem
from tracker.seedfiles.door import Seeds

NOWHERE = math.nan
"""Stands for a cell that could not be read, until the file is refused."""


class SourcedCells(TypedDict):
    """The two columns that every table has."""

    status: Status
    source: str


@dataclass(slots=True)
class Table:
    """One file of rows. `problems` is empty where the file is sound."""

    name: str
    problems: list[Problem] = field(default_factory=list)
    rows: list["Row"] = field(default_factory=list)

    def wrong(self, line: int, column: str, sentence: str, given: str = "") -> None:
        """Notes a mistake at a row (the file's own line number) and column."""
        file = self.name.rsplit("/", 1)[-1]
        self.problems.append(Problem(f"{file} row {line}, {column}", sentence, given=given))

    def ordered(
        self, column: str, rows: Iterable["Row"], *, falling: bool = False, equal: bool = False
    ) -> None:
        """A column must rise (or fall) from row to row, or stay where `equal`. Empty cells are passed."""
        before: tuple[float, int] | None = None
        for row in rows:
            value = row.number(column, quiet=True)
            if math.isnan(value):
                continue
            if before is not None:
                step = before[0] - value if falling else value - before[0]
                if step < 0 or (step == 0 and not equal):
                    way = "fall" if falling else "rise"
                    self.wrong(
                        row.line,
                        column,
                        f"{value:g} follows {before[0]:g} in row {before[1]}; this column must {way}.",
                        row.cells[column],
                    )
            before = value, row.line

    def groups(self, column: str) -> list[list["Row"]]:
        """The rows that agree in a column, together."""
        groups: dict[str, list[Row]] = {}
        for row in self.rows:
            groups.setdefault(row.cells[column], []).append(row)
        return list(groups.values())

    def once(self, columns: Sequence[str]) -> None:
        """No two rows may agree in all of `columns`."""
        seen: dict[tuple[str, ...], int] = {}
        for row in self.rows:
            key = tuple(row.cells[column] for column in columns)
            if key in seen:
                self.wrong(
                    row.line, columns[-1], f"“{' '.join(key)}” is already in row {seen[key]}.", key[-1]
                )
            seen.setdefault(key, row.line)


@dataclass(slots=True)
class Row:
    """One row: its line in the file and its cells by column."""

    table: Table
    line: int
    cells: dict[str, str]

    def text(self, column: str) -> str:
        """What the cell says; an empty one is a mistake."""
        if not self.cells[column]:
            self.table.wrong(self.line, column, "This cell is empty.")
        return self.cells[column]

    def number(
        self,
        column: str,
        least: float = 0.0,
        most: float = math.inf,
        *,
        quiet: bool = False,
        over: bool = True,
    ) -> float:
        """The number in a cell, over `least` (or from it, unless `over`) to `most`; `quiet` notes nothing."""
        try:
            value = float(self.cells[column])
        except ValueError:
            value = NOWHERE
        fits = math.isfinite(value) and (value > least if over else value >= least) and value <= most
        if not fits and not quiet:
            limits = f"{'over' if over else 'from'} {least:g}" + (
                f" to {most:g}" if math.isfinite(most) else ""
            )
            self.table.wrong(self.line, column, f"This must be a number {limits}.", self.cells[column])
        return value if fits or (quiet and math.isfinite(value)) else NOWHERE

    def maybe(self, column: str) -> float | None:
        """The number in a cell that may be empty."""
        return self.number(column) if self.cells[column] else None

    def whole(self, column: str, least: int = 0) -> int:
        """The whole number in a cell, from `least`."""
        value = self.number(column, least, over=False)
        if math.isfinite(value) and value != int(value):
            self.table.wrong(self.line, column, "This must be a whole number.", self.cells[column])
        return int(value) if math.isfinite(value) else least

    def choice(self, column: str, known: Sequence[str]) -> str:
        """What the cell says, which must be one of `known`."""
        if self.cells[column] not in known:
            listed = ", ".join(f"“{word}”" for word in known)
            self.table.wrong(self.line, column, f"This must be one of {listed}.", self.cells[column])
        return self.cells[column]

    def sourced(self) -> SourcedCells:
        """Status and source; a row without either is a mistake."""
        self.choice("status", STATUSES)
        status: Status = next((known for known in STATUSES if known == self.cells["status"]), "from memory")
        return {"status": status, "source": self.text("source")}


def read_table(seeds: Seeds, name: str, columns: Sequence[str]) -> Table:
    """Seed `name` as rows of `columns`, status and source; raises NotFoundError where there is none."""
    table = Table(name)
    wanted = [*columns, "status", "source"]
    lines = _lines(table, seeds.text(name))
    header = next(lines, (1, []))[1]
    if header != wanted:
        table.wrong(1, "header", f"The columns must be: {', '.join(wanted)}.", ", ".join(header))
        return table
    for line, cells in lines:
        if len(cells) != len(wanted):
            table.wrong(line, "row", f"This row has {len(cells)} cells, not {len(wanted)}.", ", ".join(cells))
        else:
            stripped = (cell.strip() for cell in cells)
            table.rows.append(Row(table, line, dict(zip(wanted, stripped, strict=True))))
    if not table.rows and not table.problems:
        table.wrong(1, "row", "There is no row under the header.")
    return table


def _lines(table: Table, text: str) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True)
    try:
        yield from ((reader.line_num, cells) for cells in reader if cells)
    except csv.Error as error:
        table.wrong(reader.line_num, "row", f"This row cannot be read: {error}.")
