"""Taking back a deed: each row it touched goes back to how it was, unless somebody went on from there."""

from tracker.errors import StoreRefusedError, WrongUseError
from tracker.records.journal import BeforeImage, JournalEntry
from tracker.records.row import Kept, Row
from tracker.store.reader import Reader
from tracker.store.tables import CLASS_OF, SEALED
from tracker.store.unit import Unit


def last_to_undo(reader: Reader, who: str) -> JournalEntry | None:
    """That person's last deed that is neither undone nor itself an undo."""
    rows = reader.sql(
        "SELECT id FROM journal_entry AS e WHERE who = ? AND undoes IS NULL"
        " AND NOT EXISTS (SELECT 1 FROM journal_entry AS u WHERE u.undoes = e.id) ORDER BY id DESC LIMIT 1",
        (who,),
    )
    return reader.get(JournalEntry, rows[0][0]) if rows else None


def undo(unit: Unit, entry: JournalEntry) -> None:
    """Puts every row of `entry` back. Raises StoreRefusedError when one was changed since or is sealed."""
    images = unit.all(BeforeImage, entry=entry.id, newest=True)
    if not images:
        raise WrongUseError(f"“{entry.words}” wrote nothing that could be taken back.")
    for image in images:
        _refuse(unit, CLASS_OF[image.table_name], image, entry)
    unit.undoes = entry.id
    for image in images:
        unit.put_back(CLASS_OF[image.table_name], image.row_id, image.image)


def _refuse(unit: Unit, cls: type[Row], image: BeforeImage, entry: JournalEntry) -> None:
    what = image.table_name.replace("_", " ")
    if cls in SEALED:
        raise StoreRefusedError(
            f"“{entry.words}” issued a {what}, and that is never taken back.",
            "Correct it with a credit note, a new revision or an opposite payment.",
        )
    present = unit.first(cls, id=image.row_id)
    version = None if present is None else present.version if isinstance(present, Kept) else 1
    if version != image.after_version:
        later = unit.sql(
            "SELECT e.words FROM journal_entry AS e JOIN before_image AS b ON b.entry = e.id"
            " WHERE b.table_name = ? AND b.row_id = ? AND e.id > ? ORDER BY e.id LIMIT 1",
            (image.table_name, image.row_id, entry.id),
        )
        since = f": “{later[0][0]}”" if later else ""
        raise StoreRefusedError(
            f"“{entry.words}” cannot be taken back: the {what} was changed since{since}.",
            "Take the later deed back first.",
        )


def touched(reader: Reader, entry: JournalEntry) -> tuple[tuple[str, int, str], ...]:
    """What an entry touched: (table, row, 'made' | 'changed' | 'removed')."""
    found = []
    for image in reader.all(BeforeImage, entry=entry.id):
        kind = "made" if image.image is None else "removed" if image.after_version is None else "changed"
        found.append((image.table_name, image.row_id, kind))
    return tuple(found)
