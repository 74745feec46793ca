"""One repair worked out from its rule: minutes, wire, parts and what has to be reached, each sum in words."""

from decimal import Decimal
from math import exp

from tracker.estimating.counting import counting, counts, decided, multiplier
from tracker.estimating.materials import parts_of, wire_of
from tracker.estimating.sizing import Sizes
from tracker.estimating.spread import add, mean, times, whole, widened
from tracker.estimating.words import counted, filled, range_of, said
from tracker.records.estimating import Asked, Factor, RepairEstimate, TimeLine, Where
from tracker.records.repair_rule import Answers, Reach, Rule, Spread

NO_FACTOR = Factor()


def estimate_repair(asked: Asked, sizes: Sizes, factor: Factor = NO_FACTOR) -> RepairEstimate:
    """What one repair takes. Access is not in it: that is paid once for the whole card.

    `factor` is what past cards say of the rule; it moves the three minute figures alike, by its mean, and
    where it tells how far a card lies off, least and most are moved out to that.
    """
    rule, answers = asked.rule, asked.answers
    book, sums = _book(rule, answers)
    spread = times(book, Decimal(f"{factor.expected_times:.4f}")) if factor.expected_times != 1 else book
    if factor.spread:
        spread = widened(spread, factor.spread)
    parts, unchosen = parts_of(rule, answers, sizes)
    zones = zones_of(rule, asked.where)
    time = TimeLine(
        kind=rule.bills_as,
        words=asked.words or rule.words,
        spread=spread,
        minutes=whole(spread),
        book=whole(book),
        why=_why(rule, sums, spread, factor),
        rule=rule.id,
        repair=asked.repair,
        visit=asked.visit,
        log_sd=factor.spread,
    )
    return RepairEstimate(
        asked=asked,
        time=time,
        wire=wire_of(rule, answers),
        parts=parts,
        zones=zones,
        record={name: filled(text, answers) for name, text in rule.record.items()},
        notes=(*_assumptions(rule, answers), *unchosen, *_lost(rule, zones)),
    )


def zones_of(rule: Rule, where: Where) -> tuple[str, ...]:
    """The zones a repair has to get to, each once: those its rule always needs, then those of its place."""
    reached = {
        Reach.NONE: (),
        Reach.SPOT: (where.spot,),
        Reach.ENDS: where.ends or (where.spot,),
        Reach.ROUTE: (*where.ends, *where.route, where.spot),
    }[rule.reach]
    return tuple(dict.fromkeys(zone for zone in (*rule.zones, *reached) if zone))


def book_minutes(rule: Rule, answers: Answers) -> Decimal:
    """The minutes a rule expects under some answers, exact, before any factor and without what comes off."""
    return mean(_book(rule, answers)[0])


def _book(rule: Rule, answers: Answers) -> tuple[Spread, list[str]]:
    """The rule's minutes by the book, and each figure's sum in words."""
    found = counts(rule, answers)
    parts: list[Spread] = []
    sums: list[str] = []
    for figure in counting(rule.minutes, answers):
        count = multiplier(figure, found)
        if not count:
            continue
        part = times(figure.spread, count)
        parts.append(part)
        product = f" = {range_of(part)}" if figure.per else ""
        sums.append(
            f"{filled(figure.words, answers)}: {range_of(figure.spread)}, {counted(figure, found)}{product}"
        )
    return add(parts), sums


def _why(rule: Rule, sums: list[str], spread: Spread, factor: Factor) -> str:
    own = f"{factor.n} past card{'' if factor.n == 1 else 's'}" if factor.n else ""
    more = f"{', '.join(map(str, factor.over))} by mechanic, zone or model" if factor.over else ""
    told = " and ".join(words for words in (own, more) if words)
    learned = f"Times {factor.expected_times:.2f} from {told}. " if told else ""
    if factor.spread:
        learned += f"Cards here lie apart by {exp(factor.spread):.2f} times, up or down, in 2 of 3. "
    shown = Spread(*(round(value, 1) for value in (spread.least, spread.likely, spread.most)))
    return f"{'; '.join(sums)}. {learned}In all {range_of(shown)}. Figures: {rule.cited}."


def _assumptions(rule: Rule, answers: Answers) -> list[str]:
    rests_on = decided(rule, answers)
    notes = []
    for name in answers.assumed:
        ask = rule.ask(name)
        if ask is not None and name in rests_on:
            unit = f" {ask.unit}" if ask.unit else ""
            notes.append(f"{ask.words}: {said(answers.values[name])}{unit} was taken, as nobody said.")
    return notes


def _lost(rule: Rule, zones: tuple[str, ...]) -> list[str]:
    if rule.reach is Reach.NONE or zones:
        return []
    return ["Where it is isn’t known yet, so what has to come off is not counted."]
