"""How the indicators flash, by what the flasher sees: too little load is a lost lamp, low volts are slow."""

from typing import TYPE_CHECKING, Final

from tracker.electrics.flasher import SHORT_OF_LOAD
from tracker.records.card import SymptomKind
from tracker.trace.bench import Bench, Row
from tracker.trace.parts import flasher

if TYPE_CHECKING:
    from tracker.loom.network_table import Floats

BULBS_W: Final = 42.0
"""What a two-pin flasher at 12 V is made for: two corners of 21 W (common practice, no source)."""

SOME: Final = 0.02
"""Of its load that lets a flasher do anything at all (common practice, no source)."""

LOW_V: Final = 0.88
"""Under this part of the volts it has when all is well it flashes slowly (common practice, no source)."""

BY_ITSELF: Final = 0.3
"""How likely a flasher that is out of order itself is to show one wrong rate or another (no source)."""


def wanted_a(bench: Bench, state: str) -> float:
    """Amps that the flasher is made for: those of bulbs, or the loom's own where its relay suits LEDs."""
    contact = flasher(bench.loom)
    if contact is None:
        return 0.0
    net = bench.net(state)
    names = net.elements.get(("device", contact.id), ())
    own = max((abs(net.solution.current[name]) for name in names), default=0.0)
    if contact.driven_by:
        return own
    lamp_w = BULBS_W if bench.loom.volts > 8 else BULBS_W / 2.1
    return max(own, lamp_w / bench.loom.volts)


def short_as_built(bench: Bench, state: str) -> bool:
    """Whether the sound loom gives its flasher less load than it is made for."""
    contact = flasher(bench.loom)
    if contact is None or contact.driven_by or not state:
        return False
    names = bench.net(state).elements.get(("device", contact.id), ())
    own = max((abs(bench.net(state).solution.current[name]) for name in names), default=0.0)
    return SOME < own / wanted_a(bench, state) < SHORT_OF_LOAD


def flash_rates(
    bench: Bench, symptom: SymptomKind, state: str, rows: tuple[Row, ...], misread: float
) -> "Floats":
    """The probability that somebody says the indicators flash fast, slow or not at all, for each row."""
    import numpy as np

    contact = flasher(bench.loom)
    if contact is None or not state:
        return np.full(len(rows), 0.5)
    view = bench.view(state, rows)
    feed, behind = np.abs(view.volts(contact.a)), np.abs(view.volts(contact.b))
    sound_v = abs(bench.net(state).solution.volts.get(bench.net(state).node(contact.a), 0.0))
    low = feed < LOW_V * sound_v
    full_v = np.maximum(behind / max(sound_v, 1e-9), 0.05)
    part = view.amps(contact) / full_v / max(wanted_a(bench, state), 1e-9)
    if symptom is SymptomKind.FLASHES_FAST:
        if contact.driven_by:
            said = np.full(len(rows), misread)
        else:
            said = np.where((part > SOME) & (part < SHORT_OF_LOAD), 1 - misread, misread)
    elif symptom is SymptomKind.FLASHES_SLOW:
        said = np.where((part > SOME) & low, 1 - misread, misread)
    else:
        said = np.where((part > SOME) & ((part < SHORT_OF_LOAD / 2) | low), 0.3, misread)
    for number, row in enumerate(rows):
        for one in row.theory:
            if one.part == ("device", contact.id) and one.fault != "other lamps":
                steady = one.fault == "stuck closed"
                own = (1 - misread) if steady and symptom is SymptomKind.NO_FLASH else BY_ITSELF
                said[number] = max(float(said[number]), own)
    return said
