"""What forms need of the desk: drafts, answers that are known, what stands there now, whose clock runs."""

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from decimal import Decimal
from enum import StrEnum

from tracker.desk.ask import Field, fields_of
from tracker.desk.bikes import bike_named
from tracker.desk.deeds import deed
from tracker.desk.desk import Desk
from tracker.desk.loom_stands import LOOM_CHANGES, loom_stands
from tracker.desk.people import customer_named
from tracker.desk.shop import read_shop
from tracker.errors import LoomcardError
from tracker.records.card import Card
from tracker.records.journal import JournalEntry
from tracker.records.people import Mechanic
from tracker.records.stock import Part
from tracker.records.work import TimeEntry
from tracker.store import drafts
from tracker.store.reader import Reader
from tracker.store.unit import new_token

TOKEN = "@token"
"""Where a draft keeps the token under which its deed will be done; no field has such a name."""


def fresh_token() -> str:
    """A token under which a form's deed will be done once, however often it is sent."""
    return new_token()


def keep_draft(desk: Desk, form: str, subject: str, typed: Mapping[str, str]) -> None:
    """Keeps what is typed in a form about something (a card's number); an empty form keeps nothing."""
    content = {name: text for name, text in typed.items() if text.strip()}
    if not content.keys() - {TOKEN}:
        drop_draft(desk, form, subject)
        return
    draft = drafts.Draft(form=form, who=desk.who, subject=subject, content=content, at=desk.clock.now())
    desk.read(lambda reader: drafts.save(reader, draft))


def draft_of(desk: Desk, form: str, subject: str) -> dict[str, str]:
    """What was typed last time and not saved; empty where there is nothing.

    One whose deed is done already, as its token tells after a kill between the two, is dropped.
    """

    def look(reader: Reader) -> dict[str, str]:
        found = drafts.get(reader, form, desk.who, subject)
        if found is None:
            return {}
        token = str(found.content.get(TOKEN, ""))
        if token and reader.first(JournalEntry, token=token) is not None:
            drafts.drop(reader, form, desk.who, subject)
            return {}
        return {str(name): str(text) for name, text in found.content.items()}

    return desk.read(look)


def drop_draft(desk: Desk, form: str, subject: str) -> None:
    """Forgets what was typed: the deed is done, or the person says so."""
    desk.read(lambda reader: drafts.drop(reader, form, desk.who, subject))


def left_typed(desk: Desk) -> tuple[tuple[str, str], ...]:
    """The forms that this person left half typed, the latest first: each verb with what it is about."""
    found = desk.read(lambda reader: drafts.drafts_of(reader, desk.who))
    return tuple((draft.form, draft.subject) for draft in found)


def about(verb: str, card: str) -> dict[str, str]:
    """What of a deed's fields is known when it is about a card; nothing where it is about none."""
    names = [field.name for field in fields_of(deed(verb))]
    name = next((one for one in ("card", "on") if one in names), "")
    return {name: card} if card and name else {}


def choices_of(field: Field) -> tuple[str, ...]:
    """The answers of a field that takes nothing else; empty for one that is written freely.

    An answer that may be left out has an empty one first.
    """
    found: tuple[str, ...] = ()
    if field.many or field.pairs:
        return ()
    if field.kind is bool:
        found = ("yes", "no")
    elif isinstance(field.kind, type) and issubclass(field.kind, StrEnum):
        found = tuple(field.kind)
    elif field.ask.choices:
        found = field.ask.choices
    return ("", *found) if found and (field.optional or field.default == "") else found


def default_of(field: Field) -> str:
    """A field's own answer as it would be typed, where it takes one of a few."""
    if isinstance(field.default, bool):
        return "yes" if field.default else "no"
    return str(field.default) if isinstance(field.default, StrEnum) else ""


def clock_runs_on(desk: Desk) -> str:
    """The number of the card on which the clock of the person at the keyboard runs, or nothing."""

    def look(reader: Reader) -> str:
        mechanic = reader.first(Mechanic, name=desk.who)
        running = reader.first(TimeEntry, mechanic=mechanic.id, off_at=None) if mechanic else None
        return reader.get(Card, running.card).number if running else ""

    return desk.read(look)


@dataclass(frozen=True, slots=True)
class Changing:
    """A deed that changes something: the field that names it, and how to read it."""

    named_by: str
    read: Callable[[Reader, str], object]


def _part(reader: Reader, code: str) -> object:
    return reader.first(Part, code=code)


CHANGES: Mapping[str, Changing] = {
    "settings change": Changing("", lambda reader, _: read_shop(reader)),
    "customer change": Changing("customer", customer_named),
    "bike change": Changing("bike", bike_named),
    "stock add": Changing("code", _part),
}


def stands_now(desk: Desk, verb: str, given: Mapping[str, str]) -> dict[str, str]:
    """What a deed that changes something would change, as it would be typed; empty for other deeds."""
    if verb in LOOM_CHANGES:
        return loom_stands(desk, verb, given)
    changing = CHANGES.get(verb)
    if changing is None or (changing.named_by and not given.get(changing.named_by)):
        return {}
    try:
        row = desk.read(lambda reader: changing.read(reader, given.get(changing.named_by, "")))
    except LoomcardError:
        return {}
    if row is None:
        return {}
    kept = asdict(row)  # type: ignore[call-overload]
    names = {field.name for field in fields_of(deed(verb))} - {changing.named_by}
    return {name: text for name, value in kept.items() if name in names and (text := as_typed(value)) != ""}


def as_typed(value: object) -> str:
    """A kept value as a person would type it; empty for what has no such form."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, float):
        return f"{value:g}"
    return str(value) if isinstance(value, str | int) else ""
