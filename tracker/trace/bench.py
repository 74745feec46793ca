"""The bench of a trace: a loom's networks in the states asked, and what each theory would do in them.

A theory is one fault or a few at once; a row is a theory with the ohms its weak joints are tried at and the
fuses it has blown before. Everything here is worked out once and remembered: the sums are the trace's cost.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from tracker.loom.network import LoomNetwork, network
from tracker.loom.network_effects import Effects
from tracker.loom.network_faults import Fault, faults_of
from tracker.loom.pattern import suppose
from tracker.loom.states import powered, standard
from tracker.records.loom import Device, End
from tracker.records.loom_made import Circuit, Loom
from tracker.records.loom_pattern import State
from tracker.trace.acts import act_fault
from tracker.trace.extra import blown_with, extra_fault, null_fault, poorer, together
from tracker.trace.parts import Single, singles

if TYPE_CHECKING:
    from tracker.loom.network_table import Floats

Theory: TypeAlias = tuple[Single, ...]

NOTHING_A: Final = 1e-9
"""Amps that are none."""

EXTRA: Final = frozenset({"leaks", "other lamps"})


@dataclass(frozen=True, slots=True)
class Row:
    """A theory as it is tried: `poorer` weak joints, and the `blown` fuses it left behind in other states.

    `act` is what is done to the loom beside: a switch bridged, a plug parted (`tracker.trace.acts`).
    """

    theory: Theory
    poorer: bool = False
    blown: frozenset[str] = frozenset()
    act: str = ""
    _hash: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Rows are looked up all the time: what they hash to is worked out once."""
        object.__setattr__(self, "_hash", hash((self.theory, self.poorer, self.blown, self.act)))

    def __hash__(self) -> int:
        return self._hash


SOUND: Final = Row(())
"""The loom with nothing wrong."""


class Pool:
    """Every row that was ever tried in one state, solved in the batches in which they were asked."""

    def __init__(self, net: LoomNetwork) -> None:
        self.net = net
        self.index: dict[Row, int] = {}
        self.faults: list[Fault] = []
        self.blows: list[frozenset[str]] = []
        self.oscillating: set[int] = set()
        self._batches: list[Effects] = []
        self._columns: dict[tuple[str, str], tuple[int, Floats]] = {}

    def add(self, rows: Sequence[Row], faults: Sequence[Fault]) -> None:
        """Solves some more rows."""
        first = len(self.faults)
        batch = Effects(self.net, faults)
        self._batches.append(batch)
        self.index |= {row: first + number for number, row in enumerate(rows)}
        self.faults += faults
        self.blows += [frozenset(fuses) for fuses in batch.blows]
        self.oscillating |= {first + number for number in batch.oscillating}

    def column(self, what: Literal["volts", "share", "charge_a"], name: str) -> "Floats":
        """One number for every row."""
        import numpy as np

        known, column = self._columns.get((what, name), (0, np.zeros(0)))
        if known < len(self._batches):
            more = [np.array(getattr(batch, what)(name)) for batch in self._batches[known:]]
            column = np.concatenate([column, *more])
            self._columns[what, name] = len(self._batches), column
        return column

    def node(self, node: str) -> "Floats":
        """Volts at a node of the network itself."""
        import numpy as np

        return np.concatenate([np.array(batch.at_node(node)) for batch in self._batches])


class View:
    """What some rows make of the loom in one state. Columns have one entry a row."""

    def __init__(self, pool: Pool, rows: tuple[Row, ...]) -> None:
        import numpy as np

        self.net = pool.net
        self.rows = rows
        self._pool = pool
        self._at = np.array([pool.index[row] for row in rows], dtype=np.intp)

    def volts(self, end: End | str) -> "Floats":
        """Volts at a side of a place against the battery's earthed post."""
        column: Floats = self._pool.column("volts", str(end))[self._at]
        return column

    def aside(self, end: End, copy: int) -> "Floats":
        """Volts at a side of a place in one of the network's other currents (AC, pulses), by its number."""
        column: Floats = self._pool.node(self.net.copies[copy].nodes[end])[self._at]
        return column

    def share(self, load: str) -> "Floats":
        """The part of its wanted volts that a load gets; none where the row takes it out."""
        column: Floats = self._pool.column("share", load)[self._at]
        for number, row in enumerate(self.rows):
            for one in row.theory if len(row.theory) > 1 else ():
                if one.part == ("device", load) and one.fault in {"open", "bulb"}:
                    column[number] = 0.0
        return column

    def charge_a(self, battery: str) -> "Floats":
        """Amps into a battery; minus is out of it."""
        column: Floats = self._pool.column("charge_a", battery)[self._at]
        return column

    def amps(self, device: Device) -> "Floats":
        """Amps through a closed switch, contact or fuse, either way; 0 where it carries nothing."""
        import numpy as np

        names = self.net.elements.get(("device", device.id), ())
        if not names:
            return np.zeros(len(self.rows))
        u = np.abs(self.volts(device.a) - self.volts(device.b))
        column: Floats = u / getattr(self.net.by_name[names[0]], "ohm", 1.0)
        for number, at in enumerate(self._at.tolist()):
            change = self._pool.faults[at].change
            if names[0] in change.out:
                put = next((one for one in change.put_in if one.name == names[0]), None)
                column[number] = u[number] / getattr(put, "ohm", 1.0) if put is not None else 0.0
        return column

    @property
    def blows(self) -> list[frozenset[str]]:
        """The fuses that each row blows in this state."""
        return [self._pool.blows[at] for at in self._at.tolist()]

    @property
    def oscillating(self) -> list[int]:
        """The rows that never come to rest, by their number here: a relay chatters."""
        return [n for n, at in enumerate(self._at.tolist()) if at in self._pool.oscillating]


@dataclass(slots=True)
class Bench:
    """A loom to trace on; open questions are answered as is usual."""

    whole: Loom
    loom: Loom = field(init=False)
    states: dict[str, State] = field(init=False)
    _nets: dict[str, LoomNetwork] = field(default_factory=dict)
    _faults: dict[str, dict[str, Fault]] = field(default_factory=dict)
    _pools: dict[str, Pool] = field(default_factory=dict)
    _near: dict[str, Pool] = field(default_factory=dict)
    _acted: dict[str, Pool] = field(default_factory=dict)
    islands: dict[tuple[str, str, str], dict[str, str]] = field(default_factory=dict)
    _every: tuple[Single, ...] = ()
    _mains: dict[tuple[str, str], Circuit | None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.loom = suppose(self.whole)
        self.states = {name: powered(self.loom, state) for name, state in standard(self.loom).items()}

    @property
    def every(self) -> tuple[Single, ...]:
        """Every single fault of the loom."""
        if not self._every:
            self._every = singles(self.loom)
        return self._every

    def net(self, state: str) -> LoomNetwork:
        """The sound loom in a state."""
        if state not in self._nets:
            self._nets[state] = network(self.loom, self.states[state])
        return self._nets[state]

    def circuit(self, state: str, load: str) -> Circuit | None:
        """The main circuit of a load in a state of the sound loom; None where it has none."""
        from tracker.loom.circuits import main_circuit

        if (state, load) not in self._mains:
            self._mains[state, load] = main_circuit(self.net(state).settled, load)
        return self._mains[state, load]

    def through(self, state: str, load: str) -> str:
        """The load that another is fed through in a state of the sound loom; itself where there is none."""
        from tracker.loom.circuits import mains

        settled = self.net(state).settled
        ways = [circuit for circuit in mains(settled, self.loom.devices[load]) if circuit.through]
        best = max(ways, key=lambda circuit: circuit.share, default=None)
        return best.through[0] if best else load

    def fault(self, state: str, single: Single, poor: bool = False) -> Fault:
        """A single fault in a state; one that changes nothing where its part is not at work."""
        net = self.net(state)
        if single.fault in EXTRA:
            return extra_fault(net, single)
        if state not in self._faults:
            self._faults[state] = {one.id: one for one in faults_of(net)}
        known = self._faults[state].get(single.id)
        if known is None:
            return null_fault(single)
        return poorer(net, single) if poor and single.fault == "weak" else known

    def of_row(self, state: str, row: Row) -> Fault:
        """A row as one change of the network in a state."""
        net = self.net(state)
        made = [self.fault(state, single, row.poorer) for single in row.theory]
        made += blown_with(net, sorted(row.blown))
        return together([*made, act_fault(net, row.act)] if row.act else made)

    def view(self, state: str, rows: Iterable[Row]) -> View:
        """What each of the rows does in a state."""
        asked = tuple(rows)
        near = self._near.get(state)
        if near is not None and all(row in near.index for row in asked):
            return View(near, asked)
        acted = any(row.act for row in asked)
        return self._view(self._acted if acted else self._pools, state, asked)

    def look_at(self, state: str, rows: Iterable[Row]) -> None:
        """Solves the rows that much will be asked of by themselves: a column of few costs little."""
        every = dict.fromkeys(rows)
        self._view(self._near, state, tuple(row for row in every if not row.act))
        if any(row.act for row in every):
            self._view(self._acted, state, tuple(row for row in every if row.act))

    def _view(self, pools: dict[str, Pool], state: str, asked: tuple[Row, ...]) -> View:
        if state not in pools:
            pools[state] = Pool(self.net(state))
        pool = pools[state]
        new = [row for row in dict.fromkeys((SOUND, *asked)) if row not in pool.index]
        idle = {row for row in new if self._idle(pool.net, row)}
        if new:
            told = [row for row in new if row not in idle]
            pool.add(told, [self.of_row(state, row) for row in told])
            pool.index |= dict.fromkeys(idle, pool.index[SOUND])
        return View(pool, asked)

    def _idle(self, net: LoomNetwork, row: Row) -> bool:
        """Whether a row only weakens what carries nothing in this state: then no volts change anywhere."""
        if len(row.theory) != 1 or row.act or row.blown or net.oscillating:
            return False
        single = row.theory[0]
        if single.fault != "weak":
            return False
        current = net.solution.current
        return all(abs(current.get(name, 0.0)) < NOTHING_A for name in net.elements.get(single.part, ()))


def rows_of(theory: Theory) -> tuple[Row, ...]:
    """The rows in which a theory is tried: a weak joint as poor as usual, and poorer still."""
    if len(theory) == 1 and theory[0].fault == "weak":
        return Row(theory), Row(theory, poorer=True)
    return (Row(theory),)
