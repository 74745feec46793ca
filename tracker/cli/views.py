"""Commands that show: each has its plain text and its JSON."""

from collections.abc import Callable
from dataclasses import asdict
from typing import Any

import click

from tracker.cli.build import merged, shared_options
from tracker.cli.context import Context
from tracker.cli.loom_drawn import DRAWN
from tracker.cli.output import say, say_json
from tracker.cli.readings_json import judged_record
from tracker.cli.standing import standing_record
from tracker.desk import day as day_desk
from tracker.desk import show
from tracker.desk.desk import Desk
from tracker.desk.picture import kind_of_picture, picture_of
from tracker.errors import NotFoundError
from tracker.papers import twins as text
from tracker.papers.day_text import day_text
from tracker.papers.stock_text import part_text, stock_text

Show = Callable[[Desk, Context, dict[str, Any]], None]


def view(
    name: str,
    help_text: str,
    run: Show,
    params: list[click.Parameter] | None = None,
    *,
    without_file: Callable[[Context, dict[str, Any]], None] | None = None,
) -> click.Command:
    """A command that opens the desk and shows; `without_file` answers where there is no shop's file yet."""

    def callback(**given: Any) -> None:
        context = merged(click.get_current_context(), given)
        if without_file is not None and not context.path.exists():
            without_file(context, given)
            return
        with context.desk() as desk:
            run(desk, context, given)

    return click.Command(name, params=[*(params or []), *shared_options()], callback=callback, help=help_text)


def _named(name: str = "name") -> list[click.Parameter]:
    return [click.Argument([name], metavar=name.upper())]


def _day(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    del given
    sheet = day_desk.day_sheet(desk)
    if context.as_json:
        say_json(sheet)
    else:
        say(day_text(sheet, desk.clock.now(), desk.clock))


def _find(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    typed = " ".join(given["words"])
    hits = show.find(desk, typed)
    if not hits:
        raise NotFoundError(f"Nothing holds “{typed}”.")
    if context.as_json:
        say_json({"found": hits})
    else:
        say(text.hits_text(hits))


def _card(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    found = show.card_view(desk, given["n"])
    if not context.as_json:
        say(text.card_text(found, desk.clock))
        return
    facts = asdict(found.facts)
    del facts["shop"]
    say_json(
        {
            **facts,
            "readings": [
                {**one, "verdict": judged_record(found.judged.get(one["id"]))} for one in facts["readings"]
            ],
            "estimate_lines": found.estimate_lines,
            "standing": standing_record(found.facts, found.stands),
            "clocked_s": {kind.value: seconds for kind, seconds in found.clocked.by_kind.items()},
            "left": found.left,
            "left_min": found.left_min,
            "left_words": found.left_words,
        }
    )


def _bike(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    found = show.bike_view(desk, given["n"])
    if context.as_json:
        say_json(found)
    else:
        say(text.bike_text(found, desk.clock))


def _customer(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    found = show.customer_view(desk, given["n"])
    if context.as_json:
        say_json(found)
    else:
        say(text.customer_text(found, desk.clock))


def _customers(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    del given
    found = show.customers(desk)
    if context.as_json:
        say_json({"customers": found})
    else:
        say(
            "\n".join(
                text.table(
                    [(str(c.id), c.name, c.phone, c.kind) for c in found], (5, 0, 20, 9), frozenset({0})
                )
            )
        )


def _bikes(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    del given
    found = show.bikes(desk)
    if context.as_json:
        say_json({"bikes": found})
    else:
        rows = [(str(b.id), b.name, b.registration, str(b.year or "")) for b in found]
        say("\n".join(text.table(rows, (5, 0, 12, 5), frozenset({0}))))


def _stock(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    del given
    rows = show.stock_rows(desk)
    if context.as_json:
        say_json({"stock": rows})
    else:
        say(stock_text(rows, desk.shop.currency))


def _part(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    found = show.part_view(desk, given["code"])
    if context.as_json:
        say_json(found)
    else:
        say(part_text(found, desk.shop.currency, desk.clock))


def _settings(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    del given
    mechanics = show.mechanics(desk)
    picture = desk.read(picture_of) or b""
    if context.as_json:
        own = {"settings": desk.shop, "mechanics": mechanics, "picture_bytes": len(picture)}
        say_json({**own, "file": str(context.path)})
        return
    rows = [(name.replace("_", " "), _value(value)) for name, value in asdict(desk.shop).items()]
    rows += [
        ("picture on papers", f"{kind_of_picture(picture)}, {len(picture)} bytes" if picture else "none")
    ]
    rows += [("mechanic", mechanic.name) for mechanic in mechanics]
    say("\n".join([f"file: {context.path}", *text.table(rows, (20, 0))]))


def _value(value: object) -> str:
    if isinstance(value, dict):
        return ", ".join(f"{key}={item}" for key, item in value.items())
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def _where(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    from tracker.cli.where import show_where

    show_where(desk, context, given)


def _where_shipped(context: Context, given: dict[str, Any]) -> None:
    from tracker.cli.where import show_in
    from tracker.desk.loom_picture import LoomPicture
    from tracker.loom.pattern import build
    from tracker.seedfiles.loom import load_pattern

    if given["bike"]:
        raise NotFoundError(f"There is no bike “{given['bike']}”: there is no file {context.path}.")
    show_in(LoomPicture(build(load_pattern(), {}), None), context, given)


def _invoice(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    from tracker.cli.papers import show_document

    show_document(desk, context, given["number"])


WORDS = click.Argument(["words"], nargs=-1, metavar="WORDS")
day = view("day", "The day sheet: what is next on every card.", _day)
find = view("find", "Find customers, bikes, cards and parts by a few letters.", _find, [WORDS])
card = view("show", "A card whole: by its number, or a bike's newest.", _card, _named("n"))
bike = view("show", "A bike whole: features, history, readings, repairs.", _bike, _named("n"))
bikes = view("list", "Every bike.", _bikes)
customer = view("show", "A customer with bikes and cards.", _customer, _named("n"))
customers = view("list", "Every customer.", _customers)
invoice = view("invoice", "A numbered document as it was issued.", _invoice, _named("number"))
stock = view("list", "The parts list and its stock.", _stock)
part = view("show", "A part: its price, its shelf, its moves, the cards it is for.", _part, _named("code"))
settings = view("show", "The shop's settings.", _settings)
where = view(
    "where",
    "Where a part is, what comes off to reach it, what shares its fuse, plug and earth.",
    _where,
    [
        click.Argument(["words"], nargs=-1, metavar="NAME"),
        click.Option(["--bike"], metavar="N", help="On this bike; the general pattern when none is named."),
        click.Option(["--list"], is_flag=True, help="Name every part."),
        click.Option(
            ["--picture/--no-picture"], default=None, help="With the drawing; as is where a terminal is wide."
        ),
        *DRAWN,
    ],
    without_file=_where_shipped,
)
