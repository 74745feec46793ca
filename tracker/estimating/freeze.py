"""What an estimate keeps of how it was made, so that its sum can be explained for ever."""

from collections.abc import Mapping

from tracker.estimating.card_total import CardAsked
from tracker.estimating.words import plain, said
from tracker.records.estimating import Asked, EstimateResult, Factor, Priced
from tracker.records.shop import Shop

RATES = ("labour_rate", "looking_rate", "call_out_charge", "distance_charge")


def freeze(asked: CardAsked, shop: Shop, result: EstimateResult, priced: Priced) -> dict[str, object]:
    """Rules as they were written, answers, prices, rates and factors, in values that JSON knows."""
    return {
        "rules": {one.rule.id: one.rule.text for one in asked.repairs},
        "asked": [_asked(one) for one in asked.repairs],
        "factors": {name: _factor(value) for name, value in sorted((asked.factors or {}).items())},
        "zones": {name: _factor(value) for name, value in sorted(asked.zones.items())},
        "rates": {name: plain(getattr(shop, name)) for name in RATES},
        "prices": {
            line.words: f"{plain(line.unit_price)} per {line.unit}"
            for line in priced.lines
            if line.part is not None
        },
        "opens": [
            {
                "access": line.access,
                "visit": line.visit,
                "minutes": line.book.expected,
                "words": line.words,
                "was_off": asked.was_off.get(line.access, "") if line.visit >= asked.visit_now else "",
                "serves": list(line.serves),
            }
            for line in result.lines
            if line.access
        ],
        "looked_min": asked.looked_min,
        "bench_minimum_min": asked.bench_minimum_min,
        "already_off": sorted(asked.already_off),
        "correlation": asked.correlation,
        "pairs": asked.pairs,
    }


def _asked(one: Asked) -> dict[str, object]:
    answers: Mapping[str, str] = {name: said(value) for name, value in one.answers.values.items()}
    where = one.where
    return {
        "repair": one.repair,
        "rule": one.rule.id,
        "words": one.words or one.rule.words,
        "answers": dict(answers),
        "assumed": list(one.answers.assumed),
        "spot": where.spot,
        "ends": list(where.ends),
        "route": list(where.route),
        "off": list(where.off),
        "visit": one.visit,
    }


def _factor(value: Factor) -> dict[str, object]:
    return {
        "n": value.n,
        "times": value.times,
        "expected_times": value.expected_times,
        "spread": value.spread,
    }
