"""Repairs found again, a line each."""

from tracker.desk.repairs_found import FoundRepair
from tracker.papers.twins import repair_line


def found_line(found: FoundRepair) -> str:
    """When, on which card and bike, where, and what was done."""
    done = found.repair.done_at
    bike = f"{found.bike.name} {found.bike.registration}".strip()
    where = f"  at {', '.join(found.zones)}" if found.zones else ""
    return f"{done:%Y-%m-%d}  {found.card}  {bike}{where}: {repair_line(found.repair)}"
