"""A repair, a reading, a wanted part, a go-ahead: each in one line of plain text, as a card lists it."""

from collections.abc import Mapping
from datetime import timedelta

from tracker.card.visits import came_off_again, off_on, visits, why_again
from tracker.clock import Clock
from tracker.papers.readings import how, with_unit
from tracker.papers.say import plain_name
from tracker.records.card import GoAhead, Reading
from tracker.records.document import Estimate, EstimateLine
from tracker.records.facts import CardFacts
from tracker.records.limits import Verdict
from tracker.records.money import Money
from tracker.records.shop import Shop
from tracker.records.stock import PartWanted, WantedState
from tracker.records.visit import Visit, Way
from tracker.records.work import Repair, TimeEntry

AWAITED = frozenset({WantedState.WANTED, WantedState.ORDERED})


def repair_line(repair: Repair, *, over: bool = False) -> str:
    """A repair: what, where exactly, with what, done or not. `over` where its card has ended without it."""
    where = ""
    if repair.wire_from or repair.wire_to:
        where = f", {repair.wire_from} to {repair.wire_to}"
        if repair.mm is not None:
            where += f", {repair.mm} mm from {repair.mm_end or repair.wire_from}"
    wire = " ".join(x for x in (f"{repair.size_mm2:g} mm2" if repair.size_mm2 else "", _colour(repair)) if x)
    more = [
        wire,
        repair.splice,
        repair.terminal,
        repair.connector_new and f"connector {repair.connector_new}",
    ]
    rest = "".join(f", {one}" for one in more if one)
    return f"[{_state(repair, over)}] {repair.words or repair.rule.replace('-', ' ')}{where}{rest}"


def _state(repair: Repair, over: bool) -> str:
    if repair.dropped:
        return "dropped"
    if repair.done_at:
        return "done"
    if over:
        return "not done"
    return "begun" if repair.started_at else "to do"


def _colour(repair: Repair) -> str:
    return f"{repair.colour}/{repair.tracer}" if repair.tracer else repair.colour


def reading_line(reading: Reading, verdict: Verdict | None = None, kinds: Mapping[str, str] = {}) -> str:
    """A reading: what was read, its verdict where a limit judged it, at which place, how the bike stood.

    `kinds` has the words of kinds of reading by their names.
    """
    said = kinds.get(reading.kind) or plain_name(reading.kind)
    side = f" ({reading.side})" if reading.side else ""
    parts = [
        f"{reading.phase}, {said}: {with_unit(reading)}",
        f"{verdict.word} ({verdict.limit.limit_class})" if verdict and verdict.limit else "",
        f"at {reading.place}{side}" if reading.place else "",
        how(reading),
    ]
    return ", ".join(part for part in parts if part)


def visit_line(number: int, visit: Visit, facts: CardFacts, clock: Clock) -> str:
    """A visit: when, who, what came off, what of it for the second time, and why."""
    began = clock.local(visit.began_at)
    until = ", still open"
    if visit.ended_at is not None:
        ended = clock.local(visit.ended_at)
        until = f" to {ended:%H:%M}" if ended.date() == began.date() else f" to {ended:%d %b %H:%M}"
    off = [plain_name(name) for name in off_on(facts, visit)]
    again = [
        plain_name(one.access) for one in came_off_again(facts) if number in [n for n, _ in one.visits[1:]]
    ]
    went = visits(facts)
    why = why_again(facts, visit, went[number - 2]) if number > 1 else visit.why
    parts = [
        f"{number}. {began:%d %b %H:%M}{until}" + (f", {visit.by}" if visit.by else ""),
        f": {', '.join(off)} off",
        f"; a further time: {', '.join(again)}" if again else "",
        f" ({why})" if why else "",
    ]
    return "".join(parts)


def way_line(way: Way) -> str:
    """A way to mend it: what it comes to, and whether it was chosen."""
    total = Money(way.total_minor, way.currency)
    chosen = f", chosen on {way.chosen_on}" + (f" by {way.chosen_by}" if way.chosen_by else "")
    return f"{way.name}: {total} {way.currency}, {way.expected_min} min{chosen if way.chosen_on else ''}"


def want_line(number: int, wanted: PartWanted) -> str:
    """A part on a card by its number there; when it is expected only while it is awaited."""
    own = ", the customer's own" if wanted.customers_own else ""
    when = f", expected {wanted.expected_on}" if wanted.expected_on and wanted.state in AWAITED else ""
    return f"{number}. {wanted.qty:f} {wanted.words}{own}: {wanted.state}{when}"


def go_ahead_line(given: GoAhead, shop: Shop) -> str:
    """Who gave leave to what, how, and up to how much."""
    minor, minutes = given.limit_minor, given.limit_min
    limits = [
        f"{Money(minor, shop.currency)}" if minor is not None else "",
        f"{minutes} min" if minutes else "",
    ]
    most = " or ".join(limit for limit in limits if limit)
    return f"to {given.what}: {given.who}, {given.how}" + (f", up to {most}" if most else "")


def time_line(number: int, entry: TimeEntry, mechanics: Mapping[int, str], clock: Clock) -> str:
    """A spell of time by its number on the card; a running clock up to now."""
    off_at = entry.off_at or clock.now()
    spent = max(off_at - entry.on_at, timedelta(0)).total_seconds() / 60
    running = " (running)" if entry.off_at is None else ""
    name = mechanics.get(entry.mechanic, "")
    return f"{number}. {clock.local(entry.on_at):%d %b %H:%M}  {spent:.0f} min {entry.kind}  {name}{running}"


def estimate_line(latest: Estimate | None) -> str:
    """The estimate in force: its number, time, wire and total."""
    if latest is None:
        return ""
    hours = f"{latest.expected_min / 60:.1f} h ({latest.low_min / 60:.1f} to {latest.high_min / 60:.1f})"
    wire = f"wire {sum(latest.wire_mm.values()) / 1000:.1f} m" if any(latest.wire_mm.values()) else ""
    paper = "quote" if latest.fixed_price else ""
    total = f"{Money(latest.total_minor, latest.currency)} {latest.currency}"
    return "  ".join(x for x in (f"{latest.number} rev {latest.revision}", paper, hours, wire, total) if x)


def priced_line(line: EstimateLine, currency: str) -> str:
    """A line of an estimate."""
    return f"{Money(line.net_minor, currency)}  {line.words}"
