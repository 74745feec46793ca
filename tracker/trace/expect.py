"""What a check gives under each row, from the network; and how likely a reading is then."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from tracker.loom.network_ports import bands
from tracker.records.loom import End
from tracker.records.trace import TraceReading
from tracker.trace.bench import SOUND, Bench, Row, View
from tracker.trace.check import Check
from tracker.trace.said import spoken

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
APART: Final = 2.5
"""Two expected numbers are told apart by a meter when so many spreads lie between them."""

SHORTS: Final = frozenset({"to frame", "shorted"})
"""Faults that blow a fuse."""

METER_RANGE: Final = 15.0
"""A misreading may be anything up to this."""


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
    unsteady = set(view.oscillating)
    for number, row in enumerate(rows):
        if number in unsteady:
            spread[number] = MOST_SPREAD
        elif any(one.fault == "weak" for one in row.theory):
            spread[number] += WEAK_SPREAD * abs(float(values[number]) - sound)
    return np.minimum(spread, MOST_SPREAD * max(size, 0.5))


def words(bench: Bench, check: Check, rows: Rows) -> list[str]:
    """The outcome of a check without a meter for each row."""
    return _WORDS[check.kind](bench, check, rows)


def outcomes(bench: Bench, check: Check, rows: Rows) -> tuple[int, ...]:
    """The outcome classes of a check, one a row, numbered from 0; numbers too near each other are one."""
    if check.metered:
        return _grouped(bench, check, rows)
    said = words(bench, check, plainly(bench, check, rows))
    order = sorted(set(said))
    return tuple(order.index(word) for word in said)


def _grouped(bench: Bench, check: Check, rows: Rows) -> tuple[int, ...]:
    values = numbers(bench, check, rows).tolist()
    scale = scale_of(check)
    size = bench.loom.volts / 12
    order = sorted(range(len(values)), key=values.__getitem__)
    group = [0] * len(values)
    now = 0
    for before, here in pairwise(order):
        spread = LEAST_SPREAD[scale] * size + SPREAD[scale] * abs(values[here])
        if values[here] - values[before] > APART * spread:
            now += 1
        group[here] = now
    return tuple(group)


def likelihood(bench: Bench, check: Check, reading: TraceReading, rows: Rows, scale: float = 1.0) -> "Floats":
    """How likely a reading is for each row; near 1 where it is what was expected.

    `scale` is the battery's volts as read over those supposed: a meter reads in their proportion.
    """
    import numpy as np

    if check.metered and reading.value is not None:
        values = numbers(bench, check, rows)
        spread = spreads(bench, check, rows, values)
        least = LEAST_SPREAD[scale_of(check)] * bench.loom.volts / 12
        off = (reading.value - _scaled(rows, values, scale)) / spread
        fits: Floats = np.exp(-0.5 * off**2) * least / spread
        fits = np.maximum(fits, np.exp(-0.5 * off**2) * 0.16)
        return (1 - check.misread) * fits + check.misread * 2.5 * least / METER_RANGE
    if check.kind in {"see", "bridge a switch", "unplug", "earth the lead"} and reading.outcome in SEEN:
        return _seen(bench, check, reading.outcome, rows)
    said = words(bench, check, rows)
    kinds = max(2, len(set(said) | {reading.outcome}))
    other = check.misread / (kinds - 1)
    return np.array([1 - check.misread if word == reading.outcome else other for word in said])


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


def acted(bench: Bench, check: Check, rows: Sequence[Row]) -> Rows:
    """The rows with what the check does to the loom; a lamp stands in for a fuse that blew."""
    hunting = check.kind == "unplug" and bench.loom.devices[check.load].kind == "fuse"
    act = {
        "bridge a switch": f"bridge {check.part}",
        "unplug": f"lamp {check.load};part {check.part}" if hunting else f"part {check.part}",
        "earth the lead": f"earth {check.place}",
        "lamp for the fuse": f"lamp {check.part}",
    }.get(check.kind, "")
    if not act:
        return tuple(rows)
    if check.kind == "lamp for the fuse" or hunting:
        fuse = check.load if hunting else check.part
        return tuple(replace(row, act=act, blown=row.blown - {fuse}) for row in rows)
    return tuple(replace(row, act=act) for row in rows)


def plainly(bench: Bench, check: Check, rows: Rows) -> Rows:
    """The rows as a hunt for a short is planned: what blows nothing does there as a sound loom does.

    Only the plan takes it so, which saves a sum for every plug and suspect; a reading is weighed exactly.
    """
    if check.kind != "unplug" or bench.loom.devices[check.load].kind != "fuse":
        return rows
    return tuple(row if any(one.fault in SHORTS for one in row.theory) else SOUND for row in rows)


def _load_words(bench: Bench, check: Check, rows: Rows) -> list[str]:
    if bench.loom.devices[check.load].kind == "fuse":
        return _lamp(bench, check, rows)
    view = bench.view(check.state, acted(bench, check, rows))
    device = bench.loom.devices[check.load]
    low, high = bands(device, view.net.share(check.load))
    found = [
        "works" if share >= high else "weak" if share >= low else "dead"
        for share in view.share(check.load).tolist()
    ]
    for number in view.oscillating:
        found[number] = "weak" if found[number] == "works" else found[number]
    return found


def _clicks(bench: Bench, check: Check, rows: Rows) -> list[str]:
    view = bench.view(check.state, rows)
    device = bench.loom.devices[check.load]
    found = ["clicks" if s >= device.works_from else "silent" for s in view.share(check.load).tolist()]
    for number in view.oscillating:
        found[number] = "chatters"
    return found


def _fuse(bench: Bench, check: Check, rows: Rows) -> list[str]:
    view = bench.view(check.state, rows)
    blown = ("device", check.part)
    return [
        "blown"
        if check.part in row.blown | now
        or any(one.part == blown and one.fault == "blown" for one in row.theory)
        else "whole"
        for row, now in zip(rows, view.blows, strict=True)
    ]


def _bulb(_: Bench, check: Check, rows: Rows) -> list[str]:
    return [
        "broken"
        if any(one.part == ("device", check.part) and one.fault == "bulb" for one in row.theory)
        else "whole"
        for row in rows
    ]


def _plug(bench: Bench, check: Check, rows: Rows) -> list[str]:
    ways = {place.id for place in bench.loom.places.values() if place.body == check.part} | {check.part}
    return [
        "bad"
        if any(
            one.part[0] == "place" and one.part[1] in ways and one.fault in {"weak", "open"}
            for one in row.theory
        )
        else "good"
        for row in rows
    ]


def _swapped(bench: Bench, check: Check, rows: Rows) -> list[str]:
    devices = bench.loom.devices
    new = {one.id for one in devices.values() if check.part in {one.id, one.body}}
    return [
        "cured"
        if row.theory and all(one.part[0] == "device" and one.part[1] in new for one in row.theory)
        else "no change"
        for row in rows
    ]


def _lamp(bench: Bench, check: Check, rows: Rows) -> list[str]:
    view = bench.view(check.state, acted(bench, check, rows))
    fuse = bench.loom.devices[check.load or check.part]
    supply = max(abs(bench.loom.volts), 1.0)
    import numpy as np

    part = np.abs(view.volts(fuse.a) - view.volts(fuse.b)) / supply
    return ["bright" if one > 0.85 else "dim" if one > 0.08 else "dark" for one in part.tolist()]


def _wiggled(bench: Bench, check: Check, rows: Rows) -> list[str]:
    from tracker.trace.parts import zones_of

    moves = {"open", "weak", "stuck open", "stuck closed", "to frame"}
    return [
        "changes"
        if any(one.fault in moves and check.part in zones_of(bench.loom, one) for one in row.theory)
        else "steady"
        for row in rows
    ]


_WORDS: Final[dict[str, Callable[[Bench, Check, Rows], list[str]]]] = {
    "see": _load_words,
    "bridge a switch": _load_words,
    "unplug": _load_words,
    "earth the lead": _load_words,
    "click": _clicks,
    "look at a fuse": _fuse,
    "look at a bulb": _bulb,
    "look at a plug": _plug,
    "swap a bulb": _swapped,
    "swap a relay": _swapped,
    "lamp for the fuse": _lamp,
    "wiggle": _wiggled,
}
