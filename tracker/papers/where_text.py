"""Where a part of the loom is, in words: for the terminal and for the screen."""

import textwrap
from collections.abc import Sequence

from tracker.loom.where import Shared, Whereabouts, WireLine
from tracker.papers.twins import WIDTH
from tracker.records.loom_made import Origin


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
    if told := [since_words(one) for one in found.origins if one.level != "pattern"]:
        lines += row("Known from", told)
    if found.doubtful:
        lines += row("Not sure", [f"depends on: {', '.join(found.doubtful)}"])
    if others:
        lines += row("Or", [", ".join(others)])
    return "\n".join(lines)


LEVELS = {"pattern": "the general pattern", "model": "its model", "bike": "this bike"}
"""Where something is known from, as it is said."""


def since_words(origin: Origin) -> str:
    """Where it is known from, since when, on which card, and the words of that day."""
    since = (LEVELS[origin.level], f"{origin.on}" if origin.on else "", origin.card)
    return ", ".join(part for part in since if part) + (f": “{origin.words}”" if origin.words else "")


def _wire(wire: WireLine) -> str:
    size = f"{wire.size_mm2:g} mm2 " if wire.size_mm2 else ""
    level = f" [{since_words(wire.origin)}]" if wire.origin.level != "pattern" else ""
    return f"{size}{wire.colour or ''} {wire.start} to {wire.end}, {wire.length_mm} mm{level}".strip()


def _shared(things: Sequence[Shared]) -> list[str]:
    return [f"{thing.words}: {', '.join(thing.loads) or 'nothing else'}" for thing in things]


def row(name: str, contents: Sequence[str]) -> list[str]:
    """A named row whose contents are written out whole, however many lines they take."""
    lines: list[str] = []
    for content in [one for one in contents if one] or ["-"]:
        lines += textwrap.wrap(content, WIDTH - 13) or [content]
    return [f"{name if n == 0 else '':<13}{line}" for n, line in enumerate(lines)]
