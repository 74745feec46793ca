"""Answers that are known for a field that is written freely: readings, places, parts, people, ..."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from tracker.desk.desk import Desk
from tracker.desk.on_card import in_order
from tracker.desk.show import card_view
from tracker.errors import LoomcardError
from tracker.papers.twins import repair_line
from tracker.records.facts import CardFacts
from tracker.records.money import Money
from tracker.records.text import fold


@dataclass(frozen=True, slots=True)
class KnownAnswer:
    """One answer and what it means."""

    value: str
    words: str = ""
    folded: str = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "folded", fold(f"{self.value} {self.words}"))

    @property
    def line(self) -> str:
        """As it is listed."""
        return f"{self.value:<26} {self.words}".rstrip()


Look = Callable[[Desk, Mapping[str, str]], tuple[KnownAnswer, ...]]

SAID = {
    "how": ("in person", "phone", "message", "signed"),
    "method": ("cash", "card", "transfer"),
    "came_how": ("ridden", "pushed", "van", "post"),
    "battery_kind": ("flooded", "agm", "gel", "lithium", "none", "don't know"),
    "fault": ("open", "weak", "shorted", "to frame", "stuck"),
    "splice": ("butt connector", "soldered lap", "Western Union", "open-barrel crimp"),
    "when": ("hot", "wet", "at full lock", "shaken"),
}
"""Words that are usual; any other is taken too."""


def known_answers(desk: Desk, verb: str, name: str, given: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    """What is known for one field of a form; empty where nothing is. Reads the file and the seeds."""
    if name in SAID:
        return tuple(KnownAnswer(word) for word in SAID[name])
    look = LOOKS.get(f"{verb}.{name}") or LOOKS.get(name)
    try:
        if verb.startswith("loom ") and name not in {"card", "bike"}:
            from tracker.screens.known_loom import known_of_loom

            return tuple(KnownAnswer(*one) for one in known_of_loom(desk, verb, name, given))
        return look(desk, given) if look else ()
    except LoomcardError:  # a card that is not there yet: then nothing is known of it
        return ()


def _facts(desk: Desk, given: Mapping[str, str]) -> CardFacts:
    return card_view(desk, given.get("card", "")).facts


def _readings(desk: Desk, _: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    from tracker.seedfiles.readings import load_readings

    return tuple(
        KnownAnswer(one.id, f"{one.words} ({one.unit})") for one in load_readings(desk.seeds).values()
    )


def _rules(desk: Desk, _: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    from tracker.seedfiles.repairs import load_rules

    return tuple(KnownAnswer(rule.id, rule.words) for rule in load_rules(desk.seeds))


def _repairs(desk: Desk, given: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    rows = in_order(_facts(desk, given).repairs)
    return tuple(KnownAnswer(str(n), repair_line(one)) for n, one in enumerate(rows, 1))


def _findings(desk: Desk, given: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    rows = in_order(_facts(desk, given).findings)
    return tuple(KnownAnswer(str(n), one.words) for n, one in enumerate(rows, 1))


def _times(desk: Desk, given: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    rows = in_order(_facts(desk, given).times)
    return tuple(
        KnownAnswer(str(n), f"{desk.clock.local(one.on_at):%d %b %H:%M} {one.kind}")
        for n, one in enumerate(rows, 1)
    )


def _wanted(desk: Desk, given: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    rows = in_order(_facts(desk, given).wanted)
    return tuple(KnownAnswer(str(n), f"{one.words}: {one.state}") for n, one in enumerate(rows, 1))


def _places(desk: Desk, given: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    from tracker.desk.bike_loom import loom_of

    bike, seeds = (_facts(desk, given).bike if given.get("card") else None), desk.seeds
    loom = desk.read(lambda reader: loom_of(reader, seeds, bike))
    return tuple(KnownAnswer(place.id, place.words) for place in loom.places.values())


def _bodies(desk: Desk, given: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    from tracker.desk.bike_loom import loom_of

    bike, seeds = (_facts(desk, given).bike if given.get("card") else None), desk.seeds
    loom = desk.read(lambda reader: loom_of(reader, seeds, bike))
    return tuple(KnownAnswer(body.words) for body in loom.bodies.values())


def _accesses(desk: Desk, _: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    from tracker.seedfiles.loom import load_pattern

    return tuple(
        KnownAnswer(one.id, f"{one.words}, {one.minutes} min")
        for one in load_pattern(desk.seeds).known.accesses.values()
    )


def _ways(desk: Desk, given: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    from tracker.papers.ways import ways_shown

    return tuple(
        KnownAnswer(one.name, f"{Money(one.total_minor, one.currency)} {one.currency}")
        for one in ways_shown(_facts(desk, given).ways)
    )


def _zones(desk: Desk, _: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    from tracker.seedfiles.loom import load_pattern

    return tuple(KnownAnswer(zone) for zone in load_pattern(desk.seeds).known.zones)


def _features(desk: Desk, _: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    from tracker.seedfiles.loom import load_pattern

    return tuple(
        KnownAnswer(f"{one.id}={value}", words)
        for one in load_pattern(desk.seeds).known.features.values()
        for value, words in one.values.items()
    )


def _stock(desk: Desk, _: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    from tracker.desk.show import stock_rows

    return tuple(
        KnownAnswer(row.part.code, f"{row.part.name}, {row.stock:f} here") for row in stock_rows(desk)
    )


def _people(desk: Desk, _: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    from tracker.desk.show import customers

    return tuple(KnownAnswer(str(one.id), f"{one.name}  {one.phone}") for one in customers(desk))


def _mechanics(desk: Desk, _: Mapping[str, str]) -> tuple[KnownAnswer, ...]:
    from tracker.desk.show import mechanics

    return tuple(KnownAnswer(one.name) for one in mechanics(desk))


LOADS = ("dead", "weak", "works", "comes_and_goes", "blows_fuse", "flashes_fast")
"""Fields that name what the current is for."""

LOOKS: Mapping[str, Look] = {
    "kind": _readings,
    "bike figure.kind": _readings,
    "estimate.repair": _rules,
    "choose.way": _ways,
    "repair": _repairs,
    "agree.repairs": _repairs,
    "finding": _findings,
    "entry": _times,
    "part": _wanted,
    "part want.part": _stock,
    "stock arrived.part": _stock,
    "code": _stock,
    "place": _places,
    "from": _places,
    "to": _places,
    "wire_from": _places,
    "wire_to": _places,
    "zone": _zones,
    "off": _accesses,
    "refitted": _accesses,
    "features": _features,
    "customer": _people,
    "payer": _people,
    "rider": _people,
    "owner": _people,
    "mechanic": _mechanics,
    **dict.fromkeys(LOADS, _bodies),
}
"""By field, or by verb and field where a word means another thing there."""
