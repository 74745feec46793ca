"""A script of deeds with day offsets: the demo workshop, the walk, and rehearsals in tests."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class ScriptDeed:
    """One deed of a script. `day` counts from today (0), `at` is HH:MM on the shop's clock.

    `name` lets later entries write `@name` for the number this deed gave. `refused` says that the desk is
    expected to refuse it. `papers` are shown after it.
    """

    day: int
    at: str
    who: str
    verb: str
    name: str = ""
    say: str = ""
    refused: bool = False
    papers: tuple[str, ...] = ()
    give: Mapping[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Script:
    """The shop's settings, then its deeds."""

    shop: Mapping[str, object]
    deeds: tuple[ScriptDeed, ...]
