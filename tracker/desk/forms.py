"""What forms need of the desk: what is typed and not yet saved, kept as a draft until the deed is done."""

from collections.abc import Mapping

from tracker.desk.desk import Desk
from tracker.store import drafts


def keep_draft(desk: Desk, form: str, subject: str, typed: Mapping[str, str]) -> None:
    """Keeps what is typed in a form about something (a card's number); an empty form keeps nothing."""
    content = {name: text for name, text in typed.items() if text.strip()}
    if not content:
        drop_draft(desk, form, subject)
        return
    draft = drafts.Draft(form=form, who=desk.who, subject=subject, content=content, at=desk.clock.now())
    desk.read(lambda reader: drafts.save(reader, draft))


def draft_of(desk: Desk, form: str, subject: str) -> dict[str, str]:
    """What was typed last time and not saved; empty where there is nothing."""
    found = desk.read(lambda reader: drafts.get(reader, form, desk.who, subject))
    return {str(name): str(text) for name, text in found.content.items()} if found else {}


def drop_draft(desk: Desk, form: str, subject: str) -> None:
    """Forgets what was typed: the deed is done, or the person says so."""
    desk.read(lambda reader: drafts.drop(reader, form, desk.who, subject))
