"""An estimate opened line by line, and ways to mend set side by side: as text and as JSON."""

import textwrap
from collections.abc import Mapping
from typing import Any

import click

from tracker.cli.context import Context
from tracker.cli.learned import wrapped
from tracker.cli.output import say, say_json
from tracker.cli.views import view
from tracker.desk.desk import Desk
from tracker.desk.explain import Explained, ExplainedLine, explain, price_sum
from tracker.desk.options import Options, price_options
from tracker.desk.trying import tried_record
from tracker.papers.twins import WIDTH, cut
from tracker.records.money import Money
from tracker.records.problem import Mistakes, Problem


def show_explained(desk: Desk, context: Context, name: str, opened: Mapping[str, int | None]) -> None:
    """The `revision` in force or the one named, `against` the one before or another; one `line` with its
    rule's text where a line is named.
    """
    line = opened["line"]
    found = explain(desk, name, opened["revision"], opened["against"])
    if line is not None and not 1 <= line <= len(found.lines):
        hint = f"1 to {len(found.lines)}."
        raise Mistakes([Problem("line", "There is no such line.", hint, str(line))])
    if context.as_json:
        say_json(explained_record(found, line))
    elif line is not None:
        say("\n".join(line_text(found, found.lines[line - 1], whole=True)))
    else:
        say(explained_text(found))


def explained_record(found: Explained, line: int | None = None) -> dict[str, Any]:
    """As JSON has it; the rules' texts are in it once each, unless one line is asked for."""
    estimate = found.estimate
    lines = [
        {
            "position": one.line.position,
            "kind": one.line.kind,
            "words": one.line.words,
            "qty": one.line.qty,
            "unit": one.line.unit,
            "unit_price": one.line.unit_price,
            "base_qty": one.line.base_qty,
            "net": one.amount,
            "sum": price_sum(one.line, estimate.currency),
            "book_min": one.line.book_min,
            "least_min": one.line.least_min,
            "likely_min": one.line.likely_min,
            "most_min": one.line.most_min,
            "why": one.line.why,
            "rule": one.rule,
            "answers": one.answers,
            "assumed": one.assumed,
        }
        for one in found.lines
    ]
    return {
        "card": found.card.number,
        "estimate": estimate.number,
        "revision": estimate.revision,
        "minutes": {
            "least": estimate.least_min,
            "likely": estimate.likely_min,
            "most": estimate.most_min,
            "expected": estimate.expected_min,
            "p10": estimate.low_min,
            "p90": estimate.high_min,
        },
        "treatment": found.treatment,
        "customer": found.customer,
        "rates": found.rates,
        "factors": found.factors,
        "lines": lines if line is None else lines[line - 1 : line],
        "rules": {one.rule: one.rule_text for one in found.lines if one.rule}
        if line is None
        else {found.lines[line - 1].rule: found.lines[line - 1].rule_text},
        "against": found.against,
        "since": found.since,
    }


def explained_text(found: Explained) -> str:
    """Every line with its sum, how the range came, what changed since the revision before."""
    estimate, currency = found.estimate, found.estimate.currency
    lines = [
        f"{estimate.number}, revision {estimate.revision} of card {found.card.number}, {estimate.made_on}"
    ]
    for one in found.lines:
        lines += ["", *line_text(found, one)]
    time = (
        f"Time: expected {estimate.expected_min} min, {estimate.low_min} to {estimate.high_min} in 8 of 10;"
        f" least {estimate.least_min}, likely {estimate.likely_min}, most {estimate.most_min}."
    )
    money = (
        f"Without tax {Money(estimate.net_minor, currency)}, tax {Money(estimate.tax_minor, currency)},"
        f" total {Money(estimate.total_minor, currency)} {currency}."
    )
    lines += [
        "",
        *wrapped(time),
        *wrapped(found.treatment),
        money,
        f"To the customer: {found.customer}",
    ]
    if found.since:
        lines += [
            "",
            f"Since revision {found.against}:",
            *(part for words in found.since for part in wrapped(words)),
        ]
    return "\n".join(lines)


def line_text(found: Explained, one: ExplainedLine, *, whole: bool = False) -> list[str]:
    """One line: what, its money, its sum; with the answers and the rule's own text where `whole`."""
    line = one.line
    lines = [
        f"{line.position}. {cut(line.words, WIDTH - 16)}",
        f"    {price_sum(line, found.estimate.currency)}",
        *textwrap.wrap(
            line.why, WIDTH, initial_indent="    ", subsequent_indent="    ", break_on_hyphens=False
        ),
    ]
    if one.rule:
        lines.append(f"    rule: {one.rule}")
    if whole and one.rule:
        said = [
            f"{name}={value}{' (assumed)' if name in one.assumed else ''}"
            for name, value in one.answers.items()
        ]
        lines += [f"    answers: {', '.join(said) or 'none'}", "", one.rule_text.rstrip("\n")]
    return lines


def _options(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    found = price_options(desk, given["n"], given["option"])
    if context.as_json:
        say_json(options_record(found))
    else:
        say(options_text(found))


def options_record(found: Options) -> dict[str, Any]:
    """As JSON has it: each way whole, as a tried estimate."""
    return {
        "card": found.card.number,
        "planned": tried_record(found.planned) if found.planned else None,
        "options": [
            {"name": one.name, "repairs": one.repairs, "more": one.more, "estimate": tried_record(one.tried)}
            for one in found.options
        ],
    }


def options_text(found: Options) -> str:
    """A block for each way, the cheapest first, in a customer's words with the figures beneath."""
    lines = [f"Card {found.card.number}, ways to mend it, the cheapest first; nothing is kept."]
    for one in sorted(found.options, key=lambda option: option.tried.total.minor):
        result, tried = one.tried.worked.result, one.tried
        band = result.band
        lines += [
            "",
            f"{one.name}",
            f"    {tried.customer}",
            f"    total {tried.total} {tried.total.currency} with tax"
            + (f", {one.dearer_by} to what is planned" if found.planned else ""),
            f"    time: expected {result.minutes.expected} min, {band.low} to {band.high} in 8 of 10",
        ]
        lines += [f"    {line}" for note in tried.worked.orders for line in wrapped(note.sentence)]
        repairs = " ".join(f'--repair "{text}"' for text in one.repairs)
        lines.append(f"    chosen: loomcard estimate {found.card.number} {repairs}")
    return "\n".join(lines)


options = view(
    "options",
    "Ways to mend the same thing, priced side by side; nothing is kept.",
    _options,
    [
        click.Argument(["n"], metavar="CARD"),
        click.Option(
            ["--option"], multiple=True, required=True, metavar="TEXT",
            help="NAME = REPAIR; REPAIR, as often as there are ways.",
        ),
    ],
)  # fmt: skip
