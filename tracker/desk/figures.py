"""A bike's or a model's own figures: what its maker or somebody who measured says, with who entered it."""

from dataclasses import dataclass
from typing import Annotated, ClassVar

from tracker.desk.ask import Ask, raise_all
from tracker.desk.bike_loom import model_key
from tracker.desk.bikes import bike_named
from tracker.desk.meter import metered
from tracker.desk.turn import Turn
from tracker.electrics.judge import spread_limits
from tracker.records.bike import OwnFigure
from tracker.records.charging import AC_PAIRS, AC_PER_1000
from tracker.records.problem import Problem
from tracker.seedfiles.readings import load_readings

ALTERNATOR_WATTS = "alternator_watts"
APART = {AC_PER_1000: "V", "field_ohms": "ohm", ALTERNATOR_WATTS: "W"}
"""Kinds of figure that are no kind of reading, with their units."""

NEVER = ("function", "wiggle", "rev_min")


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepFigure:
    """Keep a bike's or a model's own figure (regulated volts, AC volts, stator ohms), and from what."""

    verb: ClassVar[str] = "bike figure"

    bike: Annotated[str, Ask("Bike", "number, registration or frame number", place=1)]
    kind: Annotated[str, Ask("Figure", "regulated_volts, winding_ohms, ac_volts, field_ohms, ...", place=2)]
    least: Annotated[str, Ask("Least", "14.0 V, 0.1 ohm")] = ""
    most: Annotated[str, Ask("Most", "14.8 V, 0.3 ohm")] = ""
    figure: Annotated[str, Ask("Figure", "as printed, with --percent")] = ""
    percent: Annotated[float | None, Ask("Plus or minus", "per cent of the figure", least=0, most=100)] = None
    rev_min: Annotated[
        float | None, Ask("At rev/min", "of AC volts; 1000 where they are for every 1000", most=20_000)
    ] = None
    source: Annotated[str, Ask("From what", "maker's manual p. 92, measured on a sound one")]
    model: Annotated[bool, Ask("For the model", "every bike of this make and model")] = False

    def work(self, turn: Turn) -> OwnFigure:
        """Keeps it; an older figure of the same kind stays in the file and gives way."""
        bike = bike_named(turn.unit, self.bike)
        kind, unit = self._kind(turn)
        least, most = self._bounds(kind, unit)
        figure = turn.unit.insert(
            OwnFigure(
                bike=None if self.model else bike.id,
                model_of=model_key(bike) if self.model else "",
                kind=kind,
                least=least,
                most=most,
                unit=unit,
                source=self.source,
                who=turn.who,
                at=turn.at,
            )
        )
        whose = f"model {bike.name}" if self.model else f"bike {bike.name}"
        turn.say(f"{whose}: own figure {kind.replace('_', ' ')} {_between(least, most)} {unit}")
        return figure

    def _kind(self, turn: Turn) -> tuple[str, str]:
        name = self.kind.strip().replace(" ", "_").replace("-", "_").casefold()
        if name in (*AC_PAIRS, "ac_volts"):
            name = AC_PER_1000
        known = load_readings(turn.seeds)
        if name in APART:
            return name, APART[name]
        if name not in known or known[name].unit == "yes/no" or name in NEVER:
            usable = [kind for kind, row in known.items() if row.unit != "yes/no" and kind not in NEVER]
            listed = ", ".join([*usable, *APART])
            raise_all([Problem("kind", "There is no such figure.", f"One of: {listed}.", self.kind)])
        return name, known[name].unit

    def _bounds(self, kind: str, unit: str) -> tuple[float | None, float | None]:
        problems: list[Problem | None] = []
        values: dict[str, float | None] = {}
        for field in ("least", "most", "figure"):
            given = getattr(self, field)
            read = metered(field, given, unit) if given else None
            problems.append(read if isinstance(read, Problem) else None)
            values[field] = None if read is None or isinstance(read, Problem) else read.value
            if read is not None and not isinstance(read, Problem) and read.value is None:
                problems.append(Problem(field, "A number is expected here.", given=given))
        if not (self.least or self.most or self.figure):
            problems.append(Problem("least", "Say the least, the most, or the figure with its per cent."))
        if self.figure and (self.least or self.most or self.percent is None):
            problems.append(
                Problem(
                    "figure", "A figure goes with its per cent, and without least and most.", "--percent 10"
                )
            )
        nominal = values["figure"]
        if nominal is not None and nominal <= 0:
            problems.append(Problem("figure", "More than none is expected here.", given=self.figure))
        if kind == AC_PER_1000 and not self.rev_min:
            problems.append(
                Problem("rev_min", "AC volts at which rev/min? They rise with speed.", "--rev-min 5000")
            )
        raise_all(problems)
        least, most = values["least"], values["most"]
        if nominal is not None and self.percent is not None:
            least, most = spread_limits(nominal, self.percent)
        if least is not None and most is not None and least > most:
            raise_all([Problem("most", "This must not be less than the least.", given=self.most)])
        scale = 1000 / self.rev_min if kind == AC_PER_1000 and self.rev_min else 1.0
        return _scaled(least, scale), _scaled(most, scale)


def _scaled(value: float | None, scale: float) -> float | None:
    return None if value is None else float(f"{value * scale:.9g}")


def _between(least: float | None, most: float | None) -> str:
    if least is None:
        return f"at most {most:g}"
    return f"at least {least:g}" if most is None else f"{least:g} to {most:g}"
