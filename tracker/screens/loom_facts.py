"""What is known of a bike's loom beyond the pattern, as a list; what was written wrongly is taken back."""

from typing import ClassVar

from tracker.desk.desk import Desk
from tracker.desk.loom_known import KnownFact, LoomKnown, loom_known
from tracker.papers.loom_known_text import fact_line
from tracker.screens.kinds import Kind
from tracker.screens.lists import ListPage
from tracker.screens.loom_form import loom_form

LEVEL_WORDS = {"model": "its model", "bike": "this bike", "pattern": "pattern"}


class FactsPage(ListPage):
    """What differs from the pattern on a bike, what is unfinished. Its twin is `loomcard loom facts BIKE`."""

    kind_of_keys: ClassVar[str] = "facts"

    def __init__(self, bike: str, name: str) -> None:
        super().__init__("facts", facts_kind(bike, name))
        self.bike = bike

    async def action_forget(self) -> None:
        """Takes a fact back, once it is known what that breaks."""
        key = self.rows.key
        if not key.isdigit():
            self.say("Put the cursor on what was written; what is unfinished is put right, not taken back.")
            return
        given = {"bike": self.bike, "fact": key}
        form = await loom_form(self.loomcard, "loom forget", given, self.rows.words)
        await self.loomcard.show(form)


def fact_row(number: int, fact: KnownFact) -> str:
    """A fact as a row of the list."""
    since = f"{LEVEL_WORDS[fact.level]:<9} {fact.on or ''!s:<10} {fact.card:<8}"
    return f"{number:>3} {since} {'! ' if fact.fits else ''}{fact.words}"


def facts_kind(bike: str, name: str) -> Kind:
    """The list of what is known of one bike's loom."""

    def rows(desk: Desk) -> list[tuple[str, str]]:
        known = loom_known(desk, bike)
        lines = [(str(n), fact_row(n, one)) for n, one in enumerate(known.facts, 1)]
        return lines + [(f"unfinished {n}", f"    !  {one}") for n, one in enumerate(known.unfinished, 1)]

    def whole(desk: Desk, key: str) -> str:
        known = loom_known(desk, bike)
        if key.isdigit() and int(key) <= len(known.facts):
            return fact_line(known.facts[int(key) - 1])
        return _unfinished(known, key)

    return Kind(
        f"What is known of the loom of {name} beyond the general pattern",
        f"{'':>3} {'known of':<9} {'since':<10} {'card':<8} what",
        rows,
        whole,
    )


def _unfinished(known: LoomKnown, key: str) -> str:
    place = key.rpartition(" ")[2]
    at = int(place) - 1 if place.isdigit() else -1
    return f"Unfinished: {known.unfinished[at]}" if 0 <= at < len(known.unfinished) else ""
