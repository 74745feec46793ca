"""What a repair type asks, for a form: its own questions, then where the repair is."""

from collections.abc import Mapping
from dataclasses import dataclass

from tracker.desk.desk import Desk
from tracker.records.repair_rule import Ask, AskKind
from tracker.seedfiles.repairs import load_rules
from tracker.seedfiles.repairs import rule as rule_named

YES_NO = ("yes", "no")


@dataclass(frozen=True, slots=True)
class RuleLine:
    """A repair type in short."""

    id: str
    words: str
    group: str


@dataclass(frozen=True, slots=True)
class Asked:
    """One question as a form asks it; `choices` are all its answers, empty where it is written freely."""

    name: str
    label: str
    hint: str
    choices: tuple[str, ...] = ()
    value: str = ""
    required: bool = False


WHERE = (
    Asked("circuit", "Circuit", "what the current is for"),
    Asked("from", "Wire from", "a place on the loom: the near end of the wire, or the plug"),
    Asked("to", "Wire to", "the place at its other end"),
    Asked("mm", "How far along", "mm from the first end"),
    Asked("place", "Place", "the plug, splice or earth point, where it is no wire"),
    Asked("zone", "Zone", "of the loom's own when nothing is said"),
    Asked("words", "Words", "for the paper"),
)
"""What may be said of any repair."""


def rule_lines(desk: Desk) -> tuple[RuleLine, ...]:
    """Every repair type, by group and words."""
    found = (RuleLine(rule.id, rule.words, rule.group) for rule in load_rules(desk.seeds))
    return tuple(sorted(found, key=lambda line: (line.group, line.words)))


def asked_by(desk: Desk, rule: str, known: Mapping[str, str]) -> tuple[Asked, ...]:
    """The questions of a repair type, those that want an answer first; `known` stands in them already.

    Raises NotFoundError for a repair type that there is not.
    """
    asks = rule_named(rule, desk.seeds).asks
    wanted = [ask for ask in asks if _required(ask)]
    own = [*wanted, *(ask for ask in asks if ask not in wanted)]
    taken = {ask.name for ask in asks}
    where = [one for one in WHERE if one.name not in taken]
    questions = [*(_asked(ask) for ask in own), *where]
    return tuple(
        Asked(q.name, q.label, q.hint, q.choices, known.get(q.name, q.value), q.required) for q in questions
    )


def repair_text(rule: str, answers: Mapping[str, str]) -> str:
    """The answers as the estimate takes them; empty ones are left out.

    >>> repair_text("splice-butt", {"joints": "2", "words": ""})
    'splice-butt:joints=2'
    """
    pairs = ",".join(f"{name}={text.strip()}" for name, text in answers.items() if text.strip())
    return f"{rule}:{pairs}" if pairs else rule


def _required(ask: Ask) -> bool:
    return ask.default is None and not ask.optional and not ask.from_loom


def _asked(ask: Ask) -> Asked:
    choices = YES_NO if ask.kind is AskKind.YES_NO else ask.choices
    default = "" if ask.default is None else str(ask.default)
    if ask.kind is AskKind.YES_NO and ask.default is not None:
        default = YES_NO[0] if ask.default else YES_NO[1]
    if choices and not default:
        choices = ("", *choices)
    words = [ask.unit] if ask.unit else []
    if ask.least is not None and ask.most is not None:
        words.append(f"{ask.least:f} to {ask.most:f}")
    if ask.from_loom:
        words.append("the loom's own when left empty")
    return Asked(ask.name, ask.words, ", ".join(words), choices, default, _required(ask))
