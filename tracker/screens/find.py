"""Find by a few letters: customers, bikes, cards, parts. Its twin is `loomcard find WORDS`."""

from typing import ClassVar

from tracker.desk.show import Hit, find
from tracker.screens.choose import ChoosePage
from tracker.screens.rows import Entry
from tracker.screens.shown import shown


class FindPage(ChoosePage):
    """Global find."""

    title_words: ClassVar[str] = "Find: name, phone tail, registration, frame number, card, part"

    async def narrowed(self, typed: str) -> list[Entry]:
        """What the file has for these letters."""
        hits = await self.fetch(lambda: find(self.desk, typed))
        return [
            Entry(f"{hit.kind}-{hit.id}", shown(f"{hit.kind:<9} {hit.name:<28} {hit.more}")) for hit in hits
        ]

    async def take(self, key: str, typed: str) -> None:
        """Opens what was found."""
        kind, _, row = key.partition("-")
        if not kind:
            self.say("Nothing holds that.", wrong=True)
            return
        hits: tuple[Hit, ...] = await self.fetch(lambda: find(self.desk, typed))
        hit = next((one for one in hits if one.kind == kind and str(one.id) == row), None)
        if kind == "card" and hit is not None:
            from tracker.screens.card import CardPage

            self.loomcard.switch_screen(CardPage(hit.name))
        else:
            from tracker.screens.lists import ShowPage

            self.loomcard.switch_screen(ShowPage(kind, hit.name if kind == "part" and hit else row))
