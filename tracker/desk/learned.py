"""What the shop’s own cards say of the rules: used where the shop says so, and shown in any case."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import exp

from tracker.desk.desk import Desk
from tracker.desk.on_card import in_order, place_of
from tracker.desk.past_jobs import Past, past_jobs
from tracker.desk.turn import Turn, own_seeds
from tracker.errors import WrongUseError
from tracker.estimating.learning import learn
from tracker.estimating.spread import CORRELATION
from tracker.records.estimating import Factor
from tracker.records.learning import NONE, Doubt, Learned
from tracker.records.people import Mechanic
from tracker.records.shop import Shop
from tracker.records.work import Repair, TimeEntry
from tracker.seedfiles.repairs import load_rules
from tracker.store.reader import Reader

NONE_YET = "No card tells anything of it yet."


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleLearned:
    """One rule’s line: what its cards say, in figures and in a sentence."""

    rule: str
    words: str
    factor: Factor
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A time that is asked about, with the card and the repair’s number on it, and how to answer.

    `entry` is the number of the clock on the card, empty where the repair has several.
    """

    card: str
    repair: int
    rule: str
    took_min: int
    book_min: int
    why: str
    counted: bool
    answer: str
    entry: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LearnedView:
    """What was learned from `jobs` repairs, whether the shop uses it, and what it asks about."""

    used: bool
    jobs: int
    rules: tuple[RuleLearned, ...]
    mechanics: tuple[tuple[str, Factor], ...]
    zones: tuple[tuple[str, Factor], ...]
    models: tuple[tuple[str, Factor], ...]
    together: float | None
    pairs: int
    cards_lie_apart: float | None
    rules_lie_apart: float | None
    book_worth: float
    asked: tuple[Asked, ...]
    unused: tuple[tuple[str, str, str], ...]


def learned_in(reader: Reader, shop: Shop) -> tuple[Learned, Past]:
    """What the file’s past cards say."""
    past = past_jobs(reader, load_rules(own_seeds(reader)), shop)
    return learn(past.jobs), past


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """What an estimate takes from past cards: factors by rule with mechanic and model in them, and by zone.

    `unseen` is for rules that no card tells of. `together` is how lines go together, told by `pairs`.
    """

    rules: Mapping[str, Factor] = field(default_factory=dict)
    unseen: Factor = NONE
    zones: Mapping[str, Factor] = field(default_factory=dict)
    together: float = CORRELATION
    pairs: int = 0


def factors_for(
    turn: Turn,
    rules: frozenset[str],
    mechanic: str = "",
    model: str = "",
    zones: frozenset[str] = frozenset(),
) -> Used:
    """The factors an estimate uses, where the shop uses them; what is not used is noted.

    `mechanic` is who will do it; raises WrongUseError where nobody is called that.
    """
    who = None
    if mechanic:
        named = turn.unit.first(Mechanic, name=mechanic)
        if named is None:
            raise WrongUseError(f"There is no mechanic called “{mechanic}”.")
        who = named.id
    learned, _ = learned_in(turn.unit, turn.shop)
    if turn.shop.use_learned:
        told = learned.together
        return Used(
            rules={rule: learned.of(rule, who, model=model) for rule in rules},
            unseen=learned.unseen,
            zones={zone: learned.zones[zone] for zone in zones if zone in learned.zones},
            together=CORRELATION if told is None else told,
            pairs=0 if told is None else learned.pairs,
        )
    for rule in sorted(rules & learned.rules.keys()):
        name = load_rules(turn.seeds).by_id[rule].words
        turn.note(f"{name}: {sentence_of(learned.rules[rule])} The book was used.")
    return Used()


def sentence_of(factor: Factor) -> str:
    """A factor in words: “you took 1.20 times the book over 9 cards”, and what that makes of the time."""
    if not factor.n:
        return NONE_YET
    cards = f"{factor.n} card{'' if factor.n == 1 else 's'}"
    said = f"You took {factor.raw:.2f} times the book over {cards}"
    expected = f"; expected here {factor.expected_times:.2f} times"
    if factor.spread:
        low, high = (exp(-(factor.spread**2) / 2 + sign * 1.2816 * factor.spread) for sign in (-1, 1))
        expected += f", {low * factor.expected_times:.2f} to {high * factor.expected_times:.2f} in 8 of 10"
    return f"{said}{expected}."


def learned_view(desk: Desk) -> LearnedView:
    """Everything that was learned, for the eye."""
    shop = desk.shop

    def look(reader: Reader) -> LearnedView:
        learned, past = learned_in(reader, shop)
        rules = load_rules(own_seeds(reader))
        names = {mechanic.id: mechanic.name for mechanic in reader.all(Mechanic)}
        return LearnedView(
            used=shop.use_learned,
            jobs=learned.jobs,
            rules=tuple(
                RuleLearned(
                    rule=rule.id,
                    words=rule.words,
                    factor=learned.rules[rule.id],
                    sentence=sentence_of(learned.rules[rule.id]),
                )
                for rule in rules
                if rule.id in learned.rules
            ),
            mechanics=tuple((names[who], factor) for who, factor in learned.mechanics.items()),
            zones=tuple(learned.zones.items()),
            models=tuple(learned.models.items()),
            together=learned.together,
            pairs=learned.pairs,
            cards_lie_apart=learned.spreads.cards,
            rules_lie_apart=learned.spreads.rules,
            book_worth=learned.spreads.worth,
            asked=tuple(_asked(reader, past, doubt) for doubt in learned.doubts),
            unused=tuple(
                (past.cards[one.repair.card].number, one.repair.rule, one.why) for one in past.unused
            ),
        )

    return desk.read(look)


def _asked(reader: Reader, past: Past, doubt: Doubt) -> Asked:
    repair = past.repairs[doubt.job.repair]
    card = past.cards[repair.card]
    number = place_of(reader.all(Repair, card=card.id), repair)
    times = in_order(reader.all(TimeEntry, card=card.id))
    own = [str(place) for place, entry in enumerate(times, 1) if entry.repair == repair.id]
    entry = own[0] if len(own) == 1 else f"ENTRY (of {', '.join(own)})"
    if doubt.counted:
        answer = "It counts, since it was typed in, but no further than another would be believed."
    else:
        fix = f"loomcard clock fix {card.number} {entry} MINUTES"
        answer = f"{fix} says what it was; the same minutes again say that it is right."
    return Asked(
        card=card.number,
        repair=number,
        rule=doubt.job.rule,
        took_min=round(doubt.job.took_min),
        book_min=round(doubt.job.book_min),
        why=doubt.why,
        counted=doubt.counted,
        answer=answer,
        entry=own[0] if len(own) == 1 else "",
    )
