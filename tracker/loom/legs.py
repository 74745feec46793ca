"""Ways through what conducts without doing work: wires, joints, closed contacts, fuses, resistors in line."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from heapq import heappop, heappush
from typing import Literal, TypeAlias

from tracker.records.loom import End
from tracker.records.loom_made import Step

LEAST_OHM = 1e-6
"""Counted for every element, so that of two ways without resistance the shorter one is taken."""

MOST_TRIED = 4000
"""Elements tried while looking for other ways; a loom's earths give a few dozen."""


@dataclass(frozen=True, slots=True)
class Link:
    """Something that conducts from here to `other`."""

    other: End
    what: Literal["wire", "device", "joint"]
    id: str
    ohm: float


Links: TypeAlias = dict[End, list[Link]]
Way: TypeAlias = tuple[Step, ...]


@dataclass(slots=True)
class Legs:
    """The links of a loom in one state; remembers the least-ohm tree of every end it was asked from.

    `diodes` are links that pass one way: no main way takes one, but another way may.
    """

    links: Links
    diodes: Links = field(default_factory=dict)
    trees: dict[End, dict[End, tuple[End, Link]]] = field(default_factory=dict)

    def main(self, start: End, goal: End) -> Way | None:
        """The way of least ohms; None where there is none."""
        if start == goal:
            return ()
        if goal in self.trees and start not in self.trees:
            back = _climb(self.trees[goal], goal, start)
            return None if back is None else tuple(_turned(step) for step in reversed(back))
        return _climb(self._tree(start), start, goal)

    def others(self, start: End, goal: End, most: int) -> list[Way]:
        """Ways beside the main one, the least ohms first, no place passed twice."""
        if most <= 0 or start == goal:
            return []
        every = {
            end: [*self.links.get(end, ()), *self.diodes.get(end, ())] for end in {*self.links, *self.diodes}
        }
        kept = _core(every, start, goal)
        main = self.main(start, goal)
        found: list[tuple[float, Way]] = []
        for ohm, way in _simple(every, kept, start, goal):
            if way != main:
                found.append((ohm, way))
        found.sort(key=lambda one: one[0])
        return [way for _, way in found[:most]]

    def _tree(self, start: End) -> dict[End, tuple[End, Link]]:
        if start in self.trees:
            return self.trees[start]
        tree: dict[End, tuple[End, Link]] = {}
        reached: dict[End, float] = {start: 0.0}
        heap: list[tuple[float, End]] = [(0.0, start)]
        while heap:
            ohm, here = heappop(heap)
            if ohm > reached[here]:
                continue
            for link in self.links.get(here, ()):
                there = ohm + link.ohm + LEAST_OHM
                if there < reached.get(link.other, float("inf")):
                    reached[link.other] = there
                    tree[link.other] = (here, link)
                    heappush(heap, (there, link.other))
        self.trees[start] = tree
        return tree


def _core(links: Links, start: End, goal: End) -> set[End]:
    """What can be reached when dead ends are cut back, again and again."""
    beside: dict[End, list[End]] = {}
    for end, some in links.items():
        for link in some:
            beside.setdefault(end, []).append(link.other)
            if not any(back.other == end and back.id == link.id for back in links.get(link.other, ())):
                beside.setdefault(link.other, []).append(end)
    reach = {start}
    todo = [start]
    while todo:
        for other in beside.get(todo.pop(), ()):
            if other not in reach:
                reach.add(other)
                todo.append(other)
    degree = {end: len(beside.get(end, ())) for end in reach}
    dead = [end for end, count in degree.items() if count < 2 and end not in {start, goal}]
    while dead:
        end = dead.pop()
        reach.discard(end)
        for other in beside.get(end, ()):
            if other in reach:
                degree[other] -= 1
                if degree[other] == 1 and other not in {start, goal}:
                    dead.append(other)
    return reach


def _simple(links: Links, kept: set[End], start: End, goal: End) -> Iterator[tuple[float, Way]]:
    tried = 0
    stack: list[tuple[End, float, Way, frozenset[End]]] = [(start, 0.0, (), frozenset({start}))]
    while stack:
        here, ohm, way, passed = stack.pop()
        if here == goal:
            yield ohm, way
            continue
        for link in links.get(here, ()):
            if link.other in kept and link.other not in passed:
                tried += 1
                if tried > MOST_TRIED:
                    return
                step = Step(link.what, link.id, here, link.other)
                stack.append((link.other, ohm + link.ohm, (*way, step), passed | {link.other}))


def _climb(tree: dict[End, tuple[End, Link]], root: End, leaf: End) -> Way | None:
    steps: list[Step] = []
    here = leaf
    while here != root:
        if here not in tree:
            return None
        before, link = tree[here]
        steps.append(Step(link.what, link.id, before, here))
        here = before
    return tuple(reversed(steps))


def _turned(step: Step) -> Step:
    return Step(step.what, step.id, step.end, step.start)


def link_up(pairs: Iterable[tuple[End, End, Literal["wire", "device", "joint"], str, float]]) -> Links:
    """The links both ways from what joins two ends."""
    links: Links = {}
    for a, b, what, id_, ohm in pairs:
        links.setdefault(a, []).append(Link(b, what, id_, ohm))
        links.setdefault(b, []).append(Link(a, what, id_, ohm))
    return links
