"""Reading through the desk: what rooms above the desk may name of the store."""

from tracker.store.reader import Reader as Reader  # noqa: PLC0414 - passed on by name
