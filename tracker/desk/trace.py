"""A trace on a bike or a card: begun from what is written there, and handed to whoever shows it.

found = card_trace(desk, "26-0412")
found.trace.now.next                    # the check to make, its words in tracker.trace.words
desk.given(ReadCheck, probe_fields(found, check, "12.3"))
desk.given(WriteFinding, finding_fields(found))
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from tracker.desk.bike_loom import loom_of, model_key
from tracker.desk.bikes import bike_named
from tracker.desk.desk import Desk
from tracker.desk.loom_known import is_changed
from tracker.desk.show import card_or_bike
from tracker.desk.trace_read import BAR, CHECK, DOUBT
from tracker.records.bike import Bike
from tracker.records.card import Card, Finding, Opened, Reading, Symptom, SymptomKind
from tracker.records.facts import CardFacts
from tracker.records.problem import Problem
from tracker.records.trace import CHECK_WORDS, Mark, OwnFix, TraceReading
from tracker.seedfiles.door import SHIPPED, Seeds
from tracker.seedfiles.trace import load_trace
from tracker.store.reader import Reader

if TYPE_CHECKING:
    from tracker.records.loom_made import Loom
    from tracker.trace.bench import Bench
    from tracker.trace.check import Check
    from tracker.trace.finding import Proposal
    from tracker.trace.trace import Trace


@dataclass(frozen=True)
class CardTrace:
    """A card's trace as far as it has come. `steps` are its readings in order, as they are numbered."""

    facts: CardFacts
    trace: "Trace"
    steps: tuple[Reading, ...]
    problems: tuple[Problem, ...]


def card_trace(desk: Desk, name: str, bench: "Bench | None" = None) -> CardTrace:
    """The trace of a card, by its number or its bike's registration; raises NotFoundError.

    `bench` is that of the same card's trace before, with all that was worked out on it.
    """
    from tracker.trace.trace import begin

    seeds = desk.seeds
    facts = desk.facts(desk.read(lambda reader: card_or_bike(reader, name)).id)
    if bench is None:
        loom = desk.read(lambda reader: loom_of(reader, seeds, facts.bike))
    else:
        loom = bench.whole
    own = desk.read(lambda reader: own_fixes(reader, loom, facts.bike, facts.card))
    trace = begin(loom, load_trace(seeds), own, bench)
    marks, problems = marks_of(trace.bench, facts.symptoms)
    steps = tuple(sorted((one for one in facts.readings if one.kind == CHECK), key=lambda one: one.id))
    trace = trace.marked(*marks).read(*readings_of(facts.readings))
    trace = trace.opened_up(*opened_of(facts.opened)).cannot_reach(*barred_of(facts.readings))
    problems += hanging(desk, facts.bike, loom)
    return CardTrace(facts, trace, steps, tuple(problems))


def hanging(desk: Desk, bike: Bike | None, loom: "Loom") -> list[Problem]:
    """What hangs loose in the loom of a bike that was changed: the trace goes by the loom as it is."""
    from tracker.loom.validate import validate

    if bike is None or not desk.read(lambda reader: is_changed(reader, bike)):
        return []
    return [
        Problem("loom", f"The loom is not finished: {one.sentence}", one.hint, one.given)
        for one in validate(loom)
    ]


def bike_trace(desk: Desk, name: str = "") -> "Trace":
    """A trace of a bike's loom with nothing seen yet; of the general pattern where none is named."""
    from tracker.trace.trace import begin

    seeds = desk.seeds

    def look(reader: Reader) -> "tuple[Loom, tuple[OwnFix, ...]]":
        bike = bike_named(reader, name) if name else None
        loom = loom_of(reader, seeds, bike)
        return loom, own_fixes(reader, loom, bike)

    loom, own = desk.read(look)
    return begin(loom, load_trace(seeds), own)


def pattern_trace(answers: dict[str, str | None], seeds: Seeds = SHIPPED) -> "Trace":
    """A trace on the general pattern with some answers, where there is no shop's file."""
    from tracker.loom.pattern import build
    from tracker.seedfiles.loom import load_pattern
    from tracker.trace.trace import begin

    return begin(build(load_pattern(seeds), answers), load_trace(seeds))


def own_fixes(
    reader: Reader, loom: "Loom", bike: Bike | None, card: Card | None = None
) -> tuple[OwnFix, ...]:
    """What this shop found before, on any bike: each finding with its element, and whether it came back.

    The card that is being traced does not count for itself.
    """
    from tracker.trace.parts import Single, kind_of, known_fault, zones_of

    cards = {one.id: one for one in reader.all(Card)}
    back = {one.comeback_of for one in cards.values() if one.comeback_of}
    models = {one.id: model_key(one) for one in reader.all(Bike)}
    mine = model_key(bike) if bike else ""
    found = []
    for finding in reader.all(Finding):
        part, fault = _part_of(loom, finding.place), known_fault(finding.fault)
        if part is None or fault is None or (card is not None and finding.card == card.id):
            continue
        single = Single(part, fault)
        zones = zones_of(loom, single)
        where = cards.get(finding.card)
        found.append(
            OwnFix(
                element=part[1],
                fault=fault,
                of=kind_of(loom, single),
                zone=zones[0] if zones else "",
                same_model=bool(mine and where and where.bike and models.get(where.bike) == mine),
                came_back=int(finding.card in back),
            )
        )
    return tuple(found)


def marks_of(bench: "Bench", symptoms: Sequence[Symptom]) -> tuple[list[Mark], list[Problem]]:
    """A card's symptoms as marks; what names no load of the loom is a problem, and kept on the card.

    What was said later of a load's being dead, weak or working takes the place of what was said before.
    """
    from tracker.trace.naming import condition, marks_named

    steady = {SymptomKind.DEAD, SymptomKind.WEAK, SymptomKind.WORKS, SymptomKind.COMES_AND_GOES}
    marks: dict[tuple[str, str, str], Mark] = {}
    problems: list[Problem] = []
    for one in sorted(symptoms, key=lambda symptom: symptom.id):
        load = one.load or ("battery" if one.kind is SymptomKind.FLAT_PARKED else "")
        other = one.words.removeprefix("with ") if one.kind is SymptomKind.COMES_ON_WITH else ""
        found, problem = marks_named(bench, one.kind, load, other=other, when=condition(one.when))
        problems += [problem] if problem else []
        for mark in found:
            group = "" if one.kind in steady else str(one.kind)
            marks[mark.load, mark.state, group] = mark
    return list(marks.values()), problems


def readings_of(readings: Sequence[Reading]) -> list[TraceReading]:
    """A card's kept checks as the trace reads them, in their order."""
    doubts: dict[str, bool] = {}
    for one in sorted(readings, key=lambda reading: reading.id):
        if one.kind == DOUBT:
            doubts[one.conditions.get("reading", "")] = one.value == 1.0
    return [
        TraceReading(
            kind=next((word for word in CHECK_WORDS if word == one.conditions.get("check")), "volts"),
            place=f"{one.place}@{one.side}" if one.side else one.place,
            state=one.state,
            value=one.value,
            outcome="" if one.value is not None else one.words,
            against=one.conditions.get("against", ""),
            doubted=doubts.get(str(one.id), False),
        )
        for one in sorted(readings, key=lambda reading: reading.id)
        if one.kind == CHECK
    ]


def opened_of(opened: Sequence[Opened]) -> tuple[str, ...]:
    """What is off now."""
    off: dict[str, bool] = {}
    for one in sorted(opened, key=lambda row: row.id):
        off[one.access] = not one.refitted
    return tuple(name for name, still in off.items() if still)


def barred_of(readings: Sequence[Reading]) -> tuple[str, ...]:
    """What cannot be reached."""
    barred: dict[str, bool] = {}
    for one in sorted(readings, key=lambda reading: reading.id):
        if one.kind == BAR:
            barred[one.place] = one.value == 1.0
    return tuple(name for name, still in barred.items() if still)


def probe_fields(found: CardTrace, check: "Check", read: str) -> dict[str, object]:
    """The fields of `probe` for what an offered check gave, with what was expected of it beside."""
    from tracker.trace.trace import reading_of
    from tracker.trace.words import expected

    against = reading_of(check).against
    said = expected(found.trace.bench, check, found.trace.now.suspects[:12])
    return {
        "card": found.facts.card.number,
        "place": check.place,
        "value": read,
        "state": check.state,
        "check": check.kind,
        "against": against,
        "expected": " / ".join(one.outcome for one in said[:4]),
    }


def repairs_of(found: CardTrace) -> "tuple[Proposal, ...]":
    """The repairs that what was found asks for; none while nothing is found."""
    from tracker.trace.finding import proposals

    standing = found.trace.now
    return proposals(found.trace.bench, standing.found, found.trace.marks) if standing.found else ()


def finding_fields(found: CardTrace) -> dict[str, object]:
    """The fields of `finding` for what was found; empty while nothing is."""
    repairs = repairs_of(found)
    if not repairs:
        return {}
    first = repairs[0]
    return {
        "card": found.facts.card.number,
        "words": "; and ".join(one.words for one in repairs),
        "circuit": first.circuit,
        "place": first.single.part[1],
        "zone": first.zone,
        "fault": first.single.fault,
    }


def repair_for(desk: Desk, name: str, finding: Finding) -> "Proposal | None":
    """The repair that a finding written from a trace asks for, by its place and fault; None for any other."""
    from tracker.trace.finding import proposal_of
    from tracker.trace.parts import Single, known_fault

    seeds = desk.seeds
    facts = desk.facts(desk.read(lambda reader: card_or_bike(reader, name)).id)
    loom = desk.read(lambda reader: loom_of(reader, seeds, facts.bike))
    part, fault = _part_of(loom, finding.place), known_fault(finding.fault)
    return proposal_of(loom, Single(part, fault), finding.circuit) if part and fault else None


def _part_of(loom: "Loom", name: str) -> "tuple[Any, str] | None":
    for what, table in (("device", loom.devices), ("place", loom.places), ("wire", loom.wires)):
        if name in table:
            return what, name
    return None
