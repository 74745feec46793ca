"""What would be told at once if it were so: smoke, a starter that runs by itself."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from tracker.records.trace import Mark
from tracker.trace.bench import Bench, Row
from tracker.trace.said import WRONG, states_of

if TYPE_CHECKING:
    from tracker.loom.network_table import Floats

UNSAID: Final = 0.05
"""How likely it is that something so plain is not mentioned (common practice, no source)."""

SMOKE_A: Final = 120.0
"""Amps out of the battery, the starter apart, at which something smokes (common practice, no source)."""

RUNS: Final = 0.3
"""Of its wanted volts that makes a motor turn."""


def unsaid(bench: Bench, marks: Sequence[Mark], rows: tuple[Row, ...]) -> "Floats":
    """A factor for each row: 1, or UNSAID where it does something that would have been said.

    Looked at in the first complaint's state.
    """
    import numpy as np

    factor = np.ones(len(rows))
    complaint = next((mark for mark in marks if mark.symptom in WRONG and states_of(bench, mark)), None)
    if complaint is None:
        return factor
    state = states_of(bench, complaint)[0]
    view, said = bench.view(state, rows), {mark.load for mark in marks}
    for device in bench.loom.devices.values():
        if device.kind == "motor" and state not in device.works and device.id not in said:
            factor = np.where(view.share(device.id) >= RUNS, UNSAID, factor)
        elif device.source == "battery" and bench.states[state].at.get("engine") != "cranking":
            factor = np.where(view.charge_a(device.id) < -SMOKE_A, UNSAID, factor)
    return factor
