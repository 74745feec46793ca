"""What is known of a bike's loom beyond the pattern, as text."""

from tracker.desk.loom_known import KnownFact, LoomKnown
from tracker.papers.twins import row
from tracker.papers.where_text import LEVELS


def known_text(known: LoomKnown) -> str:
    """Each fact by its number with its level, its day and its card; then what is unfinished."""
    bike = known.bike
    lines = [f"{bike.name}  {bike.registration}".rstrip()]
    lines += row(
        "Loom", ["a home-made one" if known.own else "the general pattern, as far as nothing else is said"]
    )
    lines += row(
        "Seen",
        [f"{n}  {fact_line(one)}" for n, one in enumerate(known.facts, 1)] or ["nothing yet that differs"],
    )
    if known.unfinished:
        lines += row("Unfinished", list(known.unfinished))
    return "\n".join(lines)


def fact_line(fact: KnownFact) -> str:
    """A fact in a line."""
    when = f"{fact.on}" if fact.on else ""
    since = ", ".join(part for part in (LEVELS[fact.level], when, fact.card) if part)
    seen = f" “{fact.seen}”" if fact.seen else ""
    fits = f" (fits nowhere now: {fact.fits})" if fact.fits else ""
    return f"{fact.words}{seen} [{since}]{fits}"
