"""How likely it is that a person says what was said, if a row were true: one number a row for each mark.

What a person calls dead, weak or works follows the load's share of its wanted volts; near the edges two
people say different things. So “works” clears only what the load proves: a lamp that glows through others
is far from dead in the network as well.
"""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Final, TypeAlias

from tracker.loom.network_ports import bands
from tracker.records.card import SymptomKind
from tracker.records.loom import Device
from tracker.records.trace import Mark
from tracker.trace.bench import Bench, Row, View
from tracker.trace.flash import flash_rates

if TYPE_CHECKING:
    from tracker.loom.network_table import Floats

MISREAD: Final = 0.03
"""How often a person sees or says the wrong thing (the trace's default, no source)."""

DRAIN_A: Final = 0.05
"""Amps out of a standing battery that flatten it within weeks (common practice, no source)."""

TOO_BRIGHT: Final = 1.15
"""Of its rated volts a bulb that gets more does not last (common practice, no source)."""

GLOWS: Final = 0.15
"""A filament glows a dull red from this part of its volts on (common practice, no source)."""

WRONG: Final = frozenset(SymptomKind) - {SymptomKind.WORKS}
"""What brings a bike in: a theory has to explain at least one of these."""

Rows: TypeAlias = tuple[Row, ...]


def likelihood(bench: Bench, mark: Mark, rows: Rows) -> "Floats":
    """The probability of a mark for each row; between 0 and 1."""
    return _SAID.get(mark.symptom, _plain)(bench, mark, rows)


def states_of(bench: Bench, mark: Mark) -> tuple[str, ...]:
    """The states in which a mark has to be looked at, the telling one first; none if the loom has no such."""
    device = bench.loom.devices.get(mark.load)
    if device is None:
        return ()
    if mark.state:
        return (mark.state,) if mark.state in bench.states else ()
    match mark.symptom:
        case SymptomKind.WONT_GO_OFF:
            resting = [name for name in device.rests if name in bench.states]
            return tuple(sorted(resting, key=lambda name: name == "off")[:2])
        case SymptomKind.COMES_ON_WITH:
            other = bench.loom.devices.get(mark.other)
            known = [name for name in (other.works if other else ()) if name in bench.states]
            return tuple(name for name in known if name not in device.works)[:1]
        case SymptomKind.FLAT_PARKED:
            return tuple(name for name in ("off", "riding") if name in bench.states)
        case SymptomKind.BULBS_BLOW:
            running = [name for name in ("riding", "idle") if name in bench.states]
            return tuple(running[:1])
        case _:
            known = [name for name in device.works if name in bench.states]
            return tuple(known[:1])


def spoken(device: Device, share: "Floats", sound: float) -> "dict[str, Floats]":
    """How likely a person is to call a load dead, weak or working, by its share of its wanted volts."""
    import numpy as np

    low, high = bands(device, sound)
    fades = high > low
    in_band = np.clip((share - low) / max(high - low, 1e-9), 0.0, 1.0)
    half = MISREAD / 2
    dead = np.where(share < low, 1 - MISREAD, half)
    weak = np.full(len(share), half)
    if fades:
        band = (share >= low) & (share < high)
        dead = np.where(band, 0.02 + 0.33 * (1 - in_band) ** 2, dead)
        works = np.where(band, 0.05 + 0.4 * in_band**2, half)
        near = (share >= high) & (share < 1.06 * high)
        gone = (share < low) & (share > 0.7 * low)
        weak = np.where(band, 1 - dead - works, np.where(near | gone, 0.2, weak))
        dead = np.where(gone, 0.785, dead)
        works = np.where(share >= high, np.where(near, 0.785, 1 - MISREAD), works)
    else:
        works = np.where(share >= low, 1 - MISREAD, half)
    return {"dead": dead, "weak": weak, "works": works}


def _plain(bench: Bench, mark: Mark, rows: Rows) -> "Floats":
    """Dead, weak, works, comes and goes."""
    import numpy as np

    states = states_of(bench, mark)
    if not states:
        return np.full(len(rows), 0.5)
    view = bench.view(states[0], rows)
    device, sound = bench.loom.devices[mark.load], view.net.share(mark.load)
    word = "dead" if mark.symptom == SymptomKind.COMES_AND_GOES else str(mark.symptom)
    said = spoken(device, view.share(mark.load), sound)[word].copy()
    unsteady = {"dead": 0.5, "weak": 0.45, "works": 0.05}[word]
    for number in view.oscillating:
        said[number] = (said[number] + unsteady) / 2
    return said


def _on(view: View, load: str) -> "Floats":
    """How likely a load is to be seen alight or running at all."""
    import numpy as np

    device = view.net.loom.devices[load]
    low, _ = bands(device, 0.0)
    share = view.share(load)
    from_ = GLOWS if device.kind == "filament" else 0.8 * low
    return np.where(share >= 1.3 * from_, 1 - MISREAD, np.where(share >= 0.7 * from_, 0.5, MISREAD))


def _stays_on(bench: Bench, mark: Mark, rows: Rows) -> "Floats":
    """On where it should rest, or with another load that it has nothing to do with."""
    import numpy as np

    seen = [_on(bench.view(state, rows), mark.load) for state in states_of(bench, mark)]
    return np.max(seen, axis=0) if seen else np.full(len(rows), 0.5)


def _blows(bench: Bench, mark: Mark, rows: Rows) -> "Floats":
    """Its own fuse blows: one on the way that feeds it, or the load named is the fuse."""
    import numpy as np

    states = states_of(bench, mark) or ("key-on",)
    view = bench.view(states[0], rows)
    fuses = fuses_of(bench, mark.load, states[0])
    hit = [bool(fuses & (blown | row.blown)) for blown, row in zip(view.blows, rows, strict=True)]
    return np.where(np.array(hit, dtype=np.bool_), 1 - MISREAD, MISREAD)


def fuses_of(bench: Bench, load: str, state: str) -> frozenset[str]:
    """The fuses on a load's way in a state; a fuse is its own."""
    devices = bench.loom.devices
    if devices[load].kind == "fuse":
        return frozenset({load})
    circuit = bench.circuit(state, load)
    steps = circuit.steps if circuit else ()
    return frozenset(s.id for s in steps if s.what == "device" and devices[s.id].kind == "fuse")


def _bulbs_blow(bench: Bench, mark: Mark, rows: Rows) -> "Floats":
    """Too many volts with the engine running; or a loose holder or earth of its own that arcs.

    A regulator that gives too much is known by its name: the network's battery takes all that it can give.
    """
    import numpy as np

    states = states_of(bench, mark)
    said = np.full(len(rows), MISREAD)
    device = bench.loom.devices[mark.load]
    if states:
        view = bench.view(states[0], rows)
        ratio = view.share(mark.load) / max(view.net.share(mark.load), 1e-9)
        said = np.where((ratio > TOO_BRIGHT) | (view.share(mark.load) > 1.3), 1 - MISREAD, said)
    own = {device.a.place, device.b.place}
    for number, row in enumerate(rows):
        if any(one.part[1] in own and one.fault == "weak" for one in row.theory):
            said[number] = 0.5
        if any(one.fault == "gives too much" for one in row.theory):
            said[number] = 1 - MISREAD
    return said


def _flat(bench: Bench, mark: Mark, rows: Rows) -> "Floats":
    """A battery that will not hold, is drained while it stands, or is not charged."""
    import numpy as np

    battery = next((d.id for d in bench.loom.devices.values() if d.source == "battery"), None)
    said = np.full(len(rows), MISREAD)
    if battery is None:
        return said
    for state in states_of(bench, mark):
        charge = bench.view(state, rows).charge_a(battery)
        sound = bench.net(state).solution.current.get(f"device {battery}", 0.0)
        short = charge < -sound - DRAIN_A if state == "off" else charge < 0.1
        said = np.where(short, 1 - MISREAD, said)
    for number, row in enumerate(rows):
        if any(one.part[1] == battery and one.fault == "flat" for one in row.theory):
            said[number] = 1 - MISREAD
    return said


def _flash(bench: Bench, mark: Mark, rows: Rows) -> "Floats":
    states = states_of(bench, mark)
    return flash_rates(bench, mark.symptom, states[0] if states else "", rows, MISREAD)


_SAID: Final[Mapping[SymptomKind, Callable[[Bench, Mark, Rows], "Floats"]]] = {
    SymptomKind.WONT_GO_OFF: _stays_on,
    SymptomKind.COMES_ON_WITH: _stays_on,
    SymptomKind.BLOWS_FUSE: _blows,
    SymptomKind.BULBS_BLOW: _bulbs_blow,
    SymptomKind.FLAT_PARKED: _flat,
    SymptomKind.FLASHES_FAST: _flash,
    SymptomKind.FLASHES_SLOW: _flash,
    SymptomKind.NO_FLASH: _flash,
}
