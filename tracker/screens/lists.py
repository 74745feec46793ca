"""Lists and what they open, fed by descriptions: `kinds.py` says what each list is of."""

from collections.abc import Sequence
from typing import ClassVar

from textual.widget import Widget
from textual.widgets import Static

from tracker.errors import LoomcardError
from tracker.screens.choose import ChoosePage
from tracker.screens.doing import open_deed
from tracker.screens.kinds import KINDS, Kind
from tracker.screens.page import Page
from tracker.screens.paper import PaperPage, TextPage
from tracker.screens.rows import Entry
from tracker.screens.shown import shown
from tracker.screens.window import Window


class ListPage(Page):
    """One of the lists."""

    kind_of_keys: ClassVar[str] = "list"

    def __init__(self, name: str, kind: Kind | None = None) -> None:
        super().__init__()
        self.kind_name = name
        self.kind = kind or KINDS[name]

    def body(self) -> Sequence[Widget]:
        """The columns, then the rows."""
        return (Static(shown(self.kind.columns), id="top"), Window(id="list"))

    @property
    def rows(self) -> Window:
        """The rows."""
        return self.query_one("#list", Window)

    def first(self) -> Widget:
        """The rows have the cursor."""
        return self.rows

    def begin(self) -> None:
        """The head."""
        self.head(self.kind.title)

    async def refresh_page(self) -> None:
        """Fills it, the cursor where it was."""
        found = await self.fetch(lambda: self.kind.rows(self.desk))
        self.rows.fill(found)
        self.head(f"{self.kind.title}   {len(found):,}")
        if not len(found):
            self.say("Nothing here yet." + (" Press a to add one." if self.kind.add else ""))

    def on_window_taken(self, event: Window.Taken) -> None:
        """The mouse opens too; keys come by their own way, in order."""
        event.stop()
        self.app.call_later(self.action_open_row)

    def action_copy_out(self) -> None:
        """Copies the row under the cursor."""
        if self.rows.words:
            self.app.copy_to_clipboard(self.rows.words)
            self.say("Copied.")

    def card_meant(self) -> str:
        """The card under the cursor, where the list is of something on a card."""
        return self.kind.card(self.rows.key) if self.rows.key else ""

    async def action_open_row(self) -> None:
        """Opens what is under the cursor."""
        key = self.rows.key
        if not key:
            return
        if self.kind_name == "mechanics":
            await self.loomcard.is_now(key)
        elif self.kind.is_card:
            from tracker.screens.card import CardPage

            await self.loomcard.show(CardPage(key))
        elif self.kind_name == "documents":
            from tracker.papers.gather import paper_of

            paper = await self.fetch(lambda: paper_of(self.desk, "invoice", key))
            await self.loomcard.show(PaperPage(key, paper, self.size.width - 4))
        elif self.kind.one is not None:
            await self.loomcard.show(show_page(self.kind_name, key, self.kind))
        else:
            verb, given = self.kind.opens(key)
            await self._form(verb, given)

    async def action_add_row(self) -> None:
        """Adds one."""
        if self.kind.add == "book-in":
            await self.action_book_in()
        elif self.kind.add:
            await self._form(self.kind.add, {})
        else:
            self.say("Nothing is added here: d lists every deed.")

    async def _form(self, verb: str, given: dict[str, str]) -> None:
        from tracker.screens.form import FormPage

        await self.loomcard.show(await FormPage.made(self.loomcard, verb, given, frozenset(given)))


class ShowPage(TextPage):
    """One thing whole, as its text."""

    def __init__(self, name: str, key: str, kind: Kind | None = None) -> None:
        super().__init__(f"{name.removesuffix('s')} {key}")
        self.kind = kind or KINDS[name]
        self.key = key

    async def refresh_page(self) -> None:
        """Looks it up."""
        assert self.kind.one is not None
        one = self.kind.one
        try:
            self.text = await self.fetch(lambda: one(self.desk, self.key))
        except LoomcardError as error:
            self.say_error(error)
            return
        self.query_one("#whole", Static).update(shown(self.text))


class BikePage(ShowPage):
    """A bike with its features, own figures, history, readings and repairs."""

    kind_of_keys: ClassVar[str] = "bike"

    async def action_change(self) -> None:
        """Changes it: what stands in its record stands in the form."""
        await open_deed(self.loomcard, "bike change", bike=self.key)

    async def action_figure(self) -> None:
        """A figure of its own, with where it is from."""
        await open_deed(self.loomcard, "bike figure", bike=self.key)

    async def action_loom(self) -> None:
        """Its loom."""
        from tracker.screens.loom import LoomPage

        await self.loomcard.show(await LoomPage.of(self.loomcard, bike=self.key))

    async def action_readings(self) -> None:
        """Every reading, and those that are drawn over time."""
        from tracker.desk.over_time import bike_readings
        from tracker.papers.readings_text import charts_text, readings_text

        found = await self.fetch(lambda: bike_readings(self.desk, self.key))
        text = f"{charts_text(found)}\n\n{readings_text(found)}"
        await self.loomcard.show(TextPage(f"readings {self.key}", text))

    async def action_book_this_in(self) -> None:
        """Books it in: only the complaint is asked."""
        from tracker.screens.book_in import known_bike_form

        await self.loomcard.show(await known_bike_form(self.loomcard, self.key))


class CustomerPage(ShowPage):
    """A customer with bikes and cards."""

    kind_of_keys: ClassVar[str] = "customer"

    async def action_change(self) -> None:
        """Changes the customer."""
        await open_deed(self.loomcard, "customer change", customer=self.key)

    async def action_statement(self) -> None:
        """What they owe, paper by paper."""
        from tracker.papers.gather import paper_of
        from tracker.papers.plain import plain

        try:
            text = await self.fetch(lambda: plain(paper_of(self.desk, "statement", self.key)))
        except LoomcardError as error:
            self.say_error(error)
            return
        await self.loomcard.show(TextPage(f"statement {self.key}", text))


class RechecksPage(ListPage):
    """Whom to ring, what to say, what came of it."""

    kind_of_keys: ClassVar[str] = "rechecks"

    async def action_message(self) -> None:
        """What to say on the phone or send, in the shop's words."""
        from tracker.desk.rechecks_due import to_write_to
        from tracker.papers.recheck_due import say_words

        number = self.card_meant()
        if not number:
            return
        try:
            words = await self.fetch(lambda: say_words(to_write_to(self.desk, number)))
        except LoomcardError as error:
            self.say_error(error)
            return
        await self.loomcard.show(TextPage(f"message {number}", words))


class NarrowPage(ChoosePage):
    """A list that is narrowed by typing: every word typed stands somewhere in its rows. Enter opens one."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.kind_name = name
        self.kind = KINDS[name]

    def begin(self) -> None:
        """The head."""
        self.head(self.kind.title)

    async def entries(self) -> list[Entry]:
        """Every row."""
        found = await self.fetch(lambda: self.kind.rows(self.desk))
        self.head(f"{self.kind.title}   {len(found):,}")
        return [Entry(key, shown(words)) for key, words in found]

    async def narrowed(self, typed: str) -> list[Entry]:
        """The first of those that fit; more typing brings the others."""
        return (await super().narrowed(typed))[:MOST]

    async def take(self, key: str, typed: str) -> None:
        """Opens it."""
        if key:
            await self.loomcard.show(show_page(self.kind_name, key, self.kind))
        else:
            self.say(f"None of them holds “{typed}”." if typed else "Nothing here yet.", wrong=True)


MOST = 200
"""Rows of a narrowed list at once."""


def list_page(name: str) -> ListPage | NarrowPage:
    """The list of that name."""
    if KINDS[name].narrows:
        return NarrowPage(name)
    return RechecksPage(name) if name == "rechecks" else ListPage(name)


def show_page(name: str, key: str, kind: Kind | None = None) -> ShowPage:
    """One thing of a list, whole."""
    pages = {"bikes": BikePage, "customers": CustomerPage}
    return pages.get(name, ShowPage)(name, key, kind)
