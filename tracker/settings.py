"""What belongs to the person rather than to the shop: who, last file, theme, keys; and where things lie.

The shop's own settings (tax, rates, numbers) are rows in its file: see `tracker.records.shop`.
"""

import os
import tempfile
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

import platformdirs

APP = "loomcard"
SUFFIX = ".loomcard"


def data_folder() -> Path:
    """Where the person's own file lies unless they say otherwise."""
    return Path(os.environ.get("LOOMCARD_DATA") or platformdirs.user_data_dir(APP, appauthor=False))


def config_folder() -> Path:
    """Where the person's preferences lie."""
    return Path(os.environ.get("LOOMCARD_CONFIG") or platformdirs.user_config_dir(APP, appauthor=False))


def log_folder() -> Path:
    """Where an unexpected failure is written, without anybody's data."""
    return Path(os.environ.get("LOOMCARD_LOG") or platformdirs.user_log_dir(APP, appauthor=False))


def default_file() -> Path:
    """The shop's file when none is named."""
    return data_folder() / f"workshop{SUFFIX}"


@dataclass(frozen=True, slots=True)
class Preferences:
    """One person's preferences. Unknown or broken entries in the file are passed over, never fatal."""

    who: str = ""
    last_file: str = ""
    theme: str = ""
    keys: dict[str, str] = field(default_factory=dict)


def read_preferences(folder: Path | None = None) -> Preferences:
    """The person's preferences, or the defaults where there is no readable file."""
    path = (folder or config_folder()) / "preferences.json"
    try:
        written = path.read_text("utf-8")
    except (OSError, ValueError):
        return Preferences()
    import json

    try:
        found: Any = json.loads(written)
    except (ValueError, RecursionError):
        return Preferences()
    if not isinstance(found, dict):
        return Preferences()
    texts = {name: found[name] for name in ("who", "last_file", "theme") if isinstance(found.get(name), str)}
    keys = found.get("keys")
    given = keys if isinstance(keys, dict) else {}
    return Preferences(**texts, keys={name: key for name, key in given.items() if isinstance(key, str)})


def write_preferences(preferences: Preferences, folder: Path | None = None) -> None:
    """Keeps the preferences; the file is replaced whole, so that a crash leaves the old or the new one."""
    import json

    place = folder or config_folder()
    place.mkdir(parents=True, exist_ok=True)
    with tempfile.NamedTemporaryFile("w", encoding="utf-8", dir=place, delete=False) as new:
        written = Path(new.name)
        try:
            json.dump(asdict(preferences), new, ensure_ascii=False, indent=2)
        except BaseException:
            written.unlink(missing_ok=True)
            raise
    written.replace(place / "preferences.json")
