"""What a card wants of the parts list: by hand, from an agreed estimate; and fitting it."""

from decimal import Decimal

from tracker.desk.stock import free_stock, move, part_named
from tracker.desk.turn import Turn
from tracker.errors import NotFoundError
from tracker.records.card import Card
from tracker.records.document import Estimate, EstimateLine, LineKind
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
) -> PartWanted:
    """Puts a part on a card by its code, or in words where the list has no such part."""
    try:
        part: Part | None = part_named(turn.unit, name)
    except NotFoundError:
        part = None
    price = unit_price if unit_price is not None else (part.price if part else Decimal(0))
    here = customers_own or (part is not None and free_stock(turn.unit, part.id) >= qty)
    if customers_own:
        turn.note("The customer's own part: no guarantee on it, and the papers say so.")
    elif not here:
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


def want_from_estimate(turn: Turn, card: Card, estimate: Estimate, covers: tuple[int, ...]) -> None:
    """Puts what an agreed estimate asks for on the card, as far as it is not there already."""
    there: dict[int | str, Decimal] = {}
    for one in turn.unit.all(PartWanted, card=card.id):
        if one.state is not WantedState.WRONG:
            key: int | str = one.part or said(one)
            there[key] = there.get(key, Decimal(0)) + one.qty
    for line in turn.unit.all(EstimateLine, estimate=estimate.id, order="position"):
        if line.kind not in {LineKind.PART, LineKind.WIRE} or not (
            line.repair is None or line.repair in covers
        ):
            continue
        part = turn.unit.get(Part, line.part) if line.part else None
        key = line.part or line.words
        short = line.qty - there.get(key, Decimal(0))
        there[key] = max(Decimal(0), there.get(key, Decimal(0)) - line.qty)
        if short <= 0:
            continue
        here = part is not None and free_stock(turn.unit, part.id) >= short
        turn.unit.insert(
            PartWanted(
                card=card.id,
                part=line.part,
                words=line.words,
                qty=short,
                unit=line.unit,
                unit_price=part.price if part else line.unit_price,
                tax_rate=part.tax_rate if part else None,
                repair=line.repair,
                estimate=estimate.id,
                state=WantedState.HERE if here else WantedState.WANTED,
                supplier=part.supplier if part else "",
                by=turn.who,
                at=turn.at,
            )
        )


def fit_here(turn: Turn, card: Card, repairs: frozenset[int | None]) -> list[PartWanted]:
    """Fits what is here for these repairs: a repair that is done has used its parts; nothing asks twice."""
    fitted = []
    for wanted in turn.unit.all(PartWanted, card=card.id, state=WantedState.HERE):
        if wanted.repair in repairs:
            fitted.append(fit(turn, card, wanted, wanted.qty))
    return fitted


def fit(turn: Turn, card: Card, wanted: PartWanted, qty: Decimal) -> PartWanted:
    """One part leaves the shelf for a card."""
    if wanted.part is not None and not wanted.customers_own:
        move(turn, turn.unit.get(Part, wanted.part), -qty, MoveKind.USED, card=card, wanted=wanted)
    return turn.unit.change(wanted, state=WantedState.FITTED, qty=qty)
