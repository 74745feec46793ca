"""A bike's readings over its visits: each judged, one kind at one place as a series, a slide flagged."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from tracker.desk.bikes import bike_named
from tracker.desk.charging import charging_bike
from tracker.desk.desk import Desk
from tracker.electrics.charging import judge_all
from tracker.electrics.taken import DROPS
from tracker.electrics.trend import LEAST_SCATTER, LEAST_SCATTER_DROP_V, Trend, trend
from tracker.errors import NotFoundError
from tracker.records.bike import Bike
from tracker.records.card import Card, Phase, Reading
from tracker.records.charging import ChargingBike
from tracker.records.limits import Limit, Verdict
from tracker.records.repair_rule import Rules
from tracker.records.text import fold
from tracker.records.work import Repair
from tracker.seedfiles.door import Seeds
from tracker.seedfiles.limits import load_limits
from tracker.seedfiles.readings import load_readings
from tracker.seedfiles.repairs import load_rules
from tracker.store.reader import Reader

SMALL = (*DROPS, "loaded_drop", "sense_drop")
CHARTED = ("regulated_volts", "regulated_volts_lamps", "idle_volts", "standing_volts", "drain", *SMALL)
"""Kinds that are drawn over time."""


@dataclass(frozen=True, slots=True)
class Point:
    """One reading in a series: on which day, on which card, its value, how it was judged."""

    on: date
    card: str
    reading: Reading
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Series:
    """One kind of reading at one place, the oldest first; `bounds` are the limits of the newest judged one.

    `low` and `high` are where good ends. `trend` is None where no slide can be told.
    """

    kind: str
    place: str
    words: str
    unit: str
    points: tuple[Point, ...]
    bounds: tuple[tuple[float, str], ...]
    low: float | None
    high: float | None
    trend: Trend | None


@dataclass(frozen=True, slots=True)
class BikeReadings:
    """A bike's readings, the newest first, and what of them can be drawn."""

    bike: Bike
    charging: ChargingBike
    points: tuple[Point, ...]
    series: tuple[Series, ...]


def bike_readings(desk: Desk, name: str, kind: str = "") -> BikeReadings:
    """The readings of a bike over all its cards, or those of one kind; raises NotFoundError."""
    seeds = desk.seeds
    kinds = load_readings(seeds)
    wanted = kind.strip().replace(" ", "_").replace("-", "_").casefold()
    if wanted and wanted not in kinds:
        raise NotFoundError(f"There is no reading “{kind[:60]}”.", f"One of: {', '.join(kinds)}.")

    def look(
        reader: Reader,
    ) -> tuple[Bike, ChargingBike, tuple[Card, ...], tuple[Reading, ...], tuple[Repair, ...]]:
        bike = bike_named(reader, name)
        cards = reader.all(Card, bike=bike.id)
        repairs = reader.all(Repair, card=tuple(card.id for card in cards))
        return bike, charging_bike(reader, bike), cards, reader.all(Reading, bike=bike.id), repairs

    bike, charging, cards, readings, repairs = desk.read(look)
    numbers = {card.id: card.number for card in cards}
    verdicts = _by_card(readings, charging, seeds)
    points = [
        Point(desk.clock.date_of(one.at), numbers.get(one.card, ""), one, verdicts[one.id])
        for one in sorted(readings, key=lambda one: (one.at, one.id))
        if not wanted or one.kind == wanted
    ]
    mended = _mended(repairs, load_rules(seeds))
    groups: dict[tuple[str, str], list[Point]] = {}
    for point in points:
        one = point.reading
        if one.kind in CHARTED and one.value is not None:
            groups.setdefault((one.kind, fold(f"{one.place} {one.side}")), []).append(point)
    order = list(CHARTED)
    series = tuple(
        _series(group, kinds[key[0]].words, mended)
        for key, group in sorted(groups.items(), key=lambda item: (order.index(item[0][0]), item[0][1]))
    )
    return BikeReadings(bike, charging, tuple(reversed(points)), series)


def _by_card(readings: Sequence[Reading], bike: ChargingBike, seeds: Seeds) -> dict[int, Verdict]:
    """Judged card by card, since a flat battery is one of its own visit."""
    limits = load_limits(seeds)
    cards: dict[int, list[Reading]] = {}
    for one in readings:
        cards.setdefault(one.card, []).append(one)
    return {
        number: verdict for own in cards.values() for number, verdict in judge_all(own, bike, limits).items()
    }


def _mended(repairs: Sequence[Repair], rules: Rules) -> Mapping[int, frozenset[str]]:
    """The kinds of reading that repairs on a card were to put right: a line does not run on over those."""
    found: dict[int, frozenset[str]] = {}
    for repair in repairs:
        rule = rules.get(repair.rule)
        if rule is not None and repair.done_at is not None and not repair.dropped:
            found[repair.card] = found.get(repair.card, frozenset()) | set(rule.proves)
    return found


def _series(group: Sequence[Point], words: str, mended: Mapping[int, frozenset[str]]) -> Series:
    first = group[0].reading
    limits = next((_limits(point.verdict) for point in reversed(group) if point.verdict.limit), ())
    low = max((b for one in limits for b in (one.fault_below, one.look_below) if b is not None), default=None)
    high = min(
        (b for one in limits for b in (one.look_above, one.fault_above) if b is not None), default=None
    )
    scatter = LEAST_SCATTER_DROP_V if first.kind in SMALL else LEAST_SCATTER.get(first.unit, 0.05)
    visits = [(point.on, point.reading.value or 0.0) for point in since_mended(group, mended)]
    return Series(
        kind=first.kind,
        place=first.place,
        words=words,
        unit=first.unit,
        points=tuple(group),
        bounds=_bounds(limits),
        low=low,
        high=high,
        trend=trend(visits, low=low, high=high, least_scatter=scatter),
    )


def since_mended(group: Sequence[Point], mended: Mapping[int, frozenset[str]]) -> list[Point]:
    """A point for each visit since the last repair that was to change it; only what could be judged.

    A visit is a day on a card, and counts by its last reading before any repair: as the bike came. Where a
    repair was to put this kind right, the line begins anew with the first reading after.
    """
    visits: dict[tuple[int, date], list[Point]] = {}
    for point in group:
        if point.verdict.limit is not None:
            visits.setdefault((point.reading.card, point.on), []).append(point)
    found: list[Point] = []
    begun: set[int] = set()
    for (card, _), points in visits.items():
        before = [point for point in points if point.reading.phase is Phase.BEFORE]
        after = [point for point in points if point.reading.phase is Phase.AFTER]
        if points[0].reading.kind not in mended.get(card, frozenset()):
            found += (before or after)[-1:]
            continue
        if after and card not in begun:
            begun.add(card)
            found = []
        found += (after or before)[-1:]
    return found


def _limits(verdict: Verdict) -> tuple[Limit, ...]:
    return verdict.asked or ((verdict.limit,) if verdict.limit else ())


def _bounds(limits: Sequence[Limit]) -> tuple[tuple[float, str], ...]:
    found: dict[float, str] = {}
    for one in limits:
        bounds = {"look": (one.look_below, one.look_above), "fault": (one.fault_below, one.fault_above)}
        for word, value in ((word, value) for word, both in bounds.items() for value in both):
            if value is not None:
                found[value] = word
    return tuple(sorted(found.items()))
