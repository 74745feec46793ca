"""What the readings of a charging check say together, as sentences for its paper, in the language spoken."""

from collections.abc import Iterator, Sequence

from tracker.desk.charging import ChargingCheck
from tracker.papers.known import Known
from tracker.papers.readings import with_unit
from tracker.papers.tongue import ENGLISH, language, mark, t
from tracker.records.card import Reading
from tracker.records.charging import ChargingVerdict
from tracker.records.limits import Verdict, Word
from tracker.seedfiles.charging import load_charging
from tracker.seedfiles.readings import load_readings

BEFORE, AFTER = mark("Before: {said}"), mark("After: {said}")


def paper_words(check: ChargingCheck) -> tuple[str, ...]:
    """What they say before the repair, and after it where one was read then."""
    if check.after is None:
        return _words(check, check.before, "")
    return (*_words(check, check.before, BEFORE), *_words(check, check.after, AFTER))


def _words(check: ChargingCheck, verdict: ChargingVerdict, when: str) -> tuple[str, ...]:
    head = t("{word} (confidence {sure}).", word=t(verdict.word), sure=t(verdict.confidence))
    return (
        t(when, said=head) + f" {t(verdict.reasons[0])}" if when else f"{head} {t(verdict.reasons[0])}",
        *(t("Also: {said}", said=_also(words)) for words in verdict.also),
        *(
            t("These do not agree: {said}", said=_against(check, words, ids))
            for words, ids in zip(verdict.contradictions, verdict.against, strict=True)
        ),
    )


def _also(words: str) -> str:
    """“Verdict: its reason”, or a reason by itself."""
    verdict, sign, reason = words.partition(": ")
    if words in _reasons() or not sign:
        return t(words)
    return f"{t(verdict)}: {t(reason)}"


def _against(check: ChargingCheck, words: str, readings: Sequence[int]) -> str:
    """A row's reason, and the readings it goes by as judged; what their limits say is only in English."""
    if language() == ENGLISH:
        return words
    reason = next((one for one in _reasons() if words.startswith(one)), words)
    by_id = {one.id: one for one in check.facts.readings}
    kinds = Known(kinds=load_readings())
    said = [_figure(by_id[id_], check.judged.get(id_), kinds) for id_ in readings if id_ in by_id]
    return " ".join((t(reason), *([f"({'; '.join(said)})"] if said else [])))


def _figure(one: Reading, verdict: Verdict | None, kinds: Known) -> str:
    """A reading as it was judged; where no limit holds, the figure by itself."""
    figure = f"{kinds.kind(one.kind)} {with_unit(one)}"
    return figure if verdict is None or verdict.word is Word.NO_LIMITS else f"{figure}: {t(verdict.word)}"


def _reasons() -> Iterator[str]:
    return (row.reason for row in load_charging().rows)
