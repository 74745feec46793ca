"""Book in: one field first; known bikes and people come up; Enter takes; then only what is missing."""

from typing import ClassVar

from tracker.desk.bikes import last_odometer
from tracker.desk.show import Hit, find
from tracker.records.bike import Bike
from tracker.screens.choose import ChoosePage
from tracker.screens.form import FormPage
from tracker.screens.rows import Entry
from tracker.screens.shown import shown

NEW_BIKE = frozenset(
    {"make", "model", "year", "registration", "vin", "odometer_unit", "earth", "volts"}
) | frozenset(
    {"battery_kind", "battery_ah", "customer", "phone", "email", "address", "settles", "kind", "unit"}
)
"""What a known bike has told already."""


class BookInPage(ChoosePage):
    """Who or which? Its twin is `loomcard book-in`."""

    title_words: ClassVar[str] = "Book in: name, phone, registration or frame number; Enter takes"

    async def entries(self, typed: str) -> list[Entry]:
        """Somebody new, to begin with."""
        del typed
        return [Entry("new", shown("+ a new bike"))]

    async def narrowed(self, typed: str) -> list[Entry]:
        """Bikes first, then people, then somebody new."""
        hits = await self.fetch(lambda: find(self.desk, typed))
        known = [hit for kind in ("bike", "customer") for hit in hits if hit.kind == kind]
        return [*(self._entry(hit) for hit in known), Entry("new", shown(f"+ new: {typed}"))]

    def _entry(self, hit: Hit) -> Entry:
        return Entry(f"{hit.kind}-{hit.id}", shown(f"{hit.kind:<9} {hit.name:<28} {hit.more}"))

    async def take(self, key: str, typed: str) -> None:
        """A known bike is asked its complaint; a known person which bike; a new one the rest."""
        kind, _, row = key.partition("-")
        given: dict[str, str] = {}
        hidden: frozenset[str] = frozenset()
        if kind == "bike":
            bike_id = int(row)
            last = await self.fetch(
                lambda: self.desk.read(lambda reader: last_odometer(reader, reader.get(Bike, bike_id)))
            )
            given = {"bike": row}
            hidden = NEW_BIKE | {"bike"}
            if last is not None:
                self.loomcard.note_once = f"The odometer was at {last:,} last time."
        elif kind == "customer":
            given = {"customer": row}
            hidden = frozenset({"phone", "email", "address", "settles"})
        elif typed.strip():
            digits = sum(sign.isdigit() for sign in typed)
            given = {"registration" if 0 < digits < 5 and len(typed) < 10 else "customer": typed.strip()}
        self.loomcard.switch_screen(FormPage("book-in", given, hidden))
