"""What is meant by what was typed of a loom: a part by any of its names, a place, a zone, colour letters."""

from typing import TYPE_CHECKING

from tracker.records.loom import End, What
from tracker.records.problem import Mistakes, Problem
from tracker.records.text import fold

if TYPE_CHECKING:
    from tracker.records.loom_made import Loom

KINDS: tuple[What, ...] = ("body", "place", "device", "wire")


def part_meant(loom: "Loom", text: str, kinds: tuple[What, ...] = KINDS) -> tuple[What, str]:
    """A part by kind and id, by id, by any of its names, or a wire by its two places.

    Raises Mistakes beside “part” where nothing, or more than one thing, is called so.
    """
    from tracker.loom.find import find
    from tracker.loom.where import words_of

    kind, _, rest = text.strip().partition(" ")
    if kind in kinds and rest in loom.table(kind):
        return kind, rest
    named = [(what, text.strip()) for what in kinds if text.strip() in loom.table(what)]
    if named:
        return named[0]
    if "wire" in kinds and ">" in text and (found := _between(loom, text)):
        return "wire", found
    hits = [hit for hit in find(loom, text, 50) if hit.what in kinds]
    best = [hit for hit in hits if hit.rank == hits[0].rank]
    bodies = [hit for hit in best if hit.what == "body"]
    if len(bodies) == 1:
        return "body", bodies[0].id
    if len(best) == 1:
        return best[0].what, best[0].id
    if not best:
        raise Mistakes([Problem("part", "Nothing in the loom is called so.", "loomcard where --list", text)])
    which = "; ".join(f"{hit.what} {hit.id} ({words_of(loom, hit.what, hit.id)})" for hit in best[:5])
    raise Mistakes([Problem("part", f"That may be {len(best)} parts.", f"One of: {which}.", text)])


def _between(loom: "Loom", text: str) -> str:
    """The wire between two places, either way round; empty where a place is not known."""
    names = [name.strip() for name in text.split(">", 1)]
    ends = {_place(loom, name) for name in names}
    found = [one.id for one in loom.wires.values() if {one.a.place, one.b.place} == ends]
    if len(found) > 1:
        hint = f"One of: {', '.join(found)}."
        raise Mistakes([Problem("part", "Several wires run between these places.", hint, text)])
    return found[0] if found else ""


def _place(loom: "Loom", text: str) -> str:
    from tracker.loom.find import find

    if text in loom.places:
        return text
    hits = [place for place in loom.places.values() if fold(place.words) == fold(text)]
    if len(hits) == 1:
        return hits[0].id
    found = [hit for hit in find(loom, text, 50) if hit.what == "place"]
    return found[0].id if len(found) == 1 else ""


def end_meant(loom: "Loom", field: str, text: str, side: str) -> End:
    """A place as an end of a wire or part: current leaves its `a` on the side out, and reaches `b` on in."""
    name, at, written = text.strip().partition("@")
    place = _place(loom, name)
    if not place:
        raise Mistakes(
            [Problem(field, "No place is called so.", "loomcard where --list names every part.", text)]
        )
    if at and written not in {"in", "out"}:
        raise Mistakes([Problem(field, "A place has the sides “in” and “out”.", f"{place}@out", text)])
    return End.of(f"{place}@{written}") if at else End(place, "out" if side == "a" else "in")


def zone_meant(loom: "Loom", text: str) -> str:
    """A zone by its id or its words; raises Mistakes beside “zone” naming them all."""
    wanted = fold(text)
    for zone in loom.known.zones.values():
        if wanted and wanted in {fold(zone.id), fold(zone.words)}:
            return zone.id
    hint = f"One of: {', '.join(loom.known.zones)}."
    raise Mistakes(
        [Problem("zone", "Where does it sit?" if not wanted else "No zone is called so.", hint, text)]
    )


def colour_words(field: str, text: str, code: str) -> str:
    """A colour in words: as it was written, or what its letters mean in the code set they were read from."""
    from tracker.seedfiles.tables import electric_tables

    written = text.strip()
    if code == "words" or not written:
        return written
    rows = [row for row in electric_tables().colours if row.code == code]
    for row in rows:
        if fold(written) in {fold(row.letters), fold(row.colour)}:
            return row.colour
    hint = f"One of: {', '.join(f'{row.letters} {row.colour}' for row in rows)}."
    raise Mistakes([Problem(field, f"These are no letters of the {code} set.", hint, text)])


def new_id(loom: "Loom", what: What, name: str) -> str:
    """An id for a part of this name that no part of its kind has."""
    plain = "-".join("".join(sign if sign.isalnum() else " " for sign in fold(name)).split()) or "part"
    count = 1
    while (id_ := plain if count == 1 else f"{plain}-{count}") in loom.table(what):
        count += 1
    return id_
