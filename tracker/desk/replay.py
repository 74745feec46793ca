"""Replays a script of deeds through the desk with a clock that is moved: the demo, the walk, rehearsals."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

from tracker.clock import Clock, MovableTime, zone_named
from tracker.desk.deeds import deed as deed_named
from tracker.desk.desk import Desk, open_desk
from tracker.errors import LoomcardError, StoreRefusedError
from tracker.records.row import Row
from tracker.records.script import Script, ScriptDeed


@dataclass(frozen=True, slots=True)
class Played:
    """One deed done: its record, or the refusal that the script expected; and what the desk noted."""

    entry: ScriptDeed
    record: Row | None
    refusal: LoomcardError | None
    notes: tuple[str, ...]


class Stage:
    """A desk on a new file whose clock a script moves."""

    def __init__(self, path: Path, script: Script, today: date) -> None:
        if path.exists():
            raise StoreRefusedError(
                f"{path} exists already; it was left as it is.", "Name a file that does not."
            )
        self.script = script
        self.today = today
        self.zone = zone_named(str(script.shop.get("zone", "UTC")))
        first = script.deeds[0] if script.deeds else None
        self._time = MovableTime(
            self.instant(first.day, first.at) if first else datetime.combine(today, time(9), self.zone)
        )
        self.desk: Desk = open_desk(path, Clock(self.zone, self._time), create=True)
        self.names: dict[str, str] = {}

    def instant(self, day: int, at: str) -> datetime:
        """A day counted from today and a time on the shop's clock, as an instant."""
        return datetime.combine(self.today + timedelta(days=day), time.fromisoformat(at), self.zone)

    def play(self) -> Iterator[Played]:
        """Keeps the settings, then does deed after deed in the order of their time."""
        self.desk.given(deed_named("settings change"), dict(self.script.shop))
        ordered = sorted(self.script.deeds, key=lambda d: (d.day, d.at))
        for entry in ordered:
            yield self._one(entry)

    def number(self, name: str) -> str:
        """The number that a named deed gave."""
        return self.names[name]

    def _one(self, entry: ScriptDeed) -> Played:
        self._time.set(self.instant(entry.day, entry.at))
        self.desk.who = entry.who
        try:
            record = self.desk.given(deed_named(entry.verb), self._filled(entry.give))
        except LoomcardError as error:
            if not entry.refused:
                error.sentence = f"{entry.verb} on day {entry.day} at {entry.at}: {error.sentence}"
                raise
            return Played(entry, None, error, ())
        if entry.refused:
            raise AssertionError(f"{entry.verb} on day {entry.day} at {entry.at} was not refused")
        if entry.name:
            self.names[entry.name] = str(getattr(record, "number", record.id))
        return Played(entry, record, None, self.desk.notes)

    def _filled(self, value: Any) -> Any:
        if isinstance(value, str) and value.startswith("@"):
            return self.names[value[1:]]
        if isinstance(value, Mapping):
            return {key: self._filled(item) for key, item in value.items()}
        if isinstance(value, list | tuple):
            return [self._filled(item) for item in value]
        return value

    def close(self) -> None:
        """Closes the file."""
        self.desk.close()


def write(path: Path, script: Script, today: date) -> int:
    """Plays a whole script into a new file, all of it or nothing; how many deeds it took."""
    stage = Stage(path, script, today)
    try:
        with stage.desk.rehearsal():
            return sum(1 for _ in stage.play())
    except BaseException:
        stage.close()
        for ending in ("", "-wal", "-shm"):
            Path(f"{path}{ending}").unlink(missing_ok=True)
        raise
    finally:
        stage.close()
