"""Values that were tried, by what the rules come to with them: turned down, open, left."""

from __future__ import annotations

from collections.abc import Sequence

from checker.catalog.model import Fact, ValueType
from checker.catalog.wording import one_number
from checker.tasks.scheduling.trying import Trial, Tried
from checker.values.possible import Possible


def is_smaller(one: Tried | None, other: Tried | None) -> bool:
    """Whether the number of one is surely below that of the other."""
    low, high = (None if each is None else each.value.number for each in (one, other))
    return low is not None and high is not None and low < high


def is_one_sided(fact: Fact, trial: Trial, left: Sequence[Tried], told: Sequence[Tried]) -> bool:
    """Whether what surely does reaches to the end of what was tried to which all that is left reaches, and something is
    turned down at the other end; of words, whether something surely does.
    """
    if not fact.type.is_ordered:
        return bool(told)
    numbers = [each for each in trial.tried if each.value.spans and not is_an_end(fact, each, trial)]
    ends = (numbers[0], numbers[-1]) if numbers else ()
    return [each in told for each in ends] == [each in left for each in ends] in ([True, False], [False, True])


def is_an_end(fact: Fact, each: Tried, trial: Trial) -> bool:
    """Whether a number is only where what was tried of a quantity begins or ends."""
    numbers = [other for other in trial.tried if other.value.spans]
    return fact.type is ValueType.QUANTITY and len(numbers) > 1 and each in (numbers[0], numbers[-1])


def is_sliver(fact: Fact, each: Tried) -> bool:
    """Whether both ends of a stretch print as one number: what lies between is lost in rounding."""
    span = next(iter(each.value.spans), None)
    if span is None or span.is_point or span.low is None or span.high is None:
        return False
    return one_number(fact, span.low, fact.unit) == one_number(fact, span.high, fact.unit)


def corrected_by(each: Tried) -> frozenset[int]:
    """The rules that turn a value down."""
    return each.verdict.corrected


def open_to(each: Tried) -> frozenset[int]:
    """The rules that cannot tell of a value and may turn it down."""
    return each.verdict.may_correct


def told_of(left: Sequence[Tried]) -> list[Tried]:
    """What is left, without values of which a rule cannot tell that is met by others."""
    everywhere = frozenset.intersection(*map(open_to, left)) if left else frozenset()
    return [each for each in left if open_to(each) <= everywhere]


def stays(each: Tried) -> bool:
    """Whether no rule surely turns a value down."""
    return not each.verdict.corrected


def keeps(trial: Trial, shown: Possible) -> bool | None:
    """Whether what is shown is among what is left; None where that cannot be told of it."""
    told = told_of([each for each in trial.tried if stays(each)])
    for each in trial.tried:
        if is_in(shown, each.value):
            return False if not stays(each) else True if each in told else None
    return True if not trial.tried else None


def is_in(shown: Possible, value: Possible) -> bool:
    """Whether what is shown is a value that was tried, or lies on the stretch of it."""
    return value == shown or (shown.number is not None and any(span.holds(shown.number) for span in value.spans))


def is_no_figure(fact: Fact, shown: Possible) -> bool:
    """Whether a figure is shown as none, as the rating on a fuel that the set is not made for."""
    return fact.type is ValueType.QUANTITY and shown.only_absent
