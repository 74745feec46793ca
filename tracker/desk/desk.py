"""The desk: one open file, one person at the keyboard, one clock. Every deed goes through `do`."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any, ClassVar, Protocol, TypeVar

from tracker.clock import Clock, zone_named
from tracker.desk.ask import Parsed, Where, read_fields
from tracker.desk.shop import read_shop
from tracker.desk.turn import Turn, one_card, own_seeds
from tracker.records.facts import CardFacts
from tracker.records.people import Mechanic
from tracker.records.problem import Mistakes, Problem
from tracker.records.row import Row
from tracker.records.shop import Shop
from tracker.records.text import fold
from tracker.seedfiles.door import Seeds
from tracker.store.codec import table_name
from tracker.store.facts import facts_of
from tracker.store.reader import Reader
from tracker.store.store import Deed, Store
from tracker.store.unit import Unit, new_token

T = TypeVar("T")
R_co = TypeVar("R_co", bound=Row, covariant=True)
R = TypeVar("R", bound=Row)


class Ask(Protocol[R_co]):
    """A deed: what a person gave (its fields), its verb, and what is done with it in one transaction."""

    verb: ClassVar[str]

    def work(self, turn: Turn) -> R_co:
        """Does it; returns the record it is about. Raises Mistakes with every mistake and writes nothing."""
        ...


class Desk:
    """Where a person works: reads and deeds on one file."""

    def __init__(self, store: Store, clock: Clock, who: str = "") -> None:
        self.store = store
        self._clock = clock
        self.who = who
        self.notes: tuple[str, ...] = ()
        self._shop: Shop | None = None

    @property
    def shop(self) -> Shop:
        """The shop's settings as they are now."""
        if self._shop is None:
            self._shop = self.store.read(read_shop)
        return self._shop

    @property
    def clock(self) -> Clock:
        """The clock, in the shop's time zone."""
        return self._clock.in_zone(zone_named(self.shop.zone))

    @property
    def today(self) -> date:
        """The shop's date."""
        return self.clock.today()

    @property
    def where(self) -> Where:
        """What reading typed text depends on."""
        return Where(self.today, self.shop.currency)

    def do(self, ask: Ask[R], token: str | None = None) -> R:
        """Does a deed once; the same token again gives the same record and writes nothing.

        `notes` then holds what the person should know of it.
        """
        deed = Deed(ask.verb, self.who, self._clock.now(), token or new_token())
        self.notes = ()
        notes: list[str] = []

        def work(unit: Unit) -> R:
            turn = Turn(unit, self._clock, self.who)
            made = ask.work(turn)
            notes.extend(turn.notes)
            return made

        result = self.store.do(deed, work)
        self.notes = tuple(notes)
        self.forget()
        return result

    def given(self, kind: type[Any], raw: Mapping[str, object], token: str | None = None) -> Row:
        """Reads a deed's fields from what was typed, then does it.

        Raises Mistakes with every mistake at once: those of single fields, and those that only the file
        tells (`problems` of the deed, where it has them).
        """
        parsed = read_fields(kind, raw, self.where)
        if parsed.problems:
            raise Mistakes((*parsed.problems, *self._more(parsed)))
        done: Row = self.do(parsed.deed, token)
        return done

    def _more(self, parsed: Parsed[Any]) -> list[Problem]:
        look: Callable[[Turn], list[Problem | None]] | None = getattr(parsed.deed, "problems", None)
        if look is None:
            return []
        said = {problem.field for problem in parsed.problems}
        found = self.look(look)
        return [problem for problem in found if problem is not None and problem.field not in said]

    def look(self, work: Callable[[Turn], T]) -> T:
        """Works something out as a deed would, and writes nothing; `notes` then holds what it said."""
        notes: list[str] = []

        def only_look(reader: Reader) -> T:
            turn = Turn(Unit(reader.database, "only looking", self._clock.now()), self._clock, self.who)
            found = work(turn)
            notes.extend(turn.notes)
            return found

        result = self.store.read(only_look)
        self.notes = tuple(notes)
        return result

    def read(self, work: Callable[[Reader], T]) -> T:
        """Reads in the store's thread."""
        return self.store.read(work)

    def forget(self) -> None:
        """Drops what was remembered of the shop's settings."""
        self._shop = None

    @property
    def seeds(self) -> Seeds:
        """The seeds as this shop sees them: its own copies win."""
        return self.read(own_seeds)

    def facts(self, card_id: int) -> CardFacts:
        """All that is written on one card."""
        shop = self.shop
        return self.read(lambda reader: one_card(reader, shop, card_id))

    def many_facts(self, card_ids: Sequence[int]) -> tuple[CardFacts, ...]:
        """All that is written on some cards."""
        shop = self.shop
        return self.read(lambda reader: facts_of(reader, shop, card_ids))

    @contextmanager
    def rehearsal(self) -> Iterator[None]:
        """Many deeds kept together or not at all."""
        with self.store.one_transaction():
            yield

    def close(self) -> None:
        """Closes the file."""
        self.store.close()


def open_desk(path: Path, clock: Clock, *, who: str = "", create: bool = False) -> Desk:
    """Opens a file at the desk. Raises StoreRefusedError in words when that cannot be."""
    desk = Desk(Store(path, clock.now, create=create), clock, who)
    try:
        desk.who = desk.read(lambda reader: known_name(reader, who))
    except BaseException:
        desk.close()
        raise
    return desk


def known_name(reader: Reader, who: str) -> str:
    """A mechanic's full name from a name or their key; an unknown name stays as it is typed."""
    for mechanic in reader.all(Mechanic):
        if who and (fold(who) == fold(mechanic.name) or who == mechanic.key):
            return mechanic.name
    return who


def name_of(record: Row) -> str:
    """What a record is called in JSON: `time_entry` for a TimeEntry."""
    return table_name(type(record))
