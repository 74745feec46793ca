"""Readings and verdicts as JSON knows them: finite numbers only, limits by what they are and their class."""

from typing import Any

from tracker.records.card import Reading
from tracker.records.charging import ChargingVerdict
from tracker.records.limits import Limit, Verdict


def limit_record(limit: Limit) -> dict[str, Any]:
    """A limit: what it is, its class and its source."""
    return {
        "id": limit.id,
        "what": limit.what,
        "class": limit.limit_class.value,
        "source": limit.source,
        "unit": limit.unit,
    }


def judged_record(verdict: Verdict | None) -> dict[str, Any] | None:
    """One reading's verdict."""
    if verdict is None:
        return None
    return {
        "word": verdict.word.value,
        "why": verdict.why,
        "limit": None if verdict.limit is None else limit_record(verdict.limit),
    }


def reading_record(reading: Reading, verdict: Verdict | None) -> dict[str, Any]:
    """A reading with its verdict."""
    return {
        "id": reading.id,
        "kind": reading.kind,
        "value": reading.value,
        "unit": reading.unit,
        "words": reading.words,
        "place": reading.place,
        "side": reading.side,
        "state": reading.state,
        "conditions": reading.conditions,
        "phase": reading.phase,
        "by": reading.by,
        "at": reading.at,
        "verdict": judged_record(verdict),
    }


def verdict_record(verdict: ChargingVerdict) -> dict[str, Any]:
    """What a check's readings say together."""
    return {
        "verdict": verdict.word.value,
        "confidence": verdict.confidence,
        "reasons": verdict.reasons,
        "could_be": verdict.could_be,
        "also": verdict.also,
        "contradictions": verdict.contradictions,
        "limits": [limit_record(limit) for limit in verdict.limits],
        "next": verdict.next,
        "row": verdict.row,
        "signs": verdict.signs,
    }
