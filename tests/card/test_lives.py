"""What holds in every life of a card: never stuck, never back without a cause, in any order of facts."""

from collections.abc import Callable
from dataclasses import fields, replace
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.card.build import Bench
from tests.card.lives import HAPPENINGS, NEW_CARDS, do
from tracker.card.allowed import refusals_to_start
from tracker.card.needs import needs_of, nothing_to_mend, waived
from tracker.card.standing import Deed, Reach, Standing, Step
from tracker.card.step import standing
from tracker.card.work import has_something_to_bill, planned, to_do
from tracker.records.card import Finding, Need
from tracker.records.facts import CardFacts

LONGEST_WAY = 60
"""Facts from anywhere to the end, were everything asked for one after the other."""

moves = st.tuples(st.sampled_from(["next", "also", *["next"] * 9, *sorted(HAPPENINGS)]), st.integers(0, 99))
lives = st.tuples(
    st.sampled_from(sorted(NEW_CARDS)),
    # A list's length left to itself is a handful; lives that get anywhere are longer.
    st.integers(0, 40).flatmap(lambda length: st.lists(moves, min_size=length, max_size=length)),
)

Life = tuple[str, list[tuple[str, int]]]
Look = Callable[[Bench, str, CardFacts], None]


def live(life: Life, look: Look) -> Bench:
    """Lives a life, and lets `look` see the card after each move, with its name and the facts before."""
    kind, moves = life
    bench = NEW_CARDS[kind]()
    for move, pick in moves:
        before = bench.facts
        stands = bench.stands()
        if move == "next":
            if stands.next:
                do(bench, stands.next)
        elif move == "also":
            if stands.also:
                do(bench, stands.also[pick % len(stands.also)])
        else:
            HAPPENINGS[move](bench, pick)
        look(bench, move, before)
    return bench


def rank(stands: Standing) -> float:
    """How far along a card is; money asked for once the bike has gone, or is not waited for, comes later."""
    if stands.over:
        return 100
    gone = stands.reach(Step.COLLECTED) in (Reach.DONE, Reach.PASSED_OVER)
    return 8.5 if stands.step is Step.PAID and gone else tuple(Step).index(stands.step)


@pytest.mark.parametrize("kind", sorted(NEW_CARDS))
def test_who_only_ever_does_the_next_thing_comes_to_the_end(kind: str) -> None:
    bench = NEW_CARDS[kind]()
    ranks = []
    for _ in range(LONGEST_WAY):
        stands = bench.stands()
        ranks.append(rank(stands))
        if stands.next is None:
            break
        do(bench, stands.next)
    assert bench.stands().over
    assert ranks == sorted(ranks)


@settings(deadline=None, max_examples=100)
@given(lives)
def test_never_stuck(life: Life) -> None:
    def look(bench: Bench, *_: object) -> None:
        sound(bench)

    bench = live(life, look)
    for _ in range(LONGEST_WAY):
        stands = bench.stands()
        sound(bench)
        if stands.next is None:
            return
        do(bench, stands.next)
        assert bench.stands().next != stands.next, "doing the next thing must lead on"
    pytest.fail(f"not over after {LONGEST_WAY} next things: {bench.stands().next}")


def sound(bench: Bench) -> None:
    """What is true of any standing, whatever is on the card."""
    stands, facts = bench.stands(), bench.facts
    assert stands.over == (stands.next is None)
    reaches = [reach for _, reach in stands.reached]
    assert [step for step, _ in stands.reached] == list(Step)
    assert reaches.count(Reach.HERE) == (0 if stands.over else 1)
    assert stands.reach(stands.step) is (Reach.DONE if stands.over else Reach.HERE)
    assert stands.since <= bench.now
    things = [*([stands.next] if stands.next else []), *stands.also]
    assert len(things) == len(set(things))
    for thing in things:
        assert thing.words
        assert "\n" not in thing.words
        assert thing.needs is None or thing.needs in needs_of(facts)
        if thing.deed is Deed.START:
            assert refusals_to_start(facts, thing.about[0], bench.now) == ()


@settings(deadline=None, max_examples=100)
@given(lives, st.integers())
def test_the_order_of_facts_means_nothing(life: Life, seed: int) -> None:
    def look(bench: Bench, *_: object) -> None:
        assert standing(shuffled(bench.facts, seed), bench.now, bench.today) == bench.stands()

    live(life, look)


def shuffled(facts: CardFacts, seed: int) -> CardFacts:
    """The same facts with each tuple in another order."""
    random = Random(seed)
    changes: dict[str, Any] = {}
    for field in fields(facts):
        rows = getattr(facts, field.name)
        if isinstance(rows, tuple):
            changes[field.name] = tuple(random.sample(rows, len(rows)))
    return replace(facts, **changes)


@settings(deadline=None, max_examples=100)
@given(lives)
def test_what_is_waived_is_not_asked_for(life: Life) -> None:
    def look(bench: Bench, *_: object) -> None:
        following = bench.stands().next
        if following is None or following.needs is None:
            return
        other = Bench(bench.now, bench.facts, bench.count)
        other.waive(following.needs)
        asked = other.stands()
        things = [*([asked.next] if asked.next else []), *asked.also]
        assert not {thing.needs for thing in things} & waived(other.facts)

    live(life, look)


@settings(deadline=None, max_examples=150)
@given(lives)
def test_never_back_without_a_cause(life: Life) -> None:
    def look(bench: Bench, move: str, before: CardFacts) -> None:
        # The same instant for both, so that it is the fact that counts and not the time it took.
        was, now = standing(before, bench.now, bench.today), bench.stands()
        if rank(now) < rank(was):
            assert causes(before, bench.facts, was, now), f"{move}: from {was.step} back to {now.step}"

    live(life, look)


def causes(before: CardFacts, after: CardFacts, was: Standing, now: Standing) -> list[str]:
    """What among the new facts accounts for a step back: something new to do, to pay, or to ask."""
    found = {
        "a fault found": len(open_findings(after)) > len(open_findings(before)),
        "a repair planned or dropped": ids(after) != ids(before),
        "a revision": len(after.estimates) > len(before.estimates),
        "a document": len(after.documents) > len(before.documents),
        "money that went back": any(p.amount_minor < 0 for p in after.payments[len(before.payments) :]),
        "a recheck": len(after.rechecks) > len(before.rechecks),
        "an ending taken back": was.ended is not None and now.ended is None,
        "a go-ahead used up": now.step is Step.AGREE and now.next is not None and used_up(now.next.words),
        "looked at, with nothing to mend": nothing_to_mend(after)
        and has_something_to_bill(after) > has_something_to_bill(before),
        "mended though that was set aside": len(to_do(after)) < len(to_do(before))
        and (was.ended is not None or Need.REPAIRS in waived(before)),
    }
    return [name for name, holds in found.items() if holds]


def ids(facts: CardFacts) -> set[int]:
    return {repair.id for repair in planned(facts)}


def open_findings(facts: CardFacts) -> list[Finding]:
    return [finding for finding in facts.findings if not finding.left]


def used_up(words: str) -> bool:
    return words.startswith("ring for a further go-ahead")
