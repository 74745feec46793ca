"""A whole card worked out: looking, repairs, what comes off once, the bench minimum, and the range."""

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field, replace

from tracker.estimating.materials import merged_parts, merged_wire
from tracker.estimating.openings import Wanted, access_lines, wanted_by
from tracker.estimating.openings import notes as access_notes
from tracker.estimating.rule import NO_FACTOR, estimate_repair
from tracker.estimating.sizing import Sizes
from tracker.estimating.spread import CORRELATION, band, certain, total, whole
from tracker.loom.access import Reachable
from tracker.records.document import LineKind
from tracker.records.estimating import Asked, Band, EstimateResult, Factor, Minutes, TimeLine


@dataclass(frozen=True, slots=True, kw_only=True)
class CardAsked:
    """What a card's estimate is made of.

    `looked_min` is time already spent looking; `also` what else has to be opened (checks, parts to be
    tried). `already_off` stands open on the visit `visit_now`; `was_off` came off on one before, with when
    that was in words. `factors` are by rule, only those the shop uses; `unseen` is for rules that no past
    card tells of; `zones` go on top of them. `pairs` of past repairs told the correlation, 0 for the usual.
    """

    repairs: Sequence[Asked] = ()
    looked_min: int = 0
    also: Sequence[Wanted] = ()
    already_off: AbstractSet[str] = frozenset()
    visit_now: int = 1
    was_off: Mapping[str, str] = field(default_factory=dict)
    factors: Mapping[str, Factor] | None = None
    unseen: Factor = NO_FACTOR
    bench_minimum_min: int = 0
    correlation: float = CORRELATION
    pairs: int = 0
    zones: Mapping[str, Factor] = field(default_factory=dict)


def estimate_card(asked: CardAsked, reachable: Reachable, sizes: Sizes) -> EstimateResult:
    """The card's minutes, wire and parts, each line with its sum in words; see `spread` for the range.

    Lines come as looking, what comes off, repairs in the order given, bench minimum. Totals are the sums of
    the lines' whole minutes, each held up to the bench minimum.
    """
    factors = asked.factors or {}
    repairs = tuple(
        estimate_repair(
            one,
            sizes,
            factors.get(one.rule.id, asked.unseen).on_top(asked.zones.get(one.where.spot, NO_FACTOR)),
        )
        for one in asked.repairs
    )
    wanted = (*(wanted_by(repair) for repair in repairs), *asked.also)
    lines = (
        *_looked(asked.looked_min),
        *access_lines(reachable, wanted, asked.already_off, asked.visit_now, asked.was_off),
        *(repair.time for repair in repairs),
    )
    worked = total(line.minutes for line in lines)
    apart = band(
        [line.spread for line in lines], asked.correlation, [line.log_sd for line in lines], asked.pairs
    )
    range_ = _around(apart, worked)
    minimum = asked.bench_minimum_min if lines else 0
    return EstimateResult(
        repairs=repairs,
        lines=(*lines, *_made_up(worked, minimum)),
        minutes=_at_least(worked, minimum),
        band=replace(range_, low=max(range_.low, minimum), high=max(range_.high, minimum)),
        wire=merged_wire(need for repair in repairs for need in repair.wire),
        parts=merged_parts(need for repair in repairs for need in repair.parts),
        proves=_once(name for repair in repairs for name in repair.asked.rule.proves),
        rechecks=_once(repair.asked.rule.recheck for repair in repairs),
        cautions=_once(words for repair in repairs for words in repair.asked.rule.cautions),
        notes=_once(
            (*(note for repair in repairs for note in repair.notes), *access_notes(reachable, wanted))
        ),
    )


def _looked(minutes: int) -> tuple[TimeLine, ...]:
    if not minutes:
        return ()
    spread = certain(minutes)
    line = TimeLine(
        kind=LineKind.DIAGNOSIS, words="Looking for the fault", spread=spread, minutes=whole(spread),
        book=whole(spread), why=f"{minutes} min spent or agreed.",
    )  # fmt: skip
    return (line,)


def _made_up(worked: Minutes, minimum: int) -> tuple[TimeLine, ...]:
    """The line that makes a small job up to the bench minimum, by what is expected of it."""
    short = max(0, minimum - worked.expected)
    if not short:
        return ()
    spread = certain(short)
    line = TimeLine(
        kind=LineKind.LABOUR, words="Made up to the bench minimum", spread=spread, minutes=whole(spread),
        book=whole(spread), why=f"The bench minimum is {minimum} min; {worked.expected} min are expected.",
    )  # fmt: skip
    return (line,)


def _at_least(minutes: Minutes, minimum: int) -> Minutes:
    return Minutes(
        max(minutes.least, minimum),
        max(minutes.likely, minimum),
        max(minutes.most, minimum),
        max(minutes.expected, minimum),
    )


def _around(range_: Band, minutes: Minutes) -> Band:
    """The band with the expected minutes in it: those are sums of rounded lines, the band is not."""
    return replace(range_, low=min(range_.low, minutes.expected), high=max(range_.high, minutes.expected))


def _once(items: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(item for item in items if item))
