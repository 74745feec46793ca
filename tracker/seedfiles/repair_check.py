"""What a rule must be beyond its shape, so that no estimate can go wrong on it later."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Protocol

from tracker.records.repair_rule import (
    METRE,
    Ask,
    AskKind,
    Figure,
    MinutesFigure,
    PartFigure,
    SleeveFigure,
    Spread,
    TapeFigure,
    WireFigure,
    holes,
)
from tracker.seedfiles.loom_words import close

WIDEST = 10
"""A figure's most is at most so many times its likely: the range of an estimate stands on it."""

FIT = "fit"
NUMBERS = {AskKind.COUNT, AskKind.LENGTH, AskKind.SIZE, AskKind.NUMBER}
WHOLE = {AskKind.COUNT, AskKind.LENGTH}


class Wrong(Protocol):
    """Notes a mistake: where in the file, sentence, hint, what was given."""

    def __call__(self, where: str, sentence: str, hint: str = "", given: object = "") -> None: ...


@dataclass(frozen=True, slots=True)
class Known:
    """Names a rule may use: readings, rechecks, sleeves, terminals, zones; `cautions` with their words."""

    readings: Sequence[str]
    rechecks: Sequence[str]
    sleeves: Sequence[str]
    terminals: Sequence[str]
    zones: Sequence[str]
    cautions: Mapping[str, str]


def check_asks(asks: Mapping[str, Ask], wrong: Wrong) -> None:
    """The questions, by where each stands in the file: “asks 2”."""
    names: dict[str, str] = {}
    counted: dict[str, str] = {}
    for where, ask in asks.items():
        if ask.name in names:
            wrong(f"{where}: name", f"{names[ask.name]} has this name as well.", "", ask.name)
        names.setdefault(ask.name, where)
        counts = ask.counts or (METRE if ask.kind is AskKind.LENGTH else "")
        if counts:
            if counts in counted:
                hint = "Give one of them another word in “counts”."
                wrong(f"{where}: counts", f"{counted[counts]} counts “{counts}” as well.", hint, counts)
            counted.setdefault(counts, where)
        if ask.name == FIT or counts == "repair":
            wrong(f"{where}: name", "This name is taken by the program.", "", ask.name)
        for name, sentence, hint, given in _ask(ask, counts):
            wrong(f"{where}: {name}", sentence, hint, given)


def _ask(ask: Ask, counts: str) -> Iterator[tuple[str, str, str, object]]:
    if ask.kind in NUMBERS:
        if ask.least is None or ask.most is None:
            yield "least", "A number needs its “least” and “most”.", "", ""
        elif not 0 <= ask.least <= ask.most:
            yield "most", "“least” is 0 or more, and not above “most”.", "", ask.most
    elif ask.least is not None or ask.most is not None:
        yield "least", "Only numbers have “least” and “most”.", "", ask.least
    if ask.counts and ask.kind not in NUMBERS:
        yield "counts", "Only numbers count.", "", ask.counts
    if counts and ask.optional:
        yield "optional", "What figures are multiplied by has to be answered.", "Give it a default.", ""
    if (ask.kind is AskKind.CHOICE) != bool(ask.choices):
        yield "choices", "A choice has choices, and nothing else has.", "", ", ".join(ask.choices)
    if len(set(ask.choices)) != len(ask.choices):
        yield "choices", "The same choice stands here twice.", "", ", ".join(ask.choices)
    if ask.default is not None and not _answers(ask):
        yield "default", "This does not answer the question.", _wanted(ask), ask.default


def _answers(ask: Ask) -> bool:
    """Whether the default is an answer of the question's own kind, within its limits."""
    value = ask.default
    if ask.kind is AskKind.YES_NO:
        return isinstance(value, bool)
    if ask.kind not in NUMBERS:
        return isinstance(value, str) and (not ask.choices or value in ask.choices)
    right = type(value) is int if ask.kind in WHOLE else isinstance(value, Decimal)
    if not right or not isinstance(value, int | Decimal):
        return False
    return (ask.least is None or value >= ask.least) and (ask.most is None or value <= ask.most)


def _wanted(ask: Ask) -> str:
    if ask.choices:
        return f"One of: {', '.join(ask.choices)}."
    return "true or false." if ask.kind is AskKind.YES_NO else f"A {ask.kind} within its limits."


@dataclass(frozen=True, slots=True)
class Check:
    """Judges what stands beside the questions. `lost` are names of questions that could not be read."""

    asks: Mapping[str, Ask]
    lost: frozenset[str]
    known: Known
    wrong: Wrong

    def figure(self, where: str, figure: Figure) -> None:
        """One figure; `where` is its place in the file, “minutes 1”."""
        counts = {
            ask.counts or METRE for ask in self.asks.values() if ask.counts or ask.kind is AskKind.LENGTH
        }
        for name in figure.per:
            if name not in counts and not self.lost:
                hint = close(name, sorted(counts)) or f"There are: {', '.join(sorted(counts)) or 'none'}."
                self.wrong(f"{where}: per", f"No question counts “{name}”.", hint, name)
        for name, wanted in figure.when.items():
            self._when(f"{where}: when", name, wanted)
        match figure:
            case MinutesFigure():
                self.text(f"{where}: words", figure.words)
                self._spread(where, figure.spread)
            case WireFigure():
                self.text(f"{where}: words", figure.words)
                self.text(f"{where}: colour", figure.colour)
                self._number(f"{where}: size", figure.size, AskKind.SIZE)
            case PartFigure():
                self._part(where, figure)
            case SleeveFigure() | TapeFigure():
                self._cover(where, figure)
            case _:
                pass

    def text(self, where: str, value: str, extra: Sequence[str] = ()) -> None:
        """Every name in braces is a question's, or one of `extra`."""
        try:
            names = holes(value)
        except ValueError:
            self.wrong(where, "A brace here belongs to no question's name.", "Write {name}.", value)
            return
        for name in names:
            if name not in self.asks and name not in extra and name not in self.lost:
                hint = close(name, [*self.asks, *extra])
                self.wrong(where, f"There is no question “{name}”.", hint, value)

    def names(self, where: str, names: Sequence[str], known: Sequence[str], what: str) -> None:
        """Every name is one that is known."""
        for name in names:
            if name not in known:
                hint = close(name, list(known)) or (f"One of: {', '.join(known)}." if len(known) < 9 else "")
                self.wrong(where, f"“{name}” is no {what}.", hint, name)

    def cautions(self, where: str, written: Sequence[str]) -> tuple[str, ...]:
        """Cautions in words: a single word is the id of one that the loom's parts share."""
        ids = [one for one in written if " " not in one]
        self.names(where, ids, tuple(self.known.cautions), "caution")
        return tuple(self.known.cautions.get(one, one) for one in written)

    def _spread(self, where: str, spread: Spread) -> None:
        if not spread.least <= spread.likely <= spread.most:
            self.wrong(f"{where}: likely", "“least”, “likely” and “most” must rise.", "", spread.likely)
        elif spread.most > WIDEST * spread.likely:
            sentence = f"“most” is more than {WIDEST} times “likely”: nobody can plan with that."
            self.wrong(f"{where}: most", sentence, "Make two figures of it, with “when”.", spread.most)

    def _part(self, where: str, figure: PartFigure) -> None:
        self.text(f"{where}: words", figure.words, (FIT,))
        self.text(f"{where}: code", figure.code, (FIT,))
        self.text(f"{where}: size", figure.size)
        if figure.fits:
            self.names(f"{where}: fits", (figure.fits,), self.known.terminals, "kind of terminal")
            self._number(f"{where}: fits_mm2", figure.fits_mm2, AskKind.SIZE)

    def _cover(self, where: str, figure: SleeveFigure | TapeFigure) -> None:
        self.text(f"{where}: words", figure.words, (FIT,))
        self.text(f"{where}: code", figure.code, (FIT,))
        self._number(f"{where}: size", figure.size, AskKind.SIZE)
        self._number(f"{where}: wires", figure.wires, AskKind.COUNT)
        if isinstance(figure, SleeveFigure):
            self.names(f"{where}: kind", (figure.kind,), self.known.sleeves, "kind of sleeve")
            if figure.grips:
                self._number(f"{where}: grips", figure.grips, AskKind.COUNT)

    def _number(self, where: str, value: str, kind: AskKind) -> None:
        """A figure above nothing, or one question of the right kind in braces, which has to be answered."""
        if value.startswith("{"):
            self.text(where, value)
            ask = self.asks.get(value.strip("{}"))
            if ask is None:
                return
            if ask.kind is not kind or value != f"{{{ask.name}}}":
                sentence = f"One question of the kind “{kind}” is wanted here, and nothing beside it."
                self.wrong(where, sentence, "", value)
            elif ask.optional and ask.default is None:
                self.wrong(where, f"“{ask.name}” may stay without an answer.", "Give it a default.", value)
            elif ask.least is not None and ask.least <= 0:
                self.wrong(where, f"“{ask.name}” may be 0.", "Give it a “least” above 0.", value)
            return
        try:
            number = Decimal(value)
        except InvalidOperation:
            self.wrong(where, "This must be a number, or a question's name in braces.", "", value)
            return
        if not (number.is_finite() and number > 0) or (kind is AskKind.COUNT and number != int(number)):
            self.wrong(where, "This must be above 0, and whole where things are counted.", "", value)

    def _when(self, where: str, name: str, wanted: Sequence[str]) -> None:
        if name in self.lost:
            return
        ask = self.asks.get(name)
        if ask is None or ask.kind not in {AskKind.CHOICE, AskKind.YES_NO}:
            hint = close(name, list(self.asks)) or "Only a choice, or a yes or no, can be asked about."
            self.wrong(where, f"“{name}” is no question of that sort.", hint, name)
            return
        possible = ask.choices or ("yes", "no")
        for value in wanted:
            if value not in possible:
                hint = close(value, list(possible)) or f"One of: {', '.join(possible)}."
                self.wrong(where, f"“{name}” is never “{value}”.", hint, value)
