"""Frame numbers: a slip is found, nothing is refused."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.vin import VALUES, check_digit, vin
from tracker.records.problem import Mistakes

signs = st.sampled_from(sorted(VALUES))


def test_spaces_dashes_and_small_letters_are_passed_over() -> None:
    answer = vin(vin=" 1m8gdm9a xkp-042788 ")
    assert (answer.vin, answer.verdict) == ("1M8GDM9AXKP042788", "valid")


def test_elsewhere_it_only_warns() -> None:
    answer = vin(vin="ZZ1AB23C9DE456789")
    assert answer.verdict in {"unsure", "valid"}
    assert vin(vin="ZZ1AB23C" + ("0" if answer.check_digit != "0" else "1") + "DE456789").verdict == "unsure"


def test_an_old_frame_number_is_not_checked_nor_refused() -> None:
    answer = vin(vin="LKM 412")
    assert (answer.verdict, answer.check_digit, answer.weighted_sum) == ("unchecked", None, None)
    assert "before 1981" in answer.why[0]


def test_letters_never_used_are_named_with_their_place() -> None:
    answer = vin(vin="1G4AH59H45GI1834O")
    assert answer.verdict == "rejected"
    assert "“I” in place 12" in answer.why[0]
    assert "“O” in place 17" in answer.why[0]


@pytest.mark.parametrize("text", ["", "  - ", "x" * 41])
def test_nothing_or_far_too_much(text: str) -> None:
    with pytest.raises(Mistakes):
        vin(vin=text)


@given(st.lists(signs, min_size=17, max_size=17), st.integers(0, 16), signs)
@settings(max_examples=150, deadline=None)
def test_one_wrong_sign_is_always_seen_unless_it_counts_the_same(
    letters: list[str], place: int, other: str
) -> None:
    letters[0] = "1"
    letters[8] = check_digit("".join(letters))
    right = "".join(letters)
    assert vin(vin=right).verdict == "valid"
    if place == 8 or VALUES[other] == VALUES[letters[place]]:
        return
    letters[place] = other
    assert vin(vin="".join(letters)).verdict in {"invalid", "unsure"}


@given(st.text(max_size=45))
@settings(max_examples=100, deadline=None)
def test_any_text_gets_a_verdict_or_a_mistake(text: str) -> None:
    plain = [sign for sign in text.upper() if not sign.isspace() and sign not in "-‐‑–"]
    if 0 < len(plain) <= 40:
        assert vin(vin=text).why
        return
    with pytest.raises(Mistakes):
        vin(vin=text)
