"""What a card wants of the parts list: by hand, from an agreed estimate; and fitting it."""

from collections.abc import Collection, Sequence
from decimal import Decimal

from tracker.card.needs import needs_of
from tracker.card.work import NOT_HERE
from tracker.desk.stock import free_stock, move, part_named
from tracker.desk.turn import Turn
from tracker.desk.typed import figure
from tracker.errors import NotFoundError
from tracker.records.card import Card, Need
from tracker.records.document import Estimate, EstimateLine, LineKind
from tracker.records.facts import CardFacts
from tracker.records.problem import Mistakes, Problem
from tracker.records.stock import MoveKind, Part, PartWanted, WantedState
from tracker.records.work import Repair


def want(
    turn: Turn,
    card: Card,
    name: str,
    *,
    qty: Decimal = Decimal(1),
    unit_price: Decimal | None = None,
    repair: Repair | None = None,
    customers_own: bool = False,
    exchange: bool = False,
    supplier: str = "",
    noted: bool = True,
) -> PartWanted:
    """Puts a part on a card by its code, or in words where the list has no such part.

    Unless `noted`, nothing is said of the shelf: it was used, wherever it came from.
    """
    try:
        part: Part | None = None if customers_own else part_named(turn.unit, name)
    except NotFoundError:
        part = None
    price = unit_price if unit_price is not None else (part.price if part else Decimal(0))
    here = customers_own or (part is not None and free_stock(turn.unit, part.id) >= qty)
    if customers_own:
        turn.note("The customer's own part: no guarantee on it, and the papers say so.")
    elif not here and noted:
        turn.note(f"{part.name if part else name}: not on the shelf, order it.")
    return turn.unit.insert(
        PartWanted(
            card=card.id,
            part=part.id if part else None,
            words=part.name if part else name,
            qty=qty,
            unit=part.unit if part else "piece",
            unit_price=Decimal(0) if customers_own else price,
            tax_rate=part.tax_rate if part else None,
            customers_own=customers_own,
            exchange=exchange,
            repair=repair.id if repair else None,
            state=WantedState.HERE if here else WantedState.WANTED,
            supplier=supplier or (part.supplier if part else ""),
            by=turn.who,
            at=turn.at,
        )
    )


def said(wanted: PartWanted) -> str:
    """A wanted part as lines say it: the customer's own without a guarantee, an exchange as one."""
    own = " (customer's own, no guarantee)" if wanted.customers_own else ""
    return wanted.words + own + (" (exchange)" if wanted.exchange else "")


def want_from_estimate(turn: Turn, card: Card, estimate: Estimate, covers: Collection[int]) -> None:
    """Puts what an estimate asks for these repairs on the card, as far as it is not there already.

    A repair's line counts against what that repair has, then what is on the card for none in particular; a
    line of several repairs against all of it. What came wrong counts too: it is to be ordered again.
    """
    there: dict[tuple[int | None, int | str], Decimal] = {}
    for one in turn.unit.all(PartWanted, card=card.id):
        held = (one.repair, one.part or said(one))
        there[held] = there.get(held, Decimal(0)) + one.qty
    for line in turn.unit.all(EstimateLine, estimate=estimate.id, order="position"):
        if line.kind not in {LineKind.PART, LineKind.WIRE}:
            continue
        if line.repair is not None and line.repair not in covers:
            continue
        short, key = line.qty, line.part or line.words
        own = [held for held in there if held[1] == key and line.repair in (None, held[0])]
        for held in dict.fromkeys((*own, (None, key))):
            used = min(short, there.get(held, Decimal(0)))
            there[held] = there.get(held, Decimal(0)) - used
            short -= used
        if short > 0:
            turn.unit.insert(_asked_for(turn, card, line, short))


def _asked_for(turn: Turn, card: Card, line: EstimateLine, qty: Decimal) -> PartWanted:
    part = turn.unit.get(Part, line.part) if line.part else None
    here = part is not None and free_stock(turn.unit, part.id) >= qty
    return PartWanted(
        card=card.id,
        part=line.part,
        words=line.words,
        qty=qty,
        unit=line.unit,
        unit_price=part.price if part else line.unit_price,
        tax_rate=part.tax_rate if part else None,
        repair=line.repair,
        estimate=line.estimate,
        state=WantedState.HERE if here else WantedState.WANTED,
        supplier=part.supplier if part else "",
        by=turn.who,
        at=turn.at,
    )


def want_unasked(turn: Turn, facts: CardFacts, estimate: Estimate | None, covers: Collection[int]) -> None:
    """As `want_from_estimate`, where no go-ahead is asked for: a project, a free comeback, one set aside."""
    if estimate is not None and Need.GO_AHEAD not in needs_of(facts):
        want_from_estimate(turn, facts.card, estimate, covers)


def fit_here(turn: Turn, card: Card, repairs: frozenset[int | None]) -> list[PartWanted]:
    """Fits what is here for these repairs: a repair that is done has used its parts; nothing asks twice."""
    fitted = []
    for wanted in turn.unit.all(PartWanted, card=card.id, state=WantedState.HERE):
        if wanted.repair in repairs:
            fitted.append(fit(turn, card, wanted, wanted.qty))
    return fitted


def use(turn: Turn, card: Card, repair: Repair, typed: Sequence[str]) -> list[PartWanted]:
    """Fits parts that nobody put on the card before, as they are typed at the bench.

    A part is a code of the list or words, then `=` how many and `@` the price of one without tax where they
    want saying: `RT-M6=2`, `ring terminal M6=2@0.40`. One of it where nothing is said. Raises Mistakes with
    all that cannot be read, beside “used”.
    """
    read = [_used(text) for text in typed]
    if wrong := [one for one in read if isinstance(one, Problem)]:
        raise Mistakes(wrong)
    fitted = []
    for one in read:
        assert not isinstance(one, Problem)
        name, qty, price = one
        wanted = want(turn, card, name, qty=qty, unit_price=price, repair=repair, noted=False)
        if not wanted.unit_price:
            turn.note(f"{wanted.words} has no price yet: write it as “{name}={qty:f}@price”.")
        fitted.append(fit(turn, card, wanted, qty))
    return fitted


def _used(text: str) -> tuple[str, Decimal, Decimal | None] | Problem:
    name, _, rest = text.rpartition("=") if "=" in text else (text, "", "")
    how_many, priced, price = rest.partition("@")
    hint = "ring terminal M6=2@0.40"
    if not name.strip():
        return Problem("used", "Name the part.", hint, text[:60])
    qty = figure("used", how_many, least=Decimal(0), most=Decimal(10_000)) if how_many.strip() else Decimal(1)
    if isinstance(qty, Problem) or not qty:
        return Problem("used", f"How many of “{name.strip()}” were used?", hint, text[:60])
    each = figure("used", price, least=Decimal(0), most=Decimal(1_000_000)) if priced else None
    if isinstance(each, Problem):
        return Problem("used", f"What does one of “{name.strip()}” cost?", hint, text[:60])
    return name.strip(), qty, each


def left_over(turn: Turn, card: Card, repair: Repair) -> None:
    """Says which parts of a repair that is done never came: they are on the card, not on the invoice."""
    numbered = enumerate(turn.unit.all(PartWanted, card=card.id), 1)
    for number, wanted in numbered:
        if wanted.repair == repair.id and wanted.state in NOT_HERE:
            turn.note(
                f"{wanted.words} is {wanted.state} still, and not billed:"
                f" loomcard part fit {card.number} {number} where it was used."
            )


def fit(turn: Turn, card: Card, wanted: PartWanted, qty: Decimal) -> PartWanted:
    """One part leaves the shelf for a card."""
    if wanted.part is not None and not wanted.customers_own:
        move(turn, turn.unit.get(Part, wanted.part), -qty, MoveKind.USED, card=card, wanted=wanted)
    return turn.unit.change(wanted, state=WantedState.FITTED, qty=qty)
