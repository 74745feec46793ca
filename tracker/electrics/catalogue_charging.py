"""Sums on batteries and stators as they are called by name: every argument and figure has its unit in it.

The modules below reckon; here their arguments and answers get the names that a person and a program read.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass

from tracker.electrics import battery_acid, winding
from tracker.electrics.arguments import Arguments
from tracker.records.electrics import Sum
from tracker.records.limits import Limits, Word
from tracker.records.problem import Mistakes, Problem

STAND_IN = (10.0, 10.0, 10.0)
"""Three pairs to look over the other arguments with, where those given are no three."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HydrometerSum(Sum):
    """Each cell's gravity at 80 °F and the widest difference; `serviceable` None unless it was charged."""

    corrected_sg: tuple[float, ...]
    spread_sg: float
    spread_limit_sg: float
    weakest_cell: int
    serviceable: bool | None


def hydrometer(
    *, cells_sg: Sequence[float], temperature_c: float, limits: Limits, charged: bool = False
) -> HydrometerSum:
    """Cells against each other, corrected for the acid's temperature.

    Formula: SG + 0.004 x (T - 80 °F) / 10 °F; unserviceable when the widest difference is over 0.025.
    Range: 1 to 12 cells of SG 1.0 to 1.4; -20 to 60 °C. Only a charged battery is judged by its spread.
    Example:
        >>> from tracker.seedfiles.limits import load_limits
        >>> answer = hydrometer(cells_sg=[1.270, 1.268, 1.265, 1.270, 1.262, 1.244], temperature_c=26.7,
        ...                     charged=True, limits=load_limits())
        >>> answer.spread_sg, answer.weakest_cell, answer.serviceable
        (0.026, 6, False)

    Source: [1] TM 5-3895-349-14P (correction). [2] TM 9-6140-200-14 paras 4-6 to 4-8 (spread).
    """
    with renamed({"cells": "cells_sg"}):
        found = battery_acid.hydrometer(
            cells=cells_sg, temperature_c=temperature_c, limits=limits, charged=charged
        )
    return HydrometerSum(
        corrected_sg=found.corrected,
        spread_sg=found.spread,
        spread_limit_sg=found.spread_limit,
        weakest_cell=found.weakest_cell,
        serviceable=found.serviceable,
        why=found.why,
        source=found.source,
        cautions=found.cautions,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SelfDischargeSum(Sum):
    """Gravity after standing, and what it loses a day."""

    gravity_after_sg: float
    a_day_sg: float


def self_discharge(
    *, gravity_sg: float, days: float, temperature_c: float, limits: Limits
) -> SelfDischargeSum:
    """What a flooded battery that stands disconnected keeps of its gravity.

    Formula: SG - days x rate; the rate 0.0003, 0.001, 0.0025 a day at 50, 80, 100 °F, between them by its
        logarithm.
    Range: SG 1.0 to 1.4; 0 to 365 days; 10 to 37.8 °C.
    Example:
        >>> from tracker.seedfiles.limits import load_limits
        >>> answer = self_discharge(gravity_sg=1.265, days=10, temperature_c=26.67, limits=load_limits())
        >>> round(answer.gravity_after_sg, 3)
        1.255

    Source: [1] TM 9-6140-200-14 para 4-7; between its three temperatures: ours.
    """
    with renamed({"gravity": "gravity_sg"}):
        found = battery_acid.self_discharge(
            gravity=gravity_sg, days=days, temperature_c=temperature_c, limits=limits
        )
    return SelfDischargeSum(
        gravity_after_sg=found.gravity_after,
        a_day_sg=found.per_day,
        why=found.why,
        source=found.source,
        cautions=found.cautions,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class WindingSum(Sum):
    """Ohms of the winding alone, at the temperature it has and at the one asked for.

    `doubtful` says that the leads have as many ohms as the winding: the difference is then mostly error.
    """

    alone_ohm: float
    then_ohm: float
    doubtful: bool


def winding_alone(
    *, reading_ohm: float, temperature_c: float, lead_ohm: float = 0, wanted_c: float = 20
) -> WindingSum:
    """A winding's ohms, the meter leads' taken off, brought to the temperature its figure is printed for.

    Formula: (reading - leads) x (1 + 0.00393 (wanted - 20)) / (1 + 0.00393 (T - 20)).
    Range: 0 to 100 000 ohm; leads 0 to 10 ohm, not more than the reading; -40 to 200 °C.
    Example:
        >>> answer = winding_alone(reading_ohm=0.45, lead_ohm=0.2, temperature_c=60)
        >>> round(answer.alone_ohm, 3), round(answer.then_ohm, 3), answer.doubtful
        (0.25, 0.216, False)

    Source: [1] IEC 60028.
    """
    found = winding.winding(
        reading_ohm=reading_ohm, temperature_c=temperature_c, lead_ohm=lead_ohm, wanted_c=wanted_c
    )
    return WindingSum(
        alone_ohm=found.ohm,
        then_ohm=found.ohm_then,
        doubtful=found.doubtful,
        why=found.why,
        source=found.source,
        cautions=found.cautions,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class BalanceSum(Sum):
    """Three pairs against each other, in V or in ohm (the other None); `worst_pair` is 1, 2 or 3."""

    word: Word
    mean_v: float | None
    span_v: float | None
    mean_ohm: float | None
    span_ohm: float | None
    deviation_percent: float
    worst_pair: int


def balance(
    *,
    limits: Limits,
    pairs_v: Sequence[float] | None = None,
    pairs_ohm: Sequence[float] | None = None,
    lead_ohm: float = 0,
) -> BalanceSum:
    """AC volts of a three-phase stator pair by pair at one speed, or its ohms with the leads' taken off.

    Formula: span = most - least; deviation = the furthest from the mean, in per cent of it.
    Range: three pairs; 0 to 400 V, or 0 to 100 000 ohm with leads of 0 to 10 ohm. Volts are judged at 10 %,
        and at a span of 1 V where they are about 22 V; ohms over 10 % are worth a look, never more.
    Example:
        >>> from tracker.seedfiles.limits import load_limits
        >>> answer = balance(pairs_v=[62, 60, 31], limits=load_limits())
        >>> round(answer.deviation_percent, 1), answer.worst_pair, answer.word.value
        (39.2, 3, 'fault')

    Source: [1] TM 5-3825-213-20 (1 V at about 22 V, our reading). [2] common practice: 10 %.
    """
    arguments = Arguments()
    arguments.one_of(("pairs_v", "pairs_ohm"), (pairs_v, pairs_ohm))
    volts = pairs_ohm is None
    name, pairs = ("pairs_v", pairs_v) if volts else ("pairs_ohm", pairs_ohm)
    if pairs is not None and len(pairs) != 3:
        words = f"“{name}” has {len(pairs)} entr{'y' if len(pairs) == 1 else 'ies'}; it must have three."
        arguments.wrong(name, ", ".join(str(value) for value in pairs), words, "One for each pair of leads.")
        pairs = None
    with renamed({"pairs": name}, arguments.problems):
        found = winding.balance(
            pairs=pairs or STAND_IN,
            limits=limits,
            measured="volts" if volts else "ohms",
            lead_ohm=lead_ohm,
        )
    return BalanceSum(
        word=found.word,
        mean_v=found.mean if volts else None,
        span_v=found.span if volts else None,
        mean_ohm=None if volts else found.mean,
        span_ohm=None if volts else found.span,
        deviation_percent=found.deviation_percent,
        worst_pair=found.worst_pair,
        why=found.why,
        source=found.source,
        cautions=found.cautions,
    )


@contextmanager
def renamed(names: Mapping[str, str], before: Iterable[Problem] = ()) -> Iterator[None]:
    """Gives mistakes made inside the names that the argument has outside; raises those of `before` as well.

    Formula: the longest of `names` that begins the field is replaced, in the field and in the sentence.
    Range: any names.
    Example:
        >>> try:
        ...     with renamed({"cells": "cells_sg"}):
        ...         arguments = Arguments()
        ...         arguments.number("cells 2", 9, 1, 1.4, "SG")
        ...         arguments.settle()
        ... except Mistakes as mistakes:
        ...     print(mistakes.problems[0].sentence)
        “cells_sg 2” is 9 SG; it must be from 1 to 1.4 SG.

    Source: none: a way of writing.
    """
    problems = list(before)
    try:
        yield
    except Mistakes as mistakes:
        problems += [_renamed(problem, names) for problem in mistakes.problems]
    if problems:
        raise Mistakes(problems)


def _renamed(problem: Problem, names: Mapping[str, str]) -> Problem:
    for inside in sorted(names, key=len, reverse=True):
        if problem.field == inside or problem.field.startswith(f"{inside} "):
            outside = names[inside]
            field = outside + problem.field[len(inside) :]
            sentence = problem.sentence.replace(f"“{problem.field}”", f"“{field}”")
            return Problem(field, sentence, problem.hint, problem.given)
    return problem
