"""Gathers from the desk what each paper needs: a paper is asked for by its name and a card's number."""

from collections.abc import Callable, Iterable, Mapping

from tracker.card.minding import fitting
from tracker.desk.bike_loom import loom_of
from tracker.desk.charging import charging_check, judged
from tracker.desk.desk import Desk
from tracker.desk.loom_picture import loom_picture, numbered
from tracker.desk.reading import Reader
from tracker.desk.rechecks_due import DueRecheck, may_be_written_about, to_write_to
from tracker.desk.trace_read import CHECK
from tracker.desk.trail import trail
from tracker.errors import WrongUseError
from tracker.papers.bike_record import bike_loom_record
from tracker.papers.charging import charging_paper
from tracker.papers.charging_words import paper_words
from tracker.papers.gather_money import (
    document_of,
    estimate_of,
    facts_meant,
    receipt_of,
    statement_of,
    ways_of,
)
from tracker.papers.job_card import job_card
from tracker.papers.known import Known
from tracker.papers.loom_record import done_in_order, loom_record
from tracker.papers.paper import Paper
from tracker.papers.recheck_letter import recheck_letter
from tracker.papers.tongue import speaking, t
from tracker.papers.trail import trail_paper
from tracker.papers.ways import ways_shown
from tracker.records.bike import Bike, BikeFeature
from tracker.records.drawing import Sketch
from tracker.records.facts import CardFacts
from tracker.records.limits import Verdict, Word
from tracker.records.people import Customer
from tracker.records.repair_rule import Rule
from tracker.records.work import Repair
from tracker.seedfiles.readings import load_readings
from tracker.seedfiles.repairs import load_rules

CHARGING = (
    "standing_volts", "cranking_volts", "idle_volts", "regulated_volts", "regulated_volts_lamps",
    "charge_current", "ac_volts_ab", "ac_volts_bc", "ac_volts_ca", "winding_ohms", "insulation_ohms",
    "drop_positive", "drop_earth", "drain", "load_volts", "sense_drop", "diode_forward",
)  # fmt: skip
"""The kinds of reading that belong to the charging side."""


def known_words(desk: Desk, facts: CardFacts) -> Known:
    """Words for kinds of reading, for the places of this bike's loom, and each reading as it is judged."""
    seeds, bike = desk.seeds, facts.bike
    loom = desk.read(lambda reader: loom_of(reader, seeds, bike)) if bike is not None else None
    places = {place.id: place.words for place in loom.places.values()} if loom else {}
    words = {number: judged_said(one) for number, one in judged(desk, facts).items() if is_said(one)}
    return Known(kinds=load_readings(seeds), places=places, judged=words)


def is_said(verdict: Verdict) -> bool:
    """Whether a verdict stands on paper: where a limit was found, or lacks one that there could be."""
    return verdict.word is not Word.NO_LIMITS or bool(verdict.asked)


def judged_said(verdict: Verdict) -> str:
    """A verdict with the class of its limit, in the language spoken."""
    word = t(verdict.word)
    return f"{word} ({t(verdict.limit.limit_class)})" if verdict.limit else word


def _features(reader: Reader, facts: CardFacts) -> tuple[BikeFeature, ...]:
    return reader.all(BikeFeature, bike=facts.bike.id, order="feature") if facts.bike else ()


def _cautions(desk: Desk, facts: CardFacts) -> tuple[str, ...]:
    """What the card's own repairs give cause to mind, as far as it makes sense on this bike."""
    rules = load_rules(desk.seeds)
    found: list[Rule] = [rule for repair in facts.repairs if (rule := rules.get(repair.rule))]
    answers = {one.feature: one.answer for one in desk.read(lambda reader: _features(reader, facts))}
    return fitting((words for rule in found for words in rule.cautions), facts.bike, answers)


def _job_card(desk: Desk, name: str) -> Paper:
    facts = facts_meant(desk, name)

    def look(reader: Reader) -> tuple[tuple[BikeFeature, ...], Customer | None]:
        return _features(reader, facts), reader.get(Customer, facts.card.rider) if facts.card.rider else None

    features, rider = desk.read(look)
    return job_card(
        facts, features=features, rider=rider, known=known_words(desk, facts), mind=_cautions(desk, facts)
    )


def _loom_record(desk: Desk, name: str) -> Paper:
    facts = facts_meant(desk, name)
    done = enumerate(done_in_order(facts.repairs), 1)
    return loom_record(facts, known=known_words(desk, facts), sketch=sketch_with(desk, facts.bike, done))


def sketch_with(desk: Desk, bike: Bike | None, done: Iterable[tuple[int, Repair]]) -> Sketch | None:
    """The loom of a bike with some repairs on it by their numbers; None without a bike."""
    from tracker.loom.sketch import sketch

    if bike is None:
        return None
    seeds = desk.seeds
    loom = desk.read(lambda reader: loom_of(reader, seeds, bike))
    return sketch(loom, repairs=[numbered(n, one) for n, one in done])


def bike_record(desk: Desk, name: str, sketch: Sketch) -> Paper:
    """The record of a whole bike: `sketch` is its loom with every repair done on it, numbered in order."""
    with speaking(desk.shop.language):
        done = loom_picture(desk, name)
        assert done.bike is not None
        facts = {one.card.id: desk.facts(one.card.id) for one in done.repairs}
        known = [known_words(desk, one) for one in facts.values()]
        whole = Known(
            kinds=load_readings(desk.seeds),
            places={place.id: place.words for place in done.loom.places.values()},
            judged={id_: words for one in known for id_, words in one.judged.items()},
        )
        rows = [(one.number, one.repair, facts[one.card.id]) for one in done.repairs]
        return bike_loom_record(done.bike, rows, shop=desk.shop, known=whole, sketch=sketch)


def _recheck_letter(desk: Desk, name: str) -> Paper:
    """To who has the bike now. Raises WrongUseError where they want no reminders or were not asked yet."""
    return letter_about(desk, to_write_to(desk, name))


def letter_about(desk: Desk, one: DueRecheck) -> Paper:
    """The letter about a recheck that waits, with the last readings as they were."""
    assert one.facts.bike is not None
    assert one.person is not None
    return recheck_letter(
        one.recheck,
        bike=one.facts.bike,
        customer=one.person,
        shop=one.facts.shop,
        on=desk.today,
        card=one.facts.card,
        kind=one.kind,
        readings=one.last,
        known=known_words(desk, one.facts),
    )


def _charging(desk: Desk, name: str) -> Paper:
    facts = facts_meant(desk, name)
    return charging_paper(
        [reading for reading in facts.readings if reading.kind in CHARGING],
        shop=facts.shop,
        card=facts.card,
        bike=facts.bike,
        customer=facts.customer,
        known=known_words(desk, facts),
        verdict=paper_words(charging_check(desk, facts.card.number)),
        mind=_cautions(desk, facts),
    )


def _trail(desk: Desk, name: str) -> Paper:
    facts = facts_meant(desk, name)
    return trail_paper(facts, trail(desk, facts.card.number))


PAPERS: Mapping[str, Callable[[Desk, str], Paper]] = {
    "job-card": _job_card,
    "ways": ways_of,
    "estimate": estimate_of,
    "deposit": document_of,
    "invoice": document_of,
    "credit-note": document_of,
    "receipt": receipt_of,
    "loom-record": _loom_record,
    "charging": _charging,
    "trail": _trail,
    "recheck-letter": _recheck_letter,
    "statement": statement_of,
}
"""Every paper by its name. Documents and estimates go by their own number, a receipt by its card or document
(`26-0412/2` is the second on a card), a statement by customer; the others by card, or any number on it."""


def paper_of(desk: Desk, kind: str, name: str) -> Paper:
    """One paper; raises NotFoundError for what does not exist, WrongUseError for a paper of no such kind."""
    if kind not in PAPERS:
        raise WrongUseError(f"There is no paper “{kind}”.", f"Papers: {', '.join(PAPERS)}.")
    with speaking(desk.shop.language):
        return PAPERS[kind](desk, name)


def spoken_letter(desk: Desk, one: DueRecheck) -> Paper:
    """The letter about a recheck that waits, in the shop's language."""
    with speaking(desk.shop.language):
        return letter_about(desk, one)


def papers_of(desk: Desk, name: str) -> tuple[tuple[str, Paper], ...]:
    """All papers that a card has by now, each with its kind, in the order of a card's life."""
    facts = facts_meant(desk, name)
    found = [("job-card", facts.card.number)]
    estimates = sorted(facts.estimates, key=lambda one: one.revision)
    if ways_shown(facts.ways) and not any(way.chosen_on for way in facts.ways):
        found.append(("ways", facts.card.number))
    found += [("estimate", one.number) for one in estimates[-1:]]
    found += [
        (document.kind.replace(" ", "-"), document.number)
        for document in sorted(facts.documents, key=lambda one: one.id)
    ]
    paid = sorted(facts.payments, key=lambda one: one.id)
    found += [("receipt", f"{facts.card.number}/{place}") for place, _ in enumerate(paid, 1)]
    if any(reading.kind in CHARGING for reading in facts.readings):
        found.append(("charging", facts.card.number))
    if any(reading.kind == CHECK for reading in facts.readings):
        found.append(("trail", facts.card.number))
    if any(repair.done_at for repair in facts.repairs):
        found.append(("loom-record", facts.card.number))
    if may_be_written_about(desk, facts.card.number):
        found.append(("recheck-letter", facts.card.number))
    return tuple((kind, paper_of(desk, kind, number)) for kind, number in found)
