"""What it can be: every theory weighed by its rate and by how likely all that was seen is if it were true."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from tracker.records.card import SymptomKind
from tracker.records.trace import ConditionWord, Mark
from tracker.trace.bench import SOUND, Bench, Row, Theory, rows_of
from tracker.trace.parts import Single, flasher
from tracker.trace.rates import Rates
from tracker.trace.said import WRONG, likelihood, states_of
from tracker.trace.several import combined
from tracker.trace.unsaid import unsaid

if TYPE_CHECKING:
    from tracker.loom.network_table import Floats

EXPLAINS: Final = 0.15
"""A theory explains what was seen if it makes it at least so likely."""

CLEARLY: Final = 0.01
"""By so much more likely than in the sound loom a complaint is a fault's doing."""

Evidence = Callable[[tuple[Row, ...]], "tuple[Floats, Floats]"]
"""How likely a reading is for each row, and how well it fits the row: the two differ for numbers."""


@dataclass(frozen=True, slots=True)
class Suspect:
    """A theory, its part of all the weight, and the row it is best tried as.

    `contradicts` says that it leaves a complaint or a reading to a misreading. `rows` are all that it may be
    tried as with the part of the weight that each has: a joint may be poor, or poorer still.
    """

    theory: Theory
    row: Row
    share: float
    contradicts: bool = False
    rows: tuple[tuple[Row, float], ...] = ()

    @property
    def tried(self) -> tuple[tuple[Row, float], ...]:
        """Its rows with their shares; the one where no more are known."""
        return self.rows or ((self.row, self.share),)


@dataclass(frozen=True, slots=True)
class Weighed:
    """All suspects, the likeliest first. `contradicted` where the best leaves something unexplained."""

    suspects: tuple[Suspect, ...]
    contradicted: bool = False

    def likely(self, least: float = 0.001) -> tuple[Suspect, ...]:
        """Those above a share; at least the best."""
        return tuple(one for one in self.suspects if one.share >= least) or self.suspects[:1]


def weigh(bench: Bench, rates: Rates, marks: Sequence[Mark], readings: Sequence[Evidence] = ()) -> Weighed:
    """Every theory that explains at least one complaint, weighed; nothing where nothing is wrong.

    A mark counts in the state it was seen in. Several faults at once are tried where no single one explains
    all complaints and readings.
    """
    complaints = [mark for mark in marks if mark.symptom in WRONG and states_of(bench, mark)]
    if not complaints:
        return Weighed(())
    every = [row for single in bench.every for row in rows_of((single,))]
    every += [Row((one,)) for one in as_built(bench, complaints)]
    seen: list[Evidence] = [_evidence(bench, mark) for mark in marks]
    rows = _explaining(bench, complaints[:1], every)
    weighed = _weighed(bench, rates, marks, rows, (*seen, *readings))
    if weighed.contradicted:
        rows = _explaining(bench, complaints, every)
        some = [_evidence(bench, mark) for mark in complaints]
        more = combined(rates, rows, [*some, *readings], EXPLAINS)
        weighed = _weighed(bench, rates, marks, [*rows, *more], (*seen, *readings))
    return weighed


def as_built(bench: Bench, complaints: Iterable[Mark]) -> tuple[Single, ...]:
    """Theories that nothing is broken: the loom is made so, and through which part."""
    found: dict[Single, None] = {}
    for mark in complaints:
        contact = flasher(bench.loom)
        if mark.symptom in {SymptomKind.FLASHES_FAST, SymptomKind.NO_FLASH} and contact is not None:
            found[Single(("device", contact.id), "as built")] = None
        elif mark.symptom in {SymptomKind.COMES_ON_WITH, SymptomKind.WONT_GO_OFF}:
            for state in states_of(bench, mark):
                found[Single(("device", bench.through(state, mark.load)), "as built")] = None
    return tuple(found)


def _evidence(bench: Bench, mark: Mark) -> Evidence:
    def said(rows: tuple[Row, ...]) -> "tuple[Floats, Floats]":
        likely = likelihood(bench, mark, rows)
        return likely, likely

    return said


def _explaining(bench: Bench, complaints: Sequence[Mark], rows: Sequence[Row]) -> list[Row]:
    """The rows that explain at least one of the complaints.

    What the sound loom shows as well is explained by nothing but how the loom is made.
    """
    asked = (*rows, SOUND)
    able: dict[Row, None] = {}
    for mark in complaints:
        said = likelihood(bench, mark, asked).tolist()
        built = said[-1] >= EXPLAINS
        for row, one in zip(rows, said[:-1], strict=True):
            made_so = any(single.fault == "as built" for single in row.theory)
            if one >= EXPLAINS and (not built or made_so or one > said[-1] + CLEARLY):
                able[row] = None
    return [row for row in rows if row in able]


def _with_blown(bench: Bench, marks: Sequence[Mark], rows: Sequence[Row]) -> tuple[Row, ...]:
    """Each row with the fuses it blew in any state that was seen: they stay blown in the others."""
    asked = tuple(rows)
    blown: list[frozenset[str]] = [row.blown for row in asked]
    for state in dict.fromkeys(state for mark in marks for state in states_of(bench, mark)):
        blown = [old | now for old, now in zip(blown, bench.view(state, asked).blows, strict=True)]
    return tuple(Row(row.theory, row.poorer, now) for row, now in zip(asked, blown, strict=True))


def _weighed(
    bench: Bench, rates: Rates, marks: Sequence[Mark], rows: Sequence[Row], seen: Sequence[Evidence]
) -> Weighed:
    import numpy as np

    if not rows:
        return Weighed((), contradicted=True)
    asked = _with_blown(bench, marks, rows)
    given = [one(asked) for one in seen]
    fits = np.array([fit for _, fit in given])
    prior = np.array([rates.prior(row.theory) / len(rows_of(row.theory)) for row in asked])
    shows = np.array([_condition(rates, marks, row.theory) for row in asked])
    whole = believed(prior, [*(likely for likely, _ in given), unsaid(bench, marks, asked), shows])
    least = fits[[n for n in range(len(seen)) if n >= len(marks) or marks[n].symptom in WRONG]].min(axis=0)
    tried: dict[Theory, list[tuple[float, int]]] = {}
    for number, row in enumerate(asked):
        tried.setdefault(row.theory, []).append((float(whole[number]), number))
    if not whole.any():
        return Weighed((), contradicted=True)
    suspects = []
    for theory, some in tried.items():
        sound = [one for one in some if least[one[1]] >= EXPLAINS]
        at = max(sound or some)[1]
        ways = tuple((asked[n], weight) for weight, n in sound or some if sound or n == at)
        share = sum(weight for weight, _ in some)
        suspects.append(Suspect(theory, asked[at], share, not sound, ways))
    suspects.sort(key=lambda one: (-one.share, one.theory))
    return Weighed(tuple(suspects), contradicted=suspects[0].contradicts)


def believed(rates: "Floats", said: "Sequence[Floats]") -> "Floats":
    """The part of all the weight that each has; together 1, or nothing where none can be.

    Formula: Bayes: rate times how likely each thing said is if it were so, over the sum of these.
    Range: rates 0 or more, in any unit; likelihoods 0 to 1, one array for each thing said.
    Source: arithmetic.
    """
    import numpy as np

    weight: Floats = rates * np.prod(said, axis=0)
    total = float(weight.sum())
    return weight / total if total > 0 else weight * 0.0


def _condition(rates: Rates, marks: Sequence[Mark], theory: Theory) -> float:
    """How likely the faults are to show under the conditions named only; any of several faults may."""
    weight = 1.0
    for condition in dict.fromkeys(_when(mark) for mark in marks):
        if condition:
            weight *= max(rates.shows_when(single, condition) for single in theory)
    return weight


def _when(mark: Mark) -> ConditionWord | Literal[""]:
    return mark.when or ("at times" if mark.symptom is SymptomKind.COMES_AND_GOES else "")
