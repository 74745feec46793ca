"""The charging check: which readings make sense on a bike, and what those that were taken say together."""

from collections.abc import Iterable, Mapping, Sequence

from tracker.electrics.charging_ac import pairs_judged
from tracker.electrics.charging_signs import Sign, signs_of
from tracker.electrics.taken import judge_readings, of_the_field
from tracker.records.bike import UNKNOWN
from tracker.records.card import Reading
from tracker.records.charging import (
    ChargingBike,
    ChargingRow,
    ChargingStep,
    ChargingTable,
    ChargingVerdict,
    ChargingWord,
    Confidence,
    Signs,
)
from tracker.records.limits import Limits, Verdict, Word

NO_PICK = frozenset({ChargingWord.NOT_ENOUGH, ChargingWord.NOTHING})
QUALITIES = ("volts", "battery", "alternator")
"""Signs that are the bike's own and no reading's."""


def steps_for(bike: ChargingBike, table: ChargingTable) -> tuple[ChargingStep, ...]:
    """The steps of the check that make sense on this bike, in working order.

    Formula: those whose alternators, batteries and volts are the bike's, or are not named; a “don't know” of
        the bike keeps them. Sense-lead steps unless the bike is known to have none.
    Range: any bike; one that has no battery and nothing that charges has no steps.
    Example:
        >>> from tracker.seedfiles.charging import load_charging
        >>> total_loss = ChargingBike(volts=6, battery="flooded", alternator="none")
        >>> [step.id for step in steps_for(total_loss, load_charging())]
        ['standing', 'battery-temperature', 'load', 'cranking', 'drain']

    Source: each step's own, in seeds/tables/charging_steps.csv.
    """
    battery = "none" if bike.volts == 0 else bike.battery
    return tuple(
        step
        for step in table.steps
        if _fits(bike.alternator, step.alternators)
        and _fits(battery, step.batteries)
        and (not step.volts or bike.volts is None or bike.volts in step.volts)
        and not (step.sense and bike.sense == "no")
    )


def _fits(own: str, named: tuple[str, ...]) -> bool:
    return not named or own == UNKNOWN or own in named


def taken_for(step: ChargingStep, readings: Iterable[Reading]) -> tuple[Reading, ...]:
    """The readings that were taken for a step, the oldest first.

    Formula: those of its kind; where the step names a place, a pair or the field, only those taken there.
    Range: any readings. Ohms of a winding without a place count for its first pair.
    """
    found = [one for one in readings if one.kind == step.kind and _at(step, one)]
    return tuple(sorted(found, key=lambda one: (one.at, one.id)))


def _at(step: ChargingStep, reading: Reading) -> bool:
    place = reading.place.casefold()
    if step.place == "field" or (step.kind == "winding_ohms" and of_the_field(reading)):
        return step.place == "field" and of_the_field(reading)
    if step.kind == "winding_ohms":
        return step.place in place or (step.id == "ohms-ab" and not any(p in place for p in ("b-c", "c-a")))
    return step.kind != "supply_volts" or step.place in place


def judge_all(readings: Sequence[Reading], bike: ChargingBike, limits: Limits) -> dict[int, Verdict]:
    """Each reading of one bike judged, by its id: by itself, or where no limit holds against its fellows.

    Formula: as `judge_reading`; AC volts that no figure judges, by the balance of their three pairs.
    Range: any readings of one bike, of both phases.
    """
    alone = judge_readings(readings, bike, limits)
    together = pairs_judged(readings, bike, limits)
    return {
        number: together.get(number, one) if one.word is Word.NO_LIMITS else one
        for number, one in alone.items()
    }


def verdict(
    readings: Sequence[Reading], bike: ChargingBike, table: ChargingTable, limits: Limits
) -> ChargingVerdict:
    """What the readings of one phase of a charging check say together.

    Formula: the readings are brought to signs, and the first row of the table that holds decides. Later rows
        that hold and come to something else that is wrong are `also`. Rows of contradictions are all said;
        any of them makes the confidence low, and its readings are the next to take.
    Range: readings of any kinds in any order, none at all included; any bike. Where no limit holds a reading
        counts for nothing, so 6 V and other batteries are never failed by limits that are not for them.
    Example:
        >>> from tracker.seedfiles.charging import load_charging
        >>> from tracker.seedfiles.limits import load_limits
        >>> nothing_yet = verdict((), ChargingBike(volts=12, battery="agm"), load_charging(), load_limits())
        >>> nothing_yet.word.value, nothing_yet.next.id
        ('not enough', 'standing')

    Source: [1] seeds/tables/charging_verdicts.csv, each row its own. [2] each limit's own.
    """
    signs = signs_of(readings, bike, limits)
    words: Signs = {name: sign.word for name, sign in signs.items()}
    holding = [row for row in table.rows if _holds(row, words)]
    against = [row for row in holding if row.contradiction]
    first, *others = [row for row in holding if not row.contradiction]
    steps = steps_for(bike, table)
    named = [name for row in (*against[:1], first) for name in row.next]
    return ChargingVerdict(
        word=first.word,
        row=first.id,
        reasons=(first.reason, *_said(first, signs)),
        confidence="low" if against else _sureness(first, words),
        could_be=first.could_be,
        also=_also(first, others),
        contradictions=tuple(" ".join((row.reason, *_said(row, signs))) for row in against),
        against=tuple(_readings(row, signs) for row in against),
        limits=tuple(dict.fromkeys(limit for name in first.when for limit in signs[name].limits)),
        next=_next(named, steps, readings, again=bool(against)),
        signs=words,
    )


def _holds(row: ChargingRow, words: Signs) -> bool:
    return all(words[name] in wanted for name, wanted in row.when.items())


def _sureness(row: ChargingRow, words: Signs) -> Confidence:
    """A row's own, one step less where nobody said what battery it is and the row goes by its volts."""
    by_volts = any(name in row.when for name in ("over", "state", "load", "crank", "charge", "lamps"))
    if words["battery"] == "unknown" and by_volts and row.confidence == "good":
        return "fair"
    return row.confidence


def _said(row: ChargingRow, signs: Mapping[str, Sign]) -> tuple[str, ...]:
    """What the readings said by which the row holds, each once."""
    return tuple(
        dict.fromkeys(
            words for name in row.when if name not in QUALITIES for words in signs[name].why if words
        )
    )


def _readings(row: ChargingRow, signs: Mapping[str, Sign]) -> tuple[int, ...]:
    """The ids of the readings by which the row holds, each once."""
    return tuple(dict.fromkeys(id_ for name in row.when for id_ in signs[name].readings))


def _also(first: ChargingRow, others: Sequence[ChargingRow]) -> tuple[str, ...]:
    """What else is wrong by other readings, each verdict once; a flat battery too, since it gates."""
    said = {first.word}
    used = {name for name in first.when if name not in QUALITIES}
    found = []
    for row in others:
        own = {name for name in row.when if name not in QUALITIES}
        gate = not {"flat", "empty"}.isdisjoint(row.when.get("state", ()))
        if (row.word in NO_PICK and not gate) or row.word in said or not own - used:
            continue
        if own & used and not gate:
            continue
        said.add(row.word)
        used |= own
        found.append(f"{row.word}: {row.reason}" if not gate else row.reason)
    return tuple(found)


def _next(
    named: Sequence[str], steps: Sequence[ChargingStep], readings: Sequence[Reading], *, again: bool
) -> ChargingStep | None:
    """The first named step that was not taken yet; else the first that makes sense here, taken again."""
    by_id = {step.id: step for step in steps}
    sensible = [by_id[name] for name in named if name in by_id]
    if again and sensible:
        return sensible[0]
    fresh = (step for step in sensible if not taken_for(step, readings))
    return next(fresh, sensible[0] if sensible else None)
