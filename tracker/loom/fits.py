"""Whether an entry belongs to a bike of these features: yes, no, or it depends on an answer nobody gave."""

from collections.abc import Mapping

from tracker.records.bike import UNKNOWN
from tracker.records.loom import At, When
from tracker.records.loom_pattern import Feature


def fits(when: When, features: Mapping[str, str]) -> tuple[bool | None, tuple[str, ...]]:
    """Yes (True), no (False) or None with the features whose answers would decide.

    >>> injected = When(need=((("fuel", ("injection",)),),))
    >>> fits(injected, {"fuel": "carburettor"})
    (False, ())
    >>> fits(injected, {})
    (None, ('fuel',))
    """
    barred = [_holds(one, features) for one in when.bar]
    needed = [_holds(one, features) for one in when.need] or [True]
    if True in barred or not (True in needed or None in needed):
        return False, ()
    if None not in barred and True in needed:
        return True, ()
    return None, tuple(name for name in when.features if name not in features)


def _holds(answers: At, features: Mapping[str, str]) -> bool | None:
    given = [None if name not in features else features[name] in values for name, values in answers]
    return False if False in given else None if None in given else True


def known_answers(
    features: Mapping[str, Feature], given: Mapping[str, str | None]
) -> tuple[dict[str, str], tuple[str, ...]]:
    """The answers that are answers, by present ids; and those that the pattern no longer knows, in words.

    Nothing, “don't know” and an empty text are all “don't know”.
    """
    now = {was: feature.id for feature in features.values() for was in feature.was}
    answers: dict[str, str] = {}
    lost: list[str] = []
    for name, answer in given.items():
        if answer in {None, "", UNKNOWN}:
            continue
        feature = features.get(now.get(name, name))
        if feature is None:
            lost.append(f"There is no question “{name}” any more; it was answered “{answer}”.")
        elif answer not in feature.values:
            lost.append(f"“{answer}” is no answer to “{feature.id}” any more.")
        else:
            answers[feature.id] = str(answer)
    return answers, tuple(lost)
