"""Relations against brute force: every pair of ways in which two facts can turn out, compared one by one."""

from collections.abc import Callable
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from checker.values.possible import ABSENT, ANY_WORD, Possible, between, exactly, number, one_of, several, undefined
from checker.values.relations import known, present, relate
from checker.values.truth import Truth, truth_of
from tests.values import possibilities as some
from tests.values.possibilities import Outcome, outcomes

Pair = Callable[[Outcome, Outcome], bool]


def as_set(outcome: Outcome) -> frozenset[str]:
    if isinstance(outcome, frozenset):
        return outcome
    assert isinstance(outcome, str)
    return frozenset({outcome})


def ordered(compare: Callable[[Fraction, Fraction], bool]) -> Pair:
    def holds(left: Outcome, right: Outcome) -> bool:
        assert isinstance(left, Fraction)
        assert isinstance(right, Fraction)
        return compare(left, right)

    return holds


HOLDS: dict[str, Pair] = {
    "is": lambda left, right: left == right,
    "is_not": lambda left, right: left != right,
    "one_of": lambda left, right: left in as_set(right),
    "none_of": lambda left, right: left not in as_set(right),
    "at_least": ordered(lambda left, right: left >= right),
    "on_or_after": ordered(lambda left, right: left >= right),
    "more_than": ordered(lambda left, right: left > right),
    "at_most": ordered(lambda left, right: left <= right),
    "less_than": ordered(lambda left, right: left < right),
    "before": ordered(lambda left, right: left < right),
    "includes": lambda left, right: as_set(left) >= as_set(right),
    "includes_all": lambda left, right: as_set(left) >= as_set(right),
    "includes_any": lambda left, right: bool(as_set(left) & as_set(right)),
    "includes_only": lambda left, right: as_set(left) <= as_set(right),
}
YES_WHEN_ABSENT = {"is_not", "none_of"}
ORDERS = ("at_least", "on_or_after", "more_than", "at_most", "less_than", "before")
INCLUSIONS = ("includes", "includes_all", "includes_any", "includes_only")
MEMBERSHIPS = ("one_of", "none_of")
EQUALITIES = ("is", "is_not")


def by_brute_force(relation: str, left: Possible, right: Possible) -> Truth:
    if left.undefined or right.undefined:
        return Truth.UNKNOWN
    answers = {
        relation in YES_WHEN_ABSENT if mine is None or other is None else HOLDS[relation](mine, other)
        for mine in outcomes(left)
        for other in outcomes(right)
    }
    return Truth.UNKNOWN if len(answers) > 1 else truth_of(answers == {True})


def check(relation: str, left: Possible, right: Possible) -> None:
    assert relate(relation, left, right) is by_brute_force(relation, left, right)


@given(st.sampled_from(ORDERS + EQUALITIES), some.numbers(undefined=True), some.numbers(undefined=True))
def test_numbers(relation: str, left: Possible, right: Possible) -> None:
    check(relation, left, right)


@pytest.mark.parametrize("relation", ORDERS + EQUALITIES)
def test_every_way_in_which_two_spans_can_lie(relation: str) -> None:
    for left, right in product(some.every_span(1), repeat=2):
        check(relation, Possible(spans=(left,)), Possible(spans=(right,)))


@given(st.sampled_from(EQUALITIES), some.words(undefined=True), some.words(undefined=True))
def test_words(relation: str, left: Possible, right: Possible) -> None:
    check(relation, left, right)


@given(st.sampled_from(EQUALITIES), some.flags(undefined=True), some.flags(undefined=True))
def test_flags(relation: str, left: Possible, right: Possible) -> None:
    check(relation, left, right)


@given(st.sampled_from(EQUALITIES), some.sets(undefined=True), some.sets(undefined=True))
def test_sets(relation: str, left: Possible, right: Possible) -> None:
    check(relation, left, right)


@given(st.sampled_from(MEMBERSHIPS), some.words(undefined=True), some.sets(undefined=True))
def test_a_word_among_words(relation: str, left: Possible, right: Possible) -> None:
    # Whether any text at all is one of no words is answered unknown, which is safe but could be no.
    assume(not left.anything or any(span.perhaps for span in right.sets) or not right.sets)
    check(relation, left, right)


@given(
    st.sampled_from(INCLUSIONS),
    some.sets(undefined=True),
    some.sets(undefined=True) | st.frozensets(st.sampled_from(some.WORDS), min_size=1).map(one_of),
)
def test_a_set_against_a_set_or_a_word(relation: str, left: Possible, right: Possible) -> None:
    check(relation, left, right)


@given(some.anything_at_all())
def test_known_never_says_no(fact: Possible) -> None:
    settled = not fact.undefined and not fact.anything and len(set(outcomes(fact))) == 1
    single = settled and all(span.is_point for span in fact.spans)
    assert known(fact) is (Truth.YES if single else Truth.UNKNOWN)


@given(some.anything_at_all())
def test_present_is_about_absence_alone(fact: Possible) -> None:
    there = {outcome is not None for outcome in outcomes(fact)} | ({True, False} if fact.undefined else set())
    assert present(fact) is (Truth.UNKNOWN if len(there) > 1 else truth_of(there == {True}))


@given(st.sampled_from(sorted(HOLDS)), st.data())
def test_what_is_settled_stays_settled_when_more_becomes_known(relation: str, data: st.DataObject) -> None:
    strategy = some.numbers() if relation in ORDERS else some.sets()
    left, right = data.draw(strategy), data.draw(some.sets() if relation not in ORDERS else strategy)
    if relation in MEMBERSHIPS:
        left = data.draw(some.words())
    answer = relate(relation, left, right)
    narrower = data.draw(st.sampled_from(list(outcomes(left))))
    if answer is not Truth.UNKNOWN:
        assert relate(relation, settled_on(narrower), right) is answer


def settled_on(outcome: Outcome) -> Possible:
    if outcome is None:
        return ABSENT
    if isinstance(outcome, frozenset):
        return several(outcome)
    return number(outcome) if isinstance(outcome, Fraction) else exactly(outcome)


@pytest.mark.parametrize("relation", ORDERS)
def test_a_word_is_never_above_or_below_a_number(relation: str) -> None:
    assert relate(relation, exactly("solid"), number(3)) is Truth.NO


def test_a_relation_that_does_not_exist_is_refused() -> None:
    with pytest.raises(KeyError):
        relate("resembles", number(1), number(1))


def test_examples_from_the_trade() -> None:
    assert relate("at_least", number(22_000), between(8000, 12_000)) is Truth.YES
    assert relate("at_least", number(10_000), between(8000, 12_000)) is Truth.UNKNOWN
    assert relate("at_least", number(5000), between(8000, 12_000)) is Truth.NO
    assert relate("is", one_of(["solid", "switched"]), exactly("solid")) is Truth.UNKNOWN
    assert relate("is_not", ANY_WORD, exactly("solid")) is Truth.UNKNOWN
    assert relate("at_least", undefined("The table ends at 500 ft."), number(1)) is Truth.UNKNOWN
