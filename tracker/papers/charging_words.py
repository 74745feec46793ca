"""What the readings of a charging check say together, as sentences for its paper, in the language spoken."""

from collections.abc import Iterator

from tracker.desk.charging import ChargingCheck
from tracker.papers.tongue import ENGLISH, language, mark, t
from tracker.records.charging import ChargingVerdict
from tracker.seedfiles.charging import load_charging

BEFORE, AFTER = mark("Before: {said}"), mark("After: {said}")


def paper_words(check: ChargingCheck) -> tuple[str, ...]:
    """What they say before the repair, and after it where one was read then."""
    if check.after is None:
        return _words(check.before, "")
    return (*_words(check.before, BEFORE), *_words(check.after, AFTER))


def _words(verdict: ChargingVerdict, when: str) -> tuple[str, ...]:
    head = t("{word} (confidence {sure}).", word=t(verdict.word), sure=t(verdict.confidence))
    return (
        t(when, said=head) + f" {t(verdict.reasons[0])}" if when else f"{head} {t(verdict.reasons[0])}",
        *(t("Also: {said}", said=_also(words)) for words in verdict.also),
        *(t("These do not agree: {said}", said=_against(words)) for words in verdict.contradictions),
    )


def _also(words: str) -> str:
    """“Verdict: its reason”, or a reason by itself."""
    verdict, sign, reason = words.partition(": ")
    if words in _reasons() or not sign:
        return t(words)
    return f"{t(verdict)}: {t(reason)}"


def _against(words: str) -> str:
    """A row's reason, and in English the readings it goes by as they were judged."""
    reason = next((one for one in _reasons() if words.startswith(one)), words)
    return words if language() == ENGLISH else t(reason)


def _reasons() -> Iterator[str]:
    return (row.reason for row in load_charging().rows)
