"""The standard states that a bike can be in, and how a state is had on a bike without a battery."""

import dataclasses

from tracker.loom.fits import fits
from tracker.records.loom_made import Loom
from tracker.records.loom_pattern import State

IDLE_RPM = 2000
"""Engine speed at which a bike without a battery shows that its lamps work, rev/min (common practice, no
source): at a plain idle a lighting coil only makes them glow."""

ENGINE = "engine"


def standard(loom: Loom) -> dict[str, State]:
    """The standard states by id, without those that this bike cannot be in."""
    answers = {**loom.features, **loom.supposed}
    return {
        state.id: state for state in loom.known.states.values() if fits(state.when, answers)[0] is not False
    }


def has_steady_source(loom: Loom) -> bool:
    """Whether something gives with the engine stopped: a battery."""
    return any(
        device.kind == "source" and not device.driven_by and ENGINE not in dict(device.at)
        for device in loom.devices.values()
    )


def powered(loom: Loom, state: State) -> State:
    """The state as it has to be set up to see a load work: without a battery the engine must run."""
    control = loom.known.controls.get(ENGINE)
    if control is None or has_steady_source(loom) or "idle" not in control.positions:
        return state
    stopped = state.at.get(ENGINE, control.positions[0]) == control.positions[0]
    if not stopped or state.at.get("key", "off") == "off":
        return state
    moved = state.moved({ENGINE: "idle"}, IDLE_RPM)
    return dataclasses.replace(moved, id=state.id, words=f"{state.words}, engine at a fast idle")
