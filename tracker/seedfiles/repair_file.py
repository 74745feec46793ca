"""One file of seeds/repairs, read entry by entry, so that one mistake does not hide the next."""

from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from tracker.records.problem import Problem
from tracker.records.repair_rule import Ask, Rule
from tracker.seedfiles.loom_words import in_words
from tracker.seedfiles.repair_check import Check, Known, check_asks
from tracker.seedfiles.repair_shapes import LISTS, AskIn, FigureIn, HeadIn, Written

_UNREAD = {"id": "unread", "words": "-", "group": "-", "on": "bike", "status": "from memory", "source": "-"}
"""Stands for a head that could not be read, while the rest of the file is."""


def read_file(
    name: str, raw: Mapping[str, Any], text: str, known: Known, problems: list[Problem]
) -> Rule | None:
    """The rule of file `name`, or None when something is wrong, which is then added to `problems`."""
    before = len(problems)

    def wrong(where: str, sentence: str, hint: str = "", given: object = "") -> None:
        problems.append(Problem(f"{name}: {where}", sentence, hint, str(given)[:60]))

    def shaped(shape: type[Written], value: object, where: str) -> Any:
        try:
            return shape.model_validate(value)
        except ValidationError as error:
            for field, sentence, hint, given in in_words(error):
                wrong(": ".join(part for part in (where, field) if part), sentence, hint, given)
            return None

    head: HeadIn | None = shaped(HeadIn, {key: value for key, value in raw.items() if key not in LISTS}, "")
    backing = head or HeadIn.model_validate(_UNREAD)
    entries: dict[str, dict[str, Any]] = {}
    for section, shape in LISTS.items():
        listed = raw.get(section, [])
        if not isinstance(listed, list):
            wrong(section, "This is a list.", f"Write [[{section}]].", listed)
            listed = []
        read = {f"{section} {n}": shaped(shape, value, f"{section} {n}") for n, value in enumerate(listed, 1)}
        entries[section] = {
            where: _record(entry, backing) for where, entry in read.items() if entry is not None
        }
    if "minutes" not in raw:
        wrong("minutes", "A rule says how long it takes.", "Write [[minutes]] with least, likely and most.")
    asks: dict[str, Ask] = entries["asks"]
    check_asks(asks, wrong)
    check = Check({ask.name: ask for ask in asks.values()}, _lost(raw.get("asks"), asks), known, wrong)
    for section in LISTS:
        if section != "asks":
            for where, figure in entries[section].items():
                check.figure(where, figure)
    if head is not None:
        _head(head, name, check)
    if head is None or len(problems) > before:
        return None
    return head.rule(text, {section: tuple(entries[section].values()) for section in LISTS})


def _record(entry: AskIn | FigureIn, head: HeadIn) -> Any:
    return entry.record() if isinstance(entry, AskIn) else entry.record(head)


def _lost(raw: object, asks: Mapping[str, Ask]) -> frozenset[str]:
    """The names of questions that are there but could not be read: no use complaining twice."""
    if not isinstance(raw, list):
        return frozenset()
    names = {str(entry.get("name", "?")) for entry in raw if isinstance(entry, dict)}
    return frozenset(names - {ask.name for ask in asks.values()})


def _head(head: HeadIn, name: str, check: Check) -> None:
    stem = name.rsplit("/", 1)[-1].removesuffix(".toml")
    if head.id != stem:
        check.wrong("id", f"The file is called “{stem}”: the two must agree.", "", head.id)
    if head.id in head.was:
        check.wrong("was", "A rule cannot have been what it is.", "", head.id)
    known = check.known
    check.names("proves", head.proves, known.readings, "kind of reading")
    check.names("recheck", (head.recheck,) if head.recheck else (), known.rechecks, "kind of recheck")
    if known.zones is not None:
        check.names("access: zones", head.access.zones, known.zones, "zone")
    if head.on == "bike" and head.access.reach in {"ends", "route"}:
        check.wrong(
            "access: reach", "What is done to the bike as a whole has no wire.", "", head.access.reach
        )
    for field, value in head.record.model_dump().items():
        check.text(f"record: {field}", value)
