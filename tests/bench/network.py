"""How long the network takes: `python -m tests.bench.network` prints what it measures on this machine.

The circuit is a made-up loom the size of the fullest bike's: about 150 nodes, lamps and diodes among them,
some switched on and some off. Its single faults: everything open, every joint and wire weak, every node on
the frame. `all straight` is the same loom with lamps and diodes as resistors.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import count
from time import perf_counter

from tracker.electrics.network import Solved, solve
from tracker.records.network import (
    Change,
    Circuit,
    CurrentLoad,
    Diode,
    Element,
    Filament,
    Joint,
    Resistor,
    VoltageSource,
    WireElement,
)

BRANCHES = 12


def loom(branches: int = BRANCHES) -> Circuit:
    """A loom of `branches` fused branches, each with four loads on a shared earth; a third are off."""
    parts: list[Element] = [
        VoltageSource("battery", "battery +", "battery -", 12.7, 0.02),
        Joint("main fuse", "battery +", "main", 0.004),
        WireElement("main feed", "main", "key in", 900, 6.0),
        Joint("key", "key in", "key out", 0.01),
        WireElement("main earth", "battery -", "frame", 400, 2.1),
        WireElement("rear trunk earth", "rear earth", "frame", 800, 9.0),
    ]
    number = count()
    for branch in range(branches):
        fused, end, foot = f"fuse {branch}", f"trunk {branch}", f"foot {branch}"
        parts.append(Joint(f"fuse {branch}", "key out", fused, 0.012))
        parts.append(WireElement(f"trunk {branch}", fused, end, 700, 24.7))
        parts.append(WireElement(f"earth {branch}", foot, "frame" if branch % 2 else "rear earth", 600, 24.7))
        for lamp in range(4):
            parts += _load(next(number), lamp, end, foot)
    return Circuit("battery -", tuple(parts))


def _load(number: int, kind: int, feed: str, foot: str) -> Iterator[Element]:
    """A load on its plug, with a switch ahead of it unless it is an off one."""
    plug = f"plug {number}"
    if number % 3:
        yield Joint(f"switch {number}", feed, plug, 0.02)
    way = f"way {number}"
    yield WireElement(f"wire {number}", plug, way, 500, 24.7)
    match kind:
        case 0:
            yield Filament(f"lamp {number}", way, foot, 21, 13.5)
        case 1:
            yield Filament(f"small lamp {number}", way, foot, 5, 13.5)
        case 2:
            yield Diode(f"led {number}", way, f"led {number}", 9.0, 12.0)
            yield Resistor(f"led ohms {number}", f"led {number}", foot, 33)
        case _:
            yield CurrentLoad(f"module {number}", way, foot, 0.4)


def straightened(circuit: Circuit) -> Circuit:
    """The same loom with every lamp a resistor, modules and diodes too."""
    parts: list[Element] = []
    for part in circuit.elements:
        match part:
            case Filament():
                parts.append(Resistor(part.name, part.a, part.b, part.hot_ohm))
            case Diode():
                parts.append(Resistor(part.name, part.a, part.b, part.on_ohm))
            case CurrentLoad():
                parts.append(Resistor(part.name, part.a, part.b, 12 / part.current_a))
            case _:
                parts.append(part)
    return replace(circuit, elements=tuple(parts))


def single_faults(circuit: Circuit) -> list[Change]:
    """Every element open, every wire and joint weak by 2 ohms, every node chafed through to the frame."""
    faults = [Change(f"{part.name} open", (part.name,)) for part in circuit.elements]
    for part in circuit.elements:
        if isinstance(part, Joint | WireElement):
            faults.append(
                Change(f"{part.name} weak", (part.name,), (Joint(part.name, part.a, part.b, part.ohm + 2),))
            )
    nodes = dict.fromkeys(end for part in circuit.elements for end in (part.a, part.b))
    faults += [
        Change(f"{node} on the frame", put_in=(Joint("chafe", node, "frame", 0.05),))
        for node in nodes
        if node != "frame"
    ]
    return faults


def fastest(deed: Callable[[], object], tries: int = 7) -> float:
    """Milliseconds of the quickest of `tries`."""
    times = []
    for _ in range(tries):
        start = perf_counter()
        deed()
        times.append(1000 * (perf_counter() - start))
    return min(times)


def report(name: str, circuit: Circuit) -> None:
    """Prints the times of one circuit."""
    faults = single_faults(circuit)
    solved = solve(circuit)
    solved.faults(faults[:1])
    table = solved.faults(faults)
    loads = [part.name for part in circuit.elements if isinstance(part, Filament | CurrentLoad | Resistor)]

    def columns() -> None:
        for load in loads:
            table.current(load)

    def first() -> Solved:
        return solve(circuit)

    print(
        f"{name}: {len(solved.solution.volts)} nodes, {len(circuit.elements)} elements, {len(faults)} faults"
    )
    print(f"  first solve            {fastest(first):8.2f} ms  ({solved.solution.iterations} steps)")
    print(
        f"  inverse for the faults {fastest(lambda: solve(circuit).faults(faults[:1])):8.2f} ms  (and solve)"
    )
    print(
        f"  all faults             {fastest(lambda: solved.faults(faults)):8.2f} ms"
        f"  ({table.rounds} rounds, {table.solved_afresh} solved afresh)"
    )
    print(f"  amps of {len(loads)} loads       {fastest(columns):8.2f} ms")


def main() -> None:
    """Both looms."""
    report("all straight", straightened(loom()))
    report("lamps and diodes", loom())


if __name__ == "__main__":
    main()
