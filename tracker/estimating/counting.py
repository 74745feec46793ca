"""What a rule's figures are multiplied by, and which of them count under given answers."""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import TypeVar

from tracker.estimating.words import said
from tracker.records.repair_rule import METRE, Answers, Ask, AskKind, Figure, Rule, holes

F = TypeVar("F", bound=Figure)


def counts(rule: Rule, answers: Answers) -> dict[str, Decimal]:
    """How many of each thing the answers name: joints, ways, ...; lengths as metres."""
    found: dict[str, Decimal] = {}
    for ask in rule.asks:
        value = answers.values.get(ask.name, 0)
        if isinstance(value, str):
            continue
        if word := _counts(ask):
            found[word] = Decimal(value) / (1000 if ask.kind is AskKind.LENGTH else 1)
    return found


def _counts(ask: Ask) -> str:
    """The word that a figure's `per` uses for this question; empty where nothing is multiplied by it."""
    return ask.counts or (METRE if ask.kind is AskKind.LENGTH else "")


def multiplier(figure: Figure, found: Mapping[str, Decimal]) -> Decimal:
    """What a figure is multiplied by: 1 once a repair, else the product of what its `per` names."""
    product = Decimal(1)
    for name in figure.per:
        product *= found[name]
    return product


def counting(figures: Iterable[F], answers: Answers) -> tuple[F, ...]:
    """The figures whose `when` agrees with the answers."""
    return tuple(
        figure
        for figure in figures
        if all(said(answers.values.get(name)) in wanted for name, wanted in figure.when.items())
    )


def decided(rule: Rule, answers: Answers) -> frozenset[str]:
    """The questions whose answers the estimate rests on: of what counts, how often, and which was chosen."""
    found = counts(rule, answers)
    figures: tuple[Figure, ...] = (*rule.minutes, *rule.wire, *rule.parts, *rule.sleeves, *rule.tapes)
    counted = [figure for figure in counting(figures, answers) if multiplier(figure, found)]
    words = {name for figure in counted for name in figure.per}
    texts = {
        value
        for figure in counted
        for name in ("size", "fits_mm2", "wires", "grips", "code")
        if isinstance(value := getattr(figure, name, None), str)
    }
    named = {name for text in texts for name in holes(text)}
    asked = {name for figure in figures for name in figure.when}
    return frozenset(ask.name for ask in rule.asks if ask.name in named | asked or _counts(ask) in words)
