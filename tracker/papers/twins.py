"""The plain-text twins of what the screens show, 80 columns wide."""

import textwrap
from collections.abc import Iterable, Sequence

from tracker.card.standing import Reach, Step
from tracker.card.visits import visits
from tracker.clock import Clock
from tracker.desk.on_card import in_order
from tracker.desk.show import BikeView, CardView, CustomerView, Hit
from tracker.papers.one_line import (
    estimate_line,
    go_ahead_line,
    priced_line,
    reading_line,
    repair_line,
    time_line,
    visit_line,
    want_line,
    way_line,
)
from tracker.papers.ways import ways_shown
from tracker.records.card import Card, Finding, Symptom
from tracker.records.facts import CardFacts
from tracker.records.money import Money

__all__ = [
    "bike_text", "card_head", "card_rows", "card_text", "customer_text", "cut", "hits_text", "life_line",
    "repair_line", "row", "table",
]  # fmt: skip

WIDTH, NAME = 80, 11
"""Columns of a page, and of them those of a row's name."""


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
        if any(contents):
            lines += row(name, contents)
    return "\n".join(lines)


def card_rows(view: CardView, clock: Clock) -> list[tuple[str, list[str]]]:
    """The rows of a card in the order of its life, each with its contents; empty ones included."""
    facts, card, shop = view.facts, view.facts.card, view.facts.shop
    latest = max(facts.estimates, key=lambda e: e.revision, default=None)
    over = view.stands.over or view.stands.ended is not None
    return [
        ("Complaint", [*card.complaint.split("\n"), *(_symptom(one) for one in facts.symptoms)]),
        ("Who", _who(facts)),
        ("Promised", [str(card.promised_on) if card.promised_on else ""]),
        ("Stands", [" · ".join(x for x in (card.stands, card.keys, card.marks, card.came_how) if x)]),
        ("Notes", card.notes.split("\n")),
        ("Found", [f"{n}. {_found(one)}" for n, one in enumerate(in_order(facts.findings), 1)]),
        ("Ways", [way_line(w) for w in ways_shown(facts.ways)]),
        (
            "Price",
            [
                estimate_line(latest),
                *(priced_line(line, latest.currency) for line in view.estimate_lines if latest),
            ],
        ),
        ("Agreed", [go_ahead_line(g, shop) for g in facts.go_aheads]),
        ("Fix", [f"{n}. {repair_line(r, over=over)}" for n, r in enumerate(in_order(facts.repairs), 1)]),
        ("Parts", [want_line(n, w) for n, w in enumerate(in_order(facts.wanted), 1)]),
        ("Visits", [visit_line(n, v, facts, clock) for n, v in enumerate(visits(facts), 1)]),
        ("Time", [time_line(n, t, view.mechanics, clock) for n, t in enumerate(in_order(facts.times), 1)]),
        ("Readings", [reading_line(r, view.judged.get(r.id), view.kinds) for r in in_order(facts.readings)]),
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
        ("Collected", [f"{clock.date_of(c.at)} by {c.to_whom or 'the customer'}" for c in facts.collections]),
        ("Recheck", [f"{r.reason}: {r.due_on}{_or_at(r.due_odometer)}, {r.state}" for r in facts.rechecks]),
    ]


def row(name: str, contents: Sequence[str]) -> list[str]:
    """A row of a card or a part: its name, then each content from a line of its own on, whole."""
    room = WIDTH - NAME
    lines = [line for content in contents if content for line in wrapped(content, room)] or ["-"]
    return [f"{name if n == 0 else '':<{NAME}}{line}" for n, line in enumerate(lines)]


def wrapped(content: str, width: int) -> list[str]:
    """One content in as many lines as it takes, those after the first set in by three."""
    return textwrap.wrap(content, width, subsequent_indent="   ", break_on_hyphens=False) or [content]


def _who(facts: CardFacts) -> list[str]:
    card, lines = facts.card, []
    if facts.payer is not None and facts.payer != facts.customer:
        lines.append(f"{facts.payer.name} pays")
    if card.claim:
        lines.append(f"their number {card.claim}")
    if card.excess_minor is not None:
        lines.append(f"excess {Money(card.excess_minor, facts.shop.currency)}")
    if card.comeback_of is not None:
        lines.append("comeback, charged" if card.comeback_charged else "comeback, free of charge")
    return lines


def _symptom(one: Symptom) -> str:
    when = f" ({one.when})" if one.when else ""
    return f"{one.load}: {one.kind}{when}" if one.load else f"{one.kind}{when}"


def _found(one: Finding) -> str:
    place = f", at {one.place}" if one.place else ""
    return f"{one.words}{place}" + (f" (left: {one.left})" if one.left else "")


def _or_at(odometer: int | None) -> str:
    return f" or at {odometer:,}" if odometer else ""


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
    lines += row("Cards", [_card_line(c, clock) for c in view.cards])
    lines += row("Repairs", [repair_line(r, over=r.card in view.closed) for r in view.repairs])
    readings = [f"{clock.date_of(r.at)} {reading_line(r, kinds=view.kinds)}" for r in view.readings]
    lines += row("Readings", readings)
    lines += row("Notes", bike.notes.split("\n"))
    return "\n".join(lines)


def _card_line(card: Card, clock: Clock) -> str:
    comes = f"comes {card.comes_on}" if card.comes_on else str(clock.date_of(card.came_at))
    return f"{card.number}  {comes}  {' '.join(card.complaint.split())}"


def customer_text(view: CustomerView, clock: Clock) -> str:
    """A customer whole."""
    c = view.customer
    lines = ["  ".join(p for p in (f"customer {c.id}", c.name, c.phone, c.email) if p)]
    lines += row("Address", [" / ".join(c.address.split("\n"))])
    lines += row("Settles", [f"{c.kind}, {c.terms_days} days" if c.terms_days else str(c.kind)])
    lines += row("Rechecks", ["may be sent" if c.reminders else "wants none"])
    lines += row("Bikes", [f"{b.id}  {b.name}  {b.registration}" for b in view.bikes])
    lines += row("Owes", view.owes)
    lines += row("Cards", [_card_line(k, clock) for k in view.cards])
    lines += row("Notes", c.notes.split("\n"))
    return "\n".join(lines)


def hits_text(hits: Sequence[Hit]) -> str:
    """What was found."""
    return "\n".join(
        table([(h.kind, str(h.id), h.name, h.more) for h in hits], (9, 6, 26, 0), frozenset({1}))
    )
