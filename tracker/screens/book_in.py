"""Book in: one field first; known bikes and people come up; Enter takes; then only what is missing."""

from typing import TYPE_CHECKING, ClassVar

from tracker.desk.bikes import last_odometer
from tracker.desk.show import Hit, bike_view, find
from tracker.records.bike import Bike
from tracker.screens.choose import ChoosePage
from tracker.screens.form import FormPage
from tracker.screens.rows import Entry
from tracker.screens.shown import shown

if TYPE_CHECKING:
    from tracker.screens.app import LoomcardApp

OF_PERSON = frozenset({"phone", "email", "address", "settles"})
"""What a known person has told already."""

OF_BIKE = OF_PERSON | {
    "bike", "customer", "make", "model", "year", "registration", "vin", "odometer_unit", "earth", "volts",
    "battery_kind", "battery_ah", "kind", "unit", "features",
}  # fmt: skip
"""What a known bike has told already."""


class BookInPage(ChoosePage):
    """Who or which? Its twin is `loomcard book-in`."""

    title_words: ClassVar[str] = "Book in: name, phone tail, registration or frame number"

    async def narrowed(self, typed: str) -> list[Entry]:
        """Bikes first, then people, then somebody new."""
        hits = await self.fetch(lambda: find(self.desk, typed)) if typed.strip() else ()
        known = [hit for kind in ("bike", "customer") for hit in hits if hit.kind == kind]
        new = f"+ new: {typed}" if typed.strip() else "+ a new bike, or a unit without one"
        return [*(self._entry(hit) for hit in known), Entry("new", shown(new))]

    def _entry(self, hit: Hit) -> Entry:
        return Entry(f"{hit.kind}-{hit.id}", shown(f"{hit.kind:<9} {hit.name:<28} {hit.more}"))

    async def take(self, key: str, typed: str) -> None:
        """A known bike is asked its complaint; a known person which bike; a new one the rest."""
        kind, _, row = key.partition("-")
        if kind == "bike":
            await self.loomcard.instead(await known_bike_form(self.loomcard, row))
        elif kind == "customer":
            await self._form({"customer": row}, OF_PERSON | {"customer", "bike"}, "")
        else:
            digits = sum(sign.isdigit() for sign in typed)
            name = "registration" if 0 < digits < 5 and len(typed) < 10 else "customer"
            await self._form({name: typed.strip()} if typed.strip() else {}, frozenset({"bike"}), "")

    async def _form(self, given: dict[str, str], hidden: frozenset[str], note: str) -> None:
        form = await FormPage.made(self.loomcard, "book-in", given, hidden)
        form.note = note
        await self.loomcard.instead(form)


async def known_bike_form(app: "LoomcardApp", row: str) -> FormPage:
    """The form for a bike that is known, by its id: what it and its owner have told is not asked again."""

    def look() -> tuple[Bike, str, int | None]:
        view = bike_view(app.desk, row)
        last = app.desk.read(lambda reader: last_odometer(reader, view.bike))
        owner = next((person.name for tie, person in view.people if tie.until is None), "nobody yet")
        return view.bike, owner, last

    bike, owner, last = await app.away(look)
    form = await FormPage.made(
        app, "book-in", {"bike": row}, OF_BIKE if owner != "nobody yet" else OF_BIKE - {"customer"}
    )
    form.note = f"{bike.name} {bike.registration}, {owner}."
    if last is not None:
        form.note += f" The odometer was at {last:,} last time."
    return form
