"""The estimate, or the quote at a fixed price: what would be done, about what it costs, what word we need."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal

from tracker.billing.totals import tax_of
from tracker.estimating.customer_words import fixed_words, for_customer
from tracker.papers.own_words import line_words, sentence
from tracker.papers.paper import (
    Block,
    Column,
    ColumnKind,
    Pair,
    Pairs,
    Paper,
    Signature,
    Sum,
    Sums,
    Table,
    Words,
    WordsKind,
    some,
)
from tracker.papers.parties import about_pairs, customer_party, shop_party
from tracker.papers.say import amount, day, money, number, percent, price
from tracker.papers.taxes import is_taxed, rate_words, several_taxes, tax_sums
from tracker.papers.tongue import mark, t
from tracker.papers.ways import ways_blocks
from tracker.records.bike import Bike
from tracker.records.card import Card, Finding
from tracker.records.document import DocumentTax, Estimate, EstimateLine
from tracker.records.money import Money
from tracker.records.people import Customer
from tracker.records.shop import Shop
from tracker.records.stock import PartWanted, WantedState
from tracker.records.visit import Way

NO_GUARANTEE = mark("On a part of your own we give no guarantee.")


def estimate_paper(
    estimate: Estimate,
    lines: Sequence[EstimateLine],
    *,
    shop: Shop,
    card: Card,
    bike: Bike | None = None,
    customer: Customer | None = None,
    findings: Sequence[Finding] = (),
    wanted: Sequence[PartWanted] = (),
    limit: Money | None = None,
    deposit: Money | None = None,
    holds_until: date | None = None,
    ways: Sequence[Way] = (),
) -> Paper:
    """One revision of an estimate, in a customer's words, with its totals by tax.

    `limit` is what was agreed already (a further go-ahead is then asked for beyond it), `deposit` what is
    asked before the work starts, `holds_until` the last day on which it can be taken up. `wanted` are the
    card's parts, of which the customer's own are named; `findings` say what was found, what is left as it
    is, and what was said to be unsafe; `ways` were offered to choose from. Without a customer (a project)
    nobody is asked for a word.
    """
    fixed = estimate.fixed_price
    title = t("Quote (fixed price)") if fixed else t("Estimate")
    parties = (shop_party(shop), *((customer_party(customer),) if customer else ()))
    own = sorted(lines, key=lambda line: line.position)
    return Paper(
        title,
        estimate.number,
        parties,
        some(
            Pairs((*_dates(estimate, holds_until), *about_pairs(card, bike)), columns=2),
            Words(
                tuple(_found(each) for each in findings if not each.left), WordsKind.LIST, t("What was found")
            ),
            *ways_blocks(ways),
            _table(own, estimate.currency, t("What would be done")),
            Sums(_sums(estimate, own)),
            *_agreed(
                (
                    Words(_range(estimate, limit, fixed=fixed), title=t("What it comes to")),
                    Words((estimate.words,) if estimate.words else (), WordsKind.LIST, t("Please note")),
                    Words(
                        tuple(_own_part(part) for part in wanted if _is_own(part)),
                        WordsKind.LIST,
                        t("Your own parts"),
                    ),
                    Words((t(NO_GUARANTEE),) if any(_is_own(part) for part in wanted) else ()),
                    Words(_left(findings), WordsKind.CAUTION, t("Left as it is")),
                ),
                (_asked(fixed=fixed, deposit=deposit), _signature(fixed=fixed)) if customer else None,
            ),
        ),
    )


def _agreed(words: Sequence[Words], go_ahead: tuple[Words, Signature] | None) -> tuple[Block, ...]:
    """What somebody puts a name to: it stands on the page where the name goes."""
    if go_ahead is None:
        return tuple(words)
    asked, signature = go_ahead
    return (*(replace(one, keep=True) for one in (*words, asked)), signature)


def _dates(estimate: Estimate, holds_until: date | None) -> tuple[Pair, ...]:
    made = [Pair(t("Made on"), day(estimate.made_on))]
    if estimate.revision > 1:
        said = t("{revision}; it takes the place of those before it", revision=estimate.revision)
        made.append(Pair(t("Revision"), said))
    if holds_until:
        made.append(Pair(t("Holds until"), day(holds_until)))
    return tuple(made)


def _found(finding: Finding) -> str:
    unsafe = t("NOT SAFE TO RIDE until it is mended.")
    return f"{finding.words}\n{unsafe}" if finding.told_unsafe else finding.words


def _left(findings: Sequence[Finding]) -> tuple[str, ...]:
    left = [each for each in findings if each.left]
    return tuple(
        f"{each.words}\n{t('Left: {why}', why=each.left)}"
        + ("\n" + t("You were told that it is NOT SAFE TO RIDE like this.") if each.told_unsafe else "")
        for each in left
    )


def _table(lines: Sequence[EstimateLine], currency: str, title: str) -> Table:
    taxed = is_taxed(line.tax_category for line in lines)
    columns = (
        Column(t("No."), ColumnKind.FIGURES),
        Column(t("Description")),
        Column(t("Quantity"), ColumnKind.FIGURES),
        Column(t("Unit")),
        Column(t("Price"), ColumnKind.FIGURES),
        *((Column(t("Tax"), ColumnKind.FIGURES),) if taxed else ()),
        Column(f"{t('Net') if taxed else t('Amount')} {currency}", ColumnKind.FIGURES),
    )
    rows = tuple(
        (
            str(at),
            line_words(line.words),
            number(line.qty),
            t(line.unit),
            price(line.unit_price, currency, line.base_qty),
            *((rate_words(line.tax_category, percent(line.tax_rate)),) if taxed else ()),
            amount(line.net_minor, currency),
        )
        for at, line in enumerate(lines, 1)
    )
    return Table(columns, rows, title)


def _sums(estimate: Estimate, lines: Sequence[EstimateLine]) -> tuple[Sum, ...]:
    currency = estimate.currency
    total = Sum(t("Total") if not is_taxed(line.tax_category for line in lines) else t("Total with tax"),
                money(estimate.total_minor, currency), strong=True)  # fmt: skip
    groups = _groups(lines)
    rest = estimate.total_minor - estimate.net_minor - sum(group.tax_minor for group in groups)
    rounding = (Sum(t("Rounding"), money(rest, currency)),) if rest else ()
    if not is_taxed(group.category for group in groups):
        return (*rounding, total)
    return (
        Sum(t("Total without tax"), money(estimate.net_minor, currency)),
        *tax_sums(groups, currency),
        *([Sum(t("Tax in all"), money(estimate.tax_minor, currency))] if several_taxes(groups) else []),
        *rounding,
        total,
    )


def _groups(lines: Sequence[EstimateLine]) -> tuple[DocumentTax, ...]:
    sums: dict[tuple[str, Decimal], int] = {}
    for line in lines:
        key = line.tax_category, line.tax_rate
        sums[key] = sums.get(key, 0) + line.net_minor
    return tuple(
        DocumentTax(document=0, category=category, rate=rate, taxable_minor=net, tax_minor=tax_of(net, rate))
        for (category, rate), net in sums.items()
    )


def _range(estimate: Estimate, limit: Money | None, *, fixed: bool) -> tuple[str, ...]:
    total = Money(estimate.total_minor, estimate.currency)
    if fixed:
        kept = t("This price is kept, whatever the work takes.")
        return (f"{sentence(fixed_words(total))} {kept}",)
    said = for_customer(total, Money(estimate.high_total_minor, estimate.currency), limit)
    return (sentence(said), t("This is an estimate and no invoice: nothing is to be paid on it."))


def _is_own(part: PartWanted) -> bool:
    return part.customers_own and part.state not in {WantedState.WRONG, WantedState.DROPPED}


def _own_part(part: PartWanted) -> str:
    return f"{line_words(part.words)} ({number(part.qty)} {t(part.unit)})"


def _asked(*, fixed: bool, deposit: Money | None) -> Words:
    asked = [t("We start when you say so: by phone, by message, or signed below.")]
    if not fixed:
        asked.append(t("If it would go past the amount named, we stop and ring you first."))
    if deposit is not None:
        whole = money(deposit.minor, deposit.currency)
        asked.append(t("Before the work we ask for a deposit of {whole}, tax included.", whole=whole))
    return Words((" ".join(asked),), title=t("Your go-ahead"))


def _signature(*, fixed: bool) -> Signature:
    labels = (t("Date"), t("Signature"))
    return Signature("", labels if fixed else (t("Up to"), *labels))
