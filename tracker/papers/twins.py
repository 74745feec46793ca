"""The plain-text twins of what the screens show, 80 columns wide."""

from collections.abc import Iterable, Sequence
from datetime import timedelta

from tracker.card.standing import Reach, Step
from tracker.clock import Clock
from tracker.desk.on_card import in_order
from tracker.desk.show import BikeView, CardView, CustomerView, Hit
from tracker.records.card import GoAhead, Reading
from tracker.records.document import EstimateLine
from tracker.records.limits import Verdict
from tracker.records.money import Money
from tracker.records.shop import Shop
from tracker.records.stock import PartWanted
from tracker.records.work import Repair, TimeEntry

WIDTH = 80


def cut(text: str, width: int) -> str:
    """One line of at most `width` characters, with a mark where it was cut."""
    line = " ".join(text.split())
    return line if len(line) <= width else line[: width - 1].rstrip() + "…"


def table(
    rows: Iterable[Sequence[str]], widths: Sequence[int], right: frozenset[int] = frozenset()
) -> list[str]:
    """Rows in columns of these widths, those in `right` aligned right; a width of 0 takes what is left."""
    rest = WIDTH - sum(widths) - 2 * (len(widths) - 1)
    sizes = [width or max(10, rest) for width in widths]
    lines = []
    for row in rows:
        cells = [cut(cell, size) for cell, size in zip(row, sizes, strict=True)]
        done = [
            c.rjust(s) if n in right else c.ljust(s)
            for n, (c, s) in enumerate(zip(cells, sizes, strict=True))
        ]
        lines.append("  ".join(done).rstrip())
    return lines


def life_line(view: CardView) -> str:
    """The ten steps as a run of wire: double as far as the card has come, the present one marked."""
    drawn = ""
    for step, reach in view.stands.reached:
        joint = "" if step is Step.IN else ("══" if reach in {Reach.DONE, Reach.HERE} else "──")
        word = {Reach.HERE: f"[{step}]", Reach.PASSED_OVER: f"({step})"}.get(reach, str(step))
        drawn += joint + word
    return drawn


def card_head(view: CardView) -> str:
    """Number, bike, odometer, who and their phone in one line."""
    facts, card = view.facts, view.facts.card
    who = facts.customer or facts.payer
    head = [card.number, facts.bike.name if facts.bike else card.unit]
    if facts.bike is not None:
        head.append(facts.bike.registration)
        if card.odometer is not None:
            head.append(f"{card.odometer:,} {facts.bike.odometer_unit}")
    if who is not None:
        head += [who.name, who.phone]
    return "  ".join(part for part in head if part)


def card_text(view: CardView, clock: Clock) -> str:
    """A card whole: the head, the life line, the next thing, then a line or more for each row."""
    lines = [card_head(view), life_line(view)]
    if view.stands.next is not None:
        lines.append(f"next: {view.stands.next.words}  ({view.stands.next.deed})")
    else:
        lines.append("This card is over.")
    lines += [f"  ! {stop.words}" for stop in view.stands.stops]
    if view.left_words and view.stands.step in {Step.LOOK, Step.FIX}:
        lines.append(f"  {view.left_words}")
    lines += [f"  also: {thing.words}  ({thing.deed})" for thing in view.stands.also]
    lines.append("─" * WIDTH)
    for name, contents in card_rows(view, clock):
        lines += row(name, contents)
    return "\n".join(lines)


def card_rows(view: CardView, clock: Clock) -> list[tuple[str, list[str]]]:
    """The rows of a card in the order of its life, each with its contents; empty ones included."""
    facts, card, shop = view.facts, view.facts.card, view.facts.shop
    latest = max(facts.estimates, key=lambda e: e.revision, default=None)
    return [
        ("Complaint", [card.complaint, *(_symptom(s.kind, s.load) for s in facts.symptoms)]),
        ("Stands", [" · ".join(x for x in (card.stands, card.keys, card.marks, card.came_how) if x)]),
        ("Found", [f"{n}. {f.words}{_left(f.left)}" for n, f in enumerate(in_order(facts.findings), 1)]),
        (
            "Price",
            [
                _estimate_line(view),
                *(_priced(line, latest.currency) for line in view.estimate_lines if latest),
            ],
        ),
        ("Agreed", [_go_ahead(g, shop) for g in facts.go_aheads]),
        ("Fix", [f"{n}. {repair_line(r)}" for n, r in enumerate(in_order(facts.repairs), 1)]),
        ("Parts", [_want_line(n, w) for n, w in enumerate(in_order(facts.wanted), 1)]),
        ("Time", [_time_line(n, t, view, clock) for n, t in enumerate(in_order(facts.times), 1)]),
        ("Readings", [reading_line(r, view.judged.get(r.id)) for r in in_order(facts.readings)]),
        ("Calls", [f"{c.who}: {c.outcome} {c.words}".strip() for c in in_order(facts.calls)]),
        (
            "Bill",
            [f"{d.number} {d.kind} {Money(d.payable_minor, d.currency)}" for d in in_order(facts.documents)],
        ),
        (
            "Paid",
            [f"{Money(p.amount_minor, p.currency)} {p.method} on {p.received_on}" for p in facts.payments],
        ),
        ("Ended", [f"{e.kind} {e.words}".strip() for e in facts.endings]),
        ("Set aside", [f"{w.need}: {w.reason}" for w in facts.waivers]),
        ("Collected", [f"{clock.date_of(c.at)} by {c.to_whom}" for c in facts.collections]),
        ("Recheck", [f"{r.reason}: {r.due_on}{_or_at(r.due_odometer)}, {r.state}" for r in facts.rechecks]),
    ]


def _priced(line: EstimateLine, currency: str) -> str:
    return f"{Money(line.net_minor, currency)}  {line.words}"


def _want_line(number: int, wanted: PartWanted) -> str:
    return f"{number}. {wanted.qty:f} {wanted.words}: {wanted.state}{_expected(wanted.expected_on)}"


def row(name: str, contents: Sequence[str]) -> list[str]:
    """A row of a card or a part: its name, then each content on a line of its own."""
    kept = [content for content in contents if content] or ["-"]
    return [f"{name if n == 0 else '':<11}{cut(content, WIDTH - 11)}" for n, content in enumerate(kept)]


def _symptom(kind: object, load: str) -> str:
    return f"{load}: {kind}" if load else str(kind)


def _left(why: str) -> str:
    return f" (left: {why})" if why else ""


def _expected(day: object) -> str:
    return f", expected {day}" if day else ""


def _or_at(odometer: int | None) -> str:
    return f" or at {odometer:,}" if odometer else ""


def _estimate_line(view: CardView) -> str:
    latest = max(view.facts.estimates, key=lambda e: e.revision, default=None)
    if latest is None:
        return ""
    hours = f"{latest.expected_min / 60:.1f} h ({latest.low_min / 60:.1f} to {latest.high_min / 60:.1f})"
    wire = sum(latest.wire_mm.values()) / 1000
    total = Money(latest.total_minor, latest.currency)
    return f"{latest.number} rev {latest.revision}  {hours}  wire {wire:.1f} m  {total} {latest.currency}"


def _go_ahead(given: GoAhead, shop: Shop) -> str:
    minor, minutes = given.limit_minor, given.limit_min
    limits = [
        f"{Money(minor, shop.currency)}" if minor is not None else "",
        f"{minutes} min" if minutes else "",
    ]
    most = " or ".join(limit for limit in limits if limit)
    return f"to {given.what}: {given.who}, {given.how}" + (f", up to {most}" if most else "")


def repair_line(repair: Repair) -> str:
    """A repair in one line: what, where exactly, with what, done or not."""
    state = (
        "dropped"
        if repair.dropped
        else "done"
        if repair.done_at
        else "begun"
        if repair.started_at
        else "to do"
    )
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
    return f"[{state}] {repair.words or repair.rule.replace('-', ' ')}{where}{rest}"


def _colour(repair: Repair) -> str:
    return f"{repair.colour}/{repair.tracer}" if repair.tracer else repair.colour


def reading_line(reading: Reading, verdict: Verdict | None = None) -> str:
    """A reading in one line, with its verdict where a limit judged it."""
    value = reading.words if reading.value is None else f"{reading.value:g} {reading.unit}"
    at = f" at {reading.place}" if reading.place else ""
    word = f", {verdict.word} ({verdict.limit.limit_class})" if verdict and verdict.limit else ""
    return f"{reading.phase}: {reading.kind.replace('_', ' ')} {value}{word}{at}"


def _time_line(number: int, entry: TimeEntry, view: CardView, clock: Clock) -> str:
    off_at = entry.off_at or clock.now()
    spent = max(off_at - entry.on_at, timedelta(0)).total_seconds() / 60
    running = " (running)" if entry.off_at is None else ""
    name = view.mechanics.get(entry.mechanic, "")
    return f"{number}. {clock.local(entry.on_at):%d %b %H:%M}  {spent:.0f} min {entry.kind}  {name}{running}"


def bike_text(view: BikeView, clock: Clock) -> str:
    """A bike whole."""
    bike = view.bike
    head = [f"bike {bike.id}", bike.name, bike.registration, str(bike.year or ""), bike.colour]
    volts = "don't know" if bike.volts is None else "none" if bike.volts == 0 else f"{bike.volts} V"
    lines = ["  ".join(part for part in head if part)]
    lines += row("Frame no.", [bike.vin])
    lines += row(
        "Electrics",
        [
            f"{volts}, earth {bike.earth}, battery {bike.battery_kind}"
            + (f" {bike.battery_ah:g} Ah" if bike.battery_ah else "")
        ],
    )
    lines += row(
        "People",
        [
            f"{p.name} ({tie.role}{', until ' + str(tie.until) if tie.until else ''})"
            for tie, p in view.people
        ],
    )
    lines += row("Loom", [f"{f.feature}: {f.answer}" for f in view.features])
    lines += row(
        "So far", [f"{view.clocked_s / 3600:.1f} h on the clock, parts fitted cost {view.parts_cost:.2f}"]
    )
    lines += row("Cards", [f"{c.number}  {clock.date_of(c.came_at)}  {c.complaint}" for c in view.cards])
    lines += row("Repairs", [repair_line(r) for r in view.repairs])
    lines += row("Readings", [f"{clock.date_of(r.at)} {reading_line(r)}" for r in view.readings])
    return "\n".join(lines)


def customer_text(view: CustomerView, clock: Clock) -> str:
    """A customer whole."""
    c = view.customer
    lines = ["  ".join(p for p in (f"customer {c.id}", c.name, c.phone, c.email) if p)]
    lines += row("Address", [" / ".join(c.address.split("\n"))])
    lines += row("Settles", [f"{c.kind}, {c.terms_days} days" if c.terms_days else str(c.kind)])
    lines += row("Rechecks", ["may be sent" if c.reminders else "wants none"])
    lines += row("Bikes", [f"{b.id}  {b.name}  {b.registration}" for b in view.bikes])
    lines += row("Cards", [f"{k.number}  {clock.date_of(k.came_at)}  {k.complaint}" for k in view.cards])
    return "\n".join(lines)


def hits_text(hits: Sequence[Hit]) -> str:
    """What was found."""
    return "\n".join(
        table([(h.kind, str(h.id), h.name, h.more) for h in hits], (9, 6, 26, 0), frozenset({1}))
    )
