"""The day sheet as plain text, 80 columns wide."""

from collections.abc import Sequence
from datetime import datetime

from tracker.clock import Clock
from tracker.desk.day import DaySheet, waited
from tracker.desk.due_rows import DueRow
from tracker.papers.twins import cut, table
from tracker.records.money import Money


def day_text(sheet: DaySheet, now: datetime, clock: Clock) -> str:
    """The day sheet."""
    lines = [f"{sheet.shop or 'Loomcard'}, {sheet.on:%a %d %b %Y}"]
    counts = "  ".join(f"{group.name} {len(group.rows)}" for group in sheet.groups)
    lines.append(counts or "Nothing is waiting. loomcard book-in begins a card.")
    for person in sheet.on_the_clock:
        lines.append(
            f"on the clock: {person.mechanic} on {person.number} ({person.kind}) since"
            f" {clock.local(person.since):%H:%M}"
        )
    if sheet.owed_minor:
        lines.append(f"owed: {Money(sheet.owed_minor, sheet.currency)} {sheet.currency}")
    for group in sheet.groups:
        lines += ["", group.name.upper()]
        rows = [(r.number, r.who, r.bike, r.complaint, waited(r.since, now)) for r in group.rows]
        drawn = table(rows, (8, 16, 20, 0, 6), frozenset({4}))
        for row, line in zip(group.rows, drawn, strict=True):
            lines.append(line)
            lines.append("          > " + cut(row.next, 68))
            lines += ["          ! " + cut(stop, 68) for stop in row.stops]
    if sheet.promised:
        lines += ["", "PROMISED FOR TODAY OR BEFORE"]
        lines += [f"{r.number}  {r.promised_on}  {cut(r.who, 20)}  {r.step}" for r in sheet.promised]
    if sheet.rechecks:
        lines += ["", "RECHECKS DUE", *_due_lines(sheet.rechecks)]
    if sheet.left_out:
        lines += ["", f"{sheet.left_out} due for who wants no reminders: left out."]
    return "\n".join(lines)


def _due_lines(rows: Sequence[DueRow]) -> list[str]:
    lines = []
    for row in rows:
        odometer = f" or at {row.due_odometer:,}" if row.due_odometer else ""
        lines.append(f"{row.number}  {row.due_on}{odometer}  {row.reason}")
        lines.append(f"          {cut(row.bike, 30)}  {cut(row.who, 24)}  {row.phone}")
        if row.ask_owner:
            lines.append("          ! has changed hands: ask whether they want it")
    return lines
