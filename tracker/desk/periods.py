"""A period as people type it: a year, a quarter, a month, or from one day to another."""

import re
from dataclasses import dataclass
from datetime import date, timedelta

from tracker.desk.typed import day
from tracker.records.problem import Mistakes, Problem

_QUARTER = re.compile(r"(\d{4})[- ]?q([1-4])")
_MONTH = re.compile(r"(\d{4})-(\d{1,2})")
HINT = "2026, 2026-q1, 2026-03, or --since and --until."


@dataclass(frozen=True, slots=True)
class Period:
    """Days from `first` to `last`, both counted; None is without an end on that side.

    >>> Period(date(2026, 3, 1), date(2026, 3, 31)).holds(date(2026, 3, 31))
    True
    """

    first: date | None = None
    last: date | None = None

    def holds(self, on: date) -> bool:
        """Whether a day lies in it."""
        return (self.first is None or self.first <= on) and (self.last is None or on <= self.last)


def period(field: str, text: str) -> Period | Problem:
    """A year, a quarter or a month.

    >>> period("period", "2026-q1")
    Period(first=datetime.date(2026, 1, 1), last=datetime.date(2026, 3, 31))
    """
    plain = text.strip().lower()
    wrong = Problem(field, "This is no period.", HINT, text[:60])
    if not plain.isascii():
        return wrong
    if re.fullmatch(r"\d{4}", plain):
        return _months(int(plain), 1, 12) or wrong
    if quarter := _QUARTER.fullmatch(plain):
        return _months(int(quarter[1]), int(quarter[2]) * 3 - 2, 3) or wrong
    if month := _MONTH.fullmatch(plain):
        return _months(int(month[1]), int(month[2]), 1) or wrong
    return wrong


def _months(year: int, month: int, count: int) -> Period | None:
    if not 2000 <= year <= 2099 or not 1 <= month <= 12:
        return None
    after = year * 12 + month - 1 + count
    return Period(date(year, month, 1), date(after // 12, after % 12 + 1, 1) - timedelta(days=1))


def period_given(typed: str, since: str, until: str, today: date) -> Period:
    """A period from what was typed of it; raises Mistakes with all that is wrong."""
    read = {name: day(name, text, today) for name, text in (("since", since), ("until", until)) if text}
    whole = period("period", typed) if typed else Period()
    problems = [one for one in (whole, *read.values()) if isinstance(one, Problem)]
    if typed and read:
        problems.append(Problem("period", "A period, or from day to day: not both.", given=typed[:60]))
    days = {name: one for name, one in read.items() if isinstance(one, date)}
    if len(days) == 2 and days["until"] < days["since"]:
        problems.append(Problem("until", "It ends before it begins.", given=until[:60]))
    if problems or isinstance(whole, Problem):
        raise Mistakes(problems)
    return whole if typed else Period(days.get("since"), days.get("until"))
