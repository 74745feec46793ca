"""Putting a bike's loom right: what is said of a part becomes a fact, once it is known what it would break.

A part goes by any of its names, by its kind and id as lists show them (`body regulator`), a wire also by the
two places it joins (`tail-plug:tail > tail-lamp:feed`). Unless it is kept as unfinished, nothing is kept
that leaves a load without a circuit, an end hanging or a wire that leads nowhere. A loom of one's own is
built up part by part: there, what is still missing is only said.
"""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Annotated, ClassVar, get_args

from tracker.desk.ask import Ask
from tracker.desk.bike_loom import BUILT, PATTERN_AGAIN, is_own, loom_facts, loom_of
from tracker.desk.loom_keep import OnLoom, OnPart, bike_and_loom, in_short, insert, keep, seen_by
from tracker.desk.loom_named import colour_words, end_meant, part_meant, zone_meant
from tracker.desk.turn import Turn
from tracker.records.bike import LoomFact
from tracker.records.loom import ColourSet, What, WireKind
from tracker.records.problem import Mistakes, Problem

if TYPE_CHECKING:
    from tracker.records.loom_made import Loom


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

        bike, loom = bike_and_loom(turn, self.bike)
        what, id_ = part_meant(loom, self.part)
        if what == "wire":
            ends = {
                side: end_meant(loom, field, text, side)
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
        return keep(turn, bike, loom, fact, seen=seen_by(self))


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

        bike, loom = bike_and_loom(turn, self.bike)
        what, id_ = part_meant(loom, self.part)
        known = loom.table(what)[id_]
        others = dict.fromkeys((*known.synonyms, *([known.words] if known.words else []), *self.also))
        fact = facts.rename(what, id_, self.name.strip())
        fact = replace(
            fact, values={**fact.values, "synonyms": [name for name in others if name != self.name]}
        )
        return keep(turn, bike, loom, fact, seen=seen_by(self))


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

        bike, loom = bike_and_loom(turn, self.bike)
        what, id_ = part_meant(loom, self.part)
        gone = _wires_at(loom, what, id_) if self.wires else []
        removed = [facts.remove(loom, "wire", wire) for wire in gone] + [facts.remove(loom, what, id_)]
        return keep(turn, bike, loom, *removed, seen=seen_by(self))


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

        bike, loom = bike_and_loom(turn, self.bike)
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
        return keep(turn, bike, loom, facts.change(loom, what, id_, values), seen=seen_by(self))


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

        bike, loom = bike_and_loom(turn, self.bike)
        what, id_ = part_meant(loom, self.part)
        if what != "body":
            entry = loom.table(what)[id_]
            id_ = getattr(entry, "body", "")
            if id_ not in loom.bodies:
                hint = "Its own kind says how it is joined."
                raise Mistakes([Problem("part", "That part is in no plug or box.", hint, self.part)])
        return keep(
            turn, bike, loom, facts.change(loom, "body", id_, {"plug": self.plug}), seen=seen_by(self)
        )


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
        kept = insert(turn, bike, deed, {}, seen_by(self))
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

        bike, before = bike_and_loom(turn, self.bike)
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
        said = in_short(found)
        if found and not (self.unfinished or is_own(turn.unit, bike)):
            hint = "Put that right first, or keep it as unfinished."
            raise Mistakes([Problem("unfinished", f"By this: {said}.", hint)])
        if found:
            turn.note(f"Unfinished: {said}.")
        row = turn.unit.first(LoomFact, token=fact.token)
        assert row is not None
        turn.unit.remove(row)
        whose = f"all {bike.name}" if fact.level == "model" else f"bike {bike.name}"
        turn.say(f"{whose}: no longer {fact_words(before, fact)}")
        return row


def _wires_at(loom: "Loom", what: What, id_: str) -> list[str]:
    """The wires that end at a place, or at any of a box's; none of a wire or of what is inside a box."""
    places = {id_} if what == "place" else {one.id for one in loom.places.values() if one.body == id_}
    if what not in {"place", "body"}:
        return []
    return [one.id for one in loom.wires.values() if {one.a.place, one.b.place} & places]
