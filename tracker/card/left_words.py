"""How many minutes at the bench are left of what was agreed, told while the clock runs."""

from datetime import datetime
from decimal import Decimal

from tracker.card.limits import agreed_limit, left_of_go_ahead
from tracker.card.work import ending_in_force
from tracker.records.card import GoAheadFor
from tracker.records.facts import CardFacts
from tracker.records.money import exponent
from tracker.records.stock import WantedState

TO_COME = frozenset({WantedState.WANTED, WantedState.ORDERED, WantedState.HERE})
SOON_MIN = 20
"""From here on it is said loudly (our own choice, no source): time for a call before the limit is reached."""


def bench_minutes_left(facts: CardFacts, now: datetime) -> int | None:
    """Whole minutes at the bench until the limit in force; below 0 past it; None where nothing limits them.

    The nearer of the limit in time and of what the limit in money still buys at the shop's rate, the parts
    to come taken off it. A fixed price is no limit to time.
    """
    left, limit = left_of_go_ahead(facts, now), agreed_limit(facts)
    if left is None or limit is None or ending_in_force(facts):
        return None
    found = [] if left.minutes is None else [left.minutes]
    if left.minor is not None and not limit.fixed:
        shop = facts.shop
        rate = shop.looking_rate if limit.go_ahead.what is GoAheadFor.LOOK else shop.labour_rate
        taxed = shop.taxed and not shop.prices_with_tax
        an_hour = _minor(rate, shop.currency) * ((100 + shop.tax_rate) / 100 if taxed else 1)
        if an_hour:
            found.append(int((left.minor - _to_come(facts, taxed=taxed)) * 60 // an_hour))
    return min(found, default=None)


def left_words(facts: CardFacts, now: datetime) -> str:
    """“18 minutes left of what was agreed.”, or that it is passed; empty where nothing limits the time."""
    left = bench_minutes_left(facts, now)
    if left is None:
        return ""
    if left > 0:
        call = " Ring before it is used up." if left <= SOON_MIN else ""
        return f"{_minutes(left)} left of what was agreed.{call}"
    if left == 0:
        return "Nothing is left of what was agreed: a further go-ahead is wanted."
    return f"{_minutes(-left)} past what was agreed: a further go-ahead is wanted."


def _minutes(count: int) -> str:
    return f"{count} minute{'' if count == 1 else 's'}"


def _minor(amount: Decimal, currency: str) -> Decimal:
    return amount.scaleb(exponent(currency))


def _to_come(facts: CardFacts, *, taxed: bool) -> Decimal:
    """What the parts that are not fitted yet will cost, in minor units with tax."""
    total = Decimal(0)
    for part in facts.wanted:
        if part.state in TO_COME and not part.customers_own:
            rate = facts.shop.tax_rate if part.tax_rate is None else part.tax_rate
            net = _minor(part.qty * part.unit_price, facts.shop.currency)
            total += net * (100 + rate) / 100 if taxed else net
    return total
