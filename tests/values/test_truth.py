"""Strong Kleene logic, checked against its meaning: what stays true however the unknowns turn out."""

from itertools import product

import pytest

from checker.values.truth import Truth, all_of, any_of, from_ways, truth_of

WAYS = {Truth.YES: (True,), Truth.NO: (False,), Truth.UNKNOWN: (True, False)}
TRUTHS = tuple(Truth)


def meaning(outcomes: set[bool]) -> Truth:
    """The truth of a statement that can come out only like this."""
    return Truth.UNKNOWN if len(outcomes) > 1 else truth_of(outcomes == {True})


@pytest.mark.parametrize("size", range(4))
def test_all_and_any_say_what_every_completion_says(size: int) -> None:
    for parts in product(TRUTHS, repeat=size):
        completions = list(product(*(WAYS[part] for part in parts)))
        assert all_of(parts) is meaning({all(each) for each in completions})
        assert any_of(parts) is meaning({any(each) for each in completions})


@pytest.mark.parametrize("truth", TRUTHS)
def test_not_turns_every_completion_round(truth: Truth) -> None:
    assert ~truth is meaning({not each for each in WAYS[truth]})
    assert ~~truth is truth


def test_not_exchanges_all_and_any() -> None:
    for parts in product(TRUTHS, repeat=3):
        assert ~all_of(parts) is any_of(~part for part in parts)


def test_a_truth_cannot_be_used_as_a_flag() -> None:
    with pytest.raises(TypeError, match="compare it with 'is'"):
        bool(Truth.UNKNOWN)


@pytest.mark.parametrize(
    ("can_hold", "can_fail", "truth"),
    [(True, True, Truth.UNKNOWN), (True, False, Truth.YES), (False, True, Truth.NO)],
)
def test_ways_to_hold_and_to_fail(can_hold: bool, can_fail: bool, truth: Truth) -> None:
    assert from_ways(can_hold=can_hold, can_fail=can_fail) is truth


def test_a_statement_without_possibilities_is_refused() -> None:
    with pytest.raises(ValueError, match="no possibilities"):
        from_ways(can_hold=False, can_fail=False)
