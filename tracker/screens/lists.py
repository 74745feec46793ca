"""Lists and what they open, fed by descriptions: one for each kind of thing the shop keeps."""

from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from typing import ClassVar

from textual.widget import Widget
from textual.widgets import OptionList

from tracker.desk import day, show
from tracker.desk.desk import Desk
from tracker.desk.ledger import ledger
from tracker.errors import LoomcardError
from tracker.papers import twins
from tracker.records.document import Document
from tracker.records.money import Money
from tracker.screens.form import FormPage
from tracker.screens.page import Page
from tracker.screens.rows import Entry, Rows
from tracker.screens.shown import shown


@dataclass(frozen=True, slots=True)
class Kind:
    """One list: its title, its rows as (key, words), how one is shown, and the deed that adds one."""

    title: str
    rows: Callable[[Desk], Sequence[tuple[str, str]]]
    one: Callable[[Desk, str], str] | None = None
    add: str = ""


def _bikes(desk: Desk) -> list[tuple[str, str]]:
    return [(str(b.id), f"{b.name:<34} {b.registration:<12} {b.year or ''}") for b in show.bikes(desk)]


def _customers(desk: Desk) -> list[tuple[str, str]]:
    return [(str(c.id), f"{c.name:<34} {c.phone:<20} {c.kind}") for c in show.customers(desk)]


def _stock(desk: Desk) -> list[tuple[str, str]]:
    return [
        (r.part.code, (f"{r.part.code:<22} {twins.cut(r.part.name, 30):<31} {r.stock:>7f} {r.part.price:>9f}"
                      f"{'  reorder' if r.stock <= r.part.least and r.part.least else ''}"))
        for r in show.stock_rows(desk)
    ]  # fmt: skip


def _documents(desk: Desk) -> list[tuple[str, str]]:
    stands, documents = ledger(desk)
    owed = {item.number: item.owed for item in stands.items}
    return [(d.number, _document(d, owed.get(d.number, 0))) for d in reversed(documents)]


def _document(document: Document, owed: int) -> str:
    payable = Money(document.payable_minor, document.currency)
    rest = f"owed {Money(owed, document.currency)}" if owed else ""
    name = twins.cut(document.buyer.get("name", ""), 26)
    return f"{document.number:<14} {document.issued_on}  {name:<27} {payable!s:>10}  {rest}"


def _document_text(desk: Desk, number: str) -> str:
    from tracker.papers.gather import paper_of
    from tracker.papers.plain import plain

    return plain(paper_of(desk, "invoice", number))


def _rechecks(desk: Desk) -> list[tuple[str, str]]:
    from datetime import timedelta

    rows = day.due(desk, desk.today + timedelta(days=90))
    return [
        (r.number, (f"{r.due_on} {r.number:<9} {r.reason:<12} {twins.cut(r.who, 22):<23} {r.phone:<16} "
                   f"{'' if r.reminders else '(wants no reminders)'}"))
        for r in rows
    ]  # fmt: skip


def _settings(desk: Desk) -> list[tuple[str, str]]:
    return [(name, f"{name.replace('_', ' '):<22} {value}") for name, value in asdict(desk.shop).items()]


def _mechanics(desk: Desk) -> list[tuple[str, str]]:
    return [(m.name, m.name) for m in show.mechanics(desk)]


KINDS: dict[str, Kind] = {
    "bikes": Kind("Bikes", _bikes, lambda d, n: twins.bike_text(show.bike_view(d, n), d.clock), "bike add"),
    "customers": Kind(
        "Customers",
        _customers,
        lambda d, n: twins.customer_text(show.customer_view(d, n), d.clock),
        "customer add",
    ),
    "stock": Kind("Parts", _stock, None, "stock add"),
    "documents": Kind("Documents and what is owed", _documents, _document_text, "bill"),
    "rechecks": Kind("Rechecks, 90 days ahead", _rechecks, None, "recheck"),
    "settings": Kind("Settings", _settings, None, "settings change"),
    "mechanics": Kind("Who is at the keyboard?", _mechanics, None, "settings change"),
}
"""Every list by its name. Their twins: `loomcard bike`, `customer`, `stock`, `owed`, `due`, `settings`."""


class ListPage(Page):
    """One of the lists."""

    name_in_bar: ClassVar[str] = "list"

    def __init__(self, name: str) -> None:
        super().__init__()
        self.kind_name = name
        self.kind = KINDS[name]

    def body(self) -> Sequence[Widget]:
        """The rows."""
        return (Rows(id="list"),)

    async def refresh_page(self) -> None:
        """Fills it, the cursor where it was."""
        self.head(self.kind.title)
        found = await self.fetch(lambda: self.kind.rows(self.desk))
        self._keys = {f"r{n}": key for n, (key, _) in enumerate(found)}
        rows = self.query_one(Rows)
        rows.fill([Entry(f"r{n}", shown(words)) for n, (_, words) in enumerate(found)])
        if not found:
            self.say("Nothing here yet. Press a to add one.")
        if self.focused is None:
            rows.focus()

    async def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter opens the row."""
        event.stop()
        await self.action_open_row()

    async def action_open_row(self) -> None:
        """Opens what is under the cursor."""
        key = self._keys.get(self.query_one(Rows).key, "")
        if not key:
            return
        if self.kind_name == "mechanics":
            self.desk.who = key
            self.app.pop_screen()
        elif self.kind_name == "rechecks":
            self.app.push_screen(FormPage("recheck", {"card": key}))
        elif self.kind_name == "stock":
            self.app.push_screen(FormPage("stock add", {"code": key}))
        elif self.kind_name == "settings":
            self.app.push_screen(FormPage("settings change"))
        else:
            self.app.push_screen(ShowPage(self.kind_name.removesuffix("s"), key))

    def action_add_row(self) -> None:
        """Adds one."""
        self.app.push_screen(FormPage(self.kind.add))

    def action_copy_text(self) -> None:
        """Copies the row under the cursor."""
        rows = self.query_one(Rows)
        if rows.highlighted is not None:
            self.app.copy_to_clipboard(str(rows.get_option_at_index(rows.highlighted).prompt))
            self.say("Copied.")


class ShowPage(Page):
    """One thing whole, as its text."""

    name_in_bar: ClassVar[str] = "paper"

    def __init__(self, kind: str, key: str) -> None:
        super().__init__()
        self.kind = kind
        self.key = key
        self.text = ""

    def body(self) -> Sequence[Widget]:
        """The text."""
        from textual.containers import VerticalScroll
        from textual.widgets import Static

        return (VerticalScroll(Static(id="whole"), id="paper"),)

    async def refresh_page(self) -> None:
        """Looks it up."""
        from textual.widgets import Static

        one = KINDS.get(f"{self.kind}s", Kind("", _stock)).one
        self.head(f"{self.kind} {self.key}")
        try:
            self.text = await self.fetch(lambda: one(self.desk, self.key) if one else self.key)
        except LoomcardError as error:
            self.say_error(error)
            return
        self.query_one("#whole", Static).update(shown(self.text))
        self.query_one("#paper").focus()

    def action_copy_text(self) -> None:
        """Copies it out."""
        self.app.copy_to_clipboard(self.text)
        self.say("Copied.")

    def action_write_text(self) -> None:
        """Writes it to a file, as a paper is."""
        from tracker.screens.paper import TextPage

        page = TextPage(f"{self.kind} {self.key}", self.text)
        self.app.push_screen(page)
