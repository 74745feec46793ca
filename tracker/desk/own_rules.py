"""The shop's own repair rules: a text changed, checked whole, kept in the shop's file; and given back."""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, ClassVar

from tracker.desk.ask import Ask
from tracker.desk.rule_trial import checked, file_of, trial_in
from tracker.desk.turn import Turn
from tracker.errors import NotFoundError, WrongUseError
from tracker.records.problem import Mistakes, Problem
from tracker.records.shop import ShopFile
from tracker.records.work import Repair
from tracker.seedfiles.door import SHIPPED

BIGGEST = 100_000
"""Characters of a text of the shop's own: the longest shipped one has some 4,000."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeRule:
    """Keep another text of a repair rule, or a new rule, as the shop's own; every mistake in it is named."""

    verb: ClassVar[str] = "rules change"

    rule: Annotated[str, Ask("Rule", "its name, splice-butt; a new one makes a new rule", place=1)]
    path: Annotated[str, Ask("File", "a text file with the rule", place=2)] = ""
    text: Annotated[str, Ask("Text", "the rule itself, where no file is named", lines=True)] = ""

    def work(self, turn: Turn) -> ShopFile:
        """Checks the text as a whole and keeps it; notes say what it makes of past cards."""
        name, text = self.rule, self.text or rule_text(self.path)
        found, changed = checked(turn.seeds, name, text)
        for words in trial_in(turn.unit, turn.shop, found, changed).sentences:
            turn.note(words)
        file = file_of(name)
        kept = turn.unit.first(ShopFile, name=file)
        turn.say(f"rule {name} {'changed' if kept or name in shipped_names() else 'added'}")
        if kept is None:
            return turn.unit.insert(ShopFile(name=file, text=text))
        return turn.unit.change(kept, text=text)


@dataclass(frozen=True, slots=True, kw_only=True)
class RestoreRule:
    """Give a rule back the text that came with the program; a rule of the shop's own goes."""

    verb: ClassVar[str] = "rules restore"

    rule: Annotated[str, Ask("Rule", "its name", place=1)]

    def work(self, turn: Turn) -> ShopFile:
        """Takes the shop's own text out; refused while a repair that is not done still needs the rule."""
        kept = turn.unit.first(ShopFile, name=file_of(self.rule))
        if kept is None:
            raise NotFoundError(f"“{self.rule}” has no text of your own.", "loomcard rules lists which have.")
        if self.rule not in shipped_names():
            waiting = turn.unit.all(Repair, rule=self.rule, done_at=None, dropped="")
            if waiting:
                raise WrongUseError(
                    f"{len(waiting)} repair{'' if len(waiting) == 1 else 's'} not done yet"
                    f" need{'s' if len(waiting) == 1 else ''} “{self.rule}”.",
                    "Do or drop them first.",
                )
        turn.unit.remove(kept)
        turn.say(f"rule {self.rule} {'as it came' if self.rule in shipped_names() else 'taken out'}")
        return kept


def rule_text(file: str) -> str:
    """The text of a file with a rule; raises Mistakes where it cannot be read."""
    if not file:
        raise Mistakes([Problem("path", "Which file?", "loomcard rules edit NAME opens one's own editor.")])
    return file_text(file)


def file_text(file: str) -> str:
    """The text of a file that is to be the shop's own; raises Mistakes where it cannot be read."""
    try:
        text = Path(file).expanduser().read_text("utf-8")
    except OSError as error:
        why = error.strerror or "it cannot be read"
        raise Mistakes([Problem("path", f"The file could not be read: {why}.", given=file)]) from error
    except UnicodeDecodeError as error:
        raise Mistakes([Problem("path", "The file is no UTF-8 text.", given=file)]) from error
    if len(text) > BIGGEST:
        raise Mistakes([Problem("path", f"It may have at most {BIGGEST:,} characters.", given=file)])
    return text


def shipped_names() -> frozenset[str]:
    """The rules that came with the program."""
    return frozenset(
        file.removeprefix("repairs/").removesuffix(".toml") for file in SHIPPED.names("repairs", ".toml")
    )
