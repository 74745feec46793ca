"""A bike's readings over its visits in plain text: as a list, and as charts with limits and slides."""

from tracker.desk.over_time import BikeReadings, Point, Series
from tracker.papers.charging_text import WIDTH, judged_short
from tracker.papers.chart import Line, Mark, chart, trend_words
from tracker.papers.readings import how, with_unit
from tracker.papers.say import day, plain_name
from tracker.records.card import Phase
from tracker.records.width import wrap


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
