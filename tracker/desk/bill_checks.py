"""What keeps anything from being billed, said together with whatever else is wrong with what was typed."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import date

from tracker.billing.checks import standing_problems
from tracker.desk.documents import due_date, last_date
from tracker.desk.turn import Turn
from tracker.records.billing import Party
from tracker.records.document import DocumentKind
from tracker.records.people import Customer
from tracker.records.problem import Mistakes


@contextmanager
def all_said(
    turn: Turn,
    kind: DocumentKind,
    customer: Customer | None,
    buyer: Mapping[str, str],
    *,
    due: date | None,
    small: bool,
) -> Iterator[None]:
    """Raises every mistake inside together with those of shop, buyer and dates, each once."""
    shop = turn.shop
    standing = standing_problems(
        Party(shop.name, shop.address, shop.tax_number),
        Party(buyer.get("name", ""), buyer.get("address", "")),
        on=turn.today,
        due=due or due_date(turn, customer),
        last_on=last_date(turn, kind),
        taxed=shop.taxed,
        small=small,
    )
    try:
        yield
    except Mistakes as wrong:
        more = [problem for problem in standing if problem not in wrong.problems]
        raise Mistakes((*wrong.problems, *more)) from None
