"""Weights of sets of classes, eight classes at a time."""


class Sums:
    """What the classes of a mask weigh, together and one by one; each stretch of eight is listed once."""

    def __init__(self, weights: tuple[float, ...]) -> None:
        stretches = [weights[start : start + 8] for start in range(0, len(weights), 8)]
        self._each = [_each(stretch) for stretch in stretches]
        self._known: dict[int, float] = {}

    def weight(self, mask: int) -> float:
        """All together."""
        found = self._known.get(mask)
        if found is None:
            found = self._known[mask] = sum(self.weights(mask))
        return found

    def weights(self, mask: int) -> list[float]:
        """One by one, from the lowest bit on."""
        found: list[float] = []
        for each in self._each:
            part = mask & 255
            if part:
                found += each[part]
            mask >>= 8
        return found


def _each(stretch: tuple[float, ...]) -> list[tuple[float, ...]]:
    """For every mask over the stretch, the weights in it."""
    found: list[tuple[float, ...]] = [()]
    for weight in stretch:
        found += [(*one, weight) for one in found]
    return found
