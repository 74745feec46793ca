"""Papers on the command line: as plain text, to a file, or as JSON; what is owed; the day-book."""

from pathlib import Path
from typing import Any

import click

from tracker.cli.build import merged, shared_options
from tracker.cli.context import Context
from tracker.cli.output import say, say_json
from tracker.cli.printing import letter_with, missing_words, print_all, write_file
from tracker.desk.desk import Desk
from tracker.desk.documents import document_whole
from tracker.desk.ledger import ledger
from tracker.errors import WrongUseError
from tracker.papers.calendar import calendar, cancellations
from tracker.papers.gather import PAPERS, paper_of, papers_of
from tracker.papers.gather_lists import appointments
from tracker.papers.gather_ubl import einvoice_of
from tracker.papers.message import safe_name
from tracker.papers.paper import Paper
from tracker.papers.plain import plain
from tracker.papers.printed import printed


def write_calendar(desk: Desk, path: Path) -> None:
    """Rechecks and promised days as a calendar; those that no longer stand go into a second file."""
    standing, gone = appointments(desk)
    write_file(path, calendar(standing, desk.shop))
    if gone:
        write_file(path.with_name(f"{path.stem}-cancelled{path.suffix}"), cancellations(gone, desk.shop))


def show_document(desk: Desk, context: Context, number: str) -> None:
    """One document, in JSON with its lines, taxes and what is still owed on it."""
    if not context.as_json:
        say(plain(paper_of(desk, "invoice", number)))
        return
    whole = document_whole(desk, number)
    stands, _ = ledger(desk)
    owed = next((item.owed for item in stands.items if item.number == whole.document.number), 0)
    say_json({"document": whole.document, "lines": whole.lines, "taxes": whole.taxes, "owed_minor": owed})


def _paper(**given: Any) -> None:
    context = merged(click.get_current_context(), given)
    with context.desk() as desk:
        if given["kind"] == ALL:
            _all(desk, context, given)
            return
        if given["kind"] == UBL:
            _ubl(desk, context, given)
            return
        paper = paper_of(desk, given["kind"], given["name"])
        if given["pdf"] or given["eml"]:
            _printed(desk, context, paper, given)
            return
        if given["with_xml"] or given["letter"]:
            raise WrongUseError("That is for pages.", "Add --pdf FILE.")
    if given["to"]:
        write_file(Path(given["to"]).expanduser(), (plain(paper) + "\n").encode())
    elif context.as_json:
        say_json({"paper": paper, "text": plain(paper)})
    else:
        say(plain(paper))


def _ubl(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    made = einvoice_of(desk, given["name"])
    if given["to"]:
        path = Path(given["to"]).expanduser()
        write_file(path, made.content)
        _told(context, [path], list(made.notes))
    elif context.as_json:
        say_json({"xml": made.content.decode(), "notes": made.notes})
    else:
        say(made.content.decode())


def _printed(desk: Desk, context: Context, paper: Paper, given: dict[str, Any]) -> None:
    notes: list[str] = []
    xml = None
    if given["with_xml"]:
        einvoice = einvoice_of(desk, given["name"])
        xml = (f"{safe_name(paper.number)}.xml", einvoice.content)
        notes += einvoice.notes
    made, said = printed(desk, paper, letter=given["letter"], xml=xml)
    files = []
    for name in ("pdf", "eml"):
        if given[name]:
            path = Path(given[name]).expanduser()
            content = (
                made.content if name == "pdf" else letter_with(desk, paper, made, given["mail_to"] or "")
            )
            write_file(path, content)
            files.append(path)
    _told(context, files, [*notes, *said, *missing_words(made.missing)])


def _all(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    papers = papers_of(desk, given["name"])
    if given["pdf"]:
        files, notes = print_all(desk, papers, Path(given["pdf"]).expanduser(), letter=given["letter"])
        _told(context, files, notes)
    elif given["to"]:
        raise WrongUseError("All papers together go into a folder.", "--pdf FOLDER")
    elif context.as_json:
        say_json({"papers": [{"kind": kind, "paper": one, "text": plain(one)} for kind, one in papers]})
    else:
        say("\n\n".join(plain(one) for _, one in papers))


def _told(context: Context, files: list[Path], notes: list[str]) -> None:
    if context.as_json:
        say_json({"files": [str(path) for path in files], "notes": notes})
        return
    say("\n".join([*(f"written: {path}" for path in files), *notes]))


ALL, UBL = "all", "ubl"
TO = click.Option(["--to"], metavar="FILE", help="Write it to a file.")
paper = click.Command(
    "paper",
    params=[
        click.Argument(["kind"], metavar="KIND"),
        click.Argument(["name"], metavar="N"),
        TO,
        click.Option(["--pdf"], metavar="FILE", help="Write it as PDF; with all, into this folder."),
        click.Option(["--with-xml"], is_flag=True, help="The e-invoice goes inside the PDF."),
        click.Option(["--eml"], metavar="FILE", help="Write a message to --mail-to, the PDF in it."),
        click.Option(["--mail-to"], metavar="ADDRESS", help="Whom the message is for."),
        click.Option(["--letter"], is_flag=True, help="On Letter paper instead of A4."),
        *shared_options(),
    ],
    callback=_paper,
    help=f"A paper as plain text or PDF. KIND is one of {', '.join(PAPERS)}, {ALL} for all that a card has,"
    f" or {UBL} for a document as an e-invoice; N is a card, a document or a customer.",
)
