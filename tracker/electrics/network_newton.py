"""Solving a network: Newton steps on node volts, each cut back until it really is downhill.

All elements rise with their volts, so the node volts that satisfy Kirchhoff's current law are the lowest
point of one bowl (the sum of every element's i du). A step that goes down the bowl each time cannot run in
circles, whatever diodes and filaments do; where rounding ends it before the law is met, it says so.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tracker.electrics.network_laws import METER_S, Compiled

if TYPE_CHECKING:
    from tracker.electrics.network_laws import Floats

MOST_STEPS = 200
"""Newton steps before giving up; a loom of a few hundred elements takes 5 to 25."""

REACH_V = 60.0
"""A step that moves a node by more volts than this is taken with all nodes tied down a little."""

MOST_TIE_S = 1e3
"""The most siemens that nodes are tied by."""

STEP_V = 1e-7
"""A step that moves no element by more volts than this is the last one."""


@dataclass(frozen=True, slots=True)
class Settled:
    """Where the steps ended: node volts (the reference last, 0), amps and siemens of each element there."""

    v: "Floats"
    current: "Floats"
    slope: "Floats"
    converged: bool
    steps: int
    residual_a: float


def settle(net: Compiled) -> Settled:
    """Node volts of `net`, from a first guess with lamps hot and diodes off."""
    import numpy as np

    count = len(net.nodes)
    v = np.zeros(count)
    slope = net.g.copy()
    slope[net.bent] = net.laws.start_s
    try:
        v[:-1] = np.linalg.solve(node_matrix(net, slope), -leaving(net, -net.j)[:-1])
        for step in range(1, MOST_STEPS + 1):
            _, current, slope = state(net, v)
            residual = leaving(net, current)
            residual[net.anchors] += METER_S * v[net.anchors]
            down = _step(net, slope, residual)
            du = down[net.a] - down[net.b]
            if _done(net, v, slope, residual, du):
                return settled_at(net, v + down, True, step)
            v = v + _length(net, v, down, float(residual @ down)) * down
    except np.linalg.LinAlgError:
        step = 0
    return settled_at(net, v, False, step)


def _step(net: Compiled, slope: "Floats", residual: "Floats") -> "Floats":
    """The Newton step; where weakly held nodes would fly off with it, all nodes are tied down a little first.

    A node between diodes that do not conduct would move by megavolts, and cutting the whole step back for its
    sake would leave the others standing still. Tying every node holds back only those that little else holds.
    """
    import numpy as np

    matrix, tie_s = node_matrix(net, slope), 0.0
    down = np.zeros(len(net.nodes))
    while True:
        down[:-1] = -np.linalg.solve(matrix + tie_s * np.eye(len(matrix)), residual[:-1])
        if float(np.abs(down).max()) <= REACH_V or tie_s > MOST_TIE_S:
            return down
        tie_s = max(METER_S, 10 * tie_s)


def state(net: Compiled, v: "Floats") -> "tuple[Floats, Floats, Floats]":
    """Volts across, amps through and siemens of every element at node volts `v`."""
    u = v[net.a] - v[net.b]
    current = net.g * u - net.j
    slope = net.g.copy()
    current[net.bent], slope[net.bent] = net.laws.current_and_slope(u[net.bent])
    return u, current, slope


def leaving(net: Compiled, current: "Floats") -> "Floats":
    """Amps that leave each node through the elements."""
    import numpy as np

    count = len(net.nodes)
    amps: Floats = np.bincount(net.a, current, count).astype(np.float64)
    return amps - np.bincount(net.b, current, count)


def node_matrix(net: Compiled, slope: "Floats") -> "Floats":
    """Siemens between nodes, the reference left out; islands tied down by a meter."""
    import numpy as np

    count = len(net.nodes)
    rows = np.concatenate((net.a, net.b, net.a, net.b, net.anchors))
    columns = np.concatenate((net.a, net.b, net.b, net.a, net.anchors))
    values = np.concatenate((slope, slope, -slope, -slope, np.full(len(net.anchors), METER_S)))
    full: Floats = np.bincount(rows * count + columns, values, count * count).astype(np.float64)
    return full.reshape(count, count)[:-1, :-1]


def _done(net: Compiled, v: "Floats", slope: "Floats", residual: "Floats", du: "Floats") -> bool:
    """Whether the next step is small, or the residual is nothing but rounding."""
    import numpy as np

    if len(du) == 0 or float(np.abs(du).max()) <= STEP_V:
        return True
    count = len(net.nodes)
    carried = slope * (np.abs(v[net.a]) + np.abs(v[net.b])) + np.abs(net.j)
    rounding = (
        4
        * np.finfo(np.float64).eps
        * (np.bincount(net.a, carried, count) + np.bincount(net.b, carried, count))
    )
    return bool(np.all(np.abs(residual[:-1]) <= rounding[:-1]))


def _length(net: Compiled, v: "Floats", down: "Floats", fall: float) -> float:
    """How much of a step to take: all of it, or halves until the bowl is lower by a fair share of `fall`."""
    import numpy as np

    u, du = v[net.a] - v[net.b], down[net.a] - down[net.b]
    straight_1 = float((net.g * u - net.j) @ du + METER_S * (v[net.anchors] @ down[net.anchors]))
    straight_2 = float(0.5 * (net.g * du) @ du + 0.5 * METER_S * (down[net.anchors] @ down[net.anchors]))
    bent_u, bent_du = u[net.bent], du[net.bent]
    before = net.laws.energy(bent_u)
    noise = 1e-13 * (1 + float(np.abs(before).sum()) + abs(straight_1) + straight_2)
    share = 1.0
    for _ in range(60):
        rise = share * straight_1 + share**2 * straight_2
        rise += float((net.laws.energy(bent_u + share * bent_du) - before).sum())
        if rise <= 1e-4 * share * fall + noise:
            return share
        share /= 2
    return share


def settled_at(net: Compiled, v: "Floats", converged: bool, steps: int) -> Settled:
    """Node volts `v` with the amps they make, and by how much those fail to add up."""
    import numpy as np

    _, current, slope = state(net, v)
    residual = leaving(net, current)
    residual[net.anchors] += METER_S * v[net.anchors]
    worst = float(np.abs(residual[:-1]).max(initial=0.0))
    return Settled(v, current, slope, converged and bool(np.isfinite(v).all()), steps, worst)
