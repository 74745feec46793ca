"""What was seen or done on a loom, in a line: the part, then what is said of it."""

from collections.abc import Mapping

from tracker.loom.where import place_words, words_of
from tracker.records.loom_made import Fact, Loom

SAID: Mapping[str, str] = {
    "zone": "sits at", "words": "called", "synonyms": "also called", "size_mm2": "mm2", "length_mm": "mm",
    "kind": "kind", "plug": "plug", "a": "from", "b": "to", "station_mm": "mm behind the headstock",
    "branch_mm": "mm of branch",
}  # fmt: skip
"""Values by name, as they are said; any other by its own name."""


def fact_words(loom: Loom, fact: Fact) -> str:
    """One fact as a line; `loom` only names what it is about, and may be without it by now."""
    if fact.deed == "splice":
        near, far = place_words(loom, fact.a), place_words(loom, fact.b)
        return f"splice {fact.mm} mm from {near} towards {far}"
    named = _named(loom, fact)
    if fact.deed == "remove":
        return f"{named}: not there"
    if fact.deed == "renew":
        return f"{named}: made new from end to end"
    names = [name for name in fact.values if name != "synonyms" or "words" not in fact.values]
    said = [_said(loom, name, fact.values[name]) for name in names]
    if fact.deed == "add":
        return f"{named}: added" + _zone(loom, fact)
    return f"{named}: {', '.join(one for one in said if one)}"


def _named(loom: Loom, fact: Fact) -> str:
    if fact.what == "zone":
        zone = loom.known.zones.get(fact.id)
        return zone.words if zone else fact.id
    if fact.what == "wire" and fact.id not in loom.wires and fact.a and fact.b:
        return f"wire from {place_words(loom, fact.a)} to {place_words(loom, fact.b)}"
    known = fact.id in loom.table(fact.what)
    words = words_of(loom, fact.what, fact.id) if known and fact.deed != "add" else fact.values.get("words")
    return str(words or fact.id)


def _zone(loom: Loom, fact: Fact) -> str:
    zone = loom.known.zones.get(str(fact.values.get("zone", "")))
    return f", {zone.words}" if zone else ""


def _said(loom: Loom, name: str, value: object) -> str:
    if name == "colour" and isinstance(value, Mapping):
        code = value.get("code", "words")
        letters = f" ({code} letters)" if code != "words" else ""
        return "/".join(str(value[one]) for one in ("main", "tracer") if value.get(one)) + letters
    if name == "zone":
        zone = loom.known.zones.get(str(value))
        words = zone.words if zone else str(value)
        return (
            f"sits {words}" if words.startswith(("under ", "behind ", "on ", "in ")) else f"sits at {words}"
        )
    if name in {"a", "b"}:
        return f"{SAID[name]} {place_words(loom, str(value).partition('@')[0])}"
    if name == "synonyms" and isinstance(value, list):
        return f"also called {', '.join(map(str, value))}" if value else ""
    if name.endswith(("_mm2", "_mm")) and isinstance(value, int | float):
        return f"{value:g} {SAID[name]}"
    return f"{SAID.get(name, name.replace('_', ' '))} {value}"
