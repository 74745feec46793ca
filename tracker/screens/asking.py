"""What a form asks: a deed's fields in the order they are wanted, their answers, what stands there."""

from collections.abc import Mapping
from dataclasses import dataclass

from tracker.desk.ask import Field, fields_of
from tracker.desk.deeds import deed
from tracker.desk.desk import Desk
from tracker.desk.forms import choices_of, default_of, stands_now
from tracker.records.bike import UNKNOWN

SEVERAL = ";"
"""What stands between several values in one field."""

NEW_LINE = " // "
"""What stands for a new line in a field of one line."""

LOOM = "features."
"""Before the name of a question about the loom, which a form asks one by one."""

FIRST: Mapping[str, tuple[str, ...]] = {
    "book-in": (
        "customer", "phone", "make", "model", "year", "registration", "complaint", "odometer", "dead",
        "flat_when_parked", "promised", "look_limit", "look_amount",
    ),
    "read": ("kind", "value", "place", "state", "conditions"),
    "test": ("kind", "value", "place", "state", "conditions"),
    "finding": ("words", "circuit", "place", "zone", "fault"),
    "bill": ("deposit", "due", "extra", "fee", "discount", "words"),
    "pay": ("amount", "method"),
    "collect": ("to", "odometer", "override"),
    "recheck": ("done", "outcome", "to", "not_wanted"),
    "part want": ("part", "qty", "unit_price"),
    "fix": (
        "words", "circuit", "wire_from", "wire_to", "mm", "mm_end", "size", "colour", "splice", "terminal",
        "connector_old", "connector_new", "sleeve", "length_used", "pull", "minutes",
    ),
    "loom move": ("zone", "start", "end", "words", "model", "unfinished"),
    "loom wire": ("main", "tracer", "size", "length", "words", "model", "unfinished", "code", "kind"),
    "loom add": (
        "name", "sort", "kind", "zone", "inside", "start", "end", "length", "main", "tracer", "size", "watts",
        "works", "closed", "fuse", "volts", "unfinished",
    ),
    "customer add": ("name", "phone", "email", "address", "kind"),
    "bike add": ("make", "model", "year", "registration", "vin", "owner"),
}  # fmt: skip
"""What a form asks first, in this order; the rest waits behind “more”. Forms not named here ask all."""

ASK_LOOM = frozenset({"book-in", "bike add"})
"""Forms that ask the few questions that decide a new bike's loom, one by one."""

ASKED_ELSEWHERE = frozenset({"battery", "earth", "volts"})
"""Questions of the loom that a bike's own fields answer."""


@dataclass(frozen=True, slots=True)
class Question:
    """One field of a form. `choices` are all its answers, empty where it is written freely.

    `value` is what stands in it at first; `stood` what the file has, which is not sent again.
    """

    name: str
    label: str
    hint: str = ""
    choices: tuple[str, ...] = ()
    value: str = ""
    stood: str = ""
    required: bool = False
    several: bool = False
    lines: bool = False
    more: bool = False


def questions(
    desk: Desk, verb: str, given: Mapping[str, str], hidden: frozenset[str]
) -> tuple[Question, ...]:
    """What a form of `verb` asks, with `given` filled in and `hidden` left out. Reads the file and seeds."""
    kind = deed(verb)
    stands = stands_now(desk, verb, given)
    known = {field.name: field for field in fields_of(kind)}
    first = [name for name in FIRST.get(verb, tuple(known)) if name in known]
    rest = [name for name in known if name not in first]
    found = [
        _question(known[name], given, stands, more=name in rest)
        for name in (*first, *rest)
        if name not in hidden
    ]
    if verb in ASK_LOOM and "features" not in hidden:
        found = [q for q in found if q.name != "features"]
        place = next((n for n, q in enumerate(found) if q.more), len(found))
        found[place:place] = _loom(desk)
    return tuple(found)


def _question(field: Field, given: Mapping[str, str], stands: Mapping[str, str], *, more: bool) -> Question:
    choices = choices_of(field)
    stood = one_line(stands.get(field.name, ""))
    words = [field.ask.hint] if field.ask.hint and not choices else []
    if field.many or field.pairs:
        words.append(f"several with {SEVERAL}")
    return Question(
        name=field.name,
        label=field.ask.label,
        hint=", ".join(words),
        choices=choices,
        value=given.get(field.name, "") or stood or (default_of(field) if choices else ""),
        stood=stood,
        required=field.required,
        several=field.many or field.pairs,
        lines=field.ask.lines,
        more=more,
    )


def _loom(desk: Desk) -> list[Question]:
    from tracker.seedfiles.loom import load_pattern

    asked = load_pattern(desk.seeds).known.features
    return [
        Question(
            name=f"{LOOM}{one.id}",
            label=one.id.replace("-", " ").capitalize(),
            hint=one.question,
            choices=(UNKNOWN, *one.values),
            value=UNKNOWN,
        )
        for one in asked.values()
        if one.at_book_in and one.id not in ASKED_ELSEWHERE
    ]


def one_line(text: str) -> str:
    """Several lines as one field shows them."""
    return NEW_LINE.join(text.split("\n"))


def as_given(question: Question, typed: str) -> object | None:
    """What was typed in a field as the desk reads it; None for nothing, or for what stands there anyway."""
    if not typed.strip() or (question.stood and typed == question.stood):
        return None
    if question.several:
        return [part.strip() for part in typed.split(SEVERAL) if part.strip()] or None
    return typed.replace(NEW_LINE, "\n") if question.lines else typed


def gathered(asked: tuple[Question, ...], typed: Mapping[str, str]) -> dict[str, object]:
    """All of a form as the desk reads it; answers about the loom that nobody knows are left out."""
    raw: dict[str, object] = {}
    loom: dict[str, str] = {}
    for question in asked:
        value = as_given(question, typed.get(question.name, ""))
        if question.name.startswith(LOOM):
            if isinstance(value, str) and value != UNKNOWN:
                loom[question.name.removeprefix(LOOM)] = value
        elif value is not None:
            raw[question.name] = value
    return {**raw, "features": loom} if loom else raw
