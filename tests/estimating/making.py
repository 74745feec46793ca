"""What the tests of estimates start from: shipped rules and tables, a bike that comes apart, a parts list."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from tracker.estimating.answers import answers
from tracker.estimating.card_total import CardAsked, estimate_card
from tracker.estimating.table_sizes import TableSizes
from tracker.loom.access import Reachable
from tracker.records.estimating import Asked, EstimateResult, Where
from tracker.records.loom_pattern import Access
from tracker.records.repair_rule import Answers
from tracker.records.stock import Part
from tracker.seedfiles.repairs import rule
from tracker.seedfiles.tables import electric_tables

SIZES = TableSizes(electric_tables())
D = Decimal


def access(name: str, minutes: int, *needs: str) -> Access:
    """Something that comes off."""
    return Access(
        id=name, words=name, minutes=minutes, needs=needs, status="common practice", source="no source"
    )


BIKE = Reachable(
    off={
        "under-tank": ("tank",),
        "seat": ("seat",),
        "battery": ("battery cover",),
        "headlamp": ("headlamp",),
        "left-engine": (),
    },
    accesses={
        one.id: one
        for one in (
            access("seat", 3),
            access("tank", 20, "seat"),
            access("battery cover", 4, "seat"),
            access("headlamp", 8),
        )
    },
)
"""A bike on which four things come off, two of them under the seat."""


def asked_with(
    name: str, given: Mapping[str, str], spot: str = "", visit: int = 1, repair: int | None = None
) -> Asked:
    """One repair of the shipped rule `name` at a zone, its answers as they are typed."""
    one = rule(name)
    read = answers(one, given)
    assert isinstance(read, Answers), read
    where = Where(spot=spot, ends=(spot,) if spot else ())
    return Asked(rule=one, answers=read, where=where, visit=visit, repair=repair)


def asked(name: str, spot: str = "", **given: str) -> Asked:
    """The same on the first visit, answers by name."""
    return asked_with(name, given, spot)


def card(*repairs: Asked, bike: Reachable = BIKE, minimum: int = 0) -> EstimateResult:
    """A card of those repairs."""
    return estimate_card(CardAsked(repairs=repairs, bench_minimum_min=minimum), bike, SIZES)


def part(number: int, code: str, price: str, unit: str = "piece") -> Part:
    """A row of the shop's list."""
    return Part(id=number, code=code, name=code.lower(), unit=unit, price=D(price))


PARTS: Sequence[Part] = (
    part(1, "BUTT-red", "0.40"),
    part(2, "SHRINK3-4.8/1.5", "6.00", "m"),
    part(3, "WIRE-0.75", "1.20", "m"),
    part(4, "WIRE-0.75-green/black", "1.50", "m"),
    part(5, "TAPE-19", "4.50", "25 m"),
    part(6, "TERM-plug socket-0.75", "0.35"),
)
