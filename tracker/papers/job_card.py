"""The job card for the bench: who, what, what to mind, and room to write what was done."""

from collections.abc import Sequence

from tracker.card.limits import latest_go_ahead
from tracker.card.work import planned
from tracker.papers.cautions import for_the_bench
from tracker.papers.charging import battery_pairs
from tracker.papers.known import NOTHING, Known
from tracker.papers.loom_words import loom_words
from tracker.papers.own_words import line_words
from tracker.papers.paper import (
    Block,
    Column,
    ColumnKind,
    Pair,
    Pairs,
    Paper,
    Room,
    Table,
    Words,
    WordsKind,
    some,
)
from tracker.papers.readings import before_and_after
from tracker.papers.repair_pairs import what_pairs, where_pairs
from tracker.papers.say import bike_words, day, day_of, minutes, moment, money, number, odometer, plain_name
from tracker.papers.tongue import mark, t
from tracker.records.bike import BikeFeature
from tracker.records.card import Card, GoAhead, GoAheadFor, Symptom
from tracker.records.facts import CardFacts
from tracker.records.people import Customer
from tracker.records.stock import PartWanted
from tracker.records.work import Repair

_TO = {GoAheadFor.LOOK: mark("To look"), GoAheadFor.WORK: mark("To work")}
CAME = (mark("ridden"), mark("pushed"), mark("van"), mark("post"))
"""How a bike came, as it is offered; anything else is somebody's own words."""
HOW = (mark("at book in"), mark("in person"), mark("phone"), mark("message"), mark("signed"))
"""How leave was given, as it is offered or put there by the desk."""
_ROAD_TEST = {True: mark("yes, leave given"), False: mark("NO"), None: mark("not asked")}
READING_ROOM = 4
"""Blank rows for readings; a bench card that has none left is turned over."""


def job_card(
    facts: CardFacts,
    *,
    features: Sequence[BikeFeature] = (),
    rider: Customer | None = None,
    known: Known = NOTHING,
    mind: Sequence[str] = (),
) -> Paper:
    """The card as it stands, what is known printed and what is to come left blank.

    `features` are the answers known of the bike's loom, `mind` cautions of this card's own repairs, which
    come before those of the bike.
    """
    answers = {one.feature: one.answer for one in features}
    cautions = dict.fromkeys(t(one) for one in (*mind, *for_the_bench(facts.bike, answers)))
    repairs = planned(facts)
    return Paper(
        t("Job card"),
        facts.card.number,
        (),
        some(
            Pairs(_who(facts, rider)),
            Pairs(_what(facts), columns=2),
            Words((facts.card.complaint,), WordsKind.LIST, t("Complaint")),
            _symptoms(facts.symptoms),
            Pairs(_leave(facts), t("Leave")),
            Words(tuple(cautions), WordsKind.CAUTION, t("Mind")),
            Pairs(_loom(features) if facts.bike else (), t("Loom of this bike"), columns=2),
            Words(tuple(_found(facts)), WordsKind.LIST, t("Found")),
            None if facts.findings else Room(t("Found"), 3),
            *(block for at, one in enumerate(repairs, 1) for block in _repair(at, one, facts, known)),
            _parts(facts.wanted),
            before_and_after(facts.readings, known, room=READING_ROOM),
            Words(_before_it_goes(facts, repairs, known), WordsKind.TICKS, t("Before it goes")),
            Room(t("Notes"), 3),
        ),
    )


def _who(facts: CardFacts, rider: Customer | None) -> tuple[Pair, ...]:
    card, bike = facts.card, facts.bike
    payer = facts.payer if facts.payer and facts.payer != facts.customer else None
    pairs = [
        (t("Bike"), bike_words(bike) if bike else ""),
        (t("Sent in"), card.unit),
        (t("Customer"), _person(facts.customer)),
        (t("Payer"), _person(payer)),
        (t("Their number"), card.claim),
        (t("Rider"), _person(rider)),
        (
            t("Came"),
            ", ".join(filter(None, (moment(card.came_at, facts.shop), _offered(card.came_how, CAME)))),
        ),
        (t("Comes"), day(card.comes_on) if card.comes_on else ""),
        (t("Marks"), card.marks),
        (t("Notes"), card.notes),
    ]
    return tuple(Pair(key, value) for key, value in pairs if value)


def _what(facts: CardFacts) -> tuple[Pair, ...]:
    card, bike = facts.card, facts.bike
    figure = odometer(card.odometer, bike.odometer_unit) if bike and card.odometer is not None else ""
    pairs = [
        (t("Frame no."), bike.vin if bike else ""),
        (t("Odometer"), figure),
        *((pair.key, pair.value) for pair in battery_pairs(bike)),
        (t("Promised"), day(card.promised_on) if card.promised_on else ""),
        (t("Keys"), card.keys),
        (t("Stands"), card.stands),
        (t("Road test"), t(_ROAD_TEST[card.road_test]) if bike else ""),
        (t("Comeback"), _comeback(card)),
    ]
    return tuple(Pair(key, value) for key, value in pairs if value)


def _person(customer: Customer | None) -> str:
    return "" if customer is None else ", ".join(part for part in (customer.name, customer.phone) if part)


def _offered(words: str, offered: Sequence[str]) -> str:
    return t(words) if words in offered else words


def _comeback(card: Card) -> str:
    if card.comeback_of is None:
        return ""
    return t("yes, charged") if card.comeback_charged else t("yes, FREE of charge")


def _symptoms(symptoms: Sequence[Symptom]) -> Table:
    rows = tuple(
        (
            t(one.kind),
            "\n".join(dict.fromkeys(loom_words(part) for part in (one.load, one.words) if part)),
            one.when,
        )
        for one in sorted(symptoms, key=lambda one: (one.at, one.id))
    )
    return Table((Column(t("What it does")), Column(t("Which")), Column(t("When"))), rows, t("Symptoms"))


def _leave(facts: CardFacts) -> tuple[Pair, ...]:
    given = [(what, latest_go_ahead(facts, what)) for what in GoAheadFor]
    pairs = [Pair(t(_TO[what]), _given(leave, facts)) for what, leave in given if leave]
    return tuple(pairs) or (Pair(t("To look"), "", room=True),)


def _given(leave: GoAhead, facts: CardFacts) -> str:
    limits = [
        "" if leave.limit_min is None else minutes(leave.limit_min),
        "" if leave.limit_minor is None else money(leave.limit_minor, facts.shop.currency),
    ]
    most = f" {t('or')} ".join(part for part in limits if part)
    said = t("up to {most}, then ring", most=most) if most else t("no limit named")
    given = f"{said}\n{leave.who}, {_offered(leave.how, HOW)}, {moment(leave.at, facts.shop)}"
    return f"{given}\n{leave.words}" if leave.words else given


def _loom(features: Sequence[BikeFeature]) -> tuple[Pair, ...]:
    return tuple(Pair(plain_name(one.feature), t(one.answer)) for one in features)


def _found(facts: CardFacts) -> list[str]:
    said = []
    for one in sorted(facts.findings, key=lambda one: (one.at, one.id)):
        unsafe = "\n" + t("Not safe to ride; the customer was told.") if one.told_unsafe else ""
        said.append(f"{one.words}" + ("\n" + t("Left: {why}", why=one.left) if one.left else "") + unsafe)
    return said


def _repair(at: int, repair: Repair, facts: CardFacts, known: Known) -> tuple[Block, ...]:
    room = repair.done_at is None
    typed = {name: value for name, value in repair.asked.items() if value and not name.startswith("@")}
    asked = ", ".join(f"{plain_name(name)} {t(value)}" for name, value in typed.items())
    rule = plain_name(repair.rule)
    head = (
        Pair(t("To do") if room else t("Done"), line_words(repair.words) or rule),
        Pair(t("Priced as"), f"{rule}: {asked}" if asked else rule),
        *((Pair(t("Sent out to"), repair.sent_out_to),) if repair.sent_out_to else ()),
    )
    done = [] if repair.done_at is None else [day_of(repair.done_at, facts.shop), repair.done_by]
    end = Pair(t("Done on"), ", ".join(part for part in done if part), room)
    time = (Pair(t("Time"), "", room=True, after="min"),) if room else ()
    pairs = (*where_pairs(repair, known, room=room), *what_pairs(repair, room=room), end, *time)
    return Pairs(head, t("Repair {number}", number=at)), Pairs(pairs, columns=2)


def _parts(wanted: Sequence[PartWanted]) -> Table:
    columns = (
        Column(t("Quantity"), ColumnKind.FIGURES),
        Column(t("Unit")),
        Column(t("Part")),
        Column(t("State")),
    )
    rows = tuple(
        (
            number(part.qty),
            t(part.unit),
            line_words(part.words)
            + ("\n  " + t("customer's own, no guarantee") if part.customers_own else "")
            + ("\n  " + t("exchange: keep the old one") if part.exchange else ""),
            f"{t(part.state)}, {day(part.expected_on)}" if part.expected_on else t(part.state),
        )
        for part in sorted(wanted, key=lambda part: part.id)
    )
    return Table(columns, rows, t("Parts"))


def _before_it_goes(facts: CardFacts, repairs: Sequence[Repair], known: Known) -> tuple[str, ...]:
    proofs = dict.fromkeys(kind for repair in repairs for kind in repair.proves)
    left = any(finding.left for finding in facts.findings)
    return (
        *(t("after the repair: {reading}", reading=known.kind(kind)) for kind in proofs),
        *((t("no interlock left bridged, no test lead left on"),) if facts.bike else ()),
        *((t("lights, horn, indicators, brake lamp and starter all tried"),) if facts.bike else ()),
        *((t("told what was left as it is"),) if left else ()),
    )
