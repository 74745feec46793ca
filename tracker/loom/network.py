"""A loom in a state as a resistive network: volts at every side of every place, current in every load.

    net = network(loom, state)          # the circuit, and which part is which element
    seen = solve_loom(loom, state)      # what is lit, weak or dead, and what a meter reads

Relay contacts, module outputs and charging outputs stand as the solved volts of what drives them let them:
the circuit is solved and put right in rounds. A buzzer has no such state, and it is said so.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from tracker.electrics.network import Solved, solve
from tracker.electrics.network_check import check_circuit
from tracker.loom.network_build import Build, Copy
from tracker.loom.network_chains import Chained
from tracker.loom.network_elements import copper, limit_name
from tracker.loom.network_ports import Flow, Port, Word, drives, word
from tracker.loom.network_shorten import chained
from tracker.loom.pattern import suppose
from tracker.loom.settle import Settled, settle, snapshot
from tracker.records.electrics import Conductor
from tracker.records.loom import End
from tracker.records.loom_made import Key, Loom
from tracker.records.loom_pattern import State
from tracker.records.network import Circuit, Element, Node, Solution

MOST_ROUNDS: Final = 16
"""Rounds of solving and putting contacts right; relays that feed relays take a few."""

SAME_A: Final = 0.002
"""An AC winding's amps have settled when a round moves them by less than this part."""

BLOWS: Final = 1.35
"""A fuse blows within minutes at this many times its rating (read: makers' pages on blade fuses)."""

CHARGES_A: Final = 0.1
"""A battery is charged by more amps than this (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class LoomNetwork:
    """The circuit of a loom in a state, solved, and the way between parts and elements.

    `elements` maps a part, such as ("wire", "tail-run") or ("place", "rear-plug:tail") for its joint, to the
    names of its elements, none where it carries nothing in this state; `part` is the way back. `copies` hold
    the nodes by side of place: the steady current's first, then those of AC and pulses. `oscillating` are
    loads that switch themselves off and on for ever: what is solved then is one of the two. What is solved
    is the circuit in `short`; `solution` is that of the whole.
    """

    loom: Loom
    state: State
    settled: Settled
    circuit: Circuit
    copies: tuple[Copy, ...]
    elements: Mapping[Key, tuple[str, ...]]
    part: Mapping[str, Key]
    by_name: Mapping[str, Element]
    ports: Mapping[str, tuple[Port, ...]]
    short: Chained
    solved: Solved
    solution: Solution
    oscillating: tuple[str, ...] = ()

    def node(self, end: End | str) -> Node:
        """The node of the steady current at a side of a place; KeyError where the loom has no such place."""
        return self.copies[0].nodes[End.of(end) if isinstance(end, str) else end]

    def share(self, load: str) -> float:
        """The part of its wanted volts that a load gets, of whatever current gives it most."""
        volts = self.solution.volts
        return max(
            (port.across(volts.__getitem__) / port.need_v for port in self.ports.get(load, ())), default=0.0
        )

    @property
    def reads_ac(self) -> bool:
        """Whether the steady volts are AC, as rms."""
        return self.copies[0].flow == "AC"


@dataclass(frozen=True, slots=True)
class LoadState:
    """What a load does: volts across it, their part of those it wants, amps through it."""

    load: str
    word: Word
    volts_v: float
    share: float
    current_a: float
    flow: Flow = "steady"


@dataclass(frozen=True, slots=True)
class LoomSolution:
    """A loom in a state, solved. `blows` are fuses that would; `charge_a` goes into a battery (minus: out).

    `converged` False means that the numbers are no answer.
    """

    network: LoomNetwork
    loads: Mapping[str, LoadState]
    blows: tuple[str, ...]
    charge_a: Mapping[str, float]

    @property
    def converged(self) -> bool:
        """Whether the solve came to an end."""
        return self.network.solution.converged

    def volts(self, end: End | str) -> float:
        """Volts at a side of a place against the battery's earthed post (or the frame)."""
        return self.network.solution.volts.get(self.network.node(end), 0.0)

    def between(self, red: End | str, black: End | str) -> float:
        """What a meter shows with its red lead on one place and its black lead on another."""
        return self.volts(red) - self.volts(black)

    def floats(self, end: End | str) -> bool:
        """Whether a place hangs on nothing, so that its volts say nothing."""
        node, solution = self.network.node(end), self.network.solution
        return node in solution.floating or node not in solution.volts

    def current(self, what: str, id_: str) -> float:
        """Amps of the steady current through a part, in its own direction; 0 where none can."""
        return part_current(self.network, what, id_)


def network(
    loom: Loom, state: State, *, temperature_c: float = 20.0, conductors: Sequence[Conductor] = ()
) -> LoomNetwork:
    """The loom in a state as a network, with every contact as the solved volts of its coil let it stand.

    The state is taken as it is: `states.powered` sets up one in which a bike without a battery gives.
    Open questions of the loom are answered as is usual. `conductors` is a table of wire resistances to use
    where it has the size; else copper of 58 m per ohm and mm². Wires have `temperature_c`.
    """
    settled = settle(suppose(loom), state)
    wires = copper(conductors, temperature_c)
    amps: Mapping[str, float] = {}
    seen: list[frozenset[str]] = []
    for _ in range(MOST_ROUNDS):
        net = _solved(Build(settled, wires, amps))
        working = _working(net)
        now = _winding_amps(net)
        if working == settled.working:
            if all(abs(now[name] - amps.get(name, 0.0)) <= SAME_A * max(1.0, now[name]) for name in now):
                return net
        elif working in seen:
            return replace(net, oscillating=tuple(sorted(working ^ settled.working)))
        else:
            seen.append(settled.working)
            settled = snapshot(settled.loom, state, working)
        amps = now
    return net


def solve_loom(loom: Loom, state: State, *, temperature_c: float = 20.0) -> LoomSolution:
    """The loom in a state, solved: what works, is weak or dead, and volts at every place."""
    return solution_of(network(loom, state, temperature_c=temperature_c))


def solution_of(net: LoomNetwork) -> LoomSolution:
    """What a solved network says of the loom's parts."""
    loads = {device.id: load_state(net, device.id) for device in net.loom.devices.values() if device.is_load}
    batteries = [d.id for d in net.loom.devices.values() if d.kind == "source" and d.source == "battery"]
    return LoomSolution(
        network=net,
        loads=loads,
        blows=tuple(fuse for fuse, amps in fuses(net).items() if abs(amps) > BLOWS * rating(net, fuse)),
        charge_a={id_: -part_current(net, "device", id_) for id_ in batteries},
    )


def load_state(net: LoomNetwork, load: str) -> LoadState:
    """What one load does, by whatever current gives it most of what it wants."""
    volts, device = net.solution.volts.__getitem__, net.loom.devices[load]
    best = max(net.ports.get(load, ()), key=lambda port: port.across(volts) / port.need_v, default=None)
    if best is None:
        return LoadState(load, "dead", 0.0, 0.0, 0.0)
    across = best.across(volts)
    amps = sum(net.solution.current[name] ** 2 for name in best.names) ** 0.5
    share = across / best.need_v
    return LoadState(load, word(device, share), across, share, amps, best.flow)


def part_current(net: LoomNetwork, what: str, id_: str) -> float:
    """Amps of the steady current through a part; a charging output's less what its limit takes."""
    name = f"{'joint' if what == 'place' else what} {id_}"
    current = net.solution.current
    amps = current.get(name, 0.0)
    if what == "device" and id_ in net.loom.devices and net.loom.devices[id_].kind == "source":
        return amps - current.get(limit_name(name), 0.0)
    return amps + current.get(limit_name(name), 0.0)


def fuses(net: LoomNetwork) -> dict[str, float]:
    """Amps through each fuse."""
    found = [device.id for device in net.loom.devices.values() if device.kind == "fuse"]
    return {fuse: part_current(net, "device", fuse) for fuse in found}


def rating(net: LoomNetwork, fuse: str) -> float:
    """A fuse's rating in amps; endless where nobody knows it."""
    return net.loom.devices[fuse].rating_a or float("inf")


def _solved(build: Build) -> LoomNetwork:
    check_circuit(build.circuit)
    short = chained(build.circuit, build.keep)
    solved = solve(short.circuit)
    return LoomNetwork(
        loom=build.settled.loom,
        state=build.settled.state,
        settled=build.settled,
        circuit=build.circuit,
        copies=tuple(build.copies),
        elements=build.elements,
        part=build.part,
        by_name={element.name: element for element in build.circuit.elements},
        ports=build.ports,
        short=short,
        solved=solved,
        solution=short.expand(solved.solution),
    )


def _working(net: LoomNetwork) -> frozenset[str]:
    devices = net.loom.devices
    drivers = {driver for device in devices.values() for driver in device.driven_by if driver in devices}
    return frozenset(driver for driver in drivers if drives(devices[driver], net.share(driver)))


def _winding_amps(net: LoomNetwork) -> dict[str, float]:
    """Amps of each AC winding that feeds the steady current."""
    giving = (source for source in net.settled.giving if source.ac)
    names = {source.id: f"device {source.id}" for source in giving}
    current = net.solution.current
    return {id_: abs(current[name]) for id_, name in names.items() if name in current}
