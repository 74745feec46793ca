"""`loomcard readings BIKE`: every reading of a bike over its visits, judged; as a list, a chart or JSON."""

from typing import Any

import click

from tracker.cli.build import merged, shared_options
from tracker.cli.output import say, say_json
from tracker.cli.readings_json import limit_record, reading_record
from tracker.desk.over_time import BikeReadings, Series, bike_readings
from tracker.papers.chart import trend_words
from tracker.papers.readings_text import charts_text, readings_text


def _readings(**given: Any) -> None:
    context = merged(click.get_current_context(), given)
    with context.desk() as desk:
        found = bike_readings(desk, given["bike"], given["kind"] or "")
    if context.as_json:
        say_json(readings_record(found))
    elif given["chart"]:
        say(charts_text(found))
    else:
        say(readings_text(found))


def readings_record(found: BikeReadings) -> dict[str, Any]:
    """A bike's readings and series for JSON."""
    return {
        "bike": {"id": found.bike.id, "name": found.bike.name, "registration": found.bike.registration},
        "readings": [
            {"on": point.on, "card": point.card, **reading_record(point.reading, point.verdict)}
            for point in found.points
        ],
        "series": [
            {
                "kind": one.kind,
                "place": one.place,
                "unit": one.unit,
                "points": [(point.on, point.reading.value, point.reading.phase) for point in one.points],
                "low": one.low,
                "high": one.high,
                "limits": [limit_record(limit) for limit in _limits(one)],
                "trend": one.trend,
                "words": "" if one.trend is None else trend_words(one.trend, one.unit),
            }
            for one in found.series
        ],
    }


def _limits(one: Series) -> list[Any]:
    return list(dict.fromkeys(point.verdict.limit for point in one.points if point.verdict.limit))


readings = click.Command(
    "readings",
    params=[
        click.Argument(["bike"], metavar="BIKE"),
        click.Option(["--kind"], metavar="KIND", help="Only these: regulated_volts, drain, ..."),
        click.Option(["--chart"], is_flag=True, help="Draw volts, drain and drops over the visits."),
        *shared_options(),
    ],
    callback=_readings,
    help="Every reading of a bike over its visits, each judged.",
)
