"""Where a mistake stands (file, entry, field) and what is wrong there, in words."""

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any

from tracker.records.problem import Problem

if TYPE_CHECKING:
    from pydantic import ValidationError


@dataclass(frozen=True, slots=True)
class Spot:
    """A field of an entry. `within` is put before the field's name (“alter 2: ”)."""

    kind: str
    id: str
    within: str = ""

    def of(self, name: str) -> "Spot":
        """A field, or a part of the entry."""
        return Spot(self.kind, self.id, f"{self.within}{name}")


@dataclass(slots=True)
class Gathered:
    """The mistakes found so far. `home` remembers in which file an entry stands, by kind and id.

    `broken` are ids of entries that were there but could not be read: who names one made no mistake.
    """

    problems: list[Problem] = field(default_factory=list)
    home: dict[tuple[str, str], str] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)

    def wrong(self, spot: Spot, sentence: str, hint: str = "", given: object = "") -> None:
        """Notes a mistake by file, entry and field."""
        name = f"{self.home.get((spot.kind, spot.id), 'loom')}: {spot.kind} {spot.id}"
        field_name = spot.within.removesuffix(": ")
        self.problems.append(
            Problem(f"{name}: {field_name}" if field_name else name, sentence, hint, str(given)[:60])
        )


_SENTENCES = {
    "missing": "This is missing.",
    "extra_forbidden": "There is no such field.",
    "string_type": "This must be text.",
    "string_too_short": "This is empty.",
    "int_type": "This must be a whole number.",
    "int_parsing": "This must be a whole number.",
    "int_from_float": "This must be a whole number.",
    "float_type": "This must be a number.",
    "float_parsing": "This must be a number.",
    "finite_number": "This must be a number.",
    "bool_type": "This must be true or false.",
    "bool_parsing": "This must be true or false.",
    "dict_type": "This must be a table of named values.",
    "model_type": "This must be a table of named values.",
    "tuple_type": "This must be a list.",
    "string_pattern_mismatch": "An id is small letters, digits and single hyphens.",
    "value_error": "{error}.",
    "greater_than": "This must be more than {gt}.",
    "greater_than_equal": "This must be at least {ge}.",
    "less_than": "This must be less than {lt}.",
    "less_than_equal": "This must be at most {le}.",
    "too_short": "At least {min_length} are wanted.",
    "literal_error": "This must be one of {expected}.",
}


def in_words(error: "ValidationError", fields: Collection[str] = ()) -> Iterator[tuple[str, str, str, Any]]:
    """Each mistake as (field, sentence, hint, what was given). `fields` are those the entry could have."""
    for one in error.errors(include_url=False):
        name = ": ".join(str(part) for part in one["loc"] if not str(part).startswith(("str", "is-instance")))
        template = _SENTENCES.get(one["type"])
        context = {**one.get("ctx", {})}
        hint = ""
        if one["type"] == "literal_error":
            known = re.findall("'([^']*)'", str(context["expected"]))
            context["expected"] = ", ".join(f"“{word}”" for word in known)
            hint = close(str(one["input"]), known)
        if one["type"] == "extra_forbidden":
            hint = close(str(one["loc"][-1]), list(fields))
        sentence = template.format(**context) if template else f"{one['msg']}."
        given = "" if one["type"] == "missing" else one["input"]
        yield name, sentence, hint, given


def close(given: str, known: list[str]) -> str:
    """“Did you mean …?” where one of `known` is nearly what was given, else nothing."""
    near = get_close_matches(given, known, n=1, cutoff=0.6 if len(given) < 5 else 0.7)
    return f"Did you mean “{near[0]}”?" if near else ""
