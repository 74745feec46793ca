"""Scripts of deeds from seeds/demo: every mistake named by file, entry and field."""

import re
from collections.abc import Mapping
from typing import Any

from tracker.records.problem import Problem
from tracker.records.script import Script, ScriptDeed
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds

_KNOWN = frozenset({"day", "at", "who", "verb", "as", "say", "refused", "papers", "give"})
_TIME = re.compile(r"([01]\d|2[0-3]):[0-5]\d")


def load_script(name: str, seeds: Seeds = SHIPPED) -> Script:
    """The script in `demo/NAME.toml`; raises SeedMistakes with all that is wrong in it.

    An entry without a day, a time or a person takes those of the one before.
    """
    path = f"demo/{name}.toml"
    raw = seeds.toml(path)
    problems: list[Problem] = []
    deeds: list[ScriptDeed] = []
    last: dict[str, Any] = {"day": 0, "at": "09:00", "who": ""}
    for number, entry in enumerate(raw.get("deed", []), 1):
        problems += _wrong(number, entry)
        if problems:
            continue
        last = {key: entry.get(key, last[key]) for key in ("day", "at", "who")}
        deeds.append(
            ScriptDeed(
                **last,
                verb=entry["verb"],
                name=entry.get("as", ""),
                say=entry.get("say", ""),
                refused=entry.get("refused", False),
                papers=tuple(entry.get("papers", ())),
                give=entry.get("give", {}),
            )
        )
    if problems:
        raise SeedMistakes(path, problems)
    return Script(shop=raw.get("shop", {}), deeds=tuple(deeds))


def _wrong(number: int, entry: Mapping[str, Any]) -> list[Problem]:
    where = f"deed {number}"
    found = [Problem(f"{where}.{key}", "There is no such field.") for key in entry if key not in _KNOWN]
    if not isinstance(entry.get("verb"), str):
        found.append(Problem(f"{where}.verb", "A verb is needed."))
    if not isinstance(entry.get("day", 0), int):
        found.append(Problem(f"{where}.day", "A whole number of days from today is expected."))
    if not _TIME.fullmatch(str(entry.get("at", "09:00"))):
        found.append(Problem(f"{where}.at", "A time like 09:30 is expected.", given=str(entry["at"])))
    if not isinstance(entry.get("give", {}), dict):
        found.append(Problem(f"{where}.give", "A table of fields is expected."))
    return found
