"""The drawing of a loom to a picture file; a bike's loom record as text or pages."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from tracker.cli.context import Context
from tracker.cli.output import say, say_json
from tracker.cli.printing import missing_words, write_file
from tracker.desk.desk import Desk
from tracker.desk.loom_picture import LoomPicture
from tracker.errors import WrongUseError
from tracker.papers.gather import bike_record
from tracker.papers.loom_svg import loom_svg
from tracker.papers.plain import plain
from tracker.papers.printed import printed
from tracker.papers.tongue import speaking
from tracker.records.drawing import Sketch


def record_or_files(
    desk: Desk, context: Context, picture: LoomPicture, sketch: Sketch, given: Mapping[str, Any]
) -> None:
    """Writes what was asked for; the record to the terminal where no file is named."""
    files, notes = [], []
    if given["svg"]:
        with speaking(desk.shop.language):
            files.append(write_svg(picture, sketch, given["svg"]))
    if given["pdf"] or given["record"]:
        if picture.bike is None:
            raise WrongUseError("A record is of one bike.", "loomcard loom BIKE --record")
        paper = bike_record(desk, str(picture.bike.id), sketch)
        if given["pdf"]:
            made, said = printed(desk, paper)
            path = Path(given["pdf"]).expanduser()
            write_file(path, made.content)
            files.append(path)
            notes += [*said, *missing_words(made.missing)]
        elif context.as_json:
            say_json({"paper": paper, "text": plain(paper)})
            return
        else:
            say(plain(paper))
    if files:
        told(context, files, notes)


def write_svg(picture: LoomPicture, sketch: Sketch, name: str) -> Path:
    """The drawing as a picture; its path."""
    path = Path(name).expanduser()
    title = picture.bike.name if picture.bike else "The general pattern"
    write_file(path, loom_svg(sketch, title).encode())
    return path


def told(context: Context, files: Sequence[Path], notes: Sequence[str]) -> None:
    """Says what was written."""
    if context.as_json:
        say_json({"files": [str(path) for path in files], "notes": notes})
        return
    say("\n".join([*(f"written: {path}" for path in files), *notes]))
