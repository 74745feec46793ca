"""`loomcard loom`: a bike's loom as a side view, with a circuit or a part lit and its repairs numbered."""

from typing import TYPE_CHECKING, Any

import click

from tracker.cli.context import Context
from tracker.cli.loom_drawn import DRAWN, HEIGHT, drawing_lines, sketch_of
from tracker.cli.output import say, say_json
from tracker.cli.views import view
from tracker.desk.desk import Desk
from tracker.desk.loom_picture import LoomPicture, loom_picture
from tracker.errors import NotFoundError, WrongUseError

if TYPE_CHECKING:
    from tracker.loom.lighting import Lit
    from tracker.records.drawing import Sketch


def _loom(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    picture = loom_picture(desk, given["bike"] or "")
    if given["svg"] or given["pdf"] or given["record"]:
        from tracker.cli.loom_files import record_or_files

        record_or_files(desk, context, picture, sketch_of(picture, lit_by(picture, given["lit"])), given)
        return
    show_picture(picture, context, given)


def _loom_shipped(context: Context, given: dict[str, Any]) -> None:
    from tracker.cli.loom_files import told, write_svg
    from tracker.loom.pattern import build
    from tracker.seedfiles.loom import load_pattern

    if given["bike"]:
        raise NotFoundError(f"There is no bike “{given['bike']}”: there is no file {context.path}.")
    picture = LoomPicture(build(load_pattern(), {}), None)
    if given["record"] or given["pdf"]:
        raise WrongUseError("A record is of one bike.", "loomcard loom BIKE --record")
    if given["svg"]:
        files = [write_svg(picture, sketch_of(picture, lit_by(picture, given["lit"])), given["svg"])]
        told(context, files, [])
        return
    show_picture(picture, context, given)


def show_picture(picture: LoomPicture, context: Context, given: dict[str, Any]) -> None:
    """The drawing in text, or all that is on it in JSON."""
    lit = lit_by(picture, given["lit"])
    sketch = sketch_of(picture, lit)
    if context.as_json:
        say_json(_record(picture, lit, sketch))
        return
    lines = drawing_lines(sketch, given["width"], given["height"], ascii_only=given["ascii"])
    bike = picture.bike
    head = [f"{bike.name}  {bike.registration}".rstrip()] if bike else ["The general pattern"]
    say("\n".join([*head, *lines, *_more(picture, lit, sketch)]))


def lit_by(picture: LoomPicture, name: str | None) -> "Lit":
    """What a name lights; nothing where none is given. Raises NotFoundError where nothing is called so."""
    from tracker.loom.lighting import NOTHING, light
    from tracker.loom.shares import sharing

    if not name:
        return NOTHING
    found = light(picture.loom, sharing(picture.loom), name)
    if found is None:
        raise NotFoundError(
            f"Nothing in the loom is called “{name}”.", "loomcard where --list names every part."
        )
    return found


def _more(picture: LoomPicture, lit: "Lit", sketch: "Sketch") -> list[str]:
    """Under the drawing: the way of the lit circuit in words, and the repairs by their numbers."""
    from tracker.loom.where import place_words
    from tracker.papers.twins import repair_line
    from tracker.papers.where_text import row

    lines: list[str] = []
    if lit.places:
        words = (place_words(picture.loom, place) for place in lit.places)
        lines += row("Way" if lit.circuit else "Places", [(" > " if lit.circuit else ", ").join(words)])
    said = []
    for one in picture.repairs:
        nowhere = " (its place is not on the drawing)" if one.number in sketch.nowhere else ""
        said.append(f"({one.number}) {one.card.number}: {repair_line(one.repair)}{nowhere}")
    lines += row("Repairs", said) if said else []
    return lines + (row("Unfinished", list(picture.unfinished)) if picture.unfinished else [])


def _record(picture: LoomPicture, lit: "Lit", sketch: "Sketch") -> dict[str, object]:
    shown: dict[str, object] = {"words": lit.words, "load": lit.load, "state": lit.state}
    shown |= {"places": lit.places, "wires": sorted(lit.wires), "devices": sorted(lit.devices)}
    zones = [
        {
            "id": zone.id,
            "words": zone.words,
            "station_mm": zone.station_mm,
            "spots": [
                {
                    "what": spot.key[0],
                    "id": spot.key[1],
                    "words": spot.words,
                    "kind": spot.kind,
                    "ways": spot.ways,
                    "lit": spot.lit,
                    "repairs": spot.repairs,
                }
                for spot in zone.spots
            ],
        }
        for zone in sketch.zones
    ]
    repairs = [
        {
            "number": one.number,
            "card": one.card.number,
            "repair": one.repair,
            "drawn": one.number not in sketch.nowhere,
        }
        for one in picture.repairs
    ]
    bike = {"id": picture.bike.id, "name": picture.bike.name} if picture.bike else None
    return {
        "bike": bike,
        "lit": shown if lit.words else None,
        "zones": zones,
        "runs": sketch.runs,
        "repairs": repairs,
        "unfinished": picture.unfinished,
    }


loom = view(
    "show",
    "A bike's loom from the side, front to the left: what sits where, a circuit lit, repairs numbered.",
    _loom,
    [
        click.Argument(["bike"], required=False, metavar="[BIKE]"),
        click.Option(["--lit"], metavar="NAME", help="Light the circuit of this load, or this part."),
        *DRAWN,
        HEIGHT,
        click.Option(["--record"], is_flag=True, help="The bike's loom record: drawing, repairs, readings."),
        click.Option(["--pdf"], metavar="FILE", help="Write that record as pages."),
        click.Option(["--svg"], metavar="FILE", help="Write the drawing as a picture."),
    ],
    without_file=_loom_shipped,
)
