"""A person's mistake as a value: which field, what is wrong, what would be right."""

from collections.abc import Iterable
from dataclasses import dataclass

from tracker.errors import LoomcardError


@dataclass(frozen=True, slots=True)
class Problem:
    """One mistake beside one field. `sentence` is shown as it stands; `given` is what was typed."""

    field: str
    sentence: str
    hint: str = ""
    given: str = ""


class Mistakes(LoomcardError):  # noqa: N818 - it is what a person made, and reads so where it is raised
    """All the mistakes of one deed at once; nothing was written."""

    exit_code = 2

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        count = len(self.problems)
        super().__init__(
            self.problems[0].sentence if count == 1 else f"{count} things need another look.",
            self.problems[0].hint if count == 1 else "",
        )
