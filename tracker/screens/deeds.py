"""Every deed by name: narrow by typing, Enter opens its form for the card that is meant."""

from typing import ClassVar

from tracker.desk.deeds import DEEDS, deed
from tracker.records.text import fold
from tracker.screens.choose import ChoosePage
from tracker.screens.rows import Entry
from tracker.screens.shown import shown


class DeedsPage(ChoosePage):
    """All deeds. Their twin is `loomcard --help`."""

    title_words: ClassVar[str] = "Deeds"

    def __init__(self, card: str = "") -> None:
        super().__init__()
        self.card = card

    async def entries(self) -> list[Entry]:
        """Verb and help of each."""
        return await self.fetch(
            lambda: [
                Entry(verb, shown(f"{verb:<16} {(deed(verb).__doc__ or '').splitlines()[0]}"))
                for verb in DEEDS
            ]
        )

    async def narrowed(self, typed: str) -> list[Entry]:
        """Those that are called what is typed first, then those that only speak of it."""
        found = await super().narrowed(typed)
        return sorted(found, key=lambda one: not one.key.startswith(fold(typed)))

    def card_meant(self) -> str:
        """The card that was meant where this was opened."""
        return self.card

    async def take(self, key: str, typed: str) -> None:
        """Opens the form."""
        del typed
        if not key:
            self.say("No deed holds that.", wrong=True)
            return
        from tracker.screens.doing import open_deed

        await self.loomcard.back()
        await open_deed(self.loomcard, key)
