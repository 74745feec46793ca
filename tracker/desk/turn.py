"""One deed's turn at the file: its writes, the shop as it is, who does it and when."""

from datetime import date, datetime
from functools import cached_property

from tracker.billing.numbering import parse, render
from tracker.clock import Clock, zone_named
from tracker.desk.shop import read_shop
from tracker.errors import NotFoundError, WrongUseError
from tracker.records.card import Card
from tracker.records.facts import CardFacts
from tracker.records.people import Mechanic
from tracker.records.shop import Shop
from tracker.seedfiles.door import SHIPPED, Seeds
from tracker.store.facts import facts_of
from tracker.store.reader import Reader
from tracker.store.unit import Unit

PICTURE = "picture"
"""The name under which the shop's picture is kept beside its own copies of seed files."""


class Turn:
    """What a deed works with, in the store's own thread."""

    def __init__(self, unit: Unit, clock: Clock, who: str) -> None:
        self.unit = unit
        self.who = who
        self.notes: list[str] = []
        self._clock = clock

    def note(self, words: str) -> None:
        """Something the person should know that stops nothing: a caution, an odometer that went back."""
        if words not in self.notes:
            self.notes.append(words)

    def say(self, words: str, card: Card | None = None) -> None:
        """What the journal will say of this deed."""
        self.unit.say(words, card.id if card else None)

    def next_number(self, series: str) -> tuple[str, int, int]:
        """Takes the next number of a series: as it is printed, its year and its place in the year."""
        year = self.today.year
        sequence = self.unit.number(series, year)
        return render(self.shop.numbers[series], year, sequence), year, sequence

    @property
    def at(self) -> datetime:
        """The instant of the deed."""
        return self.unit.at

    @cached_property
    def shop(self) -> Shop:
        """The shop's settings."""
        return read_shop(self.unit)

    @cached_property
    def clock(self) -> Clock:
        """The clock in the shop's zone."""
        return self._clock.in_zone(zone_named(self.shop.zone))

    @property
    def today(self) -> date:
        """The shop's date at the deed."""
        return self.clock.date_of(self.at)

    @cached_property
    def seeds(self) -> Seeds:
        """The seeds as this shop sees them: its own copies win."""
        return own_seeds(self.unit)

    def card(self, number: str) -> Card:
        """The card of that number; raises NotFoundError."""
        return card_named(self.unit, number)

    def facts(self, card: Card) -> CardFacts:
        """All that is written on a card."""
        return one_card(self.unit, self.shop, card.id)

    def mechanic(self) -> Mechanic:
        """The mechanic at the keyboard; a shop's first one is made from the name given.

        Raises WrongUseError when nobody, or somebody unknown, is named.
        """
        everyone = self.unit.all(Mechanic, active=True)
        for mechanic in everyone:
            if mechanic.name == self.who:
                return mechanic
        if not self.who and len(everyone) == 1:
            return everyone[0]
        if self.who and not everyone:
            return self.unit.insert(Mechanic(name=self.who, key=self.who[:1].lower()))
        names = ", ".join(mechanic.name for mechanic in everyone) or "none yet"
        if not self.who:
            raise WrongUseError("Who is it?", f"Say --who NAME, or set LOOMCARD_WHO. Mechanics: {names}.")
        raise WrongUseError(
            f"There is no mechanic called “{self.who}”.",
            f"Mechanics: {names}. Add one: loomcard settings --mechanic NAME.",
        )


def own_seeds(reader: Reader) -> Seeds:
    """The seeds as this shop sees them: its own copies win."""
    own = dict(reader.sql("SELECT name, text FROM shop_file WHERE name != ?", (PICTURE,)))
    return Seeds(own) if own else SHIPPED


def one_card(reader: Reader, shop: Shop, card_id: int) -> CardFacts:
    """The facts of one card; raises NotFoundError."""
    found = facts_of(reader, shop, (card_id,))
    if not found:
        raise NotFoundError(f"There is no card {card_id}.")
    return found[0]


def card_named(reader: Reader, name: str) -> Card:
    """The card with this number, with or without its noughts; or of this year's count (`12`, `0012`).

    Raises NotFoundError.
    """
    wanted = name.strip()
    card = reader.first(Card, number=wanted)
    pattern = read_shop(reader).numbers["card"]
    if card is None and (meant := parse(pattern, wanted)) is not None:
        card = reader.first(Card, number=render(pattern, meant.year, meant.sequence))
    if card is None and wanted.isascii() and wanted.isdigit() and len(wanted) <= 9:
        newest = reader.first(Card, newest=True)
        last = parse(pattern, newest.number) if newest else None
        if last is not None and int(wanted):
            card = reader.first(Card, number=render(pattern, last.year, int(wanted)))
    if card is None:
        raise NotFoundError(f"There is no card “{name}”.", "loomcard find WORDS looks for one.")
    return card
