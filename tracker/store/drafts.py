"""What is typed in a form and not yet saved: kept through a crash, outside the journal, nobody's fact yet.

Kept with `store.submit(lambda reader: save(reader, draft))`; dropped in the deed that makes it a fact, so
that the two happen together or not at all.
"""

import json
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from tracker.errors import StoreRefusedError
from tracker.store.codec import instant_text
from tracker.store.reader import Reader


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """One form half filled in. `subject` names what it is about, where that is something: a card's number.

    `content` maps field names to what was typed, or anything else JSON can hold; `at` is when it was kept.
    """

    form: str
    who: str = ""
    subject: str = ""
    content: dict[str, Any]
    at: datetime


def save(reader: Reader, draft: Draft) -> None:
    """Keeps a draft in the place of the one before; what is typed is kept as it is, checked or not."""
    reader.sql(
        "INSERT INTO draft (form, who, subject, content, at) VALUES (?, ?, ?, ?, ?)"
        " ON CONFLICT DO UPDATE SET content = excluded.content, at = excluded.at",
        (
            draft.form,
            draft.who,
            draft.subject,
            json.dumps(draft.content),  # escaped, so that even half a character comes back
            instant_text(draft.at),
        ),
    )


def get(reader: Reader, form: str, who: str = "", subject: str = "") -> Draft | None:
    """The draft of a form, or None."""
    rows = reader.sql(
        "SELECT form, who, subject, content, at FROM draft WHERE form = ? AND who = ? AND subject = ?",
        (form, who, subject),
    )
    return _draft(rows[0]) if rows else None


def drafts_of(reader: Reader, who: str = "") -> tuple[Draft, ...]:
    """All that somebody left unsaved, the latest first."""
    rows = reader.sql(
        "SELECT form, who, subject, content, at FROM draft WHERE who = ? ORDER BY at DESC, form, subject",
        (who,),
    )
    return tuple(_draft(row) for row in rows)


def drop(reader: Reader, form: str, who: str = "", subject: str = "") -> None:
    """Drops a draft; none there is no mistake."""
    reader.sql("DELETE FROM draft WHERE form = ? AND who = ? AND subject = ?", (form, who, subject))


def _draft(row: tuple[Any, ...]) -> Draft:
    form, who, subject, content, at = row
    try:
        return Draft(
            form=form, who=who, subject=subject, content=json.loads(content), at=datetime.fromisoformat(at)
        )
    except ValueError as error:
        raise StoreRefusedError(
            f"The draft of “{form}” cannot be read.", "Drop it and type it anew."
        ) from error
