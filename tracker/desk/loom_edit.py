"""Putting a bike's loom right: what is said of a part becomes a fact, once it is known what it would break.

A part goes by any of its names, by its kind and id as lists show them (`body regulator`), a wire also by the
two places it joins (`tail-plug:tail > tail-lamp:feed`). Unless it is kept as unfinished, nothing is kept
that leaves a load without a circuit, an end hanging or a wire that leads nowhere. A loom of one's own is
built up part by part: there, what is still missing is only said.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Annotated, ClassVar, cast, get_args

from tracker.desk.ask import Ask
from tracker.desk.bike_loom import BUILT, PATTERN_AGAIN, is_own, loom_facts, loom_of, model_key
from tracker.desk.bikes import bike_named
from tracker.desk.turn import Turn
from tracker.records.bike import Bike, LoomFact
from tracker.records.loom import ColourSet, DeviceKind, End, PlaceKind, What, WireKind
from tracker.records.problem import Mistakes, Problem
from tracker.records.text import fold

if TYPE_CHECKING:
    from tracker.records.loom_made import Fact, Loom

KINDS: tuple[What, ...] = ("body", "place", "device", "wire")

MOST_SAID = 4
"""Consequences told before the rest is only counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OnLoom:
    """What every change of a loom asks."""

    bike: Annotated[str, Ask("Bike", "its number, registration or frame number", place=1)]

    def bike_here(self, turn: Turn) -> Bike:
        """The bike that is meant."""
        return bike_named(turn.unit, self.bike)


@dataclass(frozen=True, slots=True, kw_only=True)
class OnPart(OnLoom):
    """A change of one part."""

    part: Annotated[str, Ask("Part", "any of its names; a wire also by its places, A > B", place=2)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """How a change is kept: seen on which card, of this bike or of all its model, whole or unfinished."""

    card: str
    model: bool
    words: str
    unfinished: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MovePart(OnPart):
    """Say where a part sits on this bike, or at which places a wire ends."""

    verb: ClassVar[str] = "loom move"

    zone: Annotated[
        str, Ask("Zone", "where it sits: tail, under-seat; loomcard where lists them", place=3)
    ] = ""
    start: Annotated[str, Ask("Wire from", "a place, for a wire that ends elsewhere")] = ""
    end: Annotated[str, Ask("Wire to", "a place")] = ""
    words: Annotated[str, Ask("As seen", "in your own words", lines=True)] = ""
    card: Annotated[str, Ask("Card", "on which it was seen")] = ""
    model: Annotated[bool, Ask("So on all of its make and model")] = False
    unfinished: Annotated[bool, Ask("Keep it unfinished", "though something hangs loose by it")] = False

    def work(self, turn: Turn) -> LoomFact:
        """Keeps the fact."""
        from tracker.loom import facts

        bike, loom = _loom(turn, self.bike)
        what, id_ = part_meant(loom, self.part)
        if what == "wire":
            ends = {
                side: _end(loom, field, text, side)
                for side, field, text in (("a", "start", self.start), ("b", "end", self.end))
                if text.strip()
            }
            if not ends:
                raise Mistakes([Problem("start", "Where does the wire begin or end now?", "A place.")])
            fact = facts.repin(loom, id_, a=ends.get("a"), b=ends.get("b"))
        elif what == "device":
            hint = "Move the box or plug that it sits in."
            raise Mistakes(
                [Problem("part", "A part inside another sits where that one sits.", hint, self.part)]
            )
        else:
            fact = facts.move(what, id_, zone_meant(loom, self.zone))
        return keep(turn, bike, loom, fact, seen=_seen(self))


@dataclass(frozen=True, slots=True, kw_only=True)
class RenamePart(OnPart):
    """Call a part what it is called on this bike; it is still found by its other names."""

    verb: ClassVar[str] = "loom rename"

    name: Annotated[str, Ask("Its name", place=3)]
    also: Annotated[tuple[str, ...], Ask("Also called")] = ()
    words: Annotated[str, Ask("As seen", lines=True)] = ""
    card: Annotated[str, Ask("Card", "on which it was seen")] = ""
    model: Annotated[bool, Ask("So on all of its make and model")] = False

    def work(self, turn: Turn) -> LoomFact:
        """Keeps the fact."""
        from tracker.loom import facts

        bike, loom = _loom(turn, self.bike)
        what, id_ = part_meant(loom, self.part)
        known = loom.table(what)[id_]
        others = dict.fromkeys((*known.synonyms, *([known.words] if known.words else []), *self.also))
        fact = facts.rename(what, id_, self.name.strip())
        fact = replace(
            fact, values={**fact.values, "synonyms": [name for name in others if name != self.name]}
        )
        return keep(turn, bike, loom, fact, seen=_seen(self))


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovePart(OnPart):
    """Take out of the loom what this bike does not have; a plug or box takes its ways along."""

    verb: ClassVar[str] = "loom remove"

    wires: Annotated[bool, Ask("Its wires too", "all that end at it")] = False
    words: Annotated[str, Ask("As seen", lines=True)] = ""
    card: Annotated[str, Ask("Card", "on which it was seen")] = ""
    model: Annotated[bool, Ask("So on all of its make and model")] = False
    unfinished: Annotated[bool, Ask("Keep it unfinished", "though something hangs loose by it")] = False

    def work(self, turn: Turn) -> LoomFact:
        """Keeps the fact, and one for each of its wires where they are gone too."""
        from tracker.loom import facts

        bike, loom = _loom(turn, self.bike)
        what, id_ = part_meant(loom, self.part)
        gone = _wires_at(loom, what, id_) if self.wires else []
        removed = [facts.remove(loom, "wire", wire) for wire in gone] + [facts.remove(loom, what, id_)]
        return keep(turn, bike, loom, *removed, seen=_seen(self))


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeWire(OnPart):
    """Write down a wire as it is: its colours, its size, its length as measured."""

    verb: ClassVar[str] = "loom wire"

    main: Annotated[str, Ask("Main colour", "a word: brown")] = ""
    tracer: Annotated[str, Ask("Tracer", "the thin stripe")] = ""
    code: Annotated[str, Ask("Letters of", "if letters were read", choices=get_args(ColourSet))] = "words"
    size: Annotated[float | None, Ask("Size", "mm2", least=0, most=120)] = None
    length: Annotated[int | None, Ask("Length", "mm, as measured", least=1, most=20_000)] = None
    kind: Annotated[str, Ask("Kind", "by its insulation", choices=get_args(WireKind))] = ""
    words: Annotated[str, Ask("As seen", lines=True)] = ""
    card: Annotated[str, Ask("Card", "on which it was seen")] = ""
    model: Annotated[bool, Ask("So on all of its make and model")] = False
    unfinished: Annotated[bool, Ask("Keep it unfinished", "though it does not fit its fuse")] = False

    def work(self, turn: Turn) -> LoomFact:
        """Keeps what was said of it as one fact."""
        from tracker.loom import facts

        bike, loom = _loom(turn, self.bike)
        what, id_ = part_meant(loom, self.part, ("wire",))
        values: dict[str, object] = {}
        if self.main or self.tracer:
            known = loom.wires[id_].colour
            if not self.main and known is None:
                raise Mistakes([Problem("main", "What is the main colour beside the tracer?", "brown")])
            main = colour_words("main", self.main, self.code) or (known.main if known else "")
            tracer = colour_words("tracer", self.tracer, self.code)
            values["colour"] = {"main": main, "tracer": tracer, "code": self.code}
        values |= {
            name: value
            for name, value in (("size_mm2", self.size), ("length_mm", self.length), ("kind", self.kind))
            if value
        }
        if not values:
            raise Mistakes([Problem("main", "Nothing is said of the wire.", "Its colour, size or length.")])
        return keep(turn, bike, loom, facts.change(loom, what, id_, values), seen=_seen(self))


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangePlug(OnPart):
    """Write down how a part is plugged on this bike."""

    verb: ClassVar[str] = "loom plug"

    plug: Annotated[str, Ask("Plug", "two ways, sealed; ring terminal M6", place=3)]
    words: Annotated[str, Ask("As seen", lines=True)] = ""
    card: Annotated[str, Ask("Card", "on which it was seen")] = ""
    model: Annotated[bool, Ask("So on all of its make and model")] = False

    def work(self, turn: Turn) -> LoomFact:
        """Keeps the fact of the box or plug that is meant, or that the part sits in."""
        from tracker.loom import facts

        bike, loom = _loom(turn, self.bike)
        what, id_ = part_meant(loom, self.part)
        if what != "body":
            entry = loom.table(what)[id_]
            id_ = getattr(entry, "body", "")
            if id_ not in loom.bodies:
                hint = "Its own kind says how it is joined."
                raise Mistakes([Problem("part", "That part is in no plug or box.", hint, self.part)])
        return keep(turn, bike, loom, facts.change(loom, "body", id_, {"plug": self.plug}), seen=_seen(self))


@dataclass(frozen=True, slots=True, kw_only=True)
class AddPart(OnLoom):
    """Add what this bike has and its loom does not: a plug, a place, a wire, a load, a switch, a fuse."""

    verb: ClassVar[str] = "loom add"

    name: Annotated[str, Ask("Its name", "spot lamp, left", place=2)]
    sort: Annotated[
        str,
        Ask(
            "What it is",
            "box: what comes off as one (a plug, a lamp holder); part: a load, switch, fuse or source",
            choices=("box", "place", "wire", "part"),
        ),
    ]
    zone: Annotated[str, Ask("Zone", "of a box or a place; loomcard where lists them")] = ""
    kind: Annotated[str, Ask("Kind", "plug, way, earth, filament, switch, fuse, source, ...")] = ""
    inside: Annotated[str, Ask("In", "the box that a place or part is in")] = ""
    start: Annotated[str, Ask("From", "the place that current comes from, of a wire or a part")] = ""
    end: Annotated[str, Ask("To", "the place that it goes to")] = ""
    length: Annotated[int | None, Ask("Length", "mm, of a wire", least=1, most=20_000)] = None
    size: Annotated[float | None, Ask("Size", "mm2, of a wire", least=0, most=120)] = None
    main: Annotated[str, Ask("Main colour", "of a wire")] = ""
    tracer: Annotated[str, Ask("Tracer")] = ""
    watts: Annotated[float | None, Ask("Watts", "of a load", least=0, most=2000)] = None
    amps: Annotated[float | None, Ask("Amps", "of a load, where watts are not known", least=0, most=400)] = (
        None
    )
    ohms: Annotated[float | None, Ask("Ohms", "of a winding", least=0)] = None
    fuse: Annotated[float | None, Ask("Fuse amps", least=0, most=400)] = None
    volts: Annotated[float | None, Ask("Volts", "of a source", least=0, most=60)] = None
    works: Annotated[tuple[str, ...], Ask("Works in", "states of a load: lights-on, key-on, horn")] = ()
    closed: Annotated[dict[str, str] | None, Ask("Closed at", "of a switch: control=position")] = None
    plug: Annotated[str, Ask("Plug", "how a box is joined")] = ""
    words: Annotated[str, Ask("As seen", lines=True)] = ""
    card: Annotated[str, Ask("Card", "on which it was added")] = ""
    model: Annotated[bool, Ask("So on all of its make and model")] = False
    unfinished: Annotated[bool, Ask("Keep it unfinished", "though something hangs loose yet")] = False

    def work(self, turn: Turn) -> LoomFact:
        """Keeps the part under an id made of its name."""
        from tracker.records.loom_made import Fact

        bike, loom = _loom(turn, self.bike)
        what = cast(What, {"box": "body", "part": "device"}.get(self.sort, self.sort))
        values, problems = self._values(loom, what)
        if problems:
            raise Mistakes(problems)
        fact = Fact(deed="add", what=what, id=new_id(loom, what, self.name), values=values)
        return keep(turn, bike, loom, fact, seen=_seen(self))

    def _values(self, loom: "Loom", what: What) -> tuple[dict[str, object], list[Problem]]:
        """Its fields as they are kept, and every mistake in what was given."""
        values: dict[str, object] = {"words": self.name.strip()}
        problems: list[Problem] = []

        def tried(field: str, look: object) -> object:
            try:
                return look() if callable(look) else look
            except Mistakes as wrong:
                problems.extend(replace(one, field=field) for one in wrong.problems)
                return ""

        if what in {"body", "place"}:
            values["zone"] = tried("zone", lambda: zone_meant(loom, self.zone))
        if what in {"wire", "device"}:
            values["a"] = str(tried("start", lambda: _end(loom, "start", self.start, "a")))
            values["b"] = str(tried("end", lambda: _end(loom, "end", self.end, "b")))
        if what in {"place", "device"} and self.inside:
            values["body"] = tried("inside", lambda: part_meant(loom, self.inside, ("body",))[1])
        kinds = {"place": get_args(PlaceKind), "device": get_args(DeviceKind), "wire": get_args(WireKind)}
        if what in kinds and self.kind and self.kind not in kinds[what]:
            problems.append(
                Problem(
                    "kind",
                    f"A {self.sort} is none of that kind.",
                    f"One of: {', '.join(kinds[what])}.",
                    self.kind,
                )
            )
        if what != "wire" and not self.kind:
            hint = (
                f"One of: {', '.join(kinds[what])}." if what in kinds else "plug, lamp holder, switch housing"
            )
            problems.append(Problem("kind", "What kind is it?", hint))
        problems += self._states(loom)
        given: Mapping[str, object | None] = {
            "kind": self.kind, "plug": self.plug if what == "body" else "", "length_mm": self.length,
            "size_mm2": self.size, "watts": self.watts, "current_a": self.amps, "ohm": self.ohms,
            "rating_a": self.fuse, "volts": self.volts, "works": list(self.works),
            "at": [[name, position.split("+")] for name, position in (self.closed or {}).items()],
            "colour": {"main": self.main, "tracer": self.tracer, "code": "words"} if self.main else None,
            "inner_ohm": 0.02 if self.volts and self.kind == "source" else None,
        }  # fmt: skip
        values |= {name: value for name, value in given.items() if value}
        if what == "wire" and self.length is None:
            problems.append(Problem("length", "How long is the wire?", "mm"))
        return values, problems

    def _states(self, loom: "Loom") -> list[Problem]:
        found: list[Problem] = []
        for state in self.works:
            if state not in loom.known.states:
                hint = f"One of: {', '.join(loom.known.states)}."
                found.append(Problem("works", f"No state is called “{state}”.", hint, state))
        for name, position in (self.closed or {}).items():
            control = loom.known.controls.get(name)
            if control is None:
                hint = f"One of: {', '.join(loom.known.controls)}."
                found.append(Problem("closed", f"No control is called “{name}”.", hint, name))
            elif wrong := [one for one in position.split("+") if one not in control.positions]:
                hint = f"One of: {', '.join(control.positions)}; several joined by +."
                found.append(
                    Problem("closed", f"“{wrong[0]}” is no position of the {control.words}.", hint, position)
                )
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnLoom(OnLoom):
    """Start an empty loom for a bike with a home-made one; --pattern goes back to the pattern's."""

    verb: ClassVar[str] = "loom own"

    pattern: Annotated[bool, Ask("Back to the pattern", "and to what was seen on this bike before")] = False
    words: Annotated[str, Ask("Why", lines=True)] = ""

    def work(self, turn: Turn) -> LoomFact:
        """Keeps from when on the loom is one of its own; nothing that was seen before is lost."""
        bike = self.bike_here(turn)
        own = is_own(turn.unit, bike)
        if own != self.pattern:
            said = "has a loom of its own already" if own else "has the pattern's loom"
            raise Mistakes(
                [Problem("bike", f"{bike.name} {said}.", "loomcard loom facts lists what is known.")]
            )
        deed = PATTERN_AGAIN if self.pattern else BUILT
        kept = _insert(turn, bike, deed, {}, _seen(self))
        turn.say(f"bike {bike.name}: {'the loom of the pattern again' if self.pattern else 'an empty loom'}")
        return kept


@dataclass(frozen=True, slots=True, kw_only=True)
class ForgetFact(OnLoom):
    """Take back something that was written of a loom, however long ago; what was before counts again."""

    verb: ClassVar[str] = "loom forget"

    fact: Annotated[int, Ask("Fact", "its number, as loomcard loom facts lists them", least=1, place=2)]
    unfinished: Annotated[bool, Ask("Though something hangs loose then")] = False

    def work(self, turn: Turn) -> LoomFact:
        """Takes it out, once what that would break is known."""
        from tracker.loom.fact_words import fact_words
        from tracker.loom.validate import validate

        bike, before = _loom(turn, self.bike)
        model, own = loom_facts(turn.unit, bike)
        known = [*model, *own]
        if self.fact > len(known):
            many = f"{len(known)} {'is' if len(known) == 1 else 'are'} known" if known else "Nothing is known"
            hint = "loomcard loom facts lists them."
            raise Mistakes([Problem("fact", f"{many} of this loom.", hint, str(self.fact))])
        fact = known[self.fact - 1]
        after = loom_of(turn.unit, turn.seeds, bike, without=fact.token)
        sound, loose = set(validate(before)), {one.fact.token for one in before.unfinished}
        found = [one.sentence for one in validate(after) if one not in sound]
        found += [one.reason for one in after.unfinished if one.fact.token not in loose]
        told = _told(found)
        if found and not (self.unfinished or is_own(turn.unit, bike)):
            hint = "Put that right first, or keep it as unfinished."
            raise Mistakes([Problem("unfinished", f"By this: {told}.", hint)])
        if found:
            turn.note(f"Unfinished: {told}.")
        row = turn.unit.first(LoomFact, token=fact.token)
        assert row is not None
        turn.unit.remove(row)
        whose = f"all {bike.name}" if fact.level == "model" else f"bike {bike.name}"
        turn.say(f"{whose}: no longer {fact_words(before, fact)}")
        return row


def colour_words(field: str, text: str, code: str) -> str:
    """A colour in words: as it was written, or what its letters mean in the code set they were read from."""
    from tracker.seedfiles.tables import electric_tables

    written = text.strip()
    if code == "words" or not written:
        return written
    rows = [row for row in electric_tables().colours if row.code == code]
    for row in rows:
        if fold(written) in {fold(row.letters), fold(row.colour)}:
            return row.colour
    hint = f"One of: {', '.join(f'{row.letters} {row.colour}' for row in rows)}."
    raise Mistakes([Problem(field, f"These are no letters of the {code} set.", hint, text)])


def _told(sentences: list[str]) -> str:
    """The first few in one line, the rest counted."""
    told = "; ".join(sentence.rstrip(".") for sentence in sentences[:MOST_SAID])
    return told + (f"; and {len(sentences) - MOST_SAID} more" if len(sentences) > MOST_SAID else "")


def _wires_at(loom: "Loom", what: What, id_: str) -> list[str]:
    """The wires that end at a place, or at any of a box's; none of a wire or of what is inside a box."""
    places = {id_} if what == "place" else {one.id for one in loom.places.values() if one.body == id_}
    if what not in {"place", "body"}:
        return []
    return [one.id for one in loom.wires.values() if {one.a.place, one.b.place} & places]


def keep(turn: Turn, bike: Bike, loom: "Loom", *facts: "Fact", seen: Seen) -> LoomFact:
    """Keeps what was said as one deed, once what it would break is known: refused in words, or kept as
    unfinished and said. Returns the last fact.
    """
    from tracker.loom.fact_words import fact_words
    from tracker.loom.pattern import apply_all
    from tracker.loom.plain import fact_to_row
    from tracker.loom.validate import consequences

    fact = facts[-1]
    after = apply_all(loom, facts)
    if refused := after.unfinished[len(loom.unfinished) :]:
        raise Mistakes(
            [Problem("part", refused[0].reason, "loomcard where --list names every part.", fact.id)]
        )
    own = is_own(turn.unit, bike)
    found = [one.sentence for one in consequences(loom, *facts)]
    told = _told(found)
    if found and not (seen.unfinished or own):
        hint = "Put it right first, or keep it as unfinished."
        raise Mistakes([Problem("unfinished", f"By this: {told}.", hint)])
    if found:
        turn.note(f"Unfinished: {told}.")
    kept = [_insert(turn, bike, *fact_to_row(one), seen) for one in facts]
    said = fact_words(after if fact.deed == "add" else loom, fact)
    whose = f"all {bike.name}" if seen.model else f"bike {bike.name}"
    along = f", with {len(facts) - 1} of its wires" if len(facts) > 1 else ""
    turn.say(f"{whose}: {said}{along}")
    return kept[-1]


def part_meant(loom: "Loom", text: str, kinds: tuple[What, ...] = KINDS) -> tuple[What, str]:
    """A part by kind and id, by id, by any of its names, or a wire by its two places.

    Raises Mistakes beside “part” where nothing, or more than one thing, is called so.
    """
    from tracker.loom.find import find
    from tracker.loom.where import words_of

    kind, _, rest = text.strip().partition(" ")
    if kind in kinds and rest in loom.table(kind):
        return kind, rest
    named = [(what, text.strip()) for what in kinds if text.strip() in loom.table(what)]
    if named:
        return named[0]
    if "wire" in kinds and ">" in text and (found := _between(loom, text)):
        return "wire", found
    hits = [hit for hit in find(loom, text, 50) if hit.what in kinds]
    best = [hit for hit in hits if hit.rank == hits[0].rank]
    bodies = [hit for hit in best if hit.what == "body"]
    if len(bodies) == 1:
        return "body", bodies[0].id
    if len(best) == 1:
        return best[0].what, best[0].id
    if not best:
        raise Mistakes([Problem("part", "Nothing in the loom is called so.", "loomcard where --list", text)])
    which = "; ".join(f"{hit.what} {hit.id} ({words_of(loom, hit.what, hit.id)})" for hit in best[:5])
    raise Mistakes([Problem("part", f"That may be {len(best)} parts.", f"One of: {which}.", text)])


def _between(loom: "Loom", text: str) -> str:
    """The wire between two places, either way round; empty where a place is not known."""
    names = [name.strip() for name in text.split(">", 1)]
    ends = {_place(loom, name) for name in names}
    found = [one.id for one in loom.wires.values() if {one.a.place, one.b.place} == ends]
    if len(found) > 1:
        hint = f"One of: {', '.join(found)}."
        raise Mistakes([Problem("part", "Several wires run between these places.", hint, text)])
    return found[0] if found else ""


def _place(loom: "Loom", text: str) -> str:
    from tracker.loom.find import find

    if text in loom.places:
        return text
    hits = [place for place in loom.places.values() if fold(place.words) == fold(text)]
    if len(hits) == 1:
        return hits[0].id
    found = [hit for hit in find(loom, text, 50) if hit.what == "place"]
    return found[0].id if len(found) == 1 else ""


def _end(loom: "Loom", field: str, text: str, side: str) -> End:
    """A place as an end of a wire or part: current leaves its `a` on the side out, and reaches `b` on in."""
    name, at, written = text.strip().partition("@")
    place = _place(loom, name)
    if not place:
        raise Mistakes(
            [Problem(field, "No place is called so.", "loomcard where --list names every part.", text)]
        )
    if at and written not in {"in", "out"}:
        raise Mistakes([Problem(field, "A place has the sides “in” and “out”.", f"{place}@out", text)])
    return End.of(f"{place}@{written}") if at else End(place, "out" if side == "a" else "in")


def zone_meant(loom: "Loom", text: str) -> str:
    """A zone by its id or its words; raises Mistakes beside “zone” naming them all."""
    wanted = fold(text)
    for zone in loom.known.zones.values():
        if wanted and wanted in {fold(zone.id), fold(zone.words)}:
            return zone.id
    hint = f"One of: {', '.join(loom.known.zones)}."
    raise Mistakes(
        [Problem("zone", "Where does it sit?" if not wanted else "No zone is called so.", hint, text)]
    )


def new_id(loom: "Loom", what: What, name: str) -> str:
    """An id for a part of this name that no part of its kind has."""
    plain = "-".join("".join(sign if sign.isalnum() else " " for sign in fold(name)).split()) or "part"
    count = 1
    while (id_ := plain if count == 1 else f"{plain}-{count}") in loom.table(what):
        count += 1
    return id_


def _loom(turn: Turn, name: str) -> "tuple[Bike, Loom]":
    bike = bike_named(turn.unit, name)
    return bike, loom_of(turn.unit, turn.seeds, bike)


def _seen(deed: object) -> Seen:
    return Seen(
        card=getattr(deed, "card", ""),
        model=getattr(deed, "model", False),
        words=getattr(deed, "words", ""),
        unfinished=getattr(deed, "unfinished", False),
    )


def _insert(turn: Turn, bike: Bike, deed: str, facts: Mapping[str, object], seen: Seen) -> LoomFact:
    return turn.unit.insert(
        LoomFact(
            bike=None if seen.model else bike.id,
            model_of=model_key(bike) if seen.model else "",
            card=turn.card(seen.card).id if seen.card else None,
            deed=deed,
            facts=dict(facts),
            words=seen.words,
            who=turn.who,
            at=turn.at,
        )
    )
