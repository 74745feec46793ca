"""Which nodes hang together: islands, and the elements that are the only way to a part of the loom."""

from collections.abc import Iterable, Sequence


def islands(count: int, edges: Iterable[tuple[int, int]]) -> list[int]:
    """For each of `count` nodes the lowest number in its island."""
    boss = list(range(count))

    def find(node: int) -> int:
        while boss[node] != node:
            boss[node] = boss[boss[node]]
            node = boss[node]
        return node

    for a, b in edges:
        one, other = find(a), find(b)
        boss[max(one, other)] = min(one, other)
    return [find(node) for node in range(count)]


def bridges(count: int, edges: Sequence[tuple[int, int]], roots: Iterable[int]) -> dict[int, int]:
    """Edges whose loss cuts off a part of the network, each with the lowest node of the part it cuts off.

    `roots` are the nodes the walk starts from, one an island; the part cut off is the one without the root.
    Parallel edges are told apart, so that two wires side by side are no bridge. Tarjan's walk, without
    recursion because a loom in series can be deep.
    """
    ways: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    for number, (a, b) in enumerate(edges):
        ways[a].append((b, number))
        ways[b].append((a, number))
    seen_at = [-1] * count
    lowest = [0] * count
    first = list(range(count))
    found: dict[int, int] = {}
    clock = 0
    for root in roots:
        if seen_at[root] >= 0:
            continue
        seen_at[root] = lowest[root] = clock
        clock += 1
        walk = [(root, -1, iter(ways[root]))]
        while walk:
            node, came_by, more = walk[-1]
            for other, number in more:
                if number == came_by:
                    continue
                if seen_at[other] >= 0:
                    lowest[node] = min(lowest[node], seen_at[other])
                    continue
                seen_at[other] = lowest[other] = clock
                clock += 1
                walk.append((other, number, iter(ways[other])))
                break
            else:
                walk.pop()
                if walk:
                    above = walk[-1][0]
                    lowest[above] = min(lowest[above], lowest[node])
                    first[above] = min(first[above], first[node])
                    if lowest[node] > seen_at[above]:
                        found[came_by] = first[node]
    return found
