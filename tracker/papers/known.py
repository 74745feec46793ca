"""What a paper must be told to speak in words: kinds of reading, places of the loom, what was judged."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from tracker.papers.loom_words import loom_words
from tracker.papers.say import plain_name
from tracker.papers.tongue import t
from tracker.records.repair_rule import ReadingKind


@dataclass(frozen=True, slots=True)
class Known:
    """Words for names. `kinds` are the kinds of reading in working order, `places` the words of the loom's
    places by id, `judged` what is to be said of a reading (“good”, “low”) by its id. All may be empty.
    """

    kinds: Mapping[str, ReadingKind] = field(default_factory=dict)
    places: Mapping[str, str] = field(default_factory=dict)
    judged: Mapping[int, str] = field(default_factory=dict)

    def kind(self, name: str) -> str:
        """A kind of reading as it is said."""
        return t(self.kinds[name].words) if name in self.kinds else plain_name(name)

    def place(self, name: str) -> str:
        """A place of the loom by its words where they are known, else as it was written."""
        return loom_words(self.places.get(name, name))


NOTHING = Known()
