"""`loomcard where`: the plain-text twin of asking the loom where something is."""

import sys
import textwrap
from collections.abc import Mapping, Sequence
from typing import Any, Final

from tracker.cli.context import Context
from tracker.cli.loom_drawn import columns, drawing_lines, sketch_of
from tracker.cli.output import say, say_json
from tracker.desk.desk import Desk
from tracker.desk.loom_picture import LoomPicture, loom_picture
from tracker.errors import NotFoundError
from tracker.loom.find import find, names
from tracker.loom.lighting import light_hit
from tracker.loom.shares import sharing
from tracker.loom.where import Shared, Whereabouts, where
from tracker.papers.twins import WIDTH, table

WIDE_ENOUGH: Final = 76
"""Columns of a terminal from which the drawing comes along unasked."""


def show_where(desk: Desk, context: Context, given: Mapping[str, Any]) -> None:
    """Where a part is, on one bike or in the general pattern."""
    show_in(loom_picture(desk, given["bike"] or ""), context, given)


def show_in(picture: LoomPicture, context: Context, given: Mapping[str, Any]) -> None:
    """Where a part of a loom is, in words and drawn. Raises NotFoundError when nothing is called so."""
    loom, name, listing = picture.loom, " ".join(given["words"]), given["list"]
    if listing or not name:
        hits = names(loom)
        if context.as_json:
            say_json({"parts": [{"id": hit.id, "what": hit.what, "words": hit.words} for hit in hits]})
        else:
            say("\n".join(table([(hit.id, hit.words) for hit in hits], (30, 0))))
        return
    hits = find(loom, name)
    shared = sharing(loom) if hits else None
    found = where(loom, hits[0].what, hits[0].id, shared) if hits else None
    if found is None or shared is None:
        raise NotFoundError(
            f"Nothing in the loom is called “{name}”.", "loomcard where --list names every part."
        )
    others = [hit.words for hit in hits[1:6]]
    if context.as_json:
        say_json({"where": found, "also": others})
        return
    say(where_text(found, others))
    drawn = given["picture"]
    if drawn or (drawn is None and sys.stdout.isatty() and columns() >= WIDE_ENOUGH):
        lit = light_hit(loom, shared, found.what, found.id)
        say(
            "\n".join(
                ["", *drawing_lines(sketch_of(picture, lit), given["width"], ascii_only=given["ascii"])]
            )
        )


def where_text(found: Whereabouts, others: Sequence[str]) -> str:
    """The answer in words."""
    called = f" (also {', '.join(found.synonyms)})" if found.synonyms else ""
    lines = [f"{found.words}{called}"]
    lines += row("Does", [found.does])
    lines += row("Where", [zone.words for zone in found.zones])
    lines += row("Take off", [found.off.words])
    lines += row("Plug", [found.plug, *([", ".join(found.ways)] if found.ways else [])])
    lines += row("Wires", [_wire(wire) for wire in found.wires])
    lines += row("Returns by", [" > ".join(found.back)])
    lines += row("Fuse", _shared(found.fuses))
    lines += row("Same plug", _shared(found.plugs))
    lines += row("Same earth", _shared(found.earths))
    lines += row("Symptoms", [", ".join(found.symptoms)])
    lines += row("First check", [found.first_check])
    lines += row("Why there", [found.why])
    lines += row("Mind", list(found.cautions))
    if found.doubtful:
        lines += row("Not sure", [f"depends on: {', '.join(found.doubtful)}"])
    if others:
        lines += row("Or", [", ".join(others)])
    return "\n".join(lines)


def _wire(wire: object) -> str:
    from tracker.loom.where import WireLine

    assert isinstance(wire, WireLine)
    size = f"{wire.size_mm2:g} mm2 " if wire.size_mm2 else ""
    level = f" [{wire.origin.level}]" if wire.origin.level != "pattern" else ""
    return f"{size}{wire.colour or ''} {wire.start} to {wire.end}, {wire.length_mm} mm{level}".strip()


def _shared(things: Sequence[Shared]) -> list[str]:
    return [f"{thing.words}: {', '.join(thing.loads) or 'nothing else'}" for thing in things]


def row(name: str, contents: Sequence[str]) -> list[str]:
    """A named row whose contents are written out whole, however many lines they take."""
    lines: list[str] = []
    for content in [one for one in contents if one] or ["-"]:
        lines += textwrap.wrap(content, WIDTH - 13) or [content]
    return [f"{name if n == 0 else '':<13}{line}" for n, line in enumerate(lines)]
