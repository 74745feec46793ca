"""Looking: leave to look, what is dead and what works, readings, findings, what came off, calls, photos."""

import hashlib
import mimetypes
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, ClassVar

from tracker.desk.ask import Ask, Minutes
from tracker.desk.bikes import answer_features, bike_named, feature_problems
from tracker.desk.on_card import numbered
from tracker.desk.turn import Turn
from tracker.desk.visits import access_problems, off_and_on
from tracker.records.card import (
    Attachment,
    Call,
    CallOutcome,
    Card,
    Finding,
    GoAhead,
    GoAheadFor,
    Symptom,
    SymptomKind,
)
from tracker.records.money import Money
from tracker.records.problem import Mistakes, Problem

BIGGEST_PHOTO = 50_000_000
"""Bytes of one attachment; everything lies in one file that is backed up whole."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """Write down leave to look, what is dead, weak or works, and what was taken off to see."""

    verb: ClassVar[str] = "look"

    card: Annotated[str, Ask("Card", place=1)]
    limit: Annotated[Minutes | None, Ask("Leave to look up to", "1.5 h, 90")] = None
    limit_amount: Annotated[Money | None, Ask("Up to", "an amount with tax")] = None
    leave_by: Annotated[str, Ask("Leave given by", "the customer when nobody is named")] = ""
    how: Annotated[str, Ask("How", "in person, phone, message")] = "in person"
    dead: Annotated[tuple[str, ...], Ask("Dead")] = ()
    weak: Annotated[tuple[str, ...], Ask("Weak")] = ()
    works: Annotated[tuple[str, ...], Ask("Works")] = ()
    comes_and_goes: Annotated[tuple[str, ...], Ask("Comes and goes")] = ()
    blows_fuse: Annotated[tuple[str, ...], Ask("Blows its fuse")] = ()
    flashes_fast: Annotated[tuple[str, ...], Ask("Flashes fast")] = ()
    flashes_slow: Annotated[tuple[str, ...], Ask("Flashes slow")] = ()
    no_flash: Annotated[tuple[str, ...], Ask("Does not flash")] = ()
    wont_go_off: Annotated[tuple[str, ...], Ask("Won't go off")] = ()
    comes_on_with: Annotated[dict[str, str] | None, Ask("Comes on with", "lamp=the other one")] = None
    bulbs_blow: Annotated[tuple[str, ...], Ask("Bulbs keep blowing")] = ()
    when: Annotated[str, Ask("Only when", "hot, wet, at full lock, shaken")] = ""
    off: Annotated[tuple[str, ...], Ask("Taken off", "seat, tank, headlamp, ...")] = ()
    refitted: Annotated[tuple[str, ...], Ask("Put back on")] = ()
    features: Annotated[dict[str, str] | None, Ask("Loom", "question=answer as seen on the bike")] = None
    stands: Annotated[str | None, Ask("Stands", "where it is now")] = None

    def work(self, turn: Turn) -> Card:
        """Writes down what was given; leave to look is a go-ahead of its own."""
        card = turn.card(self.card)
        problems = feature_problems(turn, self.features or {}) + access_problems(
            turn, self.off + self.refitted
        )
        if self.features and card.bike is None:
            problems.append(Problem("features", "There is no bike on this card."))
        if problems:
            raise Mistakes(problems)
        said = [
            (SymptomKind.DEAD, self.dead),
            (SymptomKind.WEAK, self.weak),
            (SymptomKind.WORKS, self.works),
            (SymptomKind.COMES_AND_GOES, self.comes_and_goes),
            (SymptomKind.BLOWS_FUSE, self.blows_fuse),
            (SymptomKind.FLASHES_FAST, self.flashes_fast),
            (SymptomKind.FLASHES_SLOW, self.flashes_slow),
            (SymptomKind.NO_FLASH, self.no_flash),
            (SymptomKind.WONT_GO_OFF, self.wont_go_off),
            (SymptomKind.BULBS_BLOW, self.bulbs_blow),
        ]
        for kind, loads in said:
            for load in loads:
                turn.unit.insert(
                    Symptom(card=card.id, kind=kind, load=load, words=load, when=self.when, at=turn.at)
                )
        for load, other in (self.comes_on_with or {}).items():
            turn.unit.insert(
                Symptom(
                    card=card.id,
                    kind=SymptomKind.COMES_ON_WITH,
                    load=load,
                    words=f"with {other}",
                    when=self.when,
                    at=turn.at,
                )
            )
        if self.limit is not None or self.limit_amount is not None:
            customer = turn.facts(card).customer
            turn.unit.insert(
                GoAhead(
                    card=card.id,
                    what=GoAheadFor.LOOK,
                    who=self.leave_by or (customer.name if customer else turn.who),
                    how=self.how,
                    limit_minor=self.limit_amount.minor if self.limit_amount else None,
                    limit_min=self.limit,
                    by=turn.who,
                    at=turn.at,
                )
            )
        off_and_on(turn, card, self.off, self.refitted)
        if self.features and card.bike is not None:
            answer_features(turn, bike_named(turn.unit, str(card.bike)), self.features, card)
        if self.stands is not None:
            card = turn.unit.change(card, stands=self.stands)
        turn.say(f"card {card.number}: looked", card)
        return card


@dataclass(frozen=True, slots=True, kw_only=True)
class WriteFinding:
    """Write down what was found; or why something found is being left (--left with --finding)."""

    verb: ClassVar[str] = "finding"

    card: Annotated[str, Ask("Card", place=1)]
    words: Annotated[str, Ask("Found", "regulator plug burnt", lines=True, place=2)] = ""
    finding: Annotated[int | None, Ask("Finding", "the number of one written before", least=1)] = None
    circuit: Annotated[str, Ask("Circuit")] = ""
    place: Annotated[str, Ask("Place", "on the loom")] = ""
    zone: Annotated[str, Ask("Zone")] = ""
    fault: Annotated[str, Ask("Fault", "open, weak, shorted, to frame, stuck")] = ""
    left: Annotated[str, Ask("Left because")] = ""
    told_unsafe: Annotated[bool, Ask("Told that it is unsafe")] = False

    def work(self, turn: Turn) -> Finding:
        """Writes a new finding, or changes the one named."""
        card = turn.card(self.card)
        if self.finding is not None:
            kept = numbered("finding", turn.facts(card).findings, self.finding)
            given = {n: getattr(self, n) for n in ("words", "circuit", "place", "zone", "fault", "left")}
            changed = turn.unit.change(
                kept,
                told_unsafe=self.told_unsafe or kept.told_unsafe,
                **{n: v for n, v in given.items() if v},
            )
            turn.say(f"card {card.number}: finding {self.finding} changed", card)
            return changed
        if not self.words:
            raise Mistakes([Problem("words", "What was found?", "A few words are enough.")])
        found = turn.unit.insert(
            Finding(
                card=card.id,
                words=self.words,
                circuit=self.circuit,
                place=self.place,
                zone=self.zone,
                fault=self.fault,
                left=self.left,
                told_unsafe=self.told_unsafe,
                by=turn.who,
                at=turn.at,
            )
        )
        turn.say(f"card {card.number}: found {self.words[:60]}", card)
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class WriteCall:
    """Write down who rang or wrote to whom, and how it ended."""

    verb: ClassVar[str] = "call"

    card: Annotated[str, Ask("Card", place=1)]
    outcome: Annotated[CallOutcome, Ask("Outcome", "spoke, no answer, left word, sent", place=2)]
    person: Annotated[str, Ask("Who", "the customer when nobody is named")] = ""
    inward: Annotated[bool, Ask("They rang us")] = False
    words: Annotated[str, Ask("Said", lines=True)] = ""

    def work(self, turn: Turn) -> Call:
        """Keeps the call."""
        card = turn.card(self.card)
        customer = turn.facts(card).customer
        call = turn.unit.insert(
            Call(
                card=card.id,
                who=self.person or (customer.name if customer else ""),
                inward=self.inward,
                outcome=self.outcome,
                words=self.words,
                by=turn.who,
                at=turn.at,
            )
        )
        turn.say(f"card {card.number}: call, {self.outcome}", card)
        return call


@dataclass(frozen=True, slots=True, kw_only=True)
class AddPhoto:
    """Keep a photo or paper with the card; it is copied into the file."""

    verb: ClassVar[str] = "photo"

    card: Annotated[str, Ask("Card", place=1)]
    picture: Annotated[str, Ask("Picture", "a file on this machine", place=2)]
    words: Annotated[str, Ask("What it shows", lines=True)] = ""
    repair: Annotated[int | None, Ask("Repair", "its number on the card", least=1)] = None

    def work(self, turn: Turn) -> Attachment:
        """Copies the file in; raises Mistakes when it cannot be read or is too big."""
        card = turn.card(self.card)
        path = Path(self.picture).expanduser()
        try:
            content = path.read_bytes() if path.stat().st_size <= BIGGEST_PHOTO else None
        except OSError as error:
            why = error.strerror or "it cannot be read"
            raise Mistakes(
                [Problem("picture", f"The file could not be read: {why}.", given=self.picture)]
            ) from error
        if content is None:
            raise Mistakes([Problem("picture", "At most 50 MB are kept of one thing.", given=self.picture)])
        repair = None if self.repair is None else numbered("repair", turn.facts(card).repairs, self.repair)
        kept = turn.unit.insert(
            Attachment(
                card=card.id,
                bike=card.bike,
                repair=repair.id if repair else None,
                name=path.name,
                mime=mimetypes.guess_type(path.name)[0] or "application/octet-stream",
                content=content,
                sha256=hashlib.sha256(content).hexdigest(),
                words=self.words,
                by=turn.who,
                at=turn.at,
            )
        )
        turn.say(f"card {card.number}: kept {path.name}", card)
        return kept
