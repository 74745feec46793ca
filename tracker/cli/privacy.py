"""A customer's data in one file: records as JSON, their documents as text, their photos."""

import io
import json
import zipfile
from pathlib import Path
from typing import Any

import click

from tracker.cli.build import merged, shared_options
from tracker.cli.output import plain as as_json
from tracker.cli.output import say, say_json
from tracker.cli.printing import write_file
from tracker.desk.desk import Desk
from tracker.desk.privacy import PersonalData, personal_data
from tracker.papers.gather import paper_of
from tracker.papers.message import safe_name
from tracker.papers.plain import plain


def _export(**given: Any) -> None:
    context = merged(click.get_current_context(), given)
    path = Path(given["to"]).expanduser()
    with context.desk() as desk:
        found = personal_data(desk, given["name"])
        content = packed(desk, found)
    write_file(path, content)
    if context.as_json:
        say_json({"file": str(path), "customer": found.customer.id, "cards": len(found.cards)})
    else:
        say(f"written: {path}, all that is kept of customer {found.customer.id}")


def packed(desk: Desk, found: PersonalData) -> bytes:
    """The ZIP file's bytes: `data.json`, `papers/NUMBER.txt`, `photos/ID-NAME`."""
    data = as_json(found)
    for card in data["cards"]:
        del card["shop"]
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as file:
        file.writestr("data.json", json.dumps(data, ensure_ascii=False, indent=2))
        for document in found.documents:
            text = plain(paper_of(desk, "invoice", document.number))
            file.writestr(f"papers/{safe_name(document.number)}.txt", text)
        for photo in found.photos:
            file.writestr(f"photos/{photo.id}-{safe_name(photo.name)}", photo.content)
    return buffer.getvalue()


export = click.Command(
    "export",
    params=[
        click.Argument(["name"], metavar="CUSTOMER"),
        click.Option(["--to"], metavar="FILE", required=True, help="The ZIP file to write."),
        *shared_options(),
    ],
    callback=_export,
    help="All that is kept of a customer, in one ZIP file.",
)
