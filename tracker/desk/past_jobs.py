"""Past repairs as the rules learn from them: clocked time, less what came off, beside the book."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime

from tracker.card.time import question_of, seconds_of
from tracker.estimating.answers import answers
from tracker.estimating.rule import book_minutes
from tracker.records.bike import Bike
from tracker.records.card import Card
from tracker.records.document import Estimate
from tracker.records.learning import PastJob
from tracker.records.repair_rule import Rules
from tracker.records.shop import Shop
from tracker.records.work import Repair, TimeEntry, TimeKind
from tracker.store.reader import Reader

MOST_JOBS = 500
"""The newest so many repairs are learned from: older ones were another shop’s, in a way."""

ONE_HAND = 0.8
"""A job is a mechanic’s own when so much of its time is theirs."""


@dataclass(frozen=True, slots=True)
class Unused:
    """A repair that tells nothing, and why."""

    repair: Repair
    why: str


@dataclass(frozen=True, slots=True)
class Past:
    """The jobs that can be learned from, those that cannot, and what they were done on."""

    jobs: tuple[PastJob, ...] = ()
    unused: tuple[Unused, ...] = ()
    repairs: Mapping[int, Repair] = field(default_factory=dict)
    cards: Mapping[int, Card] = field(default_factory=dict)


def past_jobs(reader: Reader, rules: Rules, shop: Shop, most: int = MOST_JOBS) -> Past:
    """The newest done repairs of the shop.

    The book is what the rule expects now, under the answers given then: a rule put right since is not put
    right twice. A comeback’s time counts as the first repair’s.
    """
    newest = reader.sql(
        "SELECT id FROM repair WHERE done_at IS NOT NULL AND dropped = ''"
        " ORDER BY done_at DESC, id DESC LIMIT ?",
        (most,),
    )
    done = reader.all(Repair, id=[int(row[0]) for row in newest])
    ids = sorted({repair.card for repair in done})
    cards = {card.id: card for card in reader.all(Card, id=ids)}
    back = reader.all(Card, comeback_of=ids)
    bikes = reader.all(Bike, id=sorted({card.bike for card in cards.values() if card.bike is not None}))
    models = {bike.id: bike.name for bike in bikes}
    times: dict[int, list[TimeEntry]] = {}
    for entry in reader.all(TimeEntry, card=[*ids, *(card.id for card in back)]):
        times.setdefault(entry.card, []).append(entry)
    opens = _opens(reader.all(Estimate, card=[*ids, *(card.id for card in back)]))
    every = [
        _Done(
            card,
            [r for r in done if r.card == card.id],
            times.get(card.id, []),
            opens.get(card.id),
            models.get(card.bike or 0, ""),
        )
        for card in (*cards.values(), *(card for card in back if card.id not in cards))
    ]
    return _sorted_out(every, rules, shop)


@dataclass(frozen=True, slots=True)
class _Done:
    """A card with its done repairs, its clocks, and what came off for which repairs: None where unknown."""

    card: Card
    repairs: Sequence[Repair]
    times: Sequence[TimeEntry]
    opens: Sequence[tuple[float, frozenset[int]]] | None
    model: str = ""


def _sorted_out(every: Sequence[_Done], rules: Rules, shop: Shop) -> Past:
    first_of = {one.card.id: one.card.comeback_of for one in every if one.card.comeback_of is not None}
    books: dict[int, float] = {}
    unused: list[Unused] = []
    for one in every:
        for repair in one.repairs:
            book = _book(repair, rules)
            if isinstance(book, str):
                unused.append(Unused(repair, book))
            else:
                books[repair.id] = book
    jobs: dict[int, PastJob] = {}
    for one in every:
        if one.card.id in first_of:
            continue
        for repair in one.repairs:
            if repair.id in books:
                job = _job(repair, one, books, rules, shop)
                if isinstance(job, str):
                    unused.append(Unused(repair, job))
                else:
                    jobs[repair.id] = job
    for one in every:
        if one.card.id in first_of:
            _against_the_first(one, _root(one.card.id, first_of), every, jobs, shop)
    repairs = {repair.id: repair for one in every for repair in one.repairs}
    return Past(tuple(jobs.values()), tuple(unused), repairs, {one.card.id: one.card for one in every})


def _root(card: int, first_of: Mapping[int, int]) -> int:
    """The first card of a row of comebacks."""
    seen = {card}
    while card in first_of and first_of[card] not in seen:
        card = first_of[card]
        seen.add(card)
    return card


def _book(repair: Repair, rules: Rules) -> float | str:
    """The minutes its rule expects, or why there are none."""
    rule = rules.get(repair.rule)
    if rule is None:
        return "Its rule is no longer there."
    given = answers(rule, {name: value for name, value in repair.asked.items() if not name.startswith("@")})
    if isinstance(given, tuple):
        return "What was asked then no longer fits its rule."
    book = float(book_minutes(rule, given))
    return book if book > 0 else "Its rule expects no time."


def _job(repair: Repair, one: _Done, books: Mapping[int, float], rules: Rules, shop: Shop) -> PastJob | str:
    """What a repair took beside its book, or why that cannot be told."""
    if repair.sent_out_to:
        return "It was sent out."
    own = [entry for entry in one.times if entry.repair == repair.id]
    if not own:
        return "Nobody clocked it."
    if any(entry.off_at is None for entry in own):
        return "A clock still runs on it."
    clocked_on = {entry.repair for entry in one.times if entry.repair is not None}
    together = [other for other in one.repairs if other.id not in clocked_on]
    if together:
        return "Another repair of the card was not clocked, and may be in its time."
    if one.opens is None:
        return "What came off for it was not kept with its estimate."
    clocked = sum(seconds_of(entry, _ended(entry)) for entry in own) / 60
    off = sum(
        minutes * books[repair.id] / sum(books.get(other, 0.0) for other in serves & clocked_on)
        for minutes, serves in one.opens
        if repair.id in serves
    )
    if clocked <= off:
        return (
            f"Of the {clocked:.0f} min clocked, {off:.0f} were expected for what comes off: nothing is left."
        )
    doubts = [asked.sentence for entry in own if (asked := question_of(entry, shop, _ended(entry)))]
    rule = rules.get(repair.rule)
    return PastJob(
        repair=repair.id,
        rule=rule.id if rule else repair.rule,
        took_min=clocked - off,
        book_min=books[repair.id],
        card=one.card.id,
        mechanic=_hand(own),
        zone=repair.asked.get("@zone", ""),
        model=one.model,
        meant=all(entry.typed for entry in own),
        doubt=" ".join(doubts),
    )


def _ended(entry: TimeEntry) -> datetime:
    return entry.off_at or entry.on_at.astimezone(UTC)


def _hand(entries: Iterable[TimeEntry]) -> int | None:
    """Whose job it was; None where several had a hand in it."""
    by: dict[int, int] = {}
    for entry in entries:
        by[entry.mechanic] = by.get(entry.mechanic, 0) + seconds_of(entry, _ended(entry))
    who = max(by, key=lambda mechanic: by[mechanic])
    return who if by[who] >= ONE_HAND * sum(by.values()) else None


def _bench_minutes(one: _Done) -> float:
    """What a comeback took at the bench, without what came off."""
    kinds = (TimeKind.REPAIR, TimeKind.LOOKING)
    spent = sum(seconds_of(entry, _ended(entry)) for entry in one.times if entry.kind in kinds) / 60
    return max(0.0, spent - sum(minutes for minutes, _ in one.opens or ()))


def _against_the_first(
    one: _Done, first: int, every: Sequence[_Done], jobs: dict[int, PastJob], shop: Shop
) -> None:
    """Adds a comeback’s minutes to the repairs of the first card that it came back for, by their book."""
    there = [
        repair for each in every if each.card.id == first for repair in each.repairs if repair.id in jobs
    ]
    rules = {repair.rule for repair in one.repairs}
    wires = {(repair.wire_from, repair.wire_to) for repair in one.repairs if repair.wire_from}
    meant = (
        [repair for repair in there if (repair.wire_from, repair.wire_to) in wires]
        or [repair for repair in there if repair.rule in rules]
        or there
    )
    minutes, book = _bench_minutes(one), sum(jobs[repair.id].book_min for repair in meant)
    asked = [found.sentence for entry in one.times if (found := question_of(entry, shop, _ended(entry)))]
    for repair in meant:
        job = jobs[repair.id]
        jobs[repair.id] = replace(job, took_min=job.took_min + minutes * job.book_min / book)
        if asked:
            doubt = f"Its comeback, card {one.card.number}: {' '.join(asked)}"
            jobs[repair.id] = replace(jobs[repair.id], doubt=doubt, meant=False)


def _opens(estimates: Iterable[Estimate]) -> dict[int, list[tuple[float, frozenset[int]]]]:
    """By card, what came off: its minutes and the repairs it served, over all revisions.

    A later revision does not ask for what stands open already, so each thing counts as where it was dearest.
    """
    found: dict[int, dict[tuple[str, int], tuple[float, frozenset[int]]]] = {}
    for estimate in estimates:
        opens = estimate.frozen.get("opens")
        if not isinstance(opens, list):
            continue
        by_name = found.setdefault(estimate.card, {})
        for row in opens:
            key = str(row["access"]), int(row["visit"])
            minutes, serves = by_name.get(key, (0.0, frozenset()))
            by_name[key] = max(minutes, float(row["minutes"])), serves | frozenset(map(int, row["serves"]))
    return {card: list(rows.values()) for card, rows in found.items()}
