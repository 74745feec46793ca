"""Text that a shop words for itself, with places in it for what is known: `Hello {name}, your {bike} ...`."""

import re
from collections.abc import Mapping

from tracker.records.problem import Problem

RECHECK_PLACES = ("name", "bike", "what", "due", "shop", "phone")
"""What can stand in the words about a recheck."""
_PLACE = re.compile(r"\{([^{}]*)\}")


def filled(text: str, values: Mapping[str, str]) -> str:
    """The text with values in its places; what stands in a value is never read as a place.

    >>> filled("Your {bike}, {name}", {"bike": "{name}", "name": "Nia"})
    'Your {name}, Nia'
    """
    return _PLACE.sub(lambda place: values.get(place[1], place[0]), text)


def place_problems(field: str, text: str, places: tuple[str, ...]) -> tuple[Problem, ...]:
    """A problem for each place in a text that nothing fills."""
    strange = dict.fromkeys(name for name in _PLACE.findall(text) if name not in places)
    known = ", ".join(f"{{{name}}}" for name in places)
    return tuple(
        Problem(field, f"Nothing fills “{{{name[:30]}}}”.", f"Places: {known}.", text[:60])
        for name in strange
    )
