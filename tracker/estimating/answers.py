"""A person's answers to a rule's questions, read from what was typed; every mistake beside its field."""

import re
from collections.abc import Mapping
from decimal import Decimal
from difflib import get_close_matches

from tracker.records.problem import Problem
from tracker.records.repair_rule import Answer, Answers, Ask, AskKind, Rule
from tracker.records.text import clean_text, fold

_NUMBER = re.compile(r"(-?)([0-9]{1,9})(?:[.,]([0-9]{1,6}))?\s*([^0-9.,\s-][^\s]*)?", re.ASCII)
_LENGTHS = {"": Decimal(1), "mm": Decimal(1), "cm": Decimal(10), "m": Decimal(1000)}
_AREAS = ("", "mm2", "mm²")
_YES = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}
_LONGEST_WORDS = 80


def answers(rule: Rule, raw: Mapping[str, str]) -> Answers | tuple[Problem, ...]:
    """The answers to `rule`'s questions out of `raw` (ask name to what was typed), or every mistake in them.

    Lengths are mm unless cm or m stands behind them; either decimal sign is taken. Nothing, “?” and
    “don't know” leave the question to its default. A name the rule does not ask is a mistake.
    """
    problems = [_not_asked(rule, name, given) for name, given in raw.items() if rule.ask(name) is None]
    values: dict[str, Answer] = {}
    assumed: list[str] = []
    for ask in rule.asks:
        given = raw.get(ask.name, "")
        if given.strip() in {"", "?"} or fold(given) == "dont know":
            if ask.default is not None:
                values[ask.name] = ask.default
                assumed.append(ask.name)
            elif not ask.optional:
                problems.append(Problem(ask.name, f"{ask.words}: an answer is wanted.", _takes(ask)))
            continue
        read = _read(ask, given)
        if isinstance(read, Problem):
            problems.append(read)
        else:
            values[ask.name] = read
    return tuple(problems) if problems else Answers(values, tuple(assumed))


def _not_asked(rule: Rule, name: str, given: str) -> Problem:
    near = get_close_matches(name, [ask.name for ask in rule.asks], 1)
    hint = f"Did you mean “{near[0]}”?" if near else f"It asks: {', '.join(ask.name for ask in rule.asks)}."
    return Problem(name, f"“{rule.words}” does not ask for “{name}”.", hint if rule.asks else "", given)


def _takes(ask: Ask) -> str:
    """What the question takes, in words."""
    if ask.choices:
        return f"One of: {', '.join(ask.choices)}."
    unit = f" {ask.unit}" if ask.unit else ""
    if ask.least is not None and ask.most is not None:
        return f"From {ask.least} to {ask.most}{unit}."
    if ask.kind is AskKind.YES_NO:
        return "Yes or no."
    return ""


def _read(ask: Ask, given: str) -> Answer | Problem:
    text = clean_text(ask.name, given, longest=_LONGEST_WORDS)
    if isinstance(text, Problem):
        return text
    match ask.kind:
        case AskKind.COUNT | AskKind.LENGTH | AskKind.SIZE | AskKind.NUMBER:
            return _number(ask, text)
        case AskKind.YES_NO:
            if fold(text) in _YES:
                return _YES[fold(text)]
            return Problem(ask.name, f"{ask.words}: “{text}” is neither yes nor no.", "Yes or no.", text)
        case AskKind.CHOICE:
            chosen = next((choice for choice in ask.choices if fold(choice) == fold(text)), None)
            if chosen is None:
                return Problem(ask.name, f"{ask.words}: “{text}” is not one of them.", _takes(ask), text)
            return chosen
        case AskKind.COLOUR:
            if not all(any(map(str.isalpha, part)) for part in text.split("/")):
                return Problem(
                    ask.name, f"{ask.words}: “{text}” is no colour.", "green, or green/black.", text
                )
            return "/".join(part.strip() for part in text.casefold().split("/"))
        case AskKind.WORDS:
            return text


def _number(ask: Ask, text: str) -> Answer | Problem:
    found = _NUMBER.fullmatch(text)
    if found is None:
        return Problem(ask.name, f"{ask.words}: “{text}” is not a number.", _takes(ask), text)
    sign, whole, part, unit = found.groups(default="")
    times = _unit(ask, unit)
    if times is None:
        wanted = ask.unit or "no unit"
        return Problem(ask.name, f"{ask.words}: “{unit}” is not its unit.", f"It wants {wanted}.", text)
    value = Decimal(f"{sign}{whole}.{part or 0}") * times
    if ask.kind in {AskKind.COUNT, AskKind.LENGTH} and value != int(value):
        of = f" of {ask.unit}" if ask.unit else ""
        return Problem(ask.name, f"{ask.words}: {text} is not a whole number{of}.", _takes(ask), text)
    if (ask.least is not None and value < ask.least) or (ask.most is not None and value > ask.most):
        return Problem(ask.name, f"{ask.words}: {text} is out of range.", _takes(ask), text)
    return int(value) if ask.kind in {AskKind.COUNT, AskKind.LENGTH} else _plain(value)


def _unit(ask: Ask, unit: str) -> Decimal | None:
    """What a figure typed with `unit` is multiplied by; None when the unit does not belong here."""
    if ask.kind is AskKind.LENGTH:
        return _LENGTHS.get(unit)
    if ask.kind is AskKind.SIZE:
        return Decimal(1) if unit in _AREAS else None
    return Decimal(1) if unit in {"", ask.unit} else None


def _plain(value: Decimal) -> Decimal:
    """Without trailing zeros or exponent: 0.750 and 0.75 are one size.

    >>> _plain(Decimal("0.750")), _plain(Decimal("10.0"))
    (Decimal('0.75'), Decimal('10'))
    """
    short = value.normalize()
    return short.quantize(Decimal(1)) if short == short.to_integral_value() else short
