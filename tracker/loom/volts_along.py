"""Volts along a circuit with its load on: what a meter should read from place to place, and what it read."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from tracker.loom.circuits import main_circuit
from tracker.loom.network import LoomSolution
from tracker.loom.where import place_words, words_of
from tracker.records.loom import End, What
from tracker.records.loom_made import Circuit, Loom
from tracker.records.problem import Mistakes, Problem

OFF_V: Final = 0.3
"""A reading this far from what is expected is not by chance (common practice, no source)."""

MOST_V: Final = 60.0
"""A reading beyond this is a slip of the pen: no loom here has more."""

_KINDS: Final[dict[str, What]] = {"wire": "wire", "device": "device", "joint": "place"}


@dataclass(frozen=True, slots=True, kw_only=True)
class AlongStep:
    """One side of a place on a circuit, and the part that led to it from the one before.

    `volts_v` is expected there against the battery's earthed post, `drop_v` what the part before it takes;
    `measured_v` and `measured_drop_v` the same as read, the drop from the reading before; `off` marks a
    reading that is not what is expected. The first has no part before it.
    """

    end: End
    words: str
    kind: Literal["start", "wire", "device", "joint"]
    part: str
    part_words: str
    volts_v: float
    drop_v: float
    amps_a: float
    is_load: bool = False
    measured_v: float | None = None
    measured_drop_v: float | None = None
    off: bool = False


def volts_along(
    loom: Loom, circuit: Circuit, solution: LoomSolution, measured: Mapping[str, float] | None = None
) -> tuple[AlongStep, ...]:
    """The places along a circuit of a solved loom, from the source's plus and back, with volts and drops.

    `measured` maps `PLACE[@in|out]` to volts read there; a place without a side means both. Raises Mistakes
    for a place that is not on the circuit and for volts that cannot be.
    """
    read = _readings(circuit, measured or {})
    first = circuit.steps[0].start
    rows = [
        AlongStep(
            end=first,
            words=place_words(loom, first.place),
            kind="start",
            part=circuit.source,
            part_words=words_of(loom, "device", circuit.source),
            volts_v=solution.volts(first),
            drop_v=0.0,
            amps_a=0.0,
            measured_v=read.get(first),
            off=_off(read.get(first), solution.volts(first)),
        )
    ]
    last_read = read.get(first)
    for step in circuit.steps:
        what, volts, now = _KINDS[step.what], solution.volts(step.end), read.get(step.end)
        device = loom.devices.get(step.id) if what == "device" else None
        rows.append(
            AlongStep(
                end=step.end,
                words=place_words(loom, step.end.place),
                kind=step.what,
                part=step.id,
                part_words=words_of(loom, what, step.id),
                volts_v=volts,
                drop_v=rows[-1].volts_v - volts,
                amps_a=abs(solution.current(what, step.id)),
                is_load=device is not None and device.is_load,
                measured_v=now,
                measured_drop_v=last_read - now if now is not None and last_read is not None else None,
                off=_off(now, volts),
            )
        )
        last_read = now if now is not None else last_read
    return tuple(rows)


def along(
    loom: Loom, load: str, solution: LoomSolution, measured: Mapping[str, float] | None = None
) -> tuple[AlongStep, ...]:
    """The same along the main circuit of a load; nothing where it has none in this state."""
    circuit = main_circuit(solution.network.settled, load)
    return () if circuit is None else volts_along(loom, circuit, solution, measured)


def _off(read: float | None, expected: float) -> bool:
    return read is not None and abs(read - expected) >= OFF_V


def _readings(circuit: Circuit, measured: Mapping[str, float]) -> dict[End, float]:
    ends = {end for step in circuit.steps for end in (step.start, step.end)}
    found: dict[End, float] = {}
    problems: list[Problem] = []
    for place, volts in measured.items():
        try:
            sides = [End.of(place)] if "@" in place else [End(place, "in"), End(place, "out")]
        except ValueError as error:
            problems.append(Problem(place, f"{error}.", given=place))
            continue
        here = [end for end in sides if end in ends]
        if not here:
            problems.append(Problem(place, "This place is not on the circuit.", given=place))
        elif not -MOST_V <= volts <= MOST_V:
            problems.append(
                Problem(place, f"{volts:g} V cannot be.", f"Up to {MOST_V:g} V either way.", f"{volts:g}")
            )
        else:
            found |= dict.fromkeys(here, volts)
    if problems:
        raise Mistakes(problems)
    return found
