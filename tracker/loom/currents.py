"""The amps that run through each part at once, against its fuse and wire, in a simple first sense."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from tracker.loom.circuits import main_circuit
from tracker.loom.ohms import load_current_a
from tracker.loom.settle import Settled
from tracker.loom.where import place_words
from tracker.records.loom import Wire
from tracker.records.loom_made import Loom
from tracker.records.problem import Problem

SHORT_TIMES = 2.0
"""A wire may carry this many times its all-day amps for a load that runs some seconds (common practice)."""

Element = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Busy:
    """Amps through a part in one state: all day, and for seconds."""

    steady_a: float
    short_a: float
    state: str

    @property
    def all_a(self) -> float:
        """Both together."""
        return self.steady_a + self.short_a


def currents(settled: Settled) -> dict[Element, Busy]:
    """Amps through each part (kind, id): each load's own at its rated volts, along its main circuit.

    Pulsed sources (spark, pick-up) are left out.
    """
    loom = settled.loom
    sums: dict[Element, list[float]] = {}
    for device in loom.devices.values():
        circuit = main_circuit(settled, device.id) if device.is_load else None
        if circuit is None or loom.devices[circuit.source].pulses:
            continue
        amps = load_current_a(device, loom) * circuit.share
        for element in dict.fromkeys(circuit.elements):
            sums.setdefault(element, [0.0, 0.0])[1 if device.short_s else 0] += amps
    return {element: Busy(steady, short, settled.state.words) for element, (steady, short) in sums.items()}


def busiest(settled: Iterable[Settled]) -> dict[Element, Busy]:
    """For each part the state in which most runs through it."""
    most: dict[Element, Busy] = {}
    for now in settled:
        for element, busy in currents(now).items():
            if element not in most or busy.all_a > most[element].all_a:
                most[element] = busy
    return most


def too_much(loom: Loom, settled: Iterable[Settled]) -> Iterator[Problem]:
    """Fuses that would blow and wires that would get warm with all in order."""
    most: Mapping[Element, Busy] = busiest(settled)
    for (what, id_), busy in most.items():
        if what == "wire":
            yield from _wire_carries(loom, loom.wires[id_], busy)
        elif what == "device" and loom.devices[id_].kind == "fuse":
            rating = loom.devices[id_].rating_a or 0.0
            if busy.steady_a > rating:
                yield Problem(
                    f"device {id_}: rating_a",
                    f"{busy.steady_a:.1f} A go through this fuse of {rating:g} A, with {busy.state}.",
                    "A fuse is never uprated to cure a blow: look at what hangs on it.",
                    f"{rating:g}",
                )


def limit_a(loom: Loom, size_mm2: float) -> float | None:
    """What a wire may carry all day; that of the next smaller size where the table has not this one."""
    fitting = [size.current_a for size in loom.known.sizes if size.size_mm2 <= size_mm2]
    return max(fitting, default=None)


def _wire_carries(loom: Loom, wire: Wire, busy: Busy) -> Iterator[Problem]:
    limit = None if wire.ohm is not None or not wire.size_mm2 else limit_a(loom, wire.size_mm2)
    if limit is None:
        return
    if busy.steady_a > limit or busy.all_a > limit * SHORT_TIMES:
        ends = f"{place_words(loom, wire.a.place)} to {place_words(loom, wire.b.place)}"
        yield Problem(
            f"wire {wire.id}: size_mm2",
            f"{busy.all_a:.1f} A are much for {wire.size_mm2:g} mm², {ends}, with {busy.state}.",
            f"Good for {limit:g} A in a loom.",
            f"{wire.size_mm2:g}",
        )
