"""What there is to mend on a card and how far it has come: findings, repairs, parts, readings after."""

from tracker.records.card import Ending, Finding, GoAhead, GoAheadFor, Phase
from tracker.records.document import Estimate
from tracker.records.facts import CardFacts
from tracker.records.stock import PartWanted, WantedState
from tracker.records.work import Repair, TimeKind

NOT_HERE = frozenset({WantedState.WANTED, WantedState.ORDERED, WantedState.WRONG})


def planned(facts: CardFacts) -> tuple[Repair, ...]:
    """The repairs that are to be done or were done, without those dropped, in order of their ids."""
    return tuple(sorted((r for r in facts.repairs if not r.dropped), key=lambda repair: repair.id))


def to_do(facts: CardFacts) -> tuple[Repair, ...]:
    """The planned repairs that are not done yet."""
    return tuple(repair for repair in planned(facts) if repair.done_at is None)


def unanswered(facts: CardFacts) -> tuple[Finding, ...]:
    """Findings that are neither left with a reason nor have a repair, oldest first.

    A dropped repair answers nothing: a fault must not vanish with the first idea of how to mend it.
    """
    mended = {repair.finding for repair in planned(facts)}
    open_ones = (each for each in facts.findings if not each.left and each.id not in mended)
    return tuple(sorted(open_ones, key=lambda finding: (finding.at, finding.id)))


def latest_estimate(facts: CardFacts) -> Estimate | None:
    """The revision in force."""
    return max(facts.estimates, key=lambda each: (each.revision, each.at, each.id), default=None)


def covered_by(go_ahead: GoAhead, facts: CardFacts) -> frozenset[int]:
    """The repairs one go-ahead to work is for: those it names, else those of the estimate it answers.

    One that names neither covers nothing, since nobody could say later what was agreed.
    """
    if go_ahead.covers or go_ahead.estimate is None:
        return frozenset(go_ahead.covers)
    return frozenset(id_ for each in facts.estimates if each.id == go_ahead.estimate for id_ in each.covers)


def agreed(facts: CardFacts) -> frozenset[int]:
    """The repairs that some go-ahead to work is for."""
    work = (each for each in facts.go_aheads if each.what is GoAheadFor.WORK)
    return frozenset(id_ for each in work for id_ in covered_by(each, facts))


def endings_in_force(facts: CardFacts) -> tuple[Ending, ...]:
    """The other ends a card came to, oldest first, without those taken back.

    A go-ahead for a repair that was not done when the card last ended takes back all its ends so far. One
    that only raises a limit, for looking or for what was done, takes none back.
    """
    endings = sorted(facts.endings, key=lambda each: (each.at, each.id))
    for go_ahead in sorted(facts.go_aheads, key=lambda each: each.at):
        before = [each for each in endings if each.at < go_ahead.at]
        if before and go_ahead.what is GoAheadFor.WORK:
            ended_at = before[-1].at
            undone = {r.id for r in planned(facts) if r.done_at is None or r.done_at > ended_at}
            if covered_by(go_ahead, facts) & undone:
                endings = endings[len(before) :]
    return tuple(endings)


def ending_in_force(facts: CardFacts) -> Ending | None:
    """The last of the other ends that was not taken back."""
    return next(reversed(endings_in_force(facts)), None)


def missing_parts(facts: CardFacts, repair: int | None) -> tuple[PartWanted, ...]:
    """Parts not here yet that a repair waits for; None asks for those wanted by no repair in particular."""
    missing = (each for each in facts.wanted if each.repair == repair and each.state in NOT_HERE)
    return tuple(sorted(missing, key=lambda part: part.id))


def missing_readings(facts: CardFacts, repair: Repair) -> tuple[str, ...]:
    """The kinds of reading a done repair still wants: taken after it, for it or for the card as a whole."""
    if repair.done_at is None:
        return ()
    taken = {
        reading.kind
        for reading in facts.readings
        if reading.phase is Phase.AFTER
        and reading.at >= repair.done_at
        and reading.repair in (None, repair.id)
    }
    return tuple(dict.fromkeys(kind for kind in repair.proves if kind not in taken))


def has_looked(facts: CardFacts) -> bool:
    """Whether anybody has begun to look: a reading, something taken off, or time for it."""
    return bool(facts.readings or facts.opened) or any(t.kind is TimeKind.LOOKING for t in facts.times)


def has_something_to_bill(facts: CardFacts) -> bool:
    """Whether a card on which nothing is left to mend is billed all the same: for looking, mostly."""
    return (
        facts.card.call_out
        or any(each.what is GoAheadFor.LOOK for each in facts.go_aheads)
        or any(entry.kind is not TimeKind.OTHER for entry in facts.times)
        or any(repair.done_at is not None for repair in planned(facts))
        or any(each.state is WantedState.FITTED and not each.customers_own for each in facts.wanted)
    )
