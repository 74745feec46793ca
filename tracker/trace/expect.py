"""What a check gives under each row, from the network; and how likely a reading is then."""

from itertools import pairwise
from typing import TYPE_CHECKING, Final

from tracker.records.loom import End
from tracker.records.trace import TraceReading
from tracker.trace.bench import SOUND, Bench, Row, View
from tracker.trace.check import Check
from tracker.trace.said import spoken
from tracker.trace.shown import acted, plainly, words

if TYPE_CHECKING:
    from tracker.loom.network_table import Floats

Rows = tuple[Row, ...]

LEAST_SPREAD: Final = {"volts": 0.15, "drop": 0.08, "mV": 0.3}
"""How far readings stray from the sum at no volts: lengths, temperature, the meter (no source)."""

SPREAD: Final = {"volts": 0.02, "drop": 0.1, "mV": 0.2}
"""And by how much of the volts more."""

WEAK_SPREAD: Final = 0.35
"""Ohms of a poor joint are a guess: what it moves strays by so much of the move."""

MOST_SPREAD: Final = 1.2
UNSTEADY_SPREAD: Final = 4.0
"""Volts while a relay chatters jump between those with it in and those with it out: a meter tells next to
nothing (no source)."""

APART: Final = 2.5
"""Two expected numbers are told apart by a meter when so many of their mean spreads lie between them."""

NARROW: Final = 0.16
"""However wide a row leaves what is read, a number that fits it counts for so much (no source)."""

METER_RANGE: Final = 15.0
"""A misreading may be anything up to this."""

LIKE_ANOTHER: Final = 0.25
"""But mostly it is what the meter shows elsewhere, or with the switch not held: a number that something else
would give counts for so much of a misreading (no source)."""


def scale_of(check: Check) -> str:
    """Which spread holds for a metered check."""
    return {"drop": "drop", "drop across a fuse": "mV"}.get(check.kind, "volts")


def numbers(bench: Bench, check: Check, rows: Rows) -> "Floats":
    """The volts (mV across a fuse) that a metered check reads for each row."""
    import numpy as np

    view = bench.view(check.state, rows)
    if check.kind == "AC volts":
        return _ac(view, check)
    if check.kind == "drop across a fuse":
        fuse = bench.loom.devices[check.part]
        ohm = max(0.01 if fuse.ohm is None else fuse.ohm, 1e-6)
        return view.amps(fuse) * ohm * 1000.0
    here = view.volts(check.place)
    if check.against:
        there: Floats = np.abs(here - view.volts(check.against))
        return there
    return np.abs(here) if view.net.reads_ac else here


def _ac(view: View, check: Check) -> "Floats":
    """AC volts between two places, rms, over the copies that carry them."""
    import numpy as np

    total = np.zeros(len(view.rows))
    red, black = End.of(check.place), End.of(check.against)
    for copy in ac_copies(view, check.place, check.against):
        total = total + (view.aside(red, copy) - view.aside(black, copy)) ** 2
    return np.sqrt(total)


def ac_copies(view: View, red: str, black: str) -> list[int]:
    """The numbers of the AC copies of the network that have both places."""
    ends = End.of(red), End.of(black)
    return [
        number
        for number, copy in enumerate(view.net.copies)
        if number and copy.flow == "AC" and all(end in copy.nodes for end in ends)
    ]


def spreads(bench: Bench, check: Check, rows: Rows, values: "Floats") -> "Floats":
    """How far a reading may be from what is expected, for each row, as a standard deviation."""
    import numpy as np

    scale = scale_of(check)
    size = bench.loom.volts / 12
    spread = LEAST_SPREAD[scale] * size + SPREAD[scale] * np.abs(values)
    if scale == "mV":
        return spread
    sound = float(numbers(bench, check, (SOUND,))[0])
    view = bench.view(check.state, rows)
    for number, row in enumerate(rows):
        if any(one.fault == "weak" for one in row.theory):
            spread[number] += WEAK_SPREAD * abs(float(values[number]) - sound)
    spread = np.minimum(spread, MOST_SPREAD * max(size, 0.5))
    spread[view.oscillating] = UNSTEADY_SPREAD * size
    return spread


def outcomes(bench: Bench, check: Check, rows: Rows) -> tuple[int, ...]:
    """The outcome classes of a check, one a row, numbered from 0; numbers too near each other are one."""
    if check.metered:
        return _grouped(bench, check, rows)
    said = words(bench, check, plainly(bench, check, rows))
    if check.kind in WATCHED and bench.loom.devices[check.load].kind != "fuse":
        said = _told_apart(bench, check, rows, said)
    order = sorted(set(said))
    return tuple(order.index(word) for word in said)


WATCHED: Final = frozenset({"see", "bridge a switch", "unplug", "earth the lead"})
"""Checks by what a load is seen to do."""

EITHER: Final = 0.15
"""A person may as well say another word of what is said of it with such a likelihood."""


def _told_apart(bench: Bench, check: Check, rows: Rows, said: list[str]) -> list[str]:
    """The words, two of them made one where half of the rows of the rarer could be told as either.

    Near the edge between weak and working two people say different things: a plan that counts on it promises
    too much.
    """
    view = bench.view(check.state, acted(bench, check, rows))
    device = bench.loom.devices[check.load]
    likely = spoken(device, view.share(check.load), view.net.share(check.load))
    for one, other in (("weak", "works"), ("dead", "weak")):
        mine, theirs = said.count(one), said.count(other)
        either = sum(
            1
            for number, word in enumerate(said)
            if word in {one, other} and min(likely[one][number], likely[other][number]) >= EITHER
        )
        if mine and theirs and 2 * either >= min(mine, theirs):
            said = [other if word == one else word for word in said]
    return said


def _grouped(bench: Bench, check: Check, rows: Rows) -> tuple[int, ...]:
    found = numbers(bench, check, rows)
    values, spread = found.tolist(), spreads(bench, check, rows, found).tolist()
    order = sorted(range(len(values)), key=values.__getitem__)
    group = [0] * len(values)
    now = 0
    for before, here in pairwise(order):
        if values[here] - values[before] > APART * (spread[here] + spread[before]) / 2:
            now += 1
        group[here] = now
    return tuple(group)


def likelihood(
    bench: Bench, check: Check, reading: TraceReading, rows: Rows, scale: float = 1.0
) -> "tuple[Floats, Floats]":
    """How likely a reading is for each row, and how well it fits what the row would give: 1 where it is that.

    The two differ for numbers: where a row leaves wide what is read, any one number is less likely, and may
    fit as well. `scale` is the battery's volts as read over those supposed: a meter reads in proportion.
    """
    import numpy as np

    if check.metered and reading.value is not None:
        values = numbers(bench, check, rows)
        spread = spreads(bench, check, rows, values)
        least = LEAST_SPREAD[scale_of(check)] * bench.loom.volts / 12
        off = (reading.value - _scaled(rows, values, scale)) / spread
        fits: Floats = np.exp(-0.5 * off**2)
        likely = fits * np.maximum(least / spread, NARROW)
        astray = max(2.5 * least / METER_RANGE, LIKE_ANOTHER * float(fits.max(initial=0.0)))
        return (1 - check.misread) * likely + check.misread * astray, fits
    if check.kind in WATCHED and reading.outcome in SEEN:
        seen = _seen(bench, check, reading.outcome, rows)
        return seen, seen
    said = words(bench, check, rows)
    kinds = max(2, len(set(said) | {reading.outcome}))
    other = check.misread / (kinds - 1)
    told = np.array([1 - check.misread if word == reading.outcome else other for word in said])
    return told, told


def _scaled(rows: Rows, values: "Floats", scale: float) -> "Floats":
    """By the battery's volts as read, but where the battery itself is what is wrong."""
    import numpy as np

    flat = np.array([any(one.fault == "flat" for one in row.theory) for row in rows])
    scaled: Floats = np.where(flat, values, values * scale)
    return scaled


SEEN: Final = ("dead", "weak", "works")


def _seen(bench: Bench, check: Check, outcome: str, rows: Rows) -> "Floats":
    view = bench.view(check.state, acted(bench, check, rows))
    device = bench.loom.devices[check.load]
    return spoken(device, view.share(check.load), view.net.share(check.load))[outcome]
