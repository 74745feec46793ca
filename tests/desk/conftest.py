"""A desk on a file of its own, with a clock that tests move."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from tracker.card.standing import Standing
from tracker.card.step import standing
from tracker.clock import Clock, MovableTime
from tracker.desk.deeds import deed
from tracker.desk.desk import Desk, open_desk
from tracker.records.row import Row


class Bench:
    """A desk with short words for tests: `bench("book-in", complaint="...")` does a deed."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.time = MovableTime(datetime(2026, 3, 2, 9, 0, tzinfo=UTC))
        self.desk: Desk = open_desk(path, Clock(UTC, self.time), who="Ines", create=True)
        self.token: str | None = None

    def __call__(self, verb: str, **fields: Any) -> Any:
        """Does a deed as it would be typed."""
        return self.desk.given(deed(verb), fields, self.token)

    def later(self, **step: float) -> None:
        """Moves the clock on."""
        self.time.move(timedelta(**step))

    def stands(self, row: Row) -> Standing:
        """Where the card of a record stands."""
        card = getattr(row, "card", row.id)
        return standing(self.desk.facts(card), self.desk.clock.now(), self.desk.today)

    def set_up(self, **more: Any) -> None:
        """The settings that an invoice needs."""
        self(
            "settings change",
            name="Copperleaf",
            address="Ropewalk Yard",
            tax_number="XX1",
            currency="EUR",
            tax_rate="20",
            labour_rate="60",
            looking_rate="60",
            mechanic=["Ines", "Tobiah"],
            **more,
        )

    def booked(self, **more: Any) -> Any:
        """A card for a new customer and bike."""
        given = {
            "complaint": "flat",
            "customer": "Oona Mirek",
            "phone": "0155 0199 204",
            "address": "Weir Terrace",
        }
        return self("book-in", **{**given, "make": "Halden", "registration": "LKM 412", **more})


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A set-up shop."""
    made = Bench(tmp_path / "shop.loomcard")
    made.set_up()
    yield made
    made.desk.close()


@pytest.fixture
def bare(tmp_path: Path) -> Iterator[Bench]:
    """A shop that has said nothing of itself yet."""
    made = Bench(tmp_path / "bare.loomcard")
    yield made
    made.desk.close()
