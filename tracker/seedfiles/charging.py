"""The charging check's steps and the table of its verdicts, from tables/charging_*.csv, checked first."""

from collections.abc import Mapping, Sequence
from functools import cache
from typing import get_args

from tracker.records.charging import SIGNS, ChargingRow, ChargingStep, ChargingTable, ChargingWord, Confidence
from tracker.records.limits import ALTERNATOR_KINDS, BATTERY_KINDS
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.readings import load_readings
from tracker.seedfiles.table_rows import Row, Table, read_table

STEPS, VERDICTS = "tables/charging_steps.csv", "tables/charging_verdicts.csv"
STEP_COLUMNS = (
    "id", "was", "kind", "place", "words", "meter", "leads", "engine", "caution",
    "alternators", "batteries", "volts", "sense",
)  # fmt: skip
VERDICT_COLUMNS = (
    "id", "was", "contradiction", "when", "verdict", "could_be", "reason", "next", "confidence",
)  # fmt: skip
SURENESS: tuple[Confidence, ...] = get_args(Confidence)


def load_charging(seeds: Seeds = SHIPPED) -> ChargingTable:
    """Steps in working order, rows in the order they are asked; raises SeedMistakes naming each mistake."""
    return _shipped() if seeds is SHIPPED else _load(seeds)


@cache
def _shipped() -> ChargingTable:
    return _load(SHIPPED)


def _load(seeds: Seeds) -> ChargingTable:
    steps = _steps(seeds)
    return ChargingTable(steps, _rows(seeds, [step.id for step in steps]))


def _steps(seeds: Seeds) -> tuple[ChargingStep, ...]:
    table = read_table(seeds, STEPS, STEP_COLUMNS)
    kinds = load_readings(seeds)
    if table.rows:
        table.once(["id"])
        table.once(["kind", "place"])
    steps = tuple(_step(row) for row in table.rows)
    for row in table.rows:
        if row.cells["kind"] not in kinds:
            table.wrong(row.line, "kind", f"“{row.cells['kind']}” is no kind of reading.", row.cells["kind"])
    _settle(table)
    return steps


def _step(row: Row) -> ChargingStep:
    return ChargingStep(
        id=row.text("id"),
        kind=row.text("kind"),
        place=row.cells["place"],
        words=row.text("words"),
        meter=row.text("meter"),
        leads=row.text("leads"),
        engine=row.text("engine"),
        caution=row.cells["caution"],
        alternators=_words(row, "alternators", ALTERNATOR_KINDS),
        batteries=_words(row, "batteries", BATTERY_KINDS),
        volts=tuple(int(volts) for volts in _words(row, "volts", ("6", "12", "24"))),
        sense=_yes(row, "sense"),
        **row.sourced(),
    )


def _rows(seeds: Seeds, steps: Sequence[str]) -> tuple[ChargingRow, ...]:
    table = read_table(seeds, VERDICTS, VERDICT_COLUMNS)
    if table.rows:
        table.once(["id"])
    rows = tuple(_row(row, steps) for row in table.rows)
    deciding = [(row, line) for row, line in zip(rows, table.rows, strict=True) if not row.contradiction]
    for row, line in deciding[:-1]:
        if not row.when:
            table.wrong(
                line.line, "when", "Only the last row may hold for everything: no later one is asked."
            )
    if deciding and deciding[-1][0].when:
        table.wrong(
            deciding[-1][1].line, "when", "The last row must hold for everything: leave “when” empty."
        )
    _settle(table)
    return rows


def _row(row: Row, steps: Sequence[str]) -> ChargingRow:
    verdict = row.choice("verdict", tuple(ChargingWord))
    sure = row.choice("confidence", SURENESS)
    contradiction = _yes(row, "contradiction")
    when = _when(row)
    if contradiction and not when:
        row.table.wrong(row.line, "when", "Which readings contradict each other?")
    return ChargingRow(
        id=row.text("id"),
        contradiction=contradiction,
        when=when,
        word=ChargingWord(verdict) if verdict in tuple(ChargingWord) else ChargingWord.NOT_ENOUGH,
        could_be=tuple(ChargingWord(word) for word in _parts(row, "could_be", tuple(ChargingWord))),
        reason=row.text("reason"),
        next=_words(row, "next", steps),
        confidence=next((known for known in SURENESS if known == sure), "low"),
        **row.sourced(),
    )


def _when(row: Row) -> Mapping[str, tuple[str, ...]]:
    """`charge: low | none; ac: balanced` as sign to the words it may have."""
    found: dict[str, tuple[str, ...]] = {}
    for part in (part.strip() for part in row.cells["when"].split(";")):
        if not part:
            continue
        sign, _, said = part.partition(":")
        sign = sign.strip()
        words = tuple(word.strip() for word in said.split("|"))
        if sign not in SIGNS:
            row.table.wrong(row.line, "when", f"“{sign}” is none of {', '.join(SIGNS)}.", part)
            continue
        if sign in found:
            row.table.wrong(row.line, "when", f"“{sign}” is there twice.", part)
        for word in words:
            if word not in SIGNS[sign]:
                listed = ", ".join(f"“{known}”" for known in SIGNS[sign])
                row.table.wrong(row.line, "when", f"“{word}” is no word for “{sign}”: {listed}.", part)
        found[sign] = words
    return found


def _words(row: Row, column: str, known: Sequence[str]) -> tuple[str, ...]:
    return _known(row, column, tuple(row.cells[column].split()), known)


def _parts(row: Row, column: str, known: Sequence[str]) -> tuple[str, ...]:
    return _known(
        row, column, tuple(part.strip() for part in row.cells[column].split(";") if part.strip()), known
    )


def _known(row: Row, column: str, words: tuple[str, ...], known: Sequence[str]) -> tuple[str, ...]:
    for word in words:
        if word not in known:
            listed = ", ".join(f"“{each}”" for each in known)
            row.table.wrong(row.line, column, f"“{word}” is none of {listed}.", word)
    return tuple(word for word in words if word in known)


def _yes(row: Row, column: str) -> bool:
    return bool(row.cells[column]) and row.choice(column, ("yes",)) == "yes"


def _settle(table: Table) -> None:
    if table.problems:
        raise SeedMistakes(table.name, table.problems)
