"""Asking the sums in a test: the worked example of each, typed as options or as words."""

from typing import Any

from tracker.desk.sums import all_sums
from tracker.electrics.catalogue import NamedSum
from tracker.electrics.catalogue_arguments import Argument

SUMS, ALSO = all_sums()
ALL = (*SUMS, *ALSO)


def name_of(one: object) -> str:
    return one.name if isinstance(one, NamedSum | Argument) else str(one)


def typed(value: object) -> list[str]:
    """A value as it is typed, once for each entry of a list."""
    return [
        ("no", "yes")[one] if isinstance(one, bool) else str(one)
        for one in (value if isinstance(value, list | tuple) else [value])
    ]


def options(given: dict[str, Any]) -> list[str]:
    found: list[str] = []
    for name, value in given.items():
        option = f"--{name.replace('_', '-')}"
        if isinstance(value, bool):
            found.append(option if value else option.replace("--", "--no-", 1))
        else:
            found += [word for one in typed(value) for word in (option, one)]
    return found


def words(given: dict[str, Any]) -> list[str]:
    return [f"{name.replace('_', '-')}={one}" for name, value in given.items() for one in typed(value)]
