"""One file of seeds/repairs, read entry by entry, so that one mistake does not hide the next."""

from collections.abc import Mapping
from typing import Any, TypeVar

from pydantic import ValidationError

from tracker.records.problem import Problem
from tracker.records.repair_rule import Ask, Rule
from tracker.seedfiles.loom_words import in_words
from tracker.seedfiles.repair_check import Check, Known, Wrong, check_asks
from tracker.seedfiles.repair_shapes import LISTS, AskIn, FigureIn, HeadIn, Written

UNREAD = "unread"
HEAD = {"id": UNREAD, "words": "-", "group": "-", "on": "wire", "status": "from memory", "source": "-"}
SPREAD = {"least": 1, "likely": 1, "most": 1}
STAND_INS: Mapping[str, Mapping[str, object]] = {
    "minutes": SPREAD,
    "wire": {"mm": 1, "size": "1"},
    "parts": {"kind": "-"},
    "sleeves": {"kind": "2:1", "length_mm": 1, "size": "1"},
    "tapes": {"length_mm": 1, "width_mm": 1, "lap": 0, "size": "1"},
}
"""What stands for a field that could not be read, while the rest of its entry is looked over."""

W = TypeVar("W", bound=Written)


def read_file(
    name: str, raw: Mapping[str, Any], text: str, known: Known, problems: list[Problem]
) -> Rule | None:
    """The rule of file `name`, or None when something is wrong, which is then added to `problems`."""
    before = len(problems)

    def wrong(where: str, sentence: str, hint: str = "", given: object = "") -> None:
        problems.append(Problem(f"{name}: {where}", sentence, hint, str(given)[:60]))

    head = _shaped(HeadIn, {key: value for key, value in raw.items() if key not in LISTS}, "", HEAD, wrong)
    assert head is not None  # its stand-ins are sound, whatever the file says
    entries = {section: _entries(section, raw.get(section, []), head, wrong) for section in LISTS}
    if "minutes" not in raw:
        wrong("minutes", "A rule says how long it takes.", "Write [[minutes]] with least, likely and most.")
    asks: dict[str, Ask] = entries["asks"]
    check_asks(asks, wrong)
    check = Check({ask.name: ask for ask in asks.values()}, _lost(raw.get("asks"), asks), known, wrong)
    for section in LISTS:
        if section != "asks":
            for where, figure in entries[section].items():
                check.figure(where, figure)
    _head(head, name, check)
    lists = {section: tuple(entries[section].values()) for section in LISTS}
    lists["cautions"] = check.cautions("cautions", head.cautions)
    return head.rule(text, lists) if len(problems) == before else None


def _entries(section: str, listed: object, head: HeadIn, wrong: Wrong) -> dict[str, Any]:
    """The entries of one list by where they stand. A question that cannot be read is left out."""
    if not isinstance(listed, list):
        wrong(section, "This is a list.", f"Write [[{section}]].", listed)
        return {}
    found: dict[str, Any] = {}
    for number, value in enumerate(listed, 1):
        where = f"{section} {number}"
        entry = _shaped(LISTS[section], value, where, STAND_INS.get(section), wrong)
        if entry is not None:
            found[where] = entry.record() if isinstance(entry, AskIn) else _figure(entry, head)
    return found


def _figure(entry: Written, head: HeadIn) -> Any:
    assert isinstance(entry, FigureIn)
    return entry.record(head)


def _shaped(
    shape: type[W], value: object, where: str, stand_ins: Mapping[str, object] | None, wrong: Wrong
) -> W | None:
    """`value` in its shape. Where it is not, that is told, and what can be read is read with stand-ins."""
    try:
        return shape.model_validate(value)
    except ValidationError as error:
        for field, sentence, hint, given in in_words(error):
            wrong(": ".join(part for part in (where, field) if part), sentence, hint, given)
        if stand_ins is None or not isinstance(value, dict):
            return None
        return shape.model_validate(_readable(value, [one["loc"] for one in error.errors()], stand_ins))


def _readable(
    value: dict[str, Any], lost: list[tuple[int | str, ...]], stand_ins: Mapping[str, object]
) -> Any:
    """`value` without the fields that could not be read, of a table in it only the field that could not."""
    kept = {key: dict(inner) if isinstance(inner, dict) else inner for key, inner in value.items()}
    for place in lost:
        inner = kept.get(str(place[0]))
        if len(place) > 1 and isinstance(inner, dict) and place[1] in inner:
            del inner[str(place[1])]
        else:
            kept.pop(str(place[0]), None)
    if set(SPREAD) <= set(stand_ins) and not set(SPREAD) <= set(kept):
        return kept | SPREAD
    return {**stand_ins, **kept}


def _lost(raw: object, asks: Mapping[str, Ask]) -> frozenset[str]:
    """The names of questions that are there but could not be read: no use complaining twice."""
    if not isinstance(raw, list):
        return frozenset()
    names = {str(entry.get("name", "?")) for entry in raw if isinstance(entry, dict)}
    return frozenset(names - {ask.name for ask in asks.values()})


def _head(head: HeadIn, name: str, check: Check) -> None:
    stem = name.rsplit("/", 1)[-1].removesuffix(".toml")
    if head.id not in {stem, UNREAD}:
        check.wrong("id", f"The file is called “{stem}”: the two must agree.", "", head.id)
    if head.id in head.was:
        check.wrong("was", "A rule cannot have been what it is.", "", head.id)
    known = check.known
    check.names("proves", head.proves, known.readings, "kind of reading")
    check.names("recheck", (head.recheck,) if head.recheck else (), known.rechecks, "kind of recheck")
    check.names("access: zones", head.access.zones, known.zones, "zone")
    if head.on == "bike" and head.access.reach in {"ends", "route"}:
        check.wrong(
            "access: reach", "What is done to the bike as a whole has no wire.", "", head.access.reach
        )
    for field, value in head.record.model_dump().items():
        check.text(f"record: {field}", value)
