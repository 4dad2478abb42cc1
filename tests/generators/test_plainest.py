"""What failed is made smaller, and still fails."""

from __future__ import annotations

from tests.generators.cases import seeded_case, smaller_case
from tests.generators.choosing import recorded, replayed, seeded
from tests.generators.plainest import plainest


def test_choices_that_are_played_again_are_the_same() -> None:
    choose, steps = recorded(7)
    first = [choose.whole(3, 9), choose.one("abcdef"), choose.chance(40), choose.some([1, 2, 3, 4])]
    again, anew = replayed(steps), seeded(7)
    assert [again.whole(3, 9), again.one("abcdef"), again.chance(40), again.some([1, 2, 3, 4])] == first
    assert [anew.whole(3, 9), anew.one("abcdef"), anew.chance(40), anew.some([1, 2, 3, 4])] == first


def test_choices_past_the_end_are_the_smallest_and_none_is_too_large() -> None:
    choose = replayed([90])
    assert choose.whole(2, 5) == 5
    assert choose.whole(2, 5) == 2


def test_only_what_matters_is_left() -> None:
    assert plainest([5, 9, 8, 7, 6, 5, 4, 3], lambda steps: 8 in steps or sum(steps) > 30) in {(8,), (31,)}
    assert plainest([4, 4], lambda steps: steps == (4, 4)) == (4, 4)


def test_a_case_is_made_smaller() -> None:
    seed = next(seed for seed in range(100) if len(seeded_case(seed).site.pieces) > 8)
    smaller = smaller_case(seed, lambda case: len(case.site.pieces) > 4)
    # One piece more than must be stays where taking it out means drawing another board in its place.
    assert len(smaller.site.pieces) <= 6
    assert sum(len(thing.facts) for thing in smaller.site.things.values()) < 20
