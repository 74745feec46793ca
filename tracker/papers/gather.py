"""Gathers from the desk what each paper needs: a paper is asked for by its name and a card's number."""

from collections.abc import Callable, Mapping
from functools import partial

from tracker.card.allowed import agreed_limit
from tracker.desk.bike_loom import loom_of
from tracker.desk.charging import charging_check, judged, judged_words
from tracker.desk.desk import Desk
from tracker.desk.documents import document_named
from tracker.desk.ledger import ledger
from tracker.desk.people import customer_named
from tracker.desk.reading import Reader
from tracker.desk.show import card_or_bike
from tracker.errors import NotFoundError, WrongUseError
from tracker.papers.charging import charging_paper
from tracker.papers.charging_text import paper_words
from tracker.papers.document import document_paper
from tracker.papers.estimate import estimate_paper
from tracker.papers.job_card import job_card
from tracker.papers.known import Known
from tracker.papers.loom_record import loom_record
from tracker.papers.paper import Paper
from tracker.papers.receipt import receipt_paper
from tracker.papers.recheck_letter import recheck_letter
from tracker.papers.statement import statement_paper
from tracker.papers.tongue import speaking
from tracker.records.bike import Bike, BikeFeature
from tracker.records.card import Card, GoAheadFor
from tracker.records.document import (
    Document,
    DocumentLine,
    DocumentTax,
    EstimateLine,
)
from tracker.records.facts import CardFacts
from tracker.records.money import Money
from tracker.records.people import Customer
from tracker.records.repair_rule import Rule
from tracker.seedfiles.readings import load_readings
from tracker.seedfiles.rechecks import load_rechecks
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
    words = judged_words(judged(desk, facts))
    return Known(kinds=load_readings(seeds), places=places, judged=words)


def _facts(desk: Desk, name: str) -> CardFacts:
    return desk.facts(desk.read(lambda reader: card_or_bike(reader, name)).id)


def _cautions(desk: Desk, facts: CardFacts) -> tuple[str, ...]:
    rules = load_rules(desk.seeds)
    found: list[Rule] = [rule for repair in facts.repairs if (rule := rules.get(repair.rule))]
    return tuple(dict.fromkeys(words for rule in found for words in rule.cautions))


def _job_card(desk: Desk, name: str) -> Paper:
    facts = _facts(desk, name)

    def look(reader: Reader) -> tuple[tuple[BikeFeature, ...], Customer | None]:
        features = reader.all(BikeFeature, bike=facts.bike.id, order="feature") if facts.bike else ()
        return features, reader.get(Customer, facts.card.rider) if facts.card.rider else None

    features, rider = desk.read(look)
    return job_card(
        facts, features=features, rider=rider, known=known_words(desk, facts), mind=_cautions(desk, facts)
    )


def _estimate(desk: Desk, name: str) -> Paper:
    facts = _facts(desk, name)
    if not facts.estimates:
        raise NotFoundError(
            f"Card {facts.card.number} has no estimate.", "loomcard estimate N --repair RULE makes one."
        )
    latest = max(facts.estimates, key=lambda e: e.revision)
    lines = desk.read(lambda reader: reader.all(EstimateLine, estimate=latest.id, order="position"))
    limit = agreed_limit(facts)
    agreed = None
    if (
        limit is not None
        and limit.go_ahead.what is GoAheadFor.WORK
        and limit.go_ahead.limit_minor is not None
    ):
        agreed = Money(limit.go_ahead.limit_minor, latest.currency)
    return estimate_paper(
        latest,
        lines,
        shop=facts.shop,
        card=facts.card,
        bike=facts.bike,
        customer=facts.payer or facts.customer,
        findings=facts.findings,
        wanted=facts.wanted,
        limit=agreed,
    )


def _document(desk: Desk, name: str) -> Paper:
    shop = desk.shop

    def look(reader: Reader) -> Callable[[], Paper]:
        document = document_named(reader, shop, name)
        lines = reader.all(DocumentLine, document=document.id, order="position")
        spoken = {line.sets_off for line in lines if line.sets_off} | (
            {document.corrects} if document.corrects else set()
        )
        card = reader.get(Card, document.card) if document.card else None
        return partial(
            document_paper,
            document,
            lines,
            reader.all(DocumentTax, document=document.id),
            named=reader.all(Document, id=tuple(spoken)),
            card=card,
            bike=reader.get(Bike, card.bike) if card and card.bike else None,
        )

    return desk.read(look)()  # the store's thread reads, this one speaks


def _receipt(desk: Desk, name: str) -> Paper:
    facts = _facts(desk, name)
    if not facts.payments:
        raise NotFoundError(f"Nothing was paid on card {facts.card.number}.")
    payment = max(facts.payments, key=lambda p: p.id)
    own = [one for one in facts.allocations if one.payment == payment.id]
    settled = {one.document for one in own}
    return receipt_paper(
        payment,
        own,
        [document for document in facts.documents if document.id in settled],
        shop=facts.shop,
        customer=facts.payer or facts.customer,
    )


def _loom_record(desk: Desk, name: str) -> Paper:
    facts = _facts(desk, name)
    return loom_record(facts, known=known_words(desk, facts))


def _recheck_letter(desk: Desk, name: str) -> Paper:
    facts = _facts(desk, name)
    if not facts.rechecks or facts.bike is None or facts.customer is None:
        raise NotFoundError(f"Card {facts.card.number} has no recheck to write about.")
    recheck = max(facts.rechecks, key=lambda r: r.id)
    kind = load_rechecks(desk.seeds).get(recheck.reason)
    wanted = kind.reads if kind else ()
    return recheck_letter(
        recheck,
        bike=facts.bike,
        customer=facts.customer,
        shop=facts.shop,
        card=facts.card,
        kind=kind,
        readings=[reading for reading in facts.readings if reading.kind in wanted],
        known=known_words(desk, facts),
    )


def _charging(desk: Desk, name: str) -> Paper:
    facts = _facts(desk, name)
    return charging_paper(
        [reading for reading in facts.readings if reading.kind in CHARGING],
        shop=facts.shop,
        card=facts.card,
        bike=facts.bike,
        customer=facts.customer,
        known=known_words(desk, facts),
        verdict=paper_words(charging_check(desk, name)),
        mind=_cautions(desk, facts),
    )


def _statement(desk: Desk, name: str) -> Paper:
    customer = desk.read(lambda reader: customer_named(reader, name))
    stands, issued = ledger(desk, customer)
    return statement_paper(
        stands,
        on=desk.today,
        shop=desk.shop,
        customer=customer,
        issued={d.number: d.issued_on for d in issued},
    )


PAPERS: Mapping[str, Callable[[Desk, str], Paper]] = {
    "job-card": _job_card,
    "estimate": _estimate,
    "deposit": _document,
    "invoice": _document,
    "credit-note": _document,
    "receipt": _receipt,
    "loom-record": _loom_record,
    "charging": _charging,
    "recheck-letter": _recheck_letter,
    "statement": _statement,
}
"""Every paper by its name. Documents go by their own number, a statement by customer, others by card."""


def paper_of(desk: Desk, kind: str, name: str) -> Paper:
    """One paper; raises NotFoundError for what does not exist, WrongUseError for a paper of no such kind."""
    if kind not in PAPERS:
        raise WrongUseError(f"There is no paper “{kind}”.", f"Papers: {', '.join(PAPERS)}.")
    with speaking(desk.shop.language):
        return PAPERS[kind](desk, name)


def papers_of(desk: Desk, name: str) -> tuple[tuple[str, Paper], ...]:
    """All papers that a card has by now, each with its kind, in the order of a card's life."""
    facts = _facts(desk, name)
    found = [("job-card", facts.card.number)]
    found += [("estimate", facts.card.number)] if facts.estimates else []
    found += [
        (document.kind.replace(" ", "-"), document.number)
        for document in sorted(facts.documents, key=lambda one: one.id)
    ]
    found += [("receipt", facts.card.number)] if facts.payments else []
    if any(reading.kind in CHARGING for reading in facts.readings):
        found.append(("charging", facts.card.number))
    if any(repair.done_at for repair in facts.repairs):
        found.append(("loom-record", facts.card.number))
    if facts.rechecks and facts.bike is not None and facts.customer is not None:
        found.append(("recheck-letter", facts.card.number))
    return tuple((kind, paper_of(desk, kind, number)) for kind, number in found)
