"""The shop's books on the command line: what is owed, the sales day-book, what a card leaves."""

from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

import click

from tracker.cli.build import merged, shared_options
from tracker.cli.output import say, say_json
from tracker.cli.printing import write_file
from tracker.desk.ledger import ledger
from tracker.desk.margin import Margin, margin_of, margins
from tracker.desk.people import customer_named
from tracker.desk.periods import HINT, Period, period_given
from tracker.papers.day_book import Entry, day_book, tax_totals
from tracker.papers.gather_lists import sales
from tracker.papers.say import day, percent
from tracker.records.money import Money
from tracker.records.width import wrap

WIDTH = 80


def _owed(**given: Any) -> None:
    context = merged(click.get_current_context(), given)
    with context.desk() as desk:
        name = given["customer"]
        customer = desk.read(lambda reader: customer_named(reader, name)) if name else None
        stands, _ = ledger(desk, customer)
        currency = desk.shop.currency
    if context.as_json:
        say_json({"owed": stands})
        return
    ages = stands.ages
    lines = [f"{i.number}  due {i.due}  {Money(i.owed, currency)}" for i in stands.items if i.owed]
    lines.append(f"owed {Money(stands.owed, currency)} {currency}, in hand {Money(stands.in_hand, currency)}")
    named = [("not due", ages.not_due), ("to 30 days", ages.to_30), ("to 60", ages.to_60)]
    named += [("to 90", ages.to_90), ("older", ages.over_90)]
    lines.append("  ".join(f"{words} {Money(minor, currency)}" for words, minor in named))
    say("\n".join(lines))


def _day_book(**given: Any) -> None:
    context = merged(click.get_current_context(), given)
    with context.desk() as desk:
        words = (given["period"] or "", given["since"] or "", given["until"] or "")
        period = period_given(*words, desk.today)
        entries = sales(desk, period)
    text = day_book(entries)
    if given["to"]:
        write_file(Path(given["to"]).expanduser(), text.encode("utf-8-sig"))
    if context.as_json:
        said = {"first": period.first, "last": period.last, "documents": len(entries)}
        say_json({**said, "taxes": tax_totals(entries), "csv": text})
    elif given["sums"] or given["to"]:
        say(sums_text(entries, period))
    else:
        say(text)


def _margin(**given: Any) -> None:
    context = merged(click.get_current_context(), given)
    with context.desk() as desk:
        if given["n"]:
            found: tuple[Margin, ...] = (margin_of(desk, given["n"]),)
        else:
            words = (given["period"] or "", given["since"] or "", given["until"] or "")
            found = margins(desk, period_given(*words, desk.today))
    if context.as_json:
        rows = [
            {**asdict(one), "left_minor": one.left_minor, "hourly_minor": one.hourly_minor} for one in found
        ]
        say_json({"margins": rows})
    else:
        say(margin_text(found))


def margin_text(found: Sequence[Margin]) -> str:
    """What cards leave, one a line; what is not known of their parts under them."""
    if not found:
        return "Nothing was billed then."
    rows = [("card", "sold", "parts cost", "left", "hours", "an hour"), *map(_margin_row, found)]
    lines = [f"{row[0]:<12}{row[1]:>12}{row[2]:>12}{row[3]:>12}{row[4]:>8}{row[5]:>12}" for row in rows]
    lines[0] += f"  {found[0].currency}"
    for one in found:
        if one.unknown:
            parts = "; ".join(one.unknown)
            said = f"{one.card}: nobody has said what these cost, so they count for nothing: {parts}."
            lines += wrap(said, WIDTH)
    lines.append("Without tax, fees and deposits. For the shop only: it stands on no paper.")
    return "\n".join(lines)


def _margin_row(one: Margin) -> tuple[str, ...]:
    sums = (one.sold_minor, one.cost_minor, one.left_minor)
    hourly = "-" if one.hourly_minor is None else str(Money(one.hourly_minor, one.currency))
    figures = tuple(str(Money(minor, one.currency)) for minor in sums)
    return (one.card, *figures, f"{one.clocked_s / 3600:.1f}", hourly)


def sums_text(entries: tuple[Entry, ...], period: Period) -> str:
    """What was sold in a period, by rate of tax: net, tax and both, credit notes taken off."""
    first = day(period.first) if period.first else "the beginning"
    last = day(period.last) if period.last else "today"
    lines = [f"Sold from {first} to {last}: {len(entries)} document{'' if len(entries) == 1 else 's'}"]
    rows = [("tax", "without tax", "tax", "with tax")]
    for one in tax_totals(entries):
        net, tax = Money(one.taxable_minor, one.currency), Money(one.tax_minor, one.currency)
        both = Money(one.taxable_minor + one.tax_minor, one.currency)
        rows.append((f"{one.category} {percent(one.rate)}", str(net), str(tax), f"{both} {one.currency}"))
    if len(rows) > 1:
        lines += [f"{row[0]:<10}{row[1]:>14}{row[2]:>14}{row[3]:>20}" for row in rows]
    return "\n".join(lines)


owed = click.Command(
    "owed",
    params=[click.Argument(["customer"], required=False, metavar="CUSTOMER"), *shared_options()],
    callback=_owed,
    help="What is owed, by age.",
)
PERIOD: tuple[click.Parameter, ...] = (
    click.Option(["--period"], metavar="PERIOD", help=f"Only this: {HINT}"),
    click.Option(["--since"], metavar="DATE", help="From this day on."),
    click.Option(["--until"], metavar="DATE", help="Up to and with this day."),
)
margin = click.Command(
    "margin",
    params=[click.Argument(["n"], required=False, metavar="N"), *PERIOD, *shared_options()],
    callback=_margin,
    help="What a card leaves once its parts are paid for, or each card billed in a period; for the shop.",
)
day_book_command = click.Command(
    "day-book",
    params=[
        *PERIOD,
        click.Option(["--sums"], is_flag=True, help="Only what it adds up to, by rate of tax."),
        click.Option(["--to"], metavar="FILE", help="Write it to a file that a spreadsheet opens."),
        *shared_options(),
    ],
    callback=_day_book,
    help="The sales day-book as CSV, with tax by rate; by date of issue.",
)
