"""The charging check of a card: what its bike is, which readings are there, each judged, the verdict."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tracker.desk.bike_loom import answers_of, model_key
from tracker.desk.desk import Desk
from tracker.desk.show import card_or_bike
from tracker.electrics.charging import judge_all, steps_for, taken_for, verdict
from tracker.records.bike import UNKNOWN, Bike, OwnFigure
from tracker.records.card import Phase, Reading
from tracker.records.charging import ChargingBike, ChargingStep, ChargingVerdict
from tracker.records.facts import CardFacts
from tracker.records.limits import LEAD_KINDS, Verdict
from tracker.seedfiles.charging import load_charging
from tracker.seedfiles.limits import load_limits
from tracker.store.reader import Reader


@dataclass(frozen=True, slots=True)
class StepTaken:
    """A step of the check with the readings taken for it, the oldest first."""

    step: ChargingStep
    before: tuple[Reading, ...]
    after: tuple[Reading, ...]


@dataclass(frozen=True, slots=True)
class ChargingCheck:
    """A card's charging check as far as it has come.

    `before` and `after` are the verdicts by the readings of each phase; `after` is None until one was taken.
    `besides` are readings of the check's kinds that no step of this bike asks for; `unsaid` are questions
    about the bike whose answers would judge more.
    """

    facts: CardFacts
    bike: ChargingBike
    steps: tuple[StepTaken, ...]
    judged: Mapping[int, Verdict]
    before: ChargingVerdict
    after: ChargingVerdict | None
    unsaid: tuple[str, ...]
    besides: tuple[Reading, ...] = ()

    @property
    def now(self) -> ChargingVerdict:
        """The verdict by the latest phase."""
        return self.after or self.before


def charging_bike(reader: Reader, bike: Bike | None) -> ChargingBike:
    """What of a bike the check goes by: its own record first, then its answers, then “don't know”."""
    if bike is None:
        return ChargingBike()
    answers = answers_of(reader, bike)
    volts = answers.get("volts") or ""
    battery = bike.battery_kind if bike.battery_kind != UNKNOWN else answers.get("battery")
    return ChargingBike(
        volts=bike.volts if bike.volts is not None else (int(volts) if volts.isdigit() else None),
        battery=battery or UNKNOWN,
        alternator=answers.get("alternator") or UNKNOWN,
        earth=str(bike.earth) if bike.earth != UNKNOWN else answers.get("earth") or UNKNOWN,
        sense=answers.get("sense") or UNKNOWN,
        own=own_figures(reader, bike),
    )


def own_figures(reader: Reader, bike: Bike) -> tuple[OwnFigure, ...]:
    """The figures that hold for a bike: the newest of each kind, its own before its model's."""
    found: dict[str, OwnFigure] = {}
    for figure in reader.all(OwnFigure, model_of=model_key(bike), bike=None):
        found[figure.kind] = figure
    for figure in reader.all(OwnFigure, bike=bike.id):
        found[figure.kind] = figure
    return tuple(found.values())


def judged(desk: Desk, facts: CardFacts) -> dict[int, Verdict]:
    """Every reading of a card judged as it was taken, by its id; also those that no limit is for."""
    bike = desk.read(lambda reader: charging_bike(reader, facts.bike))
    return judge_all(facts.readings, bike, load_limits(desk.seeds))


def charging_check(desk: Desk, name: str) -> ChargingCheck:
    """The check of a card, by its number or its bike's registration; raises NotFoundError."""
    facts = desk.facts(desk.read(lambda reader: card_or_bike(reader, name)).id)
    bike = desk.read(lambda reader: charging_bike(reader, facts.bike))
    table, limits = load_charging(desk.seeds), load_limits(desk.seeds)
    before = _of(facts.readings, Phase.BEFORE)
    after = _of(facts.readings, Phase.AFTER)
    kinds = {step.kind for step in table.steps}
    steps = tuple(
        StepTaken(step, taken_for(step, before), taken_for(step, after)) for step in steps_for(bike, table)
    )
    asked = {one.id for step in steps for one in (*step.before, *step.after)}
    return ChargingCheck(
        facts=facts,
        bike=bike,
        steps=steps,
        judged=judge_all(facts.readings, bike, limits),
        before=verdict(before, bike, table, limits),
        after=verdict(after, bike, table, limits) if any(one.kind in kinds for one in after) else None,
        unsaid=_unsaid(facts, bike),
        besides=tuple(one for one in facts.readings if one.kind in kinds and one.id not in asked),
    )


def _of(readings: Iterable[Reading], phase: Phase) -> tuple[Reading, ...]:
    return tuple(one for one in readings if one.phase is phase)


def _unsaid(facts: CardFacts, bike: ChargingBike) -> tuple[str, ...]:
    if facts.bike is None:
        return ("There is no bike on this card: nobody knows what the readings are to be judged by.",)
    found = []
    if bike.volts is None:
        found.append("Say whether it has 6 or 12 V: loomcard bike change N --volts 12.")
    if bike.battery == UNKNOWN and bike.volts != 0:
        kinds = ", ".join(LEAD_KINDS)
        found.append(f"Say what battery it is ({kinds}, lithium): loomcard bike change N --battery-kind agm.")
    if bike.alternator == UNKNOWN:
        found.append("Say what makes the current: loomcard bike change N --features alternator=three-phase.")
    return tuple(found)
