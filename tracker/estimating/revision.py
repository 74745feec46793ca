"""One revision of an estimate against the one before: what changed, by how much, and why."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tracker.estimating.words import of_unit, plain
from tracker.records.document import Estimate, EstimateLine
from tracker.records.money import Money


@dataclass(frozen=True, slots=True)
class Change:
    """One difference: `minutes` are expected ones where the line has them, `net_minor` new less old."""

    words: str
    minutes: int
    net_minor: int


def changes(
    old: Estimate, old_lines: Sequence[EstimateLine], new: Estimate, new_lines: Sequence[EstimateLine]
) -> tuple[Change, ...]:
    """The lines that are new, gone or other, in the order of the new revision, those gone last.

    A line is the same when it is for the same repair, part or thing taken off. ValueError when the two are
    in different currencies: nothing can be said of their difference.
    """
    if old.currency != new.currency:
        raise ValueError(f"{old.currency} and {new.currency} do not compare")
    before = {_key(line): line for line in old_lines}
    after = {_key(line): line for line in new_lines}
    found = []
    for key, line in after.items():
        had = before.get(key)
        if had is None:
            found.append(_change(f"New: {line.words}, {_worth(line, new.currency)}.", None, line))
        elif _figures(had) != _figures(line):
            found.append(_change(f"{line.words}: {_moved(had, line, new.currency)}.", had, line))
    for key, had in before.items():
        if key not in after:
            found.append(_change(f"No longer: {had.words}, {_worth(had, old.currency)}.", had, None))
    return tuple(found)


def is_same(
    old: Estimate, old_lines: Sequence[EstimateLine], new: Estimate, new_lines: Sequence[EstimateLine]
) -> bool:
    """Whether a new revision would say what the old one says: the same work, figures and words.

    How a figure is explained may differ, and what was kept for explaining; words left out are as before.
    """
    same = (
        "fixed_price", "currency", "covers", "least_min", "likely_min", "most_min", "expected_min", "low_min",
        "high_min", "net_minor", "tax_minor", "total_minor", "high_total_minor", "wire_mm",
    )  # fmt: skip
    return (
        all(getattr(old, name) == getattr(new, name) for name in same)
        and new.words in {"", old.words}
        and [_whole_line(line) for line in old_lines] == [_whole_line(line) for line in new_lines]
    )


def summary(old: Estimate, new: Estimate) -> str:
    """The two totals, with tax, and the times expected, in a sentence."""
    return (
        f"Total {Money(new.total_minor, new.currency)} {new.currency}, was "
        f"{Money(old.total_minor, old.currency)}; expected {new.expected_min} min, was {old.expected_min}."
    )


def reasons(old: Mapping[str, Any], new: Mapping[str, Any]) -> tuple[str, ...]:
    """Why two revisions differ, from what each has kept (see `freeze`): answers, rules, rates, prices."""
    found = [*_answers(old, new)]
    for rule, text in new.get("rules", {}).items():
        if rule in old.get("rules", {}) and old["rules"][rule] != text:
            found.append(f"The rule “{rule}” was changed in between.")
    known = {(row["access"], row["visit"]) for row in old.get("opens", [])}
    for row in new.get("opens", []):
        if row.get("was_off") and (row["access"], row["visit"]) not in known:
            words = str(row["words"])
            found.append(f"{words[:1].upper()}{words[1:]}: {row['was_off']}.")
    for part in ("rates", "prices"):
        for name, value in new.get(part, {}).items():
            had = old.get(part, {}).get(name)
            if had is not None and had != value:
                what = name.replace("_", " ")
                found.append(f"{what[:1].upper()}{what[1:]} {value}, was {had}.")
    return tuple(found)


def _answers(old: Mapping[str, Any], new: Mapping[str, Any]) -> list[str]:
    before = {(one["repair"], one["rule"]): one for one in old.get("asked", [])}
    found = []
    for one in new.get("asked", []):
        had = before.get((one["repair"], one["rule"]))
        if had is None:
            continue
        for name, value in one["answers"].items():
            was = had["answers"].get(name, "")
            if was != value:
                asked = name.removesuffix("_mm2").removesuffix("_mm").replace("_", " ")
                found.append(f"{one['words']}: {asked} {value or 'nothing'}, was {was or 'nothing'}.")
    return found


def _key(line: EstimateLine) -> tuple[object, ...]:
    if line.part is not None:
        return line.kind, "part", line.part
    if line.book_min is not None and line.repair is not None:
        return line.kind, "repair", line.repair
    return line.kind, "words", line.words


def _figures(line: EstimateLine) -> tuple[object, ...]:
    return line.qty, line.unit, line.unit_price, line.net_minor


def _whole_line(line: EstimateLine) -> tuple[object, ...]:
    return (
        line.repair, line.part, line.kind, line.words,
        line.qty, line.unit, line.unit_price, line.base_qty, line.net_minor, line.tax_category, line.tax_rate,
        line.book_min, line.least_min, line.likely_min, line.most_min,
    )  # fmt: skip


def _worth(line: EstimateLine, currency: str) -> str:
    return f"{of_unit(line.qty, line.unit)}, {Money(line.net_minor, currency)}"


def _moved(old: EstimateLine, new: EstimateLine, currency: str) -> str:
    parts = []
    if (old.qty, old.unit) != (new.qty, new.unit):
        parts.append(f"{of_unit(new.qty, new.unit)}, was {of_unit(old.qty, old.unit)}")
    if old.unit_price != new.unit_price:
        parts.append(f"at {plain(new.unit_price)}, was {plain(old.unit_price)}")
    if old.net_minor != new.net_minor:
        parts.append(f"comes to {Money(new.net_minor, currency)}, was {Money(old.net_minor, currency)}")
    return "; ".join(parts)


def _change(words: str, old: EstimateLine | None, new: EstimateLine | None) -> Change:
    return Change(
        words,
        (new.book_min or 0 if new else 0) - (old.book_min or 0 if old else 0),
        (new.net_minor if new else 0) - (old.net_minor if old else 0),
    )
