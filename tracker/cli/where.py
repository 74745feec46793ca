"""`loomcard where`: the plain-text twin of asking the loom where something is."""

import sys
from collections.abc import Mapping
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
from tracker.loom.where import where
from tracker.papers.twins import table
from tracker.papers.where_text import row, where_text

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
        say_json({"where": found, "also": others, "unfinished": picture.unfinished})
        return
    say(where_text(found, others))
    if picture.unfinished:
        say("\n".join(row("Unfinished", list(picture.unfinished))))
    drawn = given["picture"]
    if drawn or (drawn is None and sys.stdout.isatty() and columns() >= WIDE_ENOUGH):
        lit = light_hit(loom, shared, found.what, found.id)
        say(
            "\n".join(
                ["", *drawing_lines(sketch_of(picture, lit), given["width"], ascii_only=given["ascii"])]
            )
        )
