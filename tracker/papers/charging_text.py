"""The charging check in plain text: its steps with what was read, and what the readings say together."""

from collections.abc import Iterable, Mapping

from tracker.desk.charging import ChargingCheck, StepTaken
from tracker.papers.readings import how, with_unit
from tracker.papers.say import plain_name
from tracker.records.bike import UNKNOWN
from tracker.records.card import Reading
from tracker.records.charging import ChargingBike, ChargingStep, ChargingVerdict
from tracker.records.limits import Verdict, Word
from tracker.records.width import left, width_of, wrap

WIDTH = 80
NAME = 34
OUT_OF_SCOPE = "The maker's manual, local law and licensed practice come first."


def check_text(check: ChargingCheck) -> str:
    """The whole check, at most 80 columns wide."""
    card, bike = check.facts.card, check.facts.bike
    lines = [f"Charging check, card {card.number}" + (f", {bike.name}" if bike else "")]
    lines.append(bike_words(check.bike))
    lines += [line for words in check.unsaid for line in _hung("! ", words)]
    lines.append("")
    for number, taken in enumerate(check.steps, 1):
        lines += _step(number, taken, check.judged)
    if not check.steps:
        lines.append("There is nothing to check: no battery, and nothing that charges.")
    if check.besides:
        lines += ["", "Read besides, though this bike's check does not ask for it:"]
        lines += [line for said in readings_lines(check.besides, check.judged) for line in _hung("  ", said)]
    lines += ["", *verdict_lines(check.before, "What they say before" if check.after else "What they say")]
    if check.after:
        lines += ["", *verdict_lines(check.after, "What they say after")]
    if check.now.next is not None:
        lines += ["", *step_lines(check.now.next, "The reading that decides next")]
    lines += ["", OUT_OF_SCOPE]
    return "\n".join(lines)


def bike_words(bike: ChargingBike) -> str:
    """What of the bike the check goes by, in a line."""
    volts = {None: "volts not known", 0: "no battery"}.get(bike.volts, f"{bike.volts} V")
    battery = "battery kind not known" if bike.battery == UNKNOWN else f"battery {bike.battery}"
    alternator = (
        "alternator not known" if bike.alternator == UNKNOWN else f"alternator {plain_name(bike.alternator)}"
    )
    earth = "earth not known" if bike.earth == UNKNOWN else f"earth {bike.earth}"
    if bike.volts == 0:
        return f"{volts}, {alternator}"
    return ", ".join((volts, battery, alternator, earth))


def _step(number: int, taken: StepTaken, judged: Mapping[int, Verdict]) -> list[str]:
    read = [*taken.before, *taken.after]
    mark = "x" if read else " "
    name = f"{number:>2} [{mark}] {taken.step.words}"
    lines = [] if read and width_of(name) < NAME else [name]
    for one in read:
        head = left(name, NAME) if not lines else " " * NAME
        lines.append(f"{head}{one.phase} {with_unit(one)}: {judged_short(judged.get(one.id))}")
        for said in (how(one), _lacking(judged.get(one.id))):
            lines += [f"{' ' * (NAME + 2)}{part}" for part in wrap(said, WIDTH - NAME - 2)]
    return lines


def _lacking(verdict: Verdict | None) -> str:
    """What would have to be known of a reading before its limit holds."""
    return verdict.why[-1] if verdict and verdict.word is Word.NO_LIMITS and verdict.asked else ""


def judged_short(verdict: Verdict | None) -> str:
    """A verdict in a word or two, with the class of its limit."""
    if verdict is None:
        return "not judged"
    if verdict.limit is None or verdict.word is Word.NO_LIMITS:
        return str(verdict.word)
    return f"{verdict.word} ({verdict.limit.limit_class})"


def verdict_lines(verdict: ChargingVerdict, title: str) -> list[str]:
    """What readings say together: the word, how sure, why, by which limits."""
    lines = [f"{title}: {str(verdict.word).upper()}  (confidence {verdict.confidence})"]
    for words in verdict.reasons:
        lines += _hung("- ", words)
    if verdict.could_be:
        lines += _hung("  ", f"Still open: {', '.join(verdict.could_be)}.")
    for words in verdict.also:
        lines += _hung("+ ", f"Also: {words}")
    for words in verdict.contradictions:
        lines += _hung("? ", f"These do not agree: {words}")
    for limit in verdict.limits:
        lines += _hung("  ", f"Limit: {limit.what} ({limit.limit_class}, {limit.source}).")
    return lines


def step_lines(step: ChargingStep, title: str) -> list[str]:
    """One step, and how it is taken."""
    lines = [f"{title}: {step.words}"]
    for name, words in (("meter", step.meter), ("leads", step.leads), ("engine", step.engine)):
        lines += _hung(f"  {name:<8}", words)
    return lines + (_hung("  mind    ", step.caution) if step.caution else [])


def readings_lines(readings: Iterable[Reading], judged: Mapping[int, Verdict]) -> list[str]:
    """Readings in lines, each with its verdict."""
    return [
        f"{one.phase}: {plain_name(one.kind)} {with_unit(one)}: {judged_short(judged.get(one.id))}"
        for one in readings
    ]


def _hung(sign: str, words: str) -> list[str]:
    parts = wrap(words, WIDTH - len(sign)) or [""]
    return [sign + parts[0], *(" " * len(sign) + part for part in parts[1:])]
