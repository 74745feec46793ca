"""Where a seed's text comes from: the shop's own copy if it has one, else what came with the program."""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any

from tracker.errors import LoomcardError, NotFoundError
from tracker.records.problem import Problem


class SeedMistakes(LoomcardError):  # noqa: N818 - it is what a person made, and reads so where it is raised
    """A seed file is refused; every mistake names the file, the entry and the field."""

    exit_code = 2

    def __init__(self, name: str, problems: Iterable[Problem]) -> None:
        self.name = name
        self.problems = tuple(problems)
        count = len(self.problems)
        super().__init__(
            f"{name} was not taken: {count} mistake{'' if count == 1 else 's'}.",
            "; ".join(f"{p.field}: {p.sentence}" for p in self.problems[:5]),
        )


@cache
def _shipped() -> Traversable:
    inside = files("tracker") / "seeds"
    if inside.is_dir():
        return inside
    return Path(__file__).resolve().parents[2] / "seeds"


@dataclass(frozen=True, slots=True)
class Seeds:
    """The seeds as one shop sees them; `own` maps a seed's name (`repairs/splice.toml`) to its text."""

    own: Mapping[str, str] = field(default_factory=dict)

    def text(self, name: str) -> str:
        """The text of seed `name`; raises NotFoundError when neither the shop nor the program has it."""
        if name in self.own:
            return self.own[name]
        place = _shipped()
        for part in name.split("/"):
            place = place / part
        try:
            return place.read_text("utf-8")
        except (OSError, UnicodeDecodeError) as error:
            raise NotFoundError(f"There is no seed file “{name}”.") from error

    def names(self, folder: str, ending: str) -> tuple[str, ...]:
        """The names in a folder of seeds (`repairs`, `.toml`), sorted; the shop's own additions included."""
        place = _shipped() / folder
        shipped = {f"{folder}/{item.name}" for item in place.iterdir()} if place.is_dir() else set()
        own = {name for name in self.own if name.startswith(f"{folder}/")}
        return tuple(sorted(name for name in shipped | own if name.endswith(ending)))

    def toml(self, name: str) -> dict[str, Any]:
        """Seed `name` read as TOML, its decimals exact; raises SeedMistakes where it is not TOML."""
        try:
            return tomllib.loads(self.text(name), parse_float=Decimal)
        except tomllib.TOMLDecodeError as error:
            raise SeedMistakes(name, [Problem("text", f"It is not TOML: {error}.")]) from error


SHIPPED = Seeds()
"""The seeds as they came with the program."""
