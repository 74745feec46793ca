"""Repairs found again, a line each."""

from collections.abc import Sequence

from tracker.desk.repairs_found import FoundRepair
from tracker.papers.one_line import repair_line
from tracker.papers.where_text import row


def found_line(found: FoundRepair) -> str:
    """When, on which card and bike, where, what was done, at which plugs."""
    done = found.repair.done_at
    bike = f"{found.bike.name} {found.bike.registration}".strip()
    where = f"  at {', '.join(zone.replace('-', ' ') for zone in found.zones)}" if found.zones else ""
    plugs = f"  ({', '.join(found.connectors)})" if found.connectors else ""
    return f"{done:%Y-%m-%d}  {found.card}  {bike}{where}: {repair_line(found.repair)}{plugs}"


def found_text(found: FoundRepair, photos: Sequence[str] = ()) -> str:
    """One repair whole: everything that was written of it, and its photos by name."""
    repair, bike = found.repair, found.bike
    wire = " to ".join(one for one in (repair.wire_from, repair.wire_to) if one)
    away = f"{repair.mm} mm from {repair.mm_end or repair.wire_from}" if repair.mm is not None else ""
    ways = {True: ", ways as before", False: ", ways re-pinned", None: ""}[repair.keeps_ways]
    changed = " > ".join(one for one in (repair.connector_old, repair.connector_new) if one)
    colour = "/".join(one for one in (repair.colour, repair.tracer) if one)
    letters = f" ({repair.colour_code})" if repair.colour_code else ""
    said = {
        "Done": f"{repair.done_at:%Y-%m-%d} {repair.done_by}".strip(),
        "Card": found.card,
        "Bike": f"{bike.name} {bike.registration}".strip(),
        "What": repair.words or repair.rule.replace("-", " "),
        "Circuit": repair.circuit,
        "Where": ", ".join(zone.replace("-", " ") for zone in found.zones),
        "Wire": ", ".join(one for one in (wire, away) if one),
        "Colour": f"{colour}{letters}" if colour else "",
        "Size": f"{repair.size_mm2:g} mm2" if repair.size_mm2 else "",
        "Length": f"{repair.length_used_mm} mm" if repair.length_used_mm else "",
        "Splice": repair.splice,
        "Terminal": repair.terminal,
        "Connector": f"{changed}{ways}" if changed else "",
        "Plugs": ", ".join(found.connectors),
        "Sleeve": repair.sleeve,
        "Photos": ", ".join(photos),
    }
    return "\n".join(line for name, words in said.items() if words for line in row(name, [words]))
