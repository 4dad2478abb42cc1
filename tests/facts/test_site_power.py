"""The power of a set at its site, between ends that hold for every way of filling in what is open."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from checker.engineering.calculation import OutsideLimits
from checker.facts.sets.site_power import Loss, Place, power_between, worked
from checker.values.possible import ABSENT, Possible, between, exactly, number, one_of

_STEPS = ("whole", "by_part")
_WAYS = ("multiplied", "added")


def numbers(low: int, high: int, scale: int = 1) -> st.SearchStrategy[tuple[Possible, Fraction]]:
    """What is possible for a number, and one number that it may be."""

    def of(ends: tuple[int, int, int]) -> tuple[Possible, Fraction]:
        first, middle, last = sorted(ends)
        return between(Fraction(first, scale), Fraction(last, scale)), Fraction(middle, scale)

    end = st.integers(low, high)
    exact = end.map(lambda found: (number(Fraction(found, scale)), Fraction(found, scale)))
    return st.one_of(exact, st.tuples(end, end, end).map(of))


def words(choices: tuple[str, ...]) -> st.SearchStrategy[tuple[Possible, str]]:
    return st.sampled_from(choices).flatmap(
        lambda word: st.sampled_from([(exactly(word), word), (one_of(choices), word)])
    )


@st.composite
def losses(draw: st.DrawFn, least_step: int, most_step: int, most_at: int) -> tuple[Loss, Loss]:
    """A loss with what is open, and the same with nothing open."""
    share, each, above = draw(numbers(0, 6, 100)), draw(numbers(least_step, most_step)), draw(numbers(0, most_at))
    begun, at = draw(words(_STEPS)), draw(numbers(0, most_at))
    may_be_none = draw(st.booleans())
    is_none = may_be_none and draw(st.booleans())
    known = (number(share[1]), number(each[1]), number(above[1]), exactly(begun[1]), number(at[1]))
    return (
        Loss(share[0], each[0], above[0], begun[0], at[0], may_be_none, is_none=False),
        Loss(*known, may_be_none=is_none, is_none=is_none),
    )


@settings(max_examples=150, deadline=None)
@given(numbers(8_000, 48_000), losses(500, 1_000, 8_000), losses(5, 10, 45), words(_WAYS))
def test_whatever_is_open_the_power_lies_between_the_ends(
    rating: tuple[Possible, Fraction],
    altitude: tuple[Loss, Loss],
    heat: tuple[Loss, Loss],
    together: tuple[Possible, str],
) -> None:
    found = power_between(Place(rating[0], altitude[0], heat[0], together[0]), "")
    try:
        exact = worked(Place(number(rating[1]), altitude[1], heat[1], exactly(together[1])), upper=True)
    except OutsideLimits:
        return
    assert exact is not None
    assert any(span.holds(exact.value * 1000) for span in found.spans)


def _place(**changed: Possible) -> Place:
    """A set of 100 kW at 1,500 ft and 95 °F (35 °C) losing 3 % per 1,000 ft above 500 ft, 1 % per 10 °F above 77 °F."""
    at = {"altitude": number(1_500), "heat": number(35), **changed}
    return Place(
        changed.get("rating", number(100_000)),
        Loss(*_rule("3/100", "1000", "500"), at["altitude"], may_be_none=False, is_none=False),
        Loss(*_rule("1/100", "50/9", "25"), at["heat"], may_be_none=False, is_none=False),
        exactly("multiplied"),
    )


def _rule(share: str, each: str, above: str) -> tuple[Possible, Possible, Possible, Possible]:
    first, second, third = (number(Fraction(each)) for each in (share, each, above))
    return first, second, third, exactly("by_part")


def test_both_losses_by_hand() -> None:
    """100 kW x (1 - 3 % x 1) x (1 - 1 % x 18 / 10) = 95.254 kW; by hand, the form of rule is common on data sheets."""
    assert power_between(_place(), "") == number(95_254)


def test_an_altitude_that_is_open_leaves_the_power_between_its_ends() -> None:
    """At 500 ft or below nothing goes to altitude: 98.2 kW."""
    found = power_between(_place(altitude=between(Fraction(0), Fraction(1_500))), "")
    assert found == between(Fraction(95_254), Fraction(98_200))


def test_an_altitude_of_which_nothing_is_known_has_no_lower_end() -> None:
    found = power_between(_place(altitude=Possible(spans=between(None, None).spans)), "")
    assert found.hull is not None
    assert (found.hull.low, found.hull.high) == (Fraction(0), Fraction(98_200))


def test_a_set_without_a_rating_on_the_fuel_has_no_power() -> None:
    assert power_between(_place(rating=ABSENT), "No rating.").undefined == ("No rating.",)
