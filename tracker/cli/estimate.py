"""The estimate: of a card, kept with its number; or tried on a bike, kept nowhere."""

from decimal import Decimal
from typing import Any

import click

from tracker.cli.build import deed_command, merged
from tracker.cli.learned import wrapped
from tracker.cli.output import say, say_json
from tracker.desk.trying import Tried, tried_record, try_on_bike
from tracker.errors import WrongUseError
from tracker.papers.twins import table
from tracker.records.estimating import Travel


def estimate_command() -> click.Command:
    """The deed's command, with --bike to try repairs on a bike without a card."""
    command = deed_command("estimate")
    keeps = command.callback
    command.params += [
        click.Option(
            ["--explain"], is_flag=True, help="Open the card's estimate line by line; nothing is kept."
        ),
        click.Option(
            ["--revision"], type=int, metavar="N", help="With --explain: another than that in force."
        ),
        click.Option(
            ["--against"], type=int, metavar="N", help="With --explain: what changed from that revision."
        ),
        click.Option(
            ["--line"], type=int, metavar="N", help="With --explain: one line, with its rule whole."
        ),
        click.Option(["--bike"], metavar="N", help="Try repairs on this bike: no card, nothing kept."),
        click.Option(["--off"], multiple=True, metavar="NAME", help="With --bike: what is off already."),
        click.Option(["--call-out"], is_flag=True, help="With --bike: a call-out is charged."),
        click.Option(["--distance"], type=float, metavar="N", help="With --bike: how far it is, one way."),
    ]

    def callback(**given: Any) -> None:
        ctx = click.get_current_context()
        only = {name: given.pop(name) for name in ("bike", "off", "call_out", "distance")}
        opened = {name: given.pop(name) for name in ("explain", "revision", "against", "line")}
        if opened["explain"]:
            _explain(ctx, opened, only, given)
            return
        if any(opened[name] is not None for name in ("revision", "against", "line")):
            raise WrongUseError("--revision, --against and --line go with --explain.")
        if only["bike"] is None:
            if only["off"] or only["call_out"] or only["distance"] is not None:
                raise WrongUseError("--off, --call-out and --distance go with --bike.")
            assert keeps is not None
            ctx.invoke(keeps, **given)
            return
        _try(ctx, only, given)

    command.callback = callback
    return command


def _explain(ctx: click.Context, opened: dict[str, Any], only: dict[str, Any], given: dict[str, Any]) -> None:
    from tracker.cli.explain import show_explained

    card = given.get("opt_card") or " ".join(given.get("words") or ())
    others = ("opt_repair", "opt_fixed", "opt_words", "opt_looking", "opt_mechanic", "from_file", "token")
    if not card or any(given.get(name) for name in others) or only["bike"] is not None:
        raise WrongUseError("--explain opens the estimate of a card.", "loomcard estimate CARD --explain")
    context = merged(ctx, given)
    with context.desk() as desk:
        show_explained(desk, context, card, opened)


def _try(ctx: click.Context, only: dict[str, Any], given: dict[str, Any]) -> None:
    kept = [
        name
        for name in ("words", "opt_card", "opt_fixed", "opt_words", "from_file", "token")
        if given.get(name)
    ]
    if kept:
        raise WrongUseError("With --bike nothing is kept, so there is no card, no words and no fixed price.")
    context = merged(ctx, given)
    distance = Decimal(str(only["distance"] or 0))
    if not 0 <= distance <= 10_000:
        raise WrongUseError("That is no distance.", "One way, 0 to 10000.")
    with context.desk() as desk:
        tried = try_on_bike(
            desk,
            only["bike"],
            given.get("opt_repair") or (),
            travel=Travel(call_out=only["call_out"], distance=distance),
            looked_min=_looked(given.get("opt_looking")),
            already_off=only["off"],
            mechanic=given.get("opt_mechanic") or "",
        )
    if context.as_json:
        say_json(tried_record(tried))
    else:
        say(tried_text(tried))


def _looked(typed: str | None) -> int:
    from tracker.desk.typed import minutes
    from tracker.records.problem import Mistakes, Problem

    if not typed:
        return 0
    found = minutes("looking", typed)
    if isinstance(found, Problem):
        raise Mistakes([found])
    return found


def tried_text(tried: Tried) -> str:
    """The lines, the time with its range, the money with tax, and what there is to say."""
    result = tried.worked.result
    rows = [(line.words, f"{line.qty:f} {line.unit}", str(line.amount)) for line in tried.worked.priced.lines]
    minutes, range_ = result.minutes, result.band
    time = (
        f"Time: expected {minutes.expected} min, {range_.low} to {range_.high} in 8 of 10;"
        f" least {minutes.least}, likely {minutes.likely}, most {minutes.most}."
    )
    return "\n".join(
        [
            f"{tried.bike.name} {tried.bike.registration}, tried only: nothing is kept.",
            "",
            *table(rows, (0, 16, 12), frozenset({2})),
            "",
            time,
            f"Total with tax {tried.total} {tried.total.currency}. {tried.customer}",
            *(line for note in tried.notes for line in wrapped(note)),
        ]
    )
