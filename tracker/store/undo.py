"""Taking back a deed: each row it touched goes back to how it was, unless somebody went on from there."""

from collections.abc import Iterable

from tracker.errors import StoreRefusedError, WrongUseError
from tracker.records.journal import BeforeImage, JournalEntry
from tracker.records.shop import Counter
from tracker.store.codec import columns
from tracker.store.reader import Reader
from tracker.store.tables import CLASS_OF, SEALED
from tracker.store.unit import Unit

_STANDS = "e.undoes IS NULL AND NOT EXISTS (SELECT 1 FROM journal_entry AS u WHERE u.undoes = e.id)"
"""Of an entry e: neither undone nor itself an undo. The two of a pair cancel each other."""


FOR_GOOD = frozenset({"customer erase"})
"""Deeds that erase: there is nothing left that could be put back."""


def last_to_undo(reader: Reader, who: str) -> JournalEntry | None:
    """That person's last deed that is neither undone nor itself an undo."""
    rows = reader.sql(
        f"SELECT id FROM journal_entry AS e WHERE who = ? AND {_STANDS} ORDER BY id DESC LIMIT 1", (who,)
    )
    return reader.get(JournalEntry, rows[0][0]) if rows else None


def undo(unit: Unit, entry: JournalEntry) -> None:
    """Puts every row of `entry` back. Raises StoreRefusedError when one was changed since or is sealed."""
    if entry.deed in FOR_GOOD:
        raise StoreRefusedError(
            f"“{entry.words}” cannot be taken back: what was erased is gone.", "Write it down anew."
        )
    if entry.undoes is not None:
        raise WrongUseError(f"“{entry.words}” took a deed back.", "Do that deed again instead.")
    if unit.first(JournalEntry, undoes=entry.id) is not None:
        raise WrongUseError(f"“{entry.words}” was taken back already.")
    images = unit.all(BeforeImage, entry=entry.id, newest=True)
    if not images:
        raise WrongUseError(f"“{entry.words}” wrote nothing that could be taken back.")
    _refuse_sealed(images, entry)
    for image in images:
        _refuse_changed(unit, image, entry)
    unit.undoes = entry.id
    unit.sql("PRAGMA defer_foreign_keys = ON")  # rows may name each other; looked at below, once all are back
    for image in images:
        unit.put_back(CLASS_OF[image.table_name], image.row_id, image.image)
    hanging = unit.sql("PRAGMA foreign_key_check")
    if hanging:
        raise StoreRefusedError(
            f"“{entry.words}” cannot be taken back: a {_said(hanging[0][0])} written since hangs on it.",
            "Take the later deed back first.",
        )
    unit.sql("PRAGMA defer_foreign_keys = OFF")


def _refuse_sealed(images: Iterable[BeforeImage], entry: JournalEntry) -> None:
    for image in images:
        if CLASS_OF[image.table_name] in SEALED:
            raise StoreRefusedError(
                f"“{entry.words}” issued a {_said(image.table_name)}, and that is never taken back.",
                "Correct it with a credit note, a new revision or an opposite payment.",
            )


def _refuse_changed(unit: Unit, image: BeforeImage, entry: JournalEntry) -> None:
    cls = CLASS_OF[image.table_name]
    later = unit.sql(
        "SELECT e.words FROM journal_entry AS e JOIN before_image AS b ON b.entry = e.id"
        f" WHERE b.table_name = ? AND b.row_id = ? AND e.id > ? AND {_STANDS} ORDER BY e.id LIMIT 1",
        (image.table_name, image.row_id, entry.id),
    )
    if later:
        what = "a later number was taken" if cls is Counter else f"the {_said(image.table_name)} was changed"
        raise StoreRefusedError(
            f"“{entry.words}” cannot be taken back: {what} since: “{later[0][0]}”.",
            "Take the later deed back first.",
        )
    if image.image is not None and set(image.image) != {column.name for column in columns(cls)}:
        raise StoreRefusedError(
            f"“{entry.words}” was done before the file was brought up to date and cannot be taken back.",
            "Put it right with a deed of its own.",
        )


def touched(reader: Reader, entry: JournalEntry) -> tuple[tuple[str, int, str], ...]:
    """What an entry touched: (table, row, 'made' | 'changed' | 'removed')."""
    found = []
    for image in reader.all(BeforeImage, entry=entry.id):
        if image.image is None and image.after_version is None:
            continue  # made and taken out again within the deed
        kind = "made" if image.image is None else "removed" if image.after_version is None else "changed"
        found.append((image.table_name, image.row_id, kind))
    return tuple(found)


def _said(table: str) -> str:
    return table.replace("_", " ")
