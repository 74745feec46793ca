"""The repair types, from seeds/repairs/*.toml, one file each; every mistake of every file is named."""

from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache, lru_cache
from typing import Any

from tracker.errors import NotFoundError
from tracker.records.problem import Problem
from tracker.records.repair_rule import Rule, Rules
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.part_tables import SLEEVE_KINDS, TERMINAL_KINDS
from tracker.seedfiles.readings import load_readings
from tracker.seedfiles.rechecks import load_rechecks
from tracker.seedfiles.repair_check import Known

FOLDER = "repairs"


def load_rules(seeds: Seeds = SHIPPED) -> Rules:
    """The repair types of a shop; raises SeedMistakes that names each mistake by file, entry and field."""
    if seeds is SHIPPED:
        return _shipped()
    return _own(tuple(sorted(seeds.own.items())))


def rule(name: str, seeds: Seeds = SHIPPED) -> Rule:
    """The repair type called `name`, now or formerly; raises NotFoundError with what is nearest."""
    rules = load_rules(seeds)
    found = rules.get(name)
    if found is None:
        near = get_close_matches(name, list(rules.by_id), 1, 0.5)
        hint = f"Did you mean “{near[0]}”?" if near else f"There are: {', '.join(rules.by_id)}."
        raise NotFoundError(f"There is no repair type “{name}”.", hint)
    return found


def read_rule(name: str, text: str, seeds: Seeds = SHIPPED) -> Rule:
    """The repair type in `text`, as file `name` (“repairs/splice-butt.toml”) would hold it.

    For a text that is being written: it is judged as a whole, and SeedMistakes names all that is wrong.
    """
    tried = Seeds({**seeds.own, name: text})
    problems: list[Problem] = []
    found = _file(tried, name, known_names(tried), problems)
    if problems or found is None:
        raise SeedMistakes(name, problems)
    return found


def known_names(seeds: Seeds) -> Known:
    """The names that rules may use, as one shop has them."""
    return Known(
        readings=tuple(load_readings(seeds)),
        rechecks=tuple(load_rechecks(seeds)),
        sleeves=SLEEVE_KINDS,
        terminals=TERMINAL_KINDS,
        zones=_zones(seeds),
        cautions=_cautions(seeds),
    )


def _zones(seeds: Seeds) -> tuple[str, ...]:
    from tracker.seedfiles.loom_tables import read_zones

    problems: list[Problem] = []
    zones = tuple(read_zones(seeds, problems))
    if problems:
        raise SeedMistakes("tables/zones.csv", problems)
    return zones


def _cautions(seeds: Seeds) -> dict[str, str]:
    """The cautions that the loom's parts share, so that the same words stand in one place only."""
    return {
        name: str(entry.get("words", ""))
        for file in seeds.names("loom", ".toml")
        for name, entry in seeds.toml(file).get("caution", {}).items()
        if isinstance(entry, dict)
    }


@cache
def _shipped() -> Rules:
    return _load(SHIPPED)


@lru_cache(4)
def _own(texts: tuple[tuple[str, str], ...]) -> Rules:
    """Kept by what the shop's copies say: an estimate asks for its rules many times."""
    return _load(Seeds(dict(texts)))


def _load(seeds: Seeds) -> Rules:
    known = known_names(seeds)
    problems: list[Problem] = []
    rules = {}
    for name in seeds.names(FOLDER, ".toml"):
        found = _file(seeds, name, known, problems)
        if found is not None:
            rules[found.id] = found
    renamed = _renamed(rules, problems)
    if problems:
        files = {problem.field.split(":")[0] for problem in problems}
        raise SeedMistakes(files.pop() if len(files) == 1 else FOLDER, problems)
    return Rules(rules, renamed)


def _file(seeds: Seeds, name: str, known: Known, problems: list[Problem]) -> Rule | None:
    from tracker.seedfiles.repair_file import read_file

    try:
        raw: Mapping[str, Any] = seeds.toml(name)
    except SeedMistakes as mistakes:
        problems += [Problem(f"{name}: {p.field}", p.sentence, p.hint, p.given) for p in mistakes.problems]
        return None
    return read_file(name, raw, seeds.text(name), known, problems)


def _renamed(rules: Mapping[str, Rule], problems: list[Problem]) -> dict[str, str]:
    """From names that rules had to the ones they have; a name leads to one rule only."""
    renamed: dict[str, str] = {}
    for one in rules.values():
        for name in one.was:
            other = name if name in rules else renamed.get(name)
            if other is not None:
                where = f"{FOLDER}/{one.id}.toml: was"
                problems.append(Problem(where, f"“{name}” already means “{other}”.", given=name))
            renamed.setdefault(name, one.id)
    return renamed
