"""`loomcard readings BIKE`: every reading of a bike over its visits, judged; as a list, a chart or JSON."""

from typing import Any

import click

from tracker.cli.build import merged, shared_options
from tracker.cli.output import say, say_json
from tracker.cli.readings_json import limit_record, reading_record
from tracker.desk.over_time import BikeReadings, Point, Series, bike_readings
from tracker.papers.charging_text import WIDTH, judged_short
from tracker.papers.chart import Line, Mark, chart, trend_words
from tracker.papers.readings import how, with_unit
from tracker.papers.say import day, plain_name
from tracker.records.card import Phase
from tracker.records.width import wrap


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


def readings_text(found: BikeReadings) -> str:
    """The newest first, each with how it was taken and judged; slides last."""
    head = f"{found.bike.name}  {found.bike.registration}".rstrip()
    if not found.points:
        return f"{head}\nNothing was read yet."
    lines = [head]
    for point in found.points:
        lines += _hung(_line(point))
    return "\n".join([*lines, *_slides(found)])


def _line(point: Point) -> str:
    one = point.reading
    place = f" at {one.place}" if one.place else ""
    said = how(one)
    return (
        f"{day(point.on)}  {point.card}  {one.phase}: {plain_name(one.kind)} {with_unit(one)}{place},"
        f" {judged_short(point.verdict)}" + (f" ({said})" if said else "")
    )


def charts_text(found: BikeReadings) -> str:
    """Charts of what is drawn over time, limits and slides with them."""
    head = f"{found.bike.name}  {found.bike.registration}".rstrip()
    if not found.series:
        return f"{head}\nNothing that is drawn over time was read yet."
    drawn = [series_chart(one) for one in found.series if _days(one) > 1]
    single = [_line(point) for one in found.series if _days(one) == 1 for point in one.points]
    once = ["\n".join(["Read on one day only:", *(part for line in single for part in _hung(line))])]
    return "\n\n".join([head, *drawn, *(once if single else [])])


def _days(one: Series) -> int:
    return len({point.on for point in one.points})


def series_chart(one: Series) -> str:
    """One series as a chart, and its slide if it has one."""
    title = one.words + (f", {one.place}" if one.place else "")
    marks = [
        Mark(point.on, point.reading.value, point.reading.phase is Phase.AFTER)
        for point in one.points
        if point.reading.value is not None
    ]
    lines = [chart(title, one.unit, marks, [Line(value, word) for value, word in one.bounds])]
    if not one.bounds:
        lines.append("No limits for this.")
    if one.trend is not None:
        lines += _hung(f"! {trend_words(one.trend, one.unit)}")
    return "\n".join(lines)


def _slides(found: BikeReadings) -> list[str]:
    lines = []
    for one in found.series:
        if one.trend is not None:
            place = f", {one.place}" if one.place else ""
            lines += _hung(f"! {one.words}{place}: {trend_words(one.trend, one.unit)}")
    return lines


def _hung(words: str) -> list[str]:
    first, *rest = wrap(words, WIDTH - 2)
    return [first, *(f"  {part}" for part in rest)]


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
