"""The shop's own table of rechecks: checked whole, kept in the shop's file; and given back as it came."""

from dataclasses import dataclass
from typing import Annotated, ClassVar

from tracker.desk.ask import Ask
from tracker.desk.own_rules import file_text
from tracker.desk.turn import Turn
from tracker.errors import NotFoundError
from tracker.records.problem import Mistakes, Problem
from tracker.records.recheck import Recheck, RecheckState
from tracker.records.shop import ShopFile
from tracker.seedfiles.door import SeedMistakes, Seeds
from tracker.seedfiles.rechecks import RECHECKS, load_rechecks
from tracker.seedfiles.repairs import load_rules


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeRechecks:
    """Keep another table of rechecks as the shop's own; every mistake in it is named, none is kept."""

    verb: ClassVar[str] = "rechecks change"

    path: Annotated[str, Ask("File", "a CSV file, as loomcard rechecks writes it", place=1)] = ""
    text: Annotated[str, Ask("Text", "the table itself, where no file is named", lines=True)] = ""

    def work(self, turn: Turn) -> ShopFile:
        """Rechecks that wait keep their day; those whose reason is no longer in the table are named."""
        text = self.text or (file_text(self.path) if self.path else "")
        if not text.strip():
            raise Mistakes([Problem("path", "Which file?", "loomcard rechecks edit opens your own editor.")])
        reasons = checked_table(turn.seeds, text)
        waiting = turn.unit.all(Recheck, state=RecheckState.OPEN)
        for reason in sorted({one.reason for one in waiting} - reasons):
            turn.note(f"Rechecks wait for “{reason}”, which is not in the table now; they stay due.")
        kept = turn.unit.first(ShopFile, name=RECHECKS)
        turn.say("table of rechecks changed")
        if kept is None:
            return turn.unit.insert(ShopFile(name=RECHECKS, text=text))
        return turn.unit.change(kept, text=text)


@dataclass(frozen=True, slots=True, kw_only=True)
class RestoreRechecks:
    """Give the table of rechecks back the text that came with the program."""

    verb: ClassVar[str] = "rechecks restore"

    def work(self, turn: Turn) -> ShopFile:
        """Takes the shop's own text out; raises NotFoundError where there is none."""
        kept = turn.unit.first(ShopFile, name=RECHECKS)
        if kept is None:
            raise NotFoundError("The table of rechecks is as it came.", "loomcard rechecks shows it.")
        turn.unit.remove(kept)
        turn.say("table of rechecks as it came")
        return kept


def checked_table(seeds: Seeds, text: str) -> frozenset[str]:
    """The reasons in a text; raises SeedMistakes with every mistake, also a repair type's reason left out."""
    known = load_rechecks(Seeds({**seeds.own, RECHECKS: text}))
    wanted: dict[str, str] = {}
    for rule in load_rules(seeds):
        if rule.recheck and rule.recheck not in known:
            wanted.setdefault(rule.recheck, rule.id)
    problems = [
        Problem(reason, f"“{rule}” proposes this recheck, and it is not in the table.", given=reason)
        for reason, rule in wanted.items()
    ]
    if problems:
        raise SeedMistakes(RECHECKS, problems)
    return frozenset(known)
