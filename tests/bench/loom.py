"""How long the loom takes: `python -m tests.bench.loom` prints what it measures on this machine.

The bike is the fullest one: an injected four with every lamp, gauge, interlock and aid the pattern knows.
Set OPENBLAS_NUM_THREADS=1 where other work keeps the cores busy: matrices here are small.
"""

from functools import partial

from tests.bench.network import fastest, straightened
from tests.loom.making import FOUR
from tracker.electrics.network import solve
from tracker.loom.circuits import main_circuit
from tracker.loom.draw_text import rows_of
from tracker.loom.layout import layout
from tracker.loom.network import network, solution_of
from tracker.loom.network_effects import Effects, effects_of
from tracker.loom.network_faults import faults_of
from tracker.loom.network_shorten import chained
from tracker.loom.network_table import Table
from tracker.loom.pattern import build, suppose
from tracker.loom.settle import settle
from tracker.loom.sketch import sketch
from tracker.loom.volts_along import along
from tracker.loom.walk import lit_here, place_card, stand_at, walk_of
from tracker.records.loom_made import Loom
from tracker.records.loom_pattern import Pattern
from tracker.seedfiles.door import Seeds
from tracker.seedfiles.loom import load_pattern

FULLEST = FOUR | {
    "light-switch": "yes",
    "key-park": "yes",
    "alternator": "excited-field",
    "headlamp": "separate",
    "fan-control": "relay",
    "socket": "yes",
    "heated-grips": "yes",
    "extra-lamps": "yes",
    "alarm": "yes",
    "keyless": "yes",
    "headlamp-relay": "yes",
}


FRAME_MS = 16.0
"""What a frame takes at 60 in a second: a key answered in less is answered at once."""


def fullest(pattern: Pattern) -> Loom:
    """The bike with the most parts, open questions answered as is usual."""
    return suppose(build(pattern, dict(FULLEST)))


def row(name: str, milliseconds: float, more: str = "") -> None:
    """One line of the report."""
    print(f"  {name:<46}{milliseconds:8.2f} ms  {more}".rstrip())


def report(loom: Loom, state: str) -> None:
    """Prints the times of one state."""
    now = loom.known.states[state]
    net = network(loom, now)
    faults = faults_of(net)
    changes = [fault.change for fault in faults]
    net.solved.faults([])
    seen = effects_of(net, faults)
    nodes = len(net.solution.volts)
    branches = len(net.solved.solution.volts)
    print(f"{state}: {nodes} nodes, {branches} of them branches, {len(faults)} faults")
    row("settle", fastest(lambda: settle(loom, now)))
    row("settle, network, first solve", fastest(lambda: network(loom, now)))
    row("what every load does", fastest(lambda: solution_of(net)))
    row("list the faults", fastest(lambda: faults_of(net)))
    row("volts of all single faults", fastest(lambda: Table(net.short, net.solved, changes)))
    straight = chained(straightened(net.circuit), net.solved.solution.volts)
    solved = solve(straight.circuit)
    solved.faults([])
    row("the same with lamps and diodes as resistors", fastest(lambda: Table(straight, solved, changes)))
    row(
        "and what follows from them",
        fastest(lambda: effects_of(net, faults)),
        f"{seen.solved_afresh} solved afresh, {len(seen.oscillating)} never at rest",
    )
    row("words of every load with every fault", fastest(lambda: _words(seen)))


def _words(seen: Effects) -> None:
    for load in seen.loads:
        seen.words(load)


def another_circuit(loom: Loom) -> None:
    """Prints how long it takes to light another circuit, its state settled and solved already or not."""
    net = network(loom, loom.known.states["riding"])
    seen = solution_of(net)
    loads = [load for load in seen.loads if main_circuit(net.settled, load)]

    def all_of_them() -> None:
        for load in loads:
            main_circuit(net.settled, load, stored=True)

    def volts() -> None:
        for load in loads:
            along(loom, load, seen)

    row("find a circuit, in the same state", fastest(all_of_them) / len(loads))
    row("and its volts from place to place", fastest(volts) / len(loads))


def drawing(loom: Loom) -> None:
    """Prints how long a screen takes that shows the loom: once when it is opened, then at each key."""
    row("every load's circuit, once", fastest(lambda: walk_of(loom), 3))
    walk = walk_of(loom)
    row("open: laid out and drawn, nothing lit", fastest(lambda: rows_of(layout(sketch(loom)))))
    for width, height in ((80, 20), (160, 45)):

        def light(load: str, width: int = width, height: int = height) -> None:
            here = stand_at(walk, load)
            seen = sketch(loom, lit_here(walk, here), here=here.place)
            rows_of(layout(seen, width=width, height=height))

        slowest = max(fastest(partial(light, load)) for load in walk.loads)
        note = f"{FRAME_MS / slowest:.1f} times in a frame"
        row(f"light another circuit, at {width} columns, the slowest", slowest, note)
    cards = [stand_at(walk, load) for load in walk.loads]
    row("the card of a place, the slowest", max(fastest(partial(place_card, walk, here)) for here in cards))


def main() -> None:
    """The fullest bike, in three states."""
    pattern = load_pattern()
    loom = fullest(pattern)
    loads = sum(device.is_load for device in loom.devices.values())
    print(f"fullest bike: {len(loom.places)} places, {len(loom.wires)} wires, {loads} loads")
    row("pattern from its files", fastest(lambda: load_pattern(Seeds({})), 3))
    row("build a bike's loom", fastest(lambda: fullest(pattern)))
    for state in ("position", "riding", "start-clutch"):
        report(loom, state)
    another_circuit(loom)
    drawing(loom)


if __name__ == "__main__":
    main()
