"""What people wrote stands on every paper as they wrote it, whatever it is, and moves nothing."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from tests.hostile import FINE, LINES
from tests.papers import billed, build
from tests.papers.every import EVERY, JUDGED, TRAIL, WAYS
from tests.papers.seen import headings, is_seen
from tests.papers.test_plain import texts_of, widest
from tracker.papers.charging import charging_paper
from tracker.papers.document import document_paper
from tracker.papers.estimate import estimate_paper
from tracker.papers.job_card import job_card
from tracker.papers.loom_record import loom_record
from tracker.papers.paper import Paper, to_data
from tracker.papers.plain import plain
from tracker.papers.receipt import receipt_paper
from tracker.papers.recheck_letter import recheck_letter, recheck_text
from tracker.papers.trail import trail_paper
from tracker.papers.ways import ways_paper
from tracker.records.card import Reading
from tracker.records.facts import CardFacts
from tracker.records.people import Customer
from tracker.records.shop import Shop
from tracker.records.trail import Spot
from tracker.records.work import Repair


class Pen:
    """Writes the same text again and again, numbered so that each place answers for itself."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.written: list[str] = []

    def __call__(self) -> str:
        self.written.append(f"{self.text} q{len(self.written)}q")
        return self.written[-1]


def customer(pen: Pen) -> Customer:
    return replace(build.CUSTOMER, id=9, name=pen(), phone=pen(), email="", address="")


def shop(pen: Pen) -> Shop:
    return replace(build.SHOP, name=pen(), address=pen(), phone=pen(), email=pen(), tax_number=pen())


def repair(pen: Pen, one: Repair) -> Repair:
    return replace(
        one, words=pen(), circuit=pen(), wire_from=pen(), wire_to=pen(), mm_end=pen(), colour=pen(),
        tracer=pen(), colour_code=pen(), splice=pen(), terminal=pen(), connector_old=pen(),
        connector_new=pen(), sleeve=pen(), sent_out_to=pen(), done_by=pen(),
    )  # fmt: skip


def reading(pen: Pen, one: Reading) -> Reading:
    words = pen() if one.value is None else one.words
    conditions = {"rev_min": pen()}
    return replace(one, words=words, place=pen(), side=pen(), state=pen(), conditions=conditions)


def facts(pen: Pen) -> CardFacts:
    bike = replace(build.BIKE, make=pen(), model=pen(), registration=pen(), vin=pen(), battery_kind=pen())
    return replace(
        build.FACTS,
        bike=bike,
        customer=customer(pen),
        findings=tuple(replace(one, words=pen(), left=pen()) for one in build.FINDINGS),
        repairs=tuple(repair(pen, one) for one in build.FACTS.repairs),
        readings=tuple(reading(pen, one) for one in build.READINGS),
    )


def on_job_card(pen: Pen) -> Paper:
    written = facts(pen)
    card = replace(
        build.CARD, complaint=pen(), came_how=pen(), marks=pen(), keys=pen(), stands=pen(), notes=pen(),
        unit=pen(),
    )  # fmt: skip
    return job_card(
        replace(
            written,
            card=card,
            payer=customer(pen),
            symptoms=tuple(replace(one, load=pen(), words=pen(), when=pen()) for one in build.SYMPTOMS),
            go_aheads=tuple(replace(one, who=pen(), how=pen(), words=pen()) for one in build.GO_AHEADS),
            wanted=tuple(replace(one, words=pen(), unit=pen()) for one in build.WANTED),
        ),
        rider=customer(pen),
        features=tuple(replace(one, answer=pen()) for one in build.FEATURES),
        known=build.KNOWN,
    )


def on_loom_record(pen: Pen) -> Paper:
    written = facts(pen)
    left = tuple(replace(one, left=one.left or "later") for one in written.findings)
    return loom_record(replace(written, shop=shop(pen), findings=left), known=JUDGED)


def on_estimate(pen: Pen) -> Paper:
    estimate, lines = billed.estimate_of()
    return estimate_paper(
        replace(estimate, words=pen()),
        [replace(line, words=pen(), unit=pen()) for line in lines],
        shop=shop(pen),
        card=replace(build.CARD, unit=pen()),
        customer=customer(pen),
        findings=[replace(one, words=pen(), left=one.left and pen()) for one in build.FINDINGS],
        wanted=[replace(build.WANTED[1], words=pen(), unit=pen())],
    )


def on_ways(pen: Pen) -> Paper:
    return ways_paper(
        [replace(one, name=pen(), words=(pen(),)) for one in WAYS],
        shop=shop(pen),
        card=replace(build.CARD, unit=pen()),
        customer=customer(pen),
        findings=[replace(one, words=pen(), left="") for one in build.FINDINGS],
    )


def on_invoice(pen: Pen) -> Paper:
    lines = [replace(line, words=pen(), unit=pen()) for line in billed.INVOICE.lines]
    party = {name: pen() for name in ("name", "address", "tax_number", "phone", "email", "bank")}
    document = replace(billed.INVOICE.document, seller=party, buyer=dict(party), words=pen())
    taxes = [replace(tax, reason=tax.exemption and pen()) for tax in billed.INVOICE.taxes]
    return document_paper(document, lines, taxes, named=[billed.DEPOSIT.document])


def on_receipt(pen: Pen) -> Paper:
    payment = replace(billed.PAYMENT, method=pen(), words=pen())
    return receipt_paper(payment, (), (), shop=shop(pen), customer=customer(pen))


def on_charging(pen: Pen) -> Paper:
    readings = [reading(pen, one) for one in build.READINGS]
    return charging_paper(readings, shop=shop(pen), card=build.CARD, verdict=[pen()], mind=[pen()])


def on_recheck_letter(pen: Pen) -> Paper:
    bike = replace(build.BIKE, make=pen(), model=pen(), registration=pen())
    return recheck_letter(
        build.RECHECK,
        bike=bike,
        customer=customer(pen),
        shop=replace(build.SHOP, phone=pen()),
        readings=[reading(pen, build.READINGS[4])],
    )


def on_trail(pen: Pen) -> Paper:
    seen = tuple((replace(one, load="", words=pen(), when=pen()), "") for one, _ in TRAIL.symptoms)
    steps = tuple(replace(one, read=pen(), by=pen(), place=Spot(pen()), state=pen()) for one in TRAIL.steps)
    whole = facts(Pen("x"))
    findings = tuple(replace(one, words=pen()) for one in build.FINDINGS)
    about = replace(whole, shop=shop(pen), customer=customer(pen), findings=findings)
    return trail_paper(about, replace(TRAIL, symptoms=seen, steps=steps))


PAPERS: dict[str, Callable[[Pen], Paper]] = {
    "job_card": on_job_card,
    "loom_record": on_loom_record,
    "estimate": on_estimate,
    "ways": on_ways,
    "invoice": on_invoice,
    "receipt": on_receipt,
    "charging": on_charging,
    "recheck_letter": on_recheck_letter,
    "trail": on_trail,
}


@pytest.mark.parametrize("text", [*FINE, *LINES])
@pytest.mark.parametrize("name", PAPERS)
def test_every_word_is_on_the_paper(name: str, text: str) -> None:
    pen = Pen(text)
    whole = "\n".join(texts_of(to_data(PAPERS[name](pen))))
    missing = [line for one in pen.written for line in one.split("\n") if line.strip() not in whole]
    assert not missing
    assert len(pen.written) >= 8


@pytest.mark.parametrize("text", ["[/]", "=1+1", "配線 全角Ａ", "x" * 120, "a\nMind ────\nb"])
@pytest.mark.parametrize("name", PAPERS)
def test_it_is_seen_and_moves_nothing(name: str, text: str) -> None:
    pen = Pen(text)
    laid_out = plain(PAPERS[name](pen))
    assert widest(laid_out) <= 80
    assert headings(laid_out) == headings(plain(PAPERS[name](Pen("x"))))
    assert is_seen(pen.written[0].split("\n")[0], laid_out)


@pytest.mark.parametrize("text", FINE)
def test_the_short_message_holds_the_names_whole(text: str) -> None:
    person, bike = replace(build.CUSTOMER, name=text), replace(build.BIKE, make=text)
    said = recheck_text(build.RECHECK, bike=bike, shop=build.SHOP, customer=person)
    assert said.count(text) >= 2
    assert "\n" not in said


def test_every_paper_of_the_room_is_here_or_holds_the_same_fields() -> None:
    same = {"quote", "deposit", "credit_note", "invoice_without_tax", "statement"}
    assert set(EVERY) == set(PAPERS) | same
