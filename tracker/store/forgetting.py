"""Forgetting for good: what a person may ask to be erased goes from the rows, and from how they were before.

The journal stays whole in what was done when by whom; only somebody's own words for themselves go from it.
Issued documents are never touched here. The file's free space is written over as well.
"""

import json
import re
from collections.abc import Iterator
from contextlib import contextmanager

from tracker.records.journal import BeforeImage, JournalEntry
from tracker.records.row import Row
from tracker.store.codec import encode_some, table_name
from tracker.store.reader import Reader
from tracker.store.unit import Unit


def forget(unit: Unit, cls: type[Row], row_id: int, **blank: object) -> None:
    """Sets fields of a row, and of every image of how that row was before, to what says nothing.

    Rows that are insert-only for other reasons than a seal (calls, go-aheads) are changed too. There is no
    way back, so nothing of it is remembered for undo.
    """
    values = encode_some(cls, blank)
    unit.sql("PRAGMA secure_delete = ON")
    named = ", ".join(f'"{name}" = ?' for name in values)
    unit.sql(f'UPDATE "{table_name(cls)}" SET {named} WHERE id = ?', (*values.values(), row_id))
    unit.blank_image(cls, row_id, values)
    with _unsealed(unit, BeforeImage):
        for image in unit.all(BeforeImage, table_name=table_name(cls), row_id=row_id):
            if image.image is not None:
                kept = {name: values.get(name, value) for name, value in image.image.items()}
                _set(unit, BeforeImage, image.id, "image", json.dumps(kept, ensure_ascii=False))


def forget_in_journal(unit: Unit, name: str, instead: str, cards: tuple[int, ...], customer: int) -> None:
    """Puts `instead` where entries about a customer or some cards say a name, as a word of its own."""
    if not name.strip():
        return
    said = re.compile(rf"(?<!\w){re.escape(name)}(?!\w)")
    entries = {
        one.id: one
        for one in (
            *unit.all(JournalEntry, card=cards),
            *unit.all(JournalEntry, subject_table="customer", subject_id=customer),
        )
    }
    with _unsealed(unit, JournalEntry):
        for entry in entries.values():
            words = said.sub(lambda _: instead, entry.words)
            if words != entry.words:
                _set(unit, JournalEntry, entry.id, "words", words)


def forget_drafts(reader: Reader, texts: tuple[str, ...]) -> None:
    """Drops what was typed and not saved where it holds one of these texts."""
    for row in reader.sql("SELECT form, who, subject, content FROM draft"):
        typed = json.dumps(json.loads(row[3]), ensure_ascii=False)
        if any(text and text in typed for text in texts):
            reader.sql("DELETE FROM draft WHERE form = ? AND who = ? AND subject = ?", row[:3])


def tidy_finder(reader: Reader) -> None:
    """Merges the finder's index, so that letters of what is gone are not left in it."""
    reader.sql("INSERT INTO finder (finder) VALUES ('optimize')")


def _set(unit: Unit, cls: type[Row], row_id: int, field: str, value: str) -> None:
    unit.sql(f'UPDATE "{table_name(cls)}" SET "{field}" = ? WHERE id = ?', (value, row_id))


@contextmanager
def _unsealed(unit: Unit, cls: type[Row]) -> Iterator[None]:
    """Lifts the seal against changes of one table, and sets it again word for word.

    All of it happens inside the deed's transaction: a failure in between brings the seal back with the rest.
    """
    name = f"{table_name(cls)}_sealed_update"
    ((seal,),) = unit.sql("SELECT sql FROM sqlite_master WHERE type = 'trigger' AND name = ?", (name,))
    unit.sql(f'DROP TRIGGER "{name}"')
    yield
    unit.sql(seal)
