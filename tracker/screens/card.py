"""One card: the life line, the next thing, and a row for each part of its life that opens in place."""

from collections.abc import Sequence
from typing import ClassVar

from textual.content import Content
from textual.widget import Widget
from textual.widgets import OptionList, Static

from tracker.desk.show import CardView, card_view
from tracker.papers.twins import card_head, card_rows, cut, life_line
from tracker.screens.page import Page
from tracker.screens.rows import Entry, Rows
from tracker.screens.shown import shown


class CardPage(Page):
    """A card. Its twin is `loomcard card N`."""

    name_in_bar: ClassVar[str] = "card"

    def __init__(self, number: str) -> None:
        super().__init__()
        self.number = number
        self._open: set[str] = set()
        self._view: CardView | None = None

    def body(self) -> Sequence[Widget]:
        """Life line and next thing, then the rows."""
        return (Static(id="top"), Rows(id="list"))

    async def refresh_page(self) -> None:
        """Looks at the card anew."""
        self._view = await self.fetch(lambda: card_view(self.desk, self.number))
        self.head(card_head(self._view))
        self.query_one("#top", Static).update(Content("\n").join(self._top(self._view)))
        self._fill()
        if self.focused is None:
            self.query_one(Rows).focus()

    def _top(self, view: CardView) -> list[Content]:
        lines = [shown(life_line(view))]
        if view.stands.next is None:
            lines.append(shown("This card is over."))
        else:
            lines.append(Content.assemble(("next: " + view.stands.next.words, "bold $accent"), "   [Space]"))
        lines += [shown(f"  ! {cut(stop.words, 74)}") for stop in view.stands.stops[:2]]
        if view.left is not None:
            lines.append(shown(self._left(view)))
        return lines

    def _left(self, view: CardView) -> str:
        left = view.left
        assert left is not None
        words = []
        if left.minutes is not None:
            words.append(f"{left.minutes} min")
        if left.minor is not None:
            from tracker.records.money import Money

            words.append(str(Money(left.minor, view.facts.shop.currency)))
        return f"left of the go-ahead: {', '.join(words)}" if words else ""

    def _fill(self) -> None:
        assert self._view is not None
        width = max(60, self.size.width - 4)
        entries = []
        for name, contents in card_rows(self._view, self.desk.clock):
            kept = [content for content in contents if content] or ["-"]
            if name in self._open:
                lines = [
                    f"{name if n == 0 else '':<11}{line}"
                    for n, line in enumerate(self._wrapped(kept, width - 11))
                ]
            else:
                more = f"  (+{len(kept) - 1})" if len(kept) > 1 else ""
                lines = [f"{name:<11}{cut(kept[0], width - 11 - len(more))}{more}"]
            entries.append(Entry(name, shown("\n".join(lines))))
        self.query_one(Rows).fill(entries)

    def _wrapped(self, contents: Sequence[str], width: int) -> list[str]:
        import textwrap

        return [line for content in contents for line in (textwrap.wrap(content, width) or [content])]

    def card_meant(self) -> str:
        """This card."""
        return self.number

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter opens a row in place."""
        event.stop()
        self.action_open_row()

    def action_open_row(self) -> None:
        """Opens the row under the cursor, or closes it."""
        self._open ^= {self.query_one(Rows).key}
        self._fill()

    def action_back(self) -> None:
        """Closes an open row first, then the card."""
        if self._open:
            self._open.clear()
            self._fill()
        else:
            self.app.pop_screen()

    async def action_next_thing(self) -> None:
        """Space does the next thing."""
        from tracker.screens.next_thing import open_next

        await open_next(self, self.number)

    def action_papers(self) -> None:
        """The papers of this card."""
        from tracker.screens.paper import PapersPage

        self.app.push_screen(PapersPage(self.number))

    def action_choose_who(self) -> None:
        """Chooses who is at the keyboard."""
        from tracker.screens.lists import ListPage

        self.app.push_screen(ListPage("mechanics"))
