"""What to do, in one sentence: answers that judge a reading, a flash rate, a battery, a frame number."""

from tracker.electrics.alternator import BridgeSum
from tracker.electrics.battery import LITHIUM_VOLTS, NO_BOOST, BatterySum
from tracker.electrics.battery_load import LoadTestSum
from tracker.electrics.battery_use import CrankingSum, DrainSum
from tracker.electrics.catalogue_charging import BalanceSum, HydrometerSum, SelfDischargeSum, WindingSum
from tracker.electrics.catalogue_figures import rounded
from tracker.electrics.charge_balance import ChargeBudgetSum, Spare, Standing
from tracker.electrics.flasher import FlasherSum
from tracker.electrics.vin import VinSum
from tracker.electrics.winding import WORTH_V
from tracker.records.electrics import Sum
from tracker.records.limits import Word

VERDICTS = {
    "valid": "The check digit is right.",
    "invalid": "Read it off the frame again: a sign is wrong, or two are swapped.",
    "unsure": "It may be right: built where the check digit is not always used. Read it once more.",
    "rejected": "Read it off the frame again: it has a sign that no VIN has.",
    "unchecked": "Not a VIN of 17 places: it cannot be checked, and may be right.",
}
"""What each verdict on a frame number means at the bench."""


def verdict_headline(answer: Sum) -> str:
    """The one sentence to act on, of a sum that judges; its first reason where it is none of those known.

    Formula: none.
    Range: any answer.
    Example:
        >>> from tracker.electrics.vin import vin
        >>> verdict_headline(vin(vin="1M8GDM9AXKP042788"))
        'The check digit is right.'

    Source: none: a way of writing.
    """
    match answer:
        case FlasherSum():
            return _flasher(answer)
        case VinSum():
            return VERDICTS[answer.verdict]
        case BatterySum():
            return _battery(answer)
        case HydrometerSum():
            return _hydrometer(answer)
        case SelfDischargeSum():
            return f"It will read {rounded(answer.gravity_after_sg, 'SG')} after standing that long."
        case LoadTestSum():
            least = f"at least {rounded(answer.least_v, 'V')} V at this temperature"
            if answer.word is Word.GOOD:
                return f"It passes: {least}."
            return f"It fails, {least}: charge it and test once more before it is condemned."
        case CrankingSum():
            return answer.why[-1] if answer.word is Word.NO_LIMITS else answer.why[1]
        case DrainSum():
            return _drain(answer)
        case BridgeSum():
            return f"About {rounded(answer.mean_v, 'V')} V DC, mean, into a resistor."
        case WindingSum():
            if answer.doubtful:
                return "Too few ohms for these leads: use a four-wire meter, or volts at a known current."
            return f"{rounded(answer.then_ohm, 'ohm')} ohm: hold that against the maker's figure."
        case BalanceSum():
            return _balance(answer)
        case ChargeBudgetSum():
            return _budget(answer)
        case _:
            return answer.why[0]


def _flasher(answer: FlasherSum) -> str:
    if answer.settled is False:
        return "Time more flashes: too few to judge by."
    rate = f"{rounded(answer.flashes_per_min, '')} flashes a minute"
    right = f"{answer.least_per_min:.0f} to {answer.most_per_min:.0f} are right"
    if answer.verdict == "within":
        return f"Right: {rate}, and {right}."
    return f"Too {answer.verdict}: {rate}, but {right}."


def _battery(answer: BatterySum) -> str:
    if not answer.may_boost:
        lithium = LITHIUM_VOLTS in answer.cautions
        return NO_BOOST if lithium else f"If it is lithium: {NO_BOOST}"
    if answer.valid is False:
        return "Not a reading to judge by: let it rest, then measure again."
    if answer.confidence == "none":
        return "These volts say nothing of this battery's charge: load test it."
    charge = (
        f"{answer.low_percent:.0f} to {answer.high_percent:.0f} % charged"
        if answer.percent is None
        else f"About {answer.percent:.0f} % charged"
    )
    if answer.charge_first:
        with_what = " with a charger for lithium" if LITHIUM_VOLTS in answer.cautions else ""
        return f"{charge}: charge it first{with_what}, then load test it."
    if answer.charge_first is None:
        return f"{charge}, no closer than that: charge it, then load test it."
    return f"{charge}, enough to test: load test it before it passes."


def _hydrometer(answer: HydrometerSum) -> str:
    if answer.serviceable is None:
        return "Charge it, then measure again: only a charged battery is judged by its cells."
    spread = f"{rounded(answer.spread_sg, 'SG')} apart, at most {rounded(answer.spread_limit_sg, 'SG')}"
    if answer.serviceable:
        return f"The cells agree: {spread}."
    return f"Cell {answer.weakest_cell} is failing: {spread}. A new battery."


def _drain(answer: DrainSum) -> str:
    judged = {Word.GOOD: "Usual", Word.LOOK: "Worth a look", Word.FAULT: "Too much"}
    word = judged.get(answer.word, "No limits for this")
    if answer.days is None:
        return f"{word}: nothing is taken from the battery."
    return f"{word}: a full battery lasts {rounded(answer.days, 'days')} days."


def _balance(answer: BalanceSum) -> str:
    off = f"furthest off {rounded(answer.deviation_percent, '%')} %"
    if answer.word is Word.GOOD:
        ohms = "" if answer.mean_ohm is None else " Ohms never clear a stator: take its AC volts too."
        return f"The three pairs agree, {off}.{ohms}"
    if answer.mean_v is not None and answer.mean_v < WORTH_V:
        return "Next to nothing on all pairs: the drive, the magnetism, or the meter on DC."
    return f"Pair {answer.worst_pair} is {off}: look at its phase, its wire, its plug."


def _budget(answer: ChargeBudgetSum) -> str:
    now = f"{_left(answer.now[0])}, {_left(answer.now[1])}"
    after = f" After the change: {_left(answer.after[0])}, {_left(answer.after[1])}." if answer.after else ""
    last = (answer.after or answer.now)[1]
    short = " On the road it runs the battery down." if last.word is Spare.SHORT else ""
    return f"{now[0].upper()}{now[1:]}.{after}{short}"


def _left(row: Standing) -> str:
    if row.spare_a < 0:
        return f"{-row.spare_a:.1f} A short at {row.at}"
    return f"{row.spare_a:.1f} A to spare at {row.at}"
