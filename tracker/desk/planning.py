"""Planning repairs on a card: from what was asked to repair records, and where each is on the loom."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from tracker.card.visits import visit_of
from tracker.card.work import planned, unanswered
from tracker.desk.from_loom import proposed
from tracker.desk.loose_units import NOWHERE, is_loose, proved_loose
from tracker.desk.on_card import in_order, numbered
from tracker.desk.repair_text import RepairText, read_repair
from tracker.desk.turn import Turn
from tracker.desk.typed import whole
from tracker.desk.wanting import want
from tracker.errors import NotFoundError
from tracker.estimating.answers import answers
from tracker.loom.route import route as way
from tracker.records.card import Finding
from tracker.records.estimating import Asked, Where
from tracker.records.facts import CardFacts
from tracker.records.problem import Mistakes, Problem
from tracker.records.repair_rule import Rule
from tracker.records.work import Repair
from tracker.seedfiles.repairs import rule as rule_named

if TYPE_CHECKING:
    from tracker.records.loom_made import Loom

ZONE, PLACE, VISIT = "@zone", "@place", "@visit"
"""What a repair keeps beside its rule's answers, marked so that no question can have such a name."""


@dataclass(frozen=True, slots=True)
class Plan:
    """A repair as read, with its rule and the finding it answers."""

    text: RepairText
    rule: Rule
    finding: Finding | None
    zone: str


def plan_repairs(turn: Turn, facts: CardFacts, texts: Sequence[str], loom: "Loom") -> tuple[Repair, ...]:
    """Keeps new repairs on a card; raises every mistake in all of them at once."""
    plans = _plans(turn, texts, loom, facts)
    made = [_repair(plan, facts.card.id) for plan in plans]
    if is_loose(facts):
        made = [replace(one, proves=proved_loose(one.proves)) for one in made]
    kept = tuple(turn.unit.insert(one) for one in made)
    for plan, repair in zip(plans, kept, strict=True):
        for part in plan.text.parts:
            want(turn, facts.card, part.name, qty=part.qty, repair=repair, customers_own=part.customers_own)
    return kept


def tried_repairs(
    turn: Turn, texts: Sequence[str], loom: "Loom", first: int = 1, facts: CardFacts | None = None
) -> tuple[Asked, ...]:
    """Repairs as an estimate asks them, not kept; numbered from `first`, on the card of `facts` or on none.

    Raises every mistake in all of them at once.
    """
    plans = _plans(turn, texts, loom, facts)
    repairs = [replace(_repair(plan, 0), id=number) for number, plan in enumerate(plans, first)]
    problems: list[Problem] = []
    asked = [_asked(turn, repair, loom, problems) for repair in repairs]
    if problems:
        raise Mistakes(problems)
    return tuple(one for one in asked if one is not None)


def _plans(turn: Turn, texts: Sequence[str], loom: "Loom", facts: CardFacts | None) -> list[Plan]:
    problems: list[Problem] = []
    read = [read_repair(text) for text in texts]
    problems += [one for one in read if isinstance(one, Problem)]
    wanted = [one for one in read if isinstance(one, RepairText)]
    findings = [None] * len(wanted) if facts is None else _findings(facts, wanted, problems)
    plans: list[Plan] = []
    for text, finding in zip(wanted, findings, strict=True):
        plan = _plan(turn, text, finding, loom, problems)
        if plan is not None:
            plans.append(plan)
    if problems:
        raise Mistakes(problems)
    return plans


def _plan(
    turn: Turn, text: RepairText, finding: Finding | None, loom: "Loom", problems: list[Problem]
) -> Plan | None:
    try:
        rule = rule_named(text.rule, turn.seeds)
    except NotFoundError as error:
        problems.append(Problem("repair", error.sentence, error.hint, text.rule))
        return None
    from_loom = proposed(loom, rule, text.own, text.answers)
    text = replace(text, answers={**from_loom, **text.answers})
    for name, answer in from_loom.items():
        ask = rule.ask(name)
        turn.note(f"{ask.words if ask else name}: {answer} from the loom.")
    found = answers(rule, text.answers)
    if isinstance(found, tuple):
        problems += [Problem(f"repair.{p.field}", p.sentence, p.hint, p.given) for p in found]
        return None
    for name in ("mm", "visit"):
        if name in text.own and isinstance(
            seen := whole(f"repair.{name}", text.own[name], most=100_000), Problem
        ):
            problems.append(seen)
    zone = text.own.get("zone", "")
    if zone and zone not in loom.known.zones:
        names = ", ".join(loom.known.zones)
        problems.append(Problem("repair.zone", "There is no such zone.", f"One of: {names}.", zone))
    return Plan(text, rule, finding, zone or _zone(loom, text, finding))


def _zone(loom: "Loom", text: RepairText, finding: Finding | None) -> str:
    """The zone of the place named, of the wire's near end, else of the finding."""
    spots = [text.own.get("place", ""), text.own.get("from", ""), finding.place if finding else ""]
    for spot in spots:
        place = loom.places.get(spot.partition("@")[0])
        if place is not None:
            return place.zone
        body = loom.bodies.get(spot.partition(":")[0])
        if body is not None:
            return body.zone
    return finding.zone if finding and finding.zone in loom.known.zones else ""


def _findings(
    facts: CardFacts, wanted: Sequence[RepairText], problems: list[Problem]
) -> list[Finding | None]:
    """The finding each repair answers: as named, else in order while as many wait as repairs are asked."""
    waiting = list(in_order(unanswered(facts)))
    unnamed = [text for text in wanted if "finding" not in text.own]
    chosen: list[Finding | None] = []
    for text in wanted:
        if "finding" in text.own:
            number = whole("repair.finding", text.own["finding"], least=1)
            try:
                chosen.append(
                    None
                    if isinstance(number, Problem)
                    else numbered("repair.finding", facts.findings, number)
                )
            except Mistakes as mistakes:
                problems += mistakes.problems
                chosen.append(None)
            if isinstance(number, Problem):
                problems.append(number)
        elif len(waiting) == 1:
            chosen.append(waiting[0])
        elif waiting and len(waiting) == len(unnamed):
            chosen.append(waiting[unnamed.index(text)])
        elif waiting:
            listed = "; ".join(f"{n} {f.words[:30]}" for n, f in enumerate(in_order(facts.findings), 1))
            problems.append(
                Problem("repair.finding", "Which finding does it answer?", f"finding=N: {listed}.", text.rule)
            )
            chosen.append(None)
        else:
            chosen.append(None)
    return chosen


def _repair(plan: Plan, card: int) -> Repair:
    """A repair as it is kept, before it is."""
    own, rule = plan.text.own, plan.rule
    asked = {**plan.text.answers}
    if plan.zone:
        asked[ZONE] = plan.zone
    if own.get("place") or (plan.finding and plan.finding.place):
        asked[PLACE] = own.get("place", "") or (plan.finding.place if plan.finding else "")
    if "visit" in own:
        asked[VISIT] = own["visit"]
    colour, _, tracer = plan.text.answers.get("colour", "").partition("/")
    return Repair(
        card=card,
        finding=plan.finding.id if plan.finding else None,
        rule=rule.id,
        asked=asked,
        proves=rule.proves,
        words=own.get("words", "") or rule.words,
        circuit=own.get("circuit", "") or (plan.finding.circuit if plan.finding else ""),
        wire_from=own.get("from", ""),
        wire_to=own.get("to", ""),
        mm=int(own["mm"]) if "mm" in own else None,
        mm_end=own.get("mm_end", ""),
        colour=colour.strip(),
        tracer=tracer.strip(),
        colour_code=own.get("colour_code", ""),
    )


def asked_of(turn: Turn, facts: CardFacts, loom: "Loom") -> tuple[Asked, ...]:
    """Every planned repair as the estimate asks it; raises Mistakes where answers no longer fit a rule."""
    problems: list[Problem] = []
    found = [_asked(turn, repair, loom, problems) for repair in in_order(planned(facts))]
    if problems:
        raise Mistakes(problems)
    by_id = {repair.id: repair for repair in facts.repairs}
    asked = [
        replace(one, visit=visit_of(facts, by_id[one.repair or 0], one.visit))
        for one in found
        if one is not None
    ]
    if is_loose(facts):
        asked = [replace(one, where=NOWHERE) for one in asked]
    return tuple(asked)


def _asked(turn: Turn, repair: Repair, loom: "Loom", problems: list[Problem]) -> Asked | None:
    rule = rule_named(repair.rule, turn.seeds)
    raw = {name: value for name, value in repair.asked.items() if not name.startswith("@")}
    given = answers(rule, raw)
    if isinstance(given, tuple):
        problems += [Problem(f"{rule.id}.{p.field}", p.sentence, p.hint, p.given) for p in given]
        return None
    return Asked(
        rule=rule,
        answers=given,
        where=where_of(loom, repair),
        words=repair.words,
        repair=repair.id,
        visit=int(repair.asked.get(VISIT, "1")),
    )


def where_of(loom: "Loom", repair: Repair) -> Where:
    """The zones a repair touches: its spot, and both ends of its wire; and what its own place needs off."""
    places = [loom.places[name] for name in (repair.wire_from, repair.wire_to) if name in loom.places]
    ends = tuple(dict.fromkeys(place.zone for place in places))
    named = loom.places.get(repair.asked.get(PLACE, ""))
    bodies = [loom.bodies[name] for name in (repair.asked.get(PLACE, ""),) if name in loom.bodies]
    if named is not None and named.body in loom.bodies:
        bodies.append(loom.bodies[named.body])
    route = ends
    if len(places) == 2:
        route = way(loom, repair.wire_from, repair.wire_to).zones
    off = [*(named.off if named else ()), *(name for body in bodies for name in body.off)]
    spot = repair.asked.get(ZONE, "") or (ends[0] if ends else "")
    return Where(spot=spot, ends=ends, route=route, off=tuple(dict.fromkeys(off)))
