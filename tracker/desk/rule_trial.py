"""A rule's text tried before it is kept: on past cards of its kind, and on a bike."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, fsum, log

from tracker.card.work import planned
from tracker.desk.desk import Desk
from tracker.desk.past_jobs import past_jobs
from tracker.desk.repair_asked import repair_text
from tracker.desk.show import card_or_bike
from tracker.desk.trying import Tried, try_on_bike
from tracker.desk.turn import own_seeds
from tracker.estimating.answers import answers
from tracker.estimating.materials import wire_of
from tracker.estimating.rule import book_minutes
from tracker.records.card import Card
from tracker.records.repair_rule import Answers, Rule
from tracker.records.shop import Shop
from tracker.records.work import Repair
from tracker.seedfiles.door import SeedMistakes, Seeds
from tracker.seedfiles.repairs import FOLDER, load_rules, read_rule
from tracker.store.reader import Reader

LAST = 20
"""So many past cards of a kind are tried."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PastTried:
    """One past repair by the old text and the new: expected minutes, mm of wire; what it took, if clocked.

    None where the text has no answer to it; `why` then says so.
    """

    card: str
    words: str
    before_min: float | None
    after_min: float | None
    before_mm: int | None
    after_mm: int | None
    took_min: float | None
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """What a text would make of the past and of a bike. `new` when there was no such rule.

    `off_before` and `off_after` are by how many times the expected minutes lie off those clocked, in the
    middle; None where no past card was clocked.
    """

    rule: str
    words: str
    new: bool
    past: tuple[PastTried, ...]
    off_before: float | None
    off_after: float | None
    bike_before: Tried | None = None
    bike_after: Tried | None = None

    @property
    def sentences(self) -> tuple[str, ...]:
        """In words: how many cards, how much nearer or farther, and what no longer fits."""
        lost = [row for row in self.past if row.after_min is None and row.before_min is not None]
        said = [f"Tried on {len(self.past)} past card{'' if len(self.past) == 1 else 's'} of its kind."]
        if self.off_before is not None and self.off_after is not None:
            nearer = "nearer" if self.off_after < self.off_before else "no nearer"
            said.append(
                f"Expected and clocked lie {self.off_after:.2f} times apart, {self.off_before:.2f} before:"
                f" {nearer}."
            )
        said += [f"Card {row.card}: {row.why}" for row in lost]
        return tuple(said)


def file_of(name: str) -> str:
    """The seed file of a rule: `repairs/NAME.toml`."""
    return f"{FOLDER}/{name}.toml"


def checked(seeds: Seeds, name: str, text: str) -> tuple[Rule, Seeds]:
    """The rule in a text, and the seeds as they would be with it; raises SeedMistakes with every mistake."""
    found = read_rule(file_of(name), text, seeds)
    changed = Seeds({**seeds.own, file_of(name): text})
    load_rules(changed)
    return found, changed


def try_text(desk: Desk, name: str, text: str, bike: str = "", repairs: Sequence[str] = ()) -> Trial:
    """Tries a text as the rule `name`; on `bike` too, with some repairs, or the rule alone as it is asked.

    Raises SeedMistakes with every mistake of the text. Nothing is kept.
    """
    seeds = desk.seeds
    rule, changed = checked(seeds, name, text)
    shop = desk.shop
    trial = desk.read(lambda reader: trial_in(reader, shop, rule, changed))
    if not bike:
        return trial
    asked = tuple(repairs) or (rule.id,)
    after = try_on_bike(desk, bike, asked, seeds=changed)
    before = None if trial.new else try_on_bike(desk, bike, asked, seeds=seeds)
    return Trial(
        rule=trial.rule,
        words=trial.words,
        new=trial.new,
        past=trial.past,
        off_before=trial.off_before,
        off_after=trial.off_after,
        bike_before=before,
        bike_after=after,
    )


def as_asked_on(desk: Desk, card: str, name: str) -> tuple[str, tuple[str, ...]]:
    """The bike of a card, and its planned repairs of a rule as they were asked."""
    facts = desk.facts(desk.read(lambda reader: card_or_bike(reader, card)).id)
    if facts.bike is None:
        return "", ()
    texts = []
    for repair in planned(facts):
        if repair.rule == name:
            answers_ = {ask: text for ask, text in repair.asked.items() if not ask.startswith("@")}
            zone = {"zone": repair.asked["@zone"]} if "@zone" in repair.asked else {}
            texts.append(repair_text(name, {**answers_, **zone}))
    return str(facts.bike.id), tuple(texts)


def trial_in(reader: Reader, shop: Shop, rule: Rule, changed: Seeds) -> Trial:
    """What a rule would have made of the newest past repairs of its kind, done or not.

    `changed` are the seeds with it. A present text that is no longer sound is as good as none.
    """
    try:
        rules = load_rules(own_seeds(reader))
        old = rules.get(rule.id)
    except SeedMistakes:
        rules, old = load_rules(changed), None
    took = {job.repair: job for job in past_jobs(reader, rules, shop).jobs}
    known_as = (rule.id, *rule.was)
    repairs = reader.all(Repair, rule=known_as, dropped="", newest=True, most=LAST)
    rows: list[PastTried] = []
    ratios: list[tuple[float, float]] = []
    for repair in repairs:
        job = took.get(repair.id)
        row = _row(reader, repair, old, rule, job.took_min if job else None)
        rows.append(row)
        if row.took_min and row.before_min and row.after_min:
            ratios.append((log(row.took_min / row.before_min), log(row.took_min / row.after_min)))
    off = [exp(fsum(abs(pair[side]) for pair in ratios) / len(ratios)) for side in (0, 1)] if ratios else None
    return Trial(
        rule=rule.id,
        words=rule.words,
        new=old is None,
        past=tuple(rows),
        off_before=off[0] if off else None,
        off_after=off[1] if off else None,
    )


def _row(reader: Reader, repair: Repair, old: Rule | None, new: Rule, took: float | None) -> PastTried:
    before = _figures(old, repair) if old is not None else "There was no such rule."
    after = _figures(new, repair)
    return PastTried(
        card=reader.get(Card, repair.card).number,
        words=repair.words,
        before_min=None if isinstance(before, str) else before[0],
        after_min=None if isinstance(after, str) else after[0],
        before_mm=None if isinstance(before, str) else before[1],
        after_mm=None if isinstance(after, str) else after[1],
        took_min=took,
        why=after if isinstance(after, str) else "",
    )


def _figures(rule: Rule, repair: Repair) -> tuple[float, int] | str:
    given = answers(rule, {name: value for name, value in repair.asked.items() if not name.startswith("@")})
    if not isinstance(given, Answers):
        return " ".join(f"{problem.field}: {problem.sentence}" for problem in given)
    return float(book_minutes(rule, given)), sum(need.mm for need in wire_of(rule, given))
