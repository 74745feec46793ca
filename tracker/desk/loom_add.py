"""A part that a bike has and its loom does not: a box or plug, a place, a wire, a load, a switch, a fuse."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Annotated, ClassVar, cast, get_args

from tracker.desk.ask import Ask
from tracker.desk.loom_keep import OnLoom, bike_and_loom, keep, seen_by
from tracker.desk.loom_named import end_meant, new_id, part_meant, zone_meant
from tracker.desk.turn import Turn
from tracker.records.bike import LoomFact
from tracker.records.loom import DeviceKind, PlaceKind, What, WireKind
from tracker.records.problem import Mistakes, Problem

if TYPE_CHECKING:
    from tracker.records.loom_made import Loom


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

        bike, loom = bike_and_loom(turn, self.bike)
        what = cast(What, {"box": "body", "part": "device"}.get(self.sort, self.sort))
        values, problems = self._values(loom, what)
        if problems:
            raise Mistakes(problems)
        fact = Fact(deed="add", what=what, id=new_id(loom, what, self.name), values=values)
        return keep(turn, bike, loom, fact, seen=seen_by(self))

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
            values["a"] = str(tried("start", lambda: end_meant(loom, "start", self.start, "a")))
            values["b"] = str(tried("end", lambda: end_meant(loom, "end", self.end, "b")))
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
