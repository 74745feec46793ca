"""Every deed by name: narrow by typing, Enter opens its form for the card that is meant."""

from typing import ClassVar

from tracker.desk.deeds import DEEDS, deed
from tracker.screens.choose import ChoosePage
from tracker.screens.form import FormPage
from tracker.screens.rows import Entry
from tracker.screens.shown import shown


class DeedsPage(ChoosePage):
    """All deeds. Their twin is `loomcard --help`."""

    title_words: ClassVar[str] = "Deeds"

    def __init__(self, card: str = "") -> None:
        super().__init__()
        self.card = card

    async def entries(self, typed: str) -> list[Entry]:
        """Verb and help of each."""
        del typed
        return [
            Entry(verb.replace(" ", "_"), shown(f"{verb:<16} {(deed(verb).__doc__ or '').splitlines()[0]}"))
            for verb in DEEDS
        ]

    async def take(self, key: str, typed: str) -> None:
        """Opens the form."""
        del typed
        if not key:
            return
        verb = key.replace("_", " ")
        given = {"card": self.card} if self.card else {}
        if verb == "pay" and self.card:
            given = {"on": self.card}
        self.loomcard.switch_screen(FormPage(verb, given))
