"""What every fault would do to every load: one table, by small changes of the one solved network.

A fault that robs a relay's coil opens its contact, and one that blows a fuse takes away what is behind it:
where that happens the fault is looked at again with what follows from it, until nothing more does.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, overload

from tracker.loom.network import BLOWS, LoomNetwork, network, rating
from tracker.loom.network_elements import closed_ohm
from tracker.loom.network_faults import Fault
from tracker.loom.network_follows import Follows, with_follows
from tracker.loom.network_ports import Word, bands
from tracker.loom.network_table import Table
from tracker.records.loom import Device, End
from tracker.records.loom_made import Loom
from tracker.records.loom_pattern import State

if TYPE_CHECKING:
    from tracker.loom.network_table import Floats

MOST_ROUNDS: Final = 8
"""Rounds of consequences; what has not come to rest then goes on for ever."""

WORDS: Final[tuple[Word, ...]] = ("dead", "weak", "works")


@dataclass(frozen=True, slots=True)
class Effect:
    """One fault: what each load does, which fuses blow, and whether it never comes to rest."""

    fault: Fault
    loads: Mapping[str, Word]
    blows: tuple[str, ...]
    oscillates: bool


class Effects(Sequence[Effect]):
    """What each fault makes of a loom in a state, in the order asked. Columns have one entry a fault."""

    def __init__(self, net: LoomNetwork, faults: Sequence[Fault]) -> None:
        self.net = net
        self.faults = tuple(faults)
        self._tables: list[tuple[Table, list[int]]] = []
        self._columns: dict[str, Floats] = {}
        devices = net.loom.devices
        self._drivers = sorted({d for one in devices.values() for d in one.driven_by if d in devices})
        self._fuses = [device for device in devices.values() if device.kind == "fuse"]
        self.follows = [Follows(net.settled.working) for _ in faults]
        self.oscillating: frozenset[int] = frozenset()
        self._solve()

    def __len__(self) -> int:
        return len(self.faults)

    @overload
    def __getitem__(self, number: int) -> Effect: ...
    @overload
    def __getitem__(self, number: slice) -> tuple[Effect, ...]: ...
    def __getitem__(self, number: int | slice) -> Effect | tuple[Effect, ...]:
        if isinstance(number, slice):
            return tuple(self[one] for one in range(*number.indices(len(self))))
        number = range(len(self))[number]
        loads = {load: self.words(load)[number] for load in self.loads}
        return Effect(self.faults[number], loads, self.blows[number], number in self.oscillating)

    @property
    def loads(self) -> tuple[str, ...]:
        """The loads of the loom."""
        return tuple(device.id for device in self.net.loom.devices.values() if device.is_load)

    @property
    def blows(self) -> tuple[tuple[str, ...], ...]:
        """The fuses that each fault blows; what else is said is said with them blown."""
        return tuple(tuple(sorted(one.blown)) for one in self.follows)

    @property
    def solved_afresh(self) -> int:
        """How many faults took a whole solve, consequences counted again."""
        return sum(table.solved_afresh for table, _ in self._tables)

    def volts(self, end: End | str) -> tuple[float, ...]:
        """Volts at a side of a place with each fault, against the battery's earthed post."""
        return tuple(self._column(self.net.node(end)).tolist())

    def at_node(self, node: str) -> tuple[float, ...]:
        """Volts at a node of the network with each fault, AC and pulses included."""
        return tuple(self._column(node).tolist())

    def share(self, load: str) -> tuple[float, ...]:
        """The part of its wanted volts that a load gets with each fault."""
        return tuple(self._share(load).tolist())

    def words(self, load: str) -> tuple[Word, ...]:
        """Works, weak or dead with each fault; weak also where it gets clearly less than when sound."""
        return tuple(WORDS[code] for code in self._codes(load))

    def charge_a(self, battery: str) -> tuple[float, ...]:
        """Amps into a battery with each fault; minus is out of it."""
        device = self.net.loom.devices[battery]
        u = self._column(self.net.node(device.b)) - self._column(self.net.node(device.a))
        name = f"device {battery}"
        column = []
        for fault, volts in zip(self.faults, u.tolist(), strict=True):
            cell = next((one for one in fault.change.put_in if one.name == name), self.net.by_name.get(name))
            gone = cell is None or (name in fault.change.out and cell is self.net.by_name.get(name))
            column.append(0.0 if gone else (volts - cell.volts) / cell.inner_ohm)  # type: ignore[union-attr]
        return tuple(column)

    def _codes(self, load: str) -> list[int]:
        import numpy as np

        device, share, sound = self.net.loom.devices[load], self._share(load), self.net.share(load)
        low, high = bands(device, sound)
        codes: list[int] = (np.where(share >= low, 1, 0) + np.where(share >= high, 1, 0)).tolist()
        return codes

    def _share(self, load: str) -> "Floats":
        import numpy as np

        best = np.zeros(len(self.faults))
        for port in self.net.ports.get(load, ()):
            sides = [self._column(a) - self._column(b) for a, b in port.pairs]
            if len(sides) > 1:
                u = np.sqrt(sum(side**2 for side in sides))
            else:
                u = np.maximum(sides[0], 0.0) if port.one_way else np.abs(sides[0])
            best = np.maximum(best, u / port.need_v)
        gone = self._gone(load)
        if gone:
            best[gone] = 0.0
        return best

    def _gone(self, load: str) -> list[int]:
        """Faults that take the load itself out: volts across it then say nothing."""
        return self._outs.get(("device", load), [])

    def _column(self, node: str) -> "Floats":
        if node not in self._columns:
            table, _ = self._tables[0]
            column = table.volts(node).copy()
            for later, numbers in self._tables[1:]:
                column[numbers] = later.volts(node)
            self._columns[node] = column
        return self._columns[node]

    def _solve(self) -> None:
        self._outs: dict[tuple[str, str], list[int]] = {}
        for number, fault in enumerate(self.faults):
            if fault.kind in {"open", "bulb"}:
                self._outs.setdefault(fault.part, []).append(number)
        self._tables.append(
            (
                Table(self.net.short, self.net.solved, [fault.change for fault in self.faults]),
                list(range(len(self))),
            )
        )
        seen: list[list[Follows]] = [[follows] for follows in self.follows]
        for _ in range(MOST_ROUNDS):
            moved = []
            for number, follows in self._now():
                if follows != self.follows[number] and number not in self.oscillating:
                    if follows in seen[number]:
                        self.oscillating |= {number}
                        continue
                    seen[number].append(follows)
                    self.follows[number] = follows
                    moved.append(number)
            if not moved:
                return
            changes = [with_follows(self.net, self.faults[number], self.follows[number]) for number in moved]
            later = Table(self.net.short, self.net.solved, changes)
            self._tables.append((later, moved))
            for node, column in self._columns.items():
                column[moved] = later.volts(node)
        self.oscillating |= frozenset(moved)

    def _now(self) -> Iterator[tuple[int, Follows]]:
        """Faults after which something works, or blows, that did not before."""
        import numpy as np

        devices = self.net.loom.devices
        works = {driver: self._share(driver) >= devices[driver].works_from for driver in self._drivers}
        load = {fuse.id: self._overload(fuse) for fuse in self._fuses}
        most = np.max([np.zeros(len(self)), *load.values()], axis=0)
        moved = np.zeros(len(self), dtype=np.bool_)
        for driver, column in works.items():
            moved |= column != np.array([driver in one.working for one in self.follows])
        moved |= most > BLOWS
        for number in np.flatnonzero(moved).tolist():
            working = frozenset(driver for driver, column in works.items() if column[number])
            over = {fuse: column[number] for fuse, column in load.items() if column[number] > BLOWS}
            first = {max(over, key=lambda fuse: over[fuse])} if over else set()
            yield number, Follows(working, self.follows[number].blown | first)

    def _overload(self, fuse: Device) -> "Floats":
        """Amps through a fuse over its rating; of several in a row the one with most blows first."""
        import numpy as np

        if not self.net.elements.get(("device", fuse.id)):
            return np.zeros(len(self))
        u = self._column(self.net.node(fuse.a)) - self._column(self.net.node(fuse.b))
        out = [
            fault.part == ("device", fuse.id) or fuse.id in follows.blown
            for fault, follows in zip(self.faults, self.follows, strict=True)
        ]
        times: Floats = np.abs(u) / closed_ohm(fuse) / rating(self.net, fuse.id)
        return np.where(np.array(out, dtype=np.bool_), 0.0, times)


def effects(loom: Loom, state: State, faults: Sequence[Fault]) -> Effects:
    """What each of `faults`, made by `single_faults` for this loom and state, would do."""
    return Effects(network(loom, state), faults)


def effects_of(net: LoomNetwork, faults: Sequence[Fault]) -> Effects:
    """The same for a network that is solved already."""
    return Effects(net, faults)
