"""One side of a bay as piled blocks: which spots of each zone are shown, on how many lines."""

from collections.abc import Mapping
from dataclasses import dataclass

from tracker.loom.layout_bays import Bay, Stand
from tracker.loom.layout_metrics import Measure, Metrics, cut, fitted, one_line, short_name
from tracker.records.drawing import Label, RepairNumber, Spot
from tracker.records.loom_made import Key
from tracker.records.width import left, width_of


@dataclass(frozen=True, slots=True)
class Item:
    """A spot that is shown, with its name's lines; every y is still to be set."""

    spot: Spot
    labels: tuple[Label, ...]
    number: RepairNumber | None


@dataclass(frozen=True, slots=True)
class Block:
    """A zone with its name, the spots that are shown in their order, and how many are not."""

    stand: Stand
    name: Label
    number: RepairNumber | None
    items: tuple[Item, ...]
    hidden: int

    @property
    def rows(self) -> int:
        """How many rows it takes, its name's included."""
        return 1 + sum(len(item.labels) for item in self.items)


def pile(bay: Bay, metrics: Metrics, most: int, *, above: bool) -> tuple[Block, ...]:
    """The blocks on one side of a bay in at most so many rows, the farthest first; never without what must be
    shown. Names are cut rather than spots left out, and written out where rows are left."""
    stands = bay.side(above=above)
    at = {spot.key: stand for stand in stands for spot in stand.zone.spots}
    must = [spot for stand in stands for spot in stand.zone.spots if spot.must_show]
    items = {spot.key: _item(bay, at[spot.key], spot, metrics, metrics.lines) for spot in must}
    used = len(stands) + sum(len(item.labels) for item in items.values())
    if used > most:
        items = {spot.key: _item(bay, at[spot.key], spot, metrics, 1) for spot in must}
        used = len(stands) + len(items)
    others = [_by_weight(stand) for stand in stands]
    while used < most and any(others):
        spot = max(others, key=len).pop(0)
        items[spot.key] = _item(bay, at[spot.key], spot, metrics, 1)
        used += 1
    for key, item in items.items():
        whole = _item(bay, at[key], item.spot, metrics, metrics.lines) if used < most else item
        more = len(whole.labels) - len(item.labels)
        if used + more <= most:
            items[key], used = whole, used + more
    return tuple(_block(bay, stand, items, metrics) for stand in stands)


def full_rows(bay: Bay, metrics: Metrics, *, above: bool) -> int:
    """The rows that one side takes with everything shown and written out."""
    rows = 0
    for stand in bay.side(above=above):
        room = _room(bay, stand, metrics)
        lines = (
            fitted(one_line(s.words), room, metrics.measure, metrics.lines, metrics.more)
            for s in stand.zone.spots
        )
        rows += 1 + sum(len(one) for one in lines)
    return rows


def least_rows(bay: Bay, *, above: bool) -> int:
    """The rows that one side takes with nothing but its zones' names and what must be shown, names cut."""
    return sum(1 + sum(s.must_show for s in stand.zone.spots) for stand in bay.side(above=above))


def _by_weight(stand: Stand) -> list[Spot]:
    """What need not be shown, what has most ways first: that is where most can be found."""
    return sorted((spot for spot in stand.zone.spots if not spot.must_show), key=lambda spot: -spot.ways)


def _room(bay: Bay, stand: Stand, metrics: Metrics) -> float:
    """From where a name begins to the end of its bay."""
    return bay.x + bay.width - stand.x - metrics.to_text


def _item(bay: Bay, stand: Stand, spot: Spot, metrics: Metrics, lines: int) -> Item:
    measure = metrics.measure
    room = _room(bay, stand, metrics)
    number = numbers_words(spot.repairs, room / 2, measure) if spot.repairs else ""
    aside = measure(f" {number}") if number else 0.0
    bracket = measure("[") if spot.here else 0.0
    before = bracket if metrics.unit == "cell" else 0.0  # in cells it takes the blank after the sign
    free = room - 2 * bracket + before
    texts = list(fitted(one_line(spot.words), free, measure, lines, metrics.more))
    if measure(texts[-1]) > free - aside:
        texts = list(fitted(one_line(spot.words), free - aside, measure, lines, metrics.more))
    if spot.here:
        texts[0] = f"[{texts[0]}"
        texts[-1] += "]"
    x = stand.x + metrics.to_text
    labels = []
    for at, text in enumerate(texts):
        indent = before if at == 0 else 0.0
        labels.append(
            Label(x - indent, 0, measure(text), metrics.line, text, "part", spot=spot, lit=spot.lit)
        )
    return Item(spot, tuple(labels), _number(labels[-1], spot.repairs, number, metrics))


def numbers_words(numbers: tuple[int, ...], room: float, measure: Measure) -> str:
    """Repair numbers in brackets: all of them, else from the first to the last, else the first and “more”.

    >>> numbers_words((1, 2, 5, 7), 6, width_of), numbers_words((1, 2, 5, 7), 5, width_of)
    ('(1..7)', '(1+)')
    """
    first = f"({numbers[0]}+)" if len(numbers) > 1 else f"({numbers[0]})"
    shorter = (f"({','.join(map(str, numbers))})", f"({numbers[0]}..{numbers[-1]})")
    return next((words for words in shorter if measure(words) <= room), first)


def _block(bay: Bay, stand: Stand, items: Mapping[Key, Item], metrics: Metrics) -> Block:
    spots = stand.zone.spots
    shown = tuple(items[spot.key] for spot in spots if spot.key in items)
    hidden = len(spots) - len(shown)
    count = f" +{hidden}" if hidden else ""
    room = bay.x + bay.width - stand.x - metrics.to_name

    def measure(text: str) -> float:
        return metrics.bold * metrics.measure(text)

    number = numbers_words(stand.zone.repairs, room / 2, metrics.measure) if stand.zone.repairs else ""
    aside = measure(count) + (metrics.measure(f" {number}") if number else 0.0)
    words = zone_name(one_line(stand.zone.words), room - aside, measure, metrics.more)
    text = left(words, width_of(words)) + count
    x = stand.x + metrics.to_name
    name = Label(x, 0, measure(text), metrics.line, text, "zone", lit=stand.zone.lit)
    return Block(stand, name, _number(name, stand.zone.repairs, number, metrics), shown, hidden)


def zone_name(words: str, room: float, measure: Measure, more: str) -> str:
    """A zone's name in the room there is: its first words by their initials before anything is cut.

    >>> zone_name("right engine", 9, width_of, "…")
    'r. engine'
    """
    if measure(words) <= room:
        return words
    short = short_name(words)
    return short if measure(short) <= room else cut(words, room, measure, more)


def _number(label: Label, numbers: tuple[int, ...], words: str, metrics: Metrics) -> RepairNumber | None:
    """Repair numbers behind a label."""
    if not words:
        return None
    x = label.x + label.width + metrics.measure(" ")
    return RepairNumber(x, 0, metrics.measure(words), metrics.line, numbers, words)
