"""What somebody gave leave to spend on a card, and how much of it is used."""

from dataclasses import dataclass
from datetime import UTC, datetime
from decimal import Decimal

from tracker.card.needs import is_charged
from tracker.card.time import clocked
from tracker.card.words import money_words
from tracker.card.work import ending_in_force, planned
from tracker.records.card import GoAhead, GoAheadFor, Tolerance
from tracker.records.document import Estimate
from tracker.records.facts import CardFacts
from tracker.records.money import Money
from tracker.records.stock import WantedState
from tracker.records.work import TimeKind

BEFORE_ALL = datetime.min.replace(tzinfo=UTC)
"""Stands for `now` where running clocks are not to count: each then has run for no time at all."""


@dataclass(frozen=True, slots=True)
class Limit:
    """The go-ahead in force and how far it goes on this card in all; None where it names no limit.

    `minor` with tax, in the shop's currency; `minutes` at the bench. `fixed` when it answers a fixed price,
    which is billed as it is whatever the work costs.
    """

    go_ahead: GoAhead
    minor: int | None
    minutes: int | None
    fixed: bool = False

    @property
    def most_minor(self) -> int | None:
        """The limit in money with its tolerance; None when nothing limits it."""
        return self._most(self.minor)

    @property
    def most_minutes(self) -> int | None:
        """The limit in minutes with its tolerance; None when nothing limits it."""
        return self._most(self.minutes)

    def _most(self, limit: int | None) -> int | None:
        if limit is None or self.go_ahead.tolerance is Tolerance.OFF:
            return None
        if self.go_ahead.tolerance is Tolerance.NONE:
            return limit
        # Down, never half up: a part of a cent past the limit was not agreed.
        return limit * (100 + self.go_ahead.tolerance_percent) // 100


@dataclass(frozen=True, slots=True)
class Left:
    """What is left of the go-ahead in force, without its tolerance; below 0 when it is passed.

    `minutes` are whole ones at the bench, `minor` money with tax; None where no such limit was named.
    """

    limit: Limit
    minutes: int | None
    minor: int | None


def latest_go_ahead(facts: CardFacts, what: GoAheadFor) -> GoAhead | None:
    """The last one of its kind: limits are for the whole card, so each stands for those before it."""
    those = (each for each in facts.go_aheads if each.what is what)
    return max(those, key=lambda each: (each.at, each.id), default=None)


def estimate_answered(facts: CardFacts, go_ahead: GoAhead) -> Estimate | None:
    """The revision that a go-ahead answers."""
    if go_ahead.estimate is None:
        return None
    return next((each for each in facts.estimates if each.id == go_ahead.estimate), None)


def agreed_limit(facts: CardFacts) -> Limit | None:
    """The limit in force: of the latest go-ahead to work, else of the leave to look; None without either.

    On a card that ended with nothing mended only looking is billed, so there the leave to look decides.
    """
    work, look = latest_go_ahead(facts, GoAheadFor.WORK), latest_go_ahead(facts, GoAheadFor.LOOK)
    only_looked = ending_in_force(facts) and all(repair.done_at is None for repair in planned(facts))
    go_ahead = (look or work) if only_looked else (work or look)
    if go_ahead is None:
        return None
    estimate = estimate_answered(facts, go_ahead)
    fixed = estimate is not None and estimate.fixed_price
    minor = go_ahead.limit_minor
    if estimate is not None and fixed and minor is None:
        minor = estimate.total_minor
    return Limit(go_ahead, minor, go_ahead.limit_min, fixed)


def spent_minor(facts: CardFacts, now: datetime) -> int:
    """What the card comes to so far with tax, were it billed by the clock: a guide, never an invoice.

    Looking and repairs at the shop's rates without rounding of minutes, parts fitted, the call-out and the
    way there and back. Where the shop's prices are typed with tax, none is put on top of them.
    """
    shop, card, time = facts.shop, facts.card, clocked(facts, now)
    at_shop_rate = (
        shop.looking_rate * time.by_kind[TimeKind.LOOKING] + shop.labour_rate * time.by_kind[TimeKind.REPAIR]
    ) / 3600
    taxed = shop.taxed and not shop.prices_with_tax
    if card.call_out:
        at_shop_rate += shop.call_out_charge
    if card.distance is not None:
        at_shop_rate += 2 * Decimal(str(card.distance)) * shop.distance_charge
    total = _with_tax(at_shop_rate, shop.tax_rate, taxed=taxed)
    for part in facts.wanted:
        if part.state is WantedState.FITTED and not part.customers_own:
            rate = shop.tax_rate if part.tax_rate is None else part.tax_rate
            total += _with_tax(part.qty * part.unit_price, rate, taxed=taxed)
    return Money.of(total, shop.currency).minor


def _with_tax(net: Decimal, rate: Decimal, *, taxed: bool) -> Decimal:
    return net * (100 + rate) / 100 if taxed else net


def left_of_go_ahead(facts: CardFacts, now: datetime) -> Left | None:
    """What is left of the go-ahead in force; None without one, or where nothing is charged."""
    limit = agreed_limit(facts)
    if limit is None or not is_charged(facts):
        return None
    minutes = None if limit.minutes is None else limit.minutes - clocked(facts, now).bench_s // 60
    minor = None if limit.minor is None else limit.minor - spent_minor(facts, now)
    return Left(limit, minutes, minor)


def used_up(facts: CardFacts, now: datetime) -> str:
    """Why the go-ahead in force leaves nothing to start with, in a few words; "" while it leaves something.

    Leave to look ends at its limit, since “then ring” was said; a go-ahead to work where its tolerance ends.
    """
    limit = agreed_limit(facts)
    if limit is None or limit.go_ahead.tolerance is Tolerance.OFF:
        return ""
    to_look = limit.go_ahead.what is GoAheadFor.LOOK
    most_minutes = limit.minutes if to_look else limit.most_minutes
    most_minor = limit.minor if to_look else limit.most_minor
    bench_min = clocked(facts, now).bench_s // 60
    if most_minutes is not None and bench_min >= most_minutes:
        return f"{limit.minutes} min agreed, {bench_min} used"
    spent = spent_minor(facts, now)
    if most_minor is not None and not limit.fixed and spent >= most_minor:
        return f"{money_words(limit.minor or 0, facts.shop)} agreed, {money_words(spent, facts.shop)} used"
    return ""
