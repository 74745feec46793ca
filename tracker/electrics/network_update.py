"""Many small changes to one solved network: low-rank updates, all of them side by side.

The solved network is replaced by its tangent, whose inverse is known. A change is then a few extra amps drawn
at the ports it touches, found from a system as small as their number (Woodbury). Filaments and diodes are
put right in rounds: one that strays little from its tangent by the amps it strays, one that strays far by
becoming a port with a tangent of its own. What will not settle is left to be solved afresh.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tracker.electrics.network_changes import Ports, Tangent
from tracker.electrics.network_laws import METER_S

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from tracker.electrics.network_laws import Floats, Ints

    Flags = NDArray[np.bool_]

MOST_ROUNDS = 25
"""Rounds before a change is left to be solved afresh."""

CLOSE_A = 1e-7
"""A bent element has settled when its law and what the round took for it differ by fewer amps than this."""

CLOSE_V = 1e-5
"""And when that difference moves its own volts by less than this."""

PORT_A = 1e-3
"""An element that strays by more amps than this and PORT_SHARE of its own becomes a port."""

PORT_SHARE = 0.02
"""See PORT_A."""

WEAK_OHM = 1e4
"""A node on more ohms than this is all but floating: sums that touch it are checked for rounding."""

LEFT_A = 2e-8
"""Amps that may fail to add up there."""

NARROW = 6
"""Up to so many ports the rows of the inverse are added one by one; above it one big product is quicker."""

QUIET = 2**18
"""Multiplications in one product up to which a linear algebra library works on one core."""

PATIENCE = 6
"""After so many rounds everything that has not settled becomes a port."""


@dataclass(frozen=True, slots=True)
class Batch:
    """Node volts after each change (a row a change), which of them settled, and in how many rounds."""

    v: "Floats"
    settled: "Flags"
    rounds: int


def update(tangent: Tangent, ports: Sequence[Ports]) -> Batch:
    """Node volts after each of the changes in `ports`."""
    import numpy as np

    net = tangent.net
    a, b = net.a[net.bent], net.b[net.bent]
    own_ohm = tangent.between(a, b, a, b)
    straight = _Straight(tangent, ports)
    shape = (len(ports), len(net.bent))
    u = np.broadcast_to(tangent.settled.v[a] - tangent.settled.v[b], shape)
    i0, g0, u0 = tangent.settled.current[net.bent], tangent.slope[net.bent], u[:1]
    out = barred = _barred(tangent, ports)
    active, strayed = np.zeros(shape, dtype=np.bool_), np.zeros(shape)
    amps, slope = np.broadcast_to(i0, shape), np.broadcast_to(g0, shape)
    volts, done = np.zeros((len(ports), len(net.nodes))), np.zeros(len(ports), dtype=np.bool_)
    waiting, rounds = np.arange(len(ports)), 0
    while len(waiting) and rounds < MOST_ROUNDS:
        rounds += 1
        now = _Round(active, strayed, amps - slope * u, slope)
        v, exact = straight.volts(waiting, now)
        old_u, u = u, v[:, a] - v[:, b]
        taken = np.where(active, amps + slope * (u - old_u), i0 + g0 * (u - u0) + strayed)
        taken_slope = np.where(active, slope, g0)
        amps, slope = net.laws.current_and_slope(u)
        missed = np.abs(amps - taken)
        turned = net.laws.is_diode & (slope != taken_slope) & ~barred
        open_yet = (((missed > CLOSE_A) | (missed * own_ohm > CLOSE_V)) & ~barred) | turned
        ready = exact & ~open_yet.any(axis=1)
        volts[waiting[ready]] = v[ready]
        done[waiting[ready]] = True
        stray = amps - i0 - g0 * (u - u0)
        far = (np.abs(stray) > PORT_A + PORT_SHARE * np.abs(i0)) | turned
        active = (active | far | (open_yet & (rounds >= PATIENCE))) & ~barred
        strayed = np.where(active | barred, 0.0, stray)
        keep = ~ready & np.isfinite(v).all(axis=1)
        waiting, active, strayed, barred = waiting[keep], active[keep], strayed[keep], barred[keep]
        crossed = active & ~net.laws.is_diode & (u[keep] * old_u[keep] < 0)
        u = np.where(crossed, 0.0, u[keep])
        amps, slope = net.laws.current_and_slope(u)
    weak = done & straight.touching_weak()
    if weak.any():
        done[weak] = straight.left_over(np.flatnonzero(weak), volts[weak], out[weak]) <= LEFT_A
    return Batch(volts, done, rounds)


def _barred(tangent: Tangent, ports: Sequence[Ports]) -> "Flags":
    """Which bent elements a change takes out."""
    import numpy as np

    place = {row: number for number, row in enumerate(tangent.net.bent.tolist())}
    barred = np.zeros((len(ports), len(place)), dtype=np.bool_)
    for number, one in enumerate(ports):
        for row in one.out:
            if row in place:
                barred[number, place[row]] = True
    return barred


def _at_nodes(shape: tuple[int, ...], a: "Ints", b: "Ints", amps: "Floats") -> "Floats":
    """Amps that leave each node (a row a change) when `amps` flow from `a` to `b`."""
    import numpy as np

    changes, nodes = shape
    row = nodes * np.arange(changes)[:, None]
    size = changes * nodes
    out = np.bincount((row + a).ravel(), amps.ravel(), size).astype(np.float64)
    into = np.bincount((row + b).ravel(), amps.ravel(), size)
    leaving: Floats = out - into
    return leaving.reshape(shape)


def _product(rows: "Floats", matrix: "Floats") -> "Floats":
    """`rows` @ `matrix` a few rows at a time: a big product wakes threads, which cost more than they save."""
    import numpy as np

    made = np.empty((len(rows), matrix.shape[1]))
    step = max(1, QUIET // max(1, matrix.size))
    for start in range(0, len(rows), step):
        made[start : start + step] = rows[start : start + step] @ matrix
    return made


@dataclass(frozen=True, slots=True)
class _Round:
    """What a round takes bent elements for: `active` ones as ports, others with the amps they strayed."""

    active: "Flags"
    strayed: "Floats"
    amps_at_0: "Floats"
    slope: "Floats"


class _Straight:
    """Changes with all their elements straight, as arrays padded with ports from the reference to itself."""

    def __init__(self, tangent: Tangent, ports: Sequence[Ports]) -> None:
        import numpy as np

        self.tangent = tangent
        net = tangent.net
        width = max((len(one.a) for one in ports), default=0)
        shape = (len(ports), width)
        self.a = np.full(shape, net.reference, dtype=np.intp)
        self.b = self.a.copy()
        self.g, self.j = np.zeros(shape), np.zeros(shape)
        for number, one in enumerate(ports):
            count = len(one.a)
            self.a[number, :count], self.b[number, :count] = one.a, one.b
            self.g[number, :count], self.j[number, :count] = one.g, one.j
        self.bent_a, self.bent_b = net.a[net.bent], net.b[net.bent]
        self.bent_lift = tangent.inverse[self.bent_a] - tangent.inverse[self.bent_b]
        u0 = tangent.settled.v[self.bent_a] - tangent.settled.v[self.bent_b]
        self.bent_g = tangent.slope[net.bent]
        self.bent_i = tangent.settled.current[net.bent] - self.bent_g * u0

    def volts(self, which: "Ints", now: _Round) -> "tuple[Floats, Flags]":
        """Node volts of the changes `which`, and for which of them the sums came out exact."""
        import numpy as np

        v = np.empty((len(which), len(self.tangent.net.nodes)))
        exact = np.zeros(len(which), dtype=np.bool_)
        counts = now.active.sum(axis=1)
        least = -1
        for most in (0, 1, 3, 8, 20, int(counts.max(initial=0))):
            some = np.flatnonzero((counts > least) & (counts <= most))
            if len(some):
                part = _Round(now.active[some], now.strayed[some], now.amps_at_0[some], now.slope[some])
                v[some], exact[some] = self._volts(which[some], part, int(counts[some].max()))
            least = max(least, most)
        return v, exact

    def _volts(self, which: "Ints", now: _Round, bent: int) -> "tuple[Floats, Flags]":
        import numpy as np

        tangent = self.tangent
        v0 = tangent.settled.v - _product(now.strayed, self.bent_lift)
        a, b, g, j = self.a[which], self.b[which], self.g[which], self.j[which]
        if bent:
            picked = np.argsort(~now.active, axis=1, kind="stable")[:, :bent]
            real = np.take_along_axis(now.active, picked, axis=1)
            slope = np.take_along_axis(now.slope, picked, axis=1) - self.bent_g[picked]
            amps = np.take_along_axis(now.amps_at_0, picked, axis=1) - self.bent_i[picked]
            nowhere = tangent.net.reference
            a = np.concatenate((a, np.where(real, self.bent_a[picked], nowhere)), axis=1)
            b = np.concatenate((b, np.where(real, self.bent_b[picked], nowhere)), axis=1)
            g = np.concatenate((g, np.where(real, slope, 0.0)), axis=1)
            j = np.concatenate((j, np.where(real, amps, 0.0)), axis=1)
        ohm = tangent.between(a[:, :, None], b[:, :, None], a[:, None, :], b[:, None, :])
        before = np.take_along_axis(v0, a, axis=1) - np.take_along_axis(v0, b, axis=1)
        system = np.eye(a.shape[1]) + ohm * g[:, None, :]
        free = before - (ohm @ j[:, :, None])[:, :, 0]
        try:
            u = np.linalg.solve(system, free[:, :, None])[:, :, 0]
        except np.linalg.LinAlgError:
            return np.full_like(v0, np.nan), np.zeros(len(which), dtype=np.bool_)
        drawn = g * u + j
        if a.shape[1] <= NARROW:
            v = v0 - (drawn[:, None, :] @ (tangent.inverse[a] - tangent.inverse[b]))[:, 0, :]
        else:
            v = v0 - _product(_at_nodes(v0.shape, a, b, drawn), tangent.inverse)
        again = np.take_along_axis(v, a, axis=1) - np.take_along_axis(v, b, axis=1)
        off = np.abs(again - u).max(axis=1, initial=0.0)
        return v, off <= CLOSE_V

    def touching_weak(self) -> "Flags":
        """Which changes have a port at a node that is all but floating."""
        import numpy as np

        weak = np.diagonal(self.tangent.inverse) > WEAK_OHM
        touching: Flags = np.any(weak[self.a] | weak[self.b], axis=1)
        return touching

    def left_over(self, which: "Ints", v: "Floats", out: "Flags") -> "Floats":
        """The most amps that fail to add up at any node after each of the changes `which`."""
        import numpy as np

        net = self.tangent.net
        u = v[:, net.a] - v[:, net.b]
        amps = net.g * u - net.j
        bent_u = u[:, net.bent]
        law, _ = net.laws.current_and_slope(bent_u)
        amps[:, net.bent] = np.where(out, self.bent_i + self.bent_g * bent_u, law)
        a, b = self.a[which], self.b[which]
        more = self.g[which] * (np.take_along_axis(v, a, axis=1) - np.take_along_axis(v, b, axis=1))
        nodes = _at_nodes(v.shape, a, b, more + self.j[which])
        nodes += _at_nodes(v.shape, np.broadcast_to(net.a, u.shape), np.broadcast_to(net.b, u.shape), amps)
        nodes[:, net.anchors] += METER_S * v[:, net.anchors]
        worst: Floats = np.abs(nodes[:, :-1]).max(axis=1, initial=0.0)
        return worst
