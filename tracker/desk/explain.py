"""An estimate explained from what it keeps: each line's sum, its rule, how the range came, what changed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tracker.desk.desk import Desk
from tracker.desk.show import card_or_bike
from tracker.errors import NotFoundError
from tracker.estimating.customer_words import fixed_words, for_customer
from tracker.estimating.revision import Change, changes, reasons, summary
from tracker.estimating.spread import treatment
from tracker.estimating.words import of_unit, plain
from tracker.records.card import Card
from tracker.records.document import Estimate, EstimateLine
from tracker.records.money import Money
from tracker.records.problem import Mistakes, Problem
from tracker.store.reader import Reader


@dataclass(frozen=True, slots=True, kw_only=True)
class ExplainedLine:
    """One line opened: its figures, its sum in words, and the rule it came from with its text as it was."""

    line: EstimateLine
    amount: Money
    rule: str
    rule_text: str
    answers: Mapping[str, str]
    assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Explained:
    """One revision opened. `since` is what changed from `against`, and why, in words."""

    card: Card
    estimate: Estimate
    lines: tuple[ExplainedLine, ...]
    customer: str
    treatment: str
    rates: Mapping[str, str]
    factors: Mapping[str, Mapping[str, float]]
    since: tuple[str, ...]
    changes: tuple[Change, ...]
    against: int | None = None


def explain(desk: Desk, name: str, revision: int | None = None, against: int | None = None) -> Explained:
    """An estimate of a card (by its number, or a bike's newest), the revision in force or the one named.

    What changed is told from the revision before it, or from `against`. Raises NotFoundError where the card
    has none, Mistakes where there is no such revision.
    """

    def look(reader: Reader) -> Explained:
        card = card_or_bike(reader, name)
        every = reader.all(Estimate, card=card.id, order="revision")
        if not every:
            raise NotFoundError(f"Card {card.number} has no estimate.", "loomcard estimate N --repair RULE")
        found = _named("revision", every, every[-1].revision if revision is None else revision)
        if against is None:
            before = next((one for one in reversed(every) if one.revision < found.revision), None)
        else:
            before = _named("against", every, against)
        before = None if before == found else before
        return _explained(reader, card, found, before)

    return desk.read(look)


def _named(field: str, every: Sequence[Estimate], revision: int) -> Estimate:
    found = next((one for one in every if one.revision == revision), None)
    if found is None:
        hint = f"There are: {', '.join(str(one.revision) for one in every)}."
        raise Mistakes([Problem(field, "There is no such revision.", hint, str(revision))])
    return found


def _explained(reader: Reader, card: Card, estimate: Estimate, before: Estimate | None) -> Explained:
    lines = reader.all(EstimateLine, estimate=estimate.id, order="position")
    frozen: Mapping[str, Any] = estimate.frozen
    asked = {one["repair"]: one for one in frozen.get("asked", [])}
    factors = frozen.get("factors", {})
    since: tuple[str, ...] = ()
    changed: tuple[Change, ...] = ()
    if before is not None and before.currency == estimate.currency:
        was = reader.all(EstimateLine, estimate=before.id, order="position")
        changed = changes(before, was, estimate, lines)
        since = (
            summary(before, estimate),
            *(one.words for one in changed),
            *reasons(before.frozen, estimate.frozen),
        )
    total = Money(estimate.total_minor, estimate.currency)
    high = Money(estimate.high_total_minor, estimate.currency)
    learned = any(value.get("spread") for value in factors.values())
    return Explained(
        card=card,
        estimate=estimate,
        lines=tuple(_line(line, estimate, asked, frozen) for line in lines),
        customer=fixed_words(total) if estimate.fixed_price else for_customer(total, high),
        treatment=treatment(
            float(frozen.get("correlation", 0)), learned=learned, pairs=int(frozen.get("pairs", 0))
        ),
        rates=frozen.get("rates", {}),
        factors={**factors, **{f"in {zone}": value for zone, value in frozen.get("zones", {}).items()}},
        since=since,
        changes=changed,
        against=before.revision if before is not None else None,
    )


def _line(
    line: EstimateLine, estimate: Estimate, asked: Mapping[int, Any], frozen: Mapping[str, Any]
) -> ExplainedLine:
    own = asked.get(line.repair) if line.repair is not None else None
    rule = own["rule"] if own else ""
    return ExplainedLine(
        line=line,
        amount=Money(line.net_minor, estimate.currency),
        rule=rule,
        rule_text=frozen.get("rules", {}).get(rule, ""),
        answers=own["answers"] if own else {},
        assumed=tuple(own["assumed"]) if own else (),
    )


def price_sum(line: EstimateLine, currency: str) -> str:
    """How a line's money comes: “23 minutes at 60 for 60 = 23.00”."""
    each = f" for {plain(line.base_qty)}" if line.base_qty != 1 else ""
    amount = Money(line.net_minor, currency)
    return f"{of_unit(line.qty, line.unit)} at {plain(line.unit_price)}{each} = {amount}"
