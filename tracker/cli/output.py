"""What a command says: plain text for people, JSON for programs, errors in one shape."""

import json
import sys
from collections.abc import Mapping, Sequence
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import Enum
from typing import Any

from tracker.errors import LoomcardError
from tracker.records.money import Money
from tracker.records.problem import Mistakes


def plain(value: Any) -> Any:
    """A record as JSON knows it: decimals and dates as texts, money as minor units, files by their size."""
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, Money):
        return {"minor": value.minor, "currency": value.currency}
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name: plain(getattr(value, f.name)) for f in fields(value)}
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, datetime):
        return value.isoformat().replace("+00:00", "Z")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, bytes):
        return {"bytes": len(value)}
    if isinstance(value, Mapping):
        return {str(plain(key)): plain(item) for key, item in value.items()}
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [plain(item) for item in value]
    return value


def say_json(value: Any) -> None:
    """One JSON document on stdout."""
    json.dump(plain(value), sys.stdout, ensure_ascii=False, indent=2)
    sys.stdout.write("\n")


def say(text: str) -> None:
    """Plain text on stdout."""
    sys.stdout.write(text.rstrip("\n") + "\n")


def error_record(error: LoomcardError) -> dict[str, object]:
    """The one shape of an error: the sentence, the hint, and each mistake beside its field."""
    problems = error.problems if isinstance(error, Mistakes) else getattr(error, "problems", ())
    return {"error": {"sentence": error.sentence, "hint": error.hint, "fields": [plain(p) for p in problems]}}


def say_error(error: LoomcardError, *, as_json: bool) -> None:
    """JSON errors go to stdout, where a program reads; sentences go to stderr."""
    if as_json:
        say_json(error_record(error))
        return
    problems = error.problems if isinstance(error, Mistakes) else getattr(error, "problems", ())
    if len(problems) != 1:
        sys.stderr.write(error.sentence + "\n")
    for problem in problems:
        given = f" (given: {problem.given})" if problem.given else ""
        sys.stderr.write(f"  {problem.field}: {problem.sentence}{given}\n")
        if problem.hint:
            sys.stderr.write(f"      {problem.hint}\n")
    if error.hint and not problems:
        sys.stderr.write(f"{error.hint}\n")
