"""A change of a loom's circuit as a change of its short form, and what it does within a row of parts."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from tracker.loom.network_chains import Chain, Chained
from tracker.records.network import Change, Element, Joint, Node, Resistor, WireElement

Volts: TypeAlias = Callable[[Node], float]


@dataclass(slots=True)
class Touched:
    """A row of parts of which some are out (`cuts`), some have more ohms, and one node leads elsewhere.

    `shunt` is the node by the number of parts before it, where it leads, and by how many ohms.
    """

    chain: Chain
    cuts: set[int] = field(default_factory=set)
    more: dict[int, float] = field(default_factory=dict)
    shunt: tuple[int, Node, float] | None = None

    def ohm(self, start: int, stop: int) -> float:
        """Ohms of the parts from number `start` up to, not including, `stop`."""
        ends = (*self.chain.before, self.chain.ohm)
        extra = sum(ohm for number, ohm in self.more.items() if start <= number < stop)
        return ends[stop] - ends[start] + extra

    def cut(self, start: int, stop: int) -> bool:
        """Whether something between is out."""
        return any(start <= number < stop for number in self.cuts)

    def instead(self) -> tuple[Element, ...]:
        """What stands in the short circuit in place of the row."""
        chain, last = self.chain, len(self.chain.names)
        if self.shunt is None:
            return () if self.cuts else (Joint(chain.name, chain.a, chain.b, self.ohm(0, last)),)
        number, target, ohm = self.shunt
        to_a = None if self.cut(0, number) else self.ohm(0, number)
        to_b = None if self.cut(number, last) else self.ohm(number, last)
        ends = [(end, r) for end, r in ((chain.a, to_a), (chain.b, to_b), (target, ohm)) if r is not None]
        names = (chain.name, f"{chain.name} beside", f"{chain.name} beyond")
        made: list[Element] = []
        total = sum(1 / r for _, r in ends)
        for one in range(len(ends)):
            for other in range(one + 1, len(ends)):
                (a, r_a), (b, r_b) = ends[one], ends[other]
                if a != b:
                    made.append(Joint(names[len(made)], a, b, r_a * r_b * total))
        return tuple(made)

    def volts(self, number: int, volts: Volts) -> float:
        """Volts at the node behind `number` parts, by those at the branches; 0 where it hangs on nothing."""
        knots: list[tuple[int, float]] = [
            (0, volts(self.chain.a)),
            (len(self.chain.names), volts(self.chain.b)),
        ]
        if self.shunt is not None:
            at, target, ohm = self.shunt
            reached = [(1 / ohm, volts(target))]
            reached += [
                (1 / self.ohm(min(at, end), max(at, end)), v)
                for end, v in knots
                if not self.cut(min(at, end), max(at, end))
            ]
            knots.insert(1, (at, sum(g * v for g, v in reached) / sum(g for g, _ in reached)))
        below = max((knot for knot in knots if knot[0] <= number), key=lambda knot: knot[0])
        above = min((knot for knot in knots if knot[0] >= number), key=lambda knot: knot[0])
        from_below, from_above = not self.cut(below[0], number), not self.cut(number, above[0])
        if from_below and from_above:
            whole = self.ohm(below[0], above[0])
            part = self.ohm(below[0], number)
            return below[1] + (above[1] - below[1]) * part / whole if whole else below[1]
        return below[1] if from_below else above[1] if from_above else 0.0


@dataclass(frozen=True, slots=True)
class Twig:
    """What hung on one end and now leads elsewhere: ohms up to each node of it, ohms in all, and where to."""

    ohms: Mapping[Node, float]
    ohm: float
    other: Node


@dataclass(slots=True)
class Short:
    """A change of the short circuit. `touched` by the row's name; `off` are twigs that hang on nothing now.

    `lifted` are parts that hung on nothing (by the last node of their way) and now have the volts of a node;
    `tied` the same of what a twig that is off leaves loose, by that twig.
    `change` None means that it has to be solved afresh.
    """

    change: Change | None
    touched: dict[str, Touched] = field(default_factory=dict)
    off: frozenset[str] = frozenset()
    twigs: tuple[Twig, ...] = ()
    lifted: tuple[tuple[Node, Node], ...] = ()
    tied: tuple[tuple[str, Node], ...] = ()


class _AfreshError(Exception):
    """The change has no short form."""


def shorten(chained: Chained, change: Change) -> Short:
    """`change`, named by parts of the whole circuit, for the short one."""
    try:
        return _shorten(chained, change)
    except _AfreshError:
        return Short(None)


def _shorten(chained: Chained, change: Change) -> Short:
    new = {element.name: element for element in change.put_in}
    out: list[str] = []
    put_in: list[Element] = []
    off: set[str] = set()
    touched: dict[str, Touched] = {}
    for name in change.out:
        instead = new.pop(name, None)
        chain = chained.chain_of.get(name)
        if name in chained.twigs:
            if instead is None:
                off.add(name)
        elif chain is not None:
            row = touched.setdefault(chain.name, Touched(chain))
            number = chain.names.index(name)
            if instead is None:
                row.cuts.add(number)
            else:
                row.more[number] = row.more.get(number, 0.0) + _ohm(instead) - _row_ohm(chain, number)
        else:
            out.append(name)
            if instead is not None:
                put_in.append(_at_branches(chained, instead))
    twigs: list[Twig] = []
    lifted: list[tuple[Node, Node]] = []
    tied: list[tuple[str, Node]] = []
    for element in new.values():
        if chained.loose(element.a) and chained.loose(element.b):
            continue
        if loose := _loose(chained, element):
            if off or len(new) > 1 + len(lifted):
                raise _AfreshError
            lifted += loose
            continue
        if cut := _cut(chained, element, off):
            tied += cut
            continue
        made, drawn = _join(chained, element, touched)
        put_in += made
        twigs += drawn
    for row in touched.values():
        out.append(row.chain.name)
        put_in += row.instead()
    short = Change(change.label, tuple(out), tuple(put_in))
    return Short(short, touched, frozenset(off), tuple(twigs), tuple(lifted), tuple(tied))


def _loose(chained: Chained, element: Element) -> list[tuple[Node, Node]]:
    """The end of something new that hangs on nothing, with its other end."""
    ends = ((element.a, element.b), (element.b, element.a))
    return [(chained.last(end), other) for end, other in ends if chained.loose(end)][:1]


def _cut(chained: Chained, element: Element, off: set[str]) -> list[tuple[str, Node]]:
    """Where one end of something new lies beyond a twig that is off: that twig, and the other end."""
    ends = ((element.a, element.b), (element.b, element.a))
    found: list[tuple[str, Node]] = []
    for end, other in ends if off else ():
        beyond = next((name for _, name, _ in chained.way(end) if name in off), None)
        found += [(beyond, other)] if beyond is not None else []
    if len(found) > 1:
        raise _AfreshError
    return found


def _join(
    chained: Chained, element: Element, touched: dict[str, Touched]
) -> tuple[list[Element], list[Twig]]:
    """Something new between two nodes of the whole circuit."""
    a, b = chained.spots.get(element.a), chained.spots.get(element.b)
    if a is None or b is None:
        raise _AfreshError
    if a.chain is not None and b.chain is not None:
        raise _AfreshError
    if not isinstance(element, Joint | WireElement | Resistor):
        return [_at_branches(chained, element)], []
    ohm = element.ohm + a.twig_ohm + b.twig_ohm
    if a.chain is None and b.chain is None:
        if a.a == b.a:
            return [], []
        twigs = [
            Twig(chained.twig(end), ohm, other.a)
            for spot, end, other in ((a, element.a, b), (b, element.b, a))
            if spot.twig_ohm
        ]
        return [Joint(element.name, a.a, b.a, ohm)], twigs
    inside, home, end = (a, b, element.a) if a.chain is not None else (b, a, element.b)
    chain = inside.chain
    assert chain is not None
    row = touched.setdefault(chain.name, Touched(chain))
    if row.shunt is not None or (inside.twig_ohm and home.twig_ohm):
        raise _AfreshError
    row.shunt = (inside.number, home.a, ohm)
    return [], [Twig(chained.twig(end), ohm, home.a)] if inside.twig_ohm else []


def _at_branches(chained: Chained, element: Element) -> Element:
    for node in (element.a, element.b):
        spot = chained.spots.get(node)
        if spot is None or spot.a != node:
            raise _AfreshError
    return element


def _ohm(element: Element) -> float:
    if isinstance(element, Joint | WireElement | Resistor):
        return element.ohm
    raise _AfreshError


def _row_ohm(chain: Chain, number: int) -> float:
    return (*chain.before, chain.ohm)[number + 1] - chain.before[number]
