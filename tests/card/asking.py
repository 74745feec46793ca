"""How the tests ask a card: its step and deed, the words of its next thing."""

from tests.card.build import Bench
from tracker.card.standing import Deed, NextThing, Step


def following(bench: Bench) -> NextThing:
    """The next thing of a card that is not over."""
    thing = bench.stands().next
    assert thing is not None
    return thing


def words(bench: Bench) -> str:
    return following(bench).words


def step_and_deed(bench: Bench) -> tuple[Step, Deed | None]:
    stands = bench.stands()
    return stands.step, stands.next.deed if stands.next else None
