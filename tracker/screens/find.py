"""Find by a few letters: customers, bikes, cards, parts. Its twin is `loomcard find WORDS`."""

from typing import ClassVar

from tracker.desk.show import find
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
            Entry(
                f"{hit.kind} {hit.name if hit.kind in {'card', 'part'} else hit.id}",
                shown(f"{hit.kind:<9} {hit.name:<28} {hit.more}"),
            )
            for hit in hits
        ]

    async def take(self, key: str, typed: str) -> None:
        """Opens what was found."""
        kind, _, name = key.partition(" ")
        if not kind:
            self.say(f"Nothing holds “{typed}”." if typed else "Type a few letters first.", wrong=True)
        elif kind == "card":
            from tracker.screens.card import CardPage

            await self.loomcard.instead(CardPage(name))
        elif kind == "part":
            from tracker.screens.form import FormPage

            form = await FormPage.made(self.loomcard, "stock add", {"code": name}, frozenset({"code"}))
            await self.loomcard.instead(form)
        else:
            from tracker.screens.lists import show_page

            await self.loomcard.instead(show_page(f"{kind}s", name))
