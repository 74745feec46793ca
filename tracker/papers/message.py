"""A message ready to send (RFC 5322, an .eml file), with papers attached. It is written, never sent, here."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from email.errors import MessageError
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP

from tracker.papers.paper import Paper
from tracker.papers.plain import plain
from tracker.records.problem import Mistakes, Problem

_ODD = re.compile(r"[^A-Za-z0-9._-]+")
_BREAKS = re.compile(r"[\x00-\x1f\x7f\x85\u2028\u2029]+")
LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class Attached:
    """A file that goes along: its name, its kind (`text/plain`, `application/pdf`) and what is in it."""

    name: str
    mime: str
    content: bytes


def attached_text(paper: Paper, width: int = 80) -> Attached:
    """A paper as a text file, named after its number or title."""
    return Attached(f"{paper.number or paper.title}.txt", "text/plain", plain(paper, width).encode())


def message(
    *,
    sender: tuple[str, str],
    to: tuple[str, str],
    subject: str,
    words: str,
    at: datetime,
    attached: Sequence[Attached] = (),
) -> bytes:
    """The message's bytes. `sender` and `to` are name and address; `at` is the instant of writing, aware.

    Line breaks in a name or subject become blanks, so that nobody's text can add a header. Raises Mistakes
    with the fields `sender` and `to` for what is no mail address.
    """
    headers = {"sender": _address("sender", *sender), "to": _address("to", *to)}
    problems = [one for one in headers.values() if isinstance(one, Problem)]
    if problems:
        raise Mistakes(problems)
    letter = EmailMessage(policy=SMTP)
    letter["From"] = headers["sender"]
    letter["To"] = headers["to"]
    letter["Subject"] = _one_line(subject)
    letter["Date"] = at
    letter["X-Unsent"] = "1"  # mail programs that know it open the file for sending, not for reading
    letter.set_content(words)
    for one in attached:
        kind, _, sub = one.mime.partition("/")
        if kind == "text":
            letter.add_attachment(one.content.decode(), subtype=sub, filename=safe_name(one.name))
        else:
            letter.add_attachment(one.content, maintype=kind, subtype=sub, filename=safe_name(one.name))
    return letter.as_bytes()


def safe_name(name: str) -> str:
    """A file name that is one on every system: letters, digits, point, dash and underscore.

    >>> safe_name("../../INV-26-0042.txt"), safe_name("Job card.txt")
    ('INV-26-0042.txt', 'Job-card.txt')
    """
    return _ODD.sub("-", name).strip(".-")[-LONGEST_NAME:] or "paper"


def _address(field: str, name: str, address: str) -> Address | Problem:
    try:
        if not address.isascii() or _BREAKS.search(address):
            raise ValueError("not an address of plain letters")
        found = Address(display_name=_one_line(name), addr_spec=address)
        if not found.domain or not found.username:
            raise ValueError("half an address")
    except (ValueError, IndexError, MessageError):
        return Problem(field, "This is not a mail address.", "For instance name@example.org.", address[:60])
    return found


def _one_line(text: str) -> str:
    return _BREAKS.sub(" ", text)
