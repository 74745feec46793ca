"""What is seen at a check without a meter, under each row: the word of its outcome, from the network."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final, TypeAlias

from tracker.loom.network_ports import bands
from tracker.records.trace import CheckWord
from tracker.trace.bench import SOUND, Bench, Row
from tracker.trace.check import Check
from tracker.trace.cutoff import still_fed
from tracker.trace.parts import zones_of

Rows: TypeAlias = tuple[Row, ...]

SHORTS: Final = frozenset({"to frame", "shorted"})
"""Faults that blow a fuse."""


def words(bench: Bench, check: Check, rows: Rows) -> list[str]:
    """The outcome of a check without a meter for each row."""
    return _WORDS[check.kind](bench, check, rows)


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
        return tuple(row if row.act else replace(row, act=act, blown=row.blown - {fuse}) for row in rows)
    if check.kind == "bridge a switch" and _closed(bench, check):
        return tuple(replace(row, act=act) if _touches(row, check.part) else row for row in rows)
    return tuple(replace(row, act=act) for row in rows)


def _closed(bench: Bench, check: Check) -> bool:
    """Whether a switch is closed by hand in the check's state: bridged it carries no more, if it is whole."""
    device = bench.loom.devices[check.part]
    return device.kind == "switch" and bool(bench.net(check.state).elements.get(("device", device.id)))


def _touches(row: Row, part: str) -> bool:
    return any(one.part[1] == part for one in row.theory)


def plainly(bench: Bench, check: Check, rows: Rows) -> Rows:
    """The rows as a hunt for a short is planned: what does not blow this fuse does as a sound loom does.

    Only the plan takes it so, which saves a sum for every plug and suspect; a reading is weighed exactly.
    """
    hunting = check.kind == "unplug" and bench.loom.devices[check.load].kind == "fuse"
    if not hunting and check.kind != "lamp for the fuse":
        return rows
    fuse = check.load if hunting else check.part
    blows = bench.view(check.state, rows).blows
    short = [
        fuse in row.blown | now and any(one.fault in SHORTS for one in row.theory)
        for row, now in zip(rows, blows, strict=True)
    ]
    if not hunting:
        return tuple(row if one else SOUND for row, one in zip(rows, short, strict=True))
    return tuple(_hunted(bench, check, row) if one else SOUND for row, one in zip(rows, short, strict=True))


def _hunted(bench: Bench, check: Check, row: Row) -> Row:
    """A short as the lamp in its fuse's place shows it: as with nothing parted while it still hangs on it."""
    fed = still_fed(bench, check.state, check.load, check.part, row)
    if fed is None:
        return row
    return Row(row.theory, row.poorer, row.blown - {check.load}, f"lamp {check.load}") if fed else SOUND


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
    moves = {"open", "weak", "stuck open", "stuck closed", "to frame"}
    return [
        "changes"
        if any(one.fault in moves and check.part in zones_of(bench.loom, one) for one in row.theory)
        else "steady"
        for row in rows
    ]


_WORDS: Final[dict[CheckWord, Callable[[Bench, Check, Rows], list[str]]]] = {
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
