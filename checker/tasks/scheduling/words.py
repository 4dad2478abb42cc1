"""What is left of a fact in words: "at least 200 A; next standard size 200 A"."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction

from checker.catalog.model import Fact, ValueType
from checker.catalog.wording import one_number, value_text
from checker.tasks.scheduling.trying import Tried
from checker.values.possible import Possible, Span, merged_spans

FEW = 4
"""So many words are listed at most before the ones that fall away are shorter to tell."""

NONE_LEFT = "nothing is left: no choice of it alone cures what the notes say"


def left_words(
    fact: Fact,
    tried: Sequence[Tried],
    stays: Callable[[Tried], bool],
    sizes: Sequence[Fraction] = (),
    *,
    only_sizes: bool = False,
) -> str:
    """What stays of all that was tried; empty where everything does. Of sizes alone where no other is bought."""
    left = [each.value for each in tried if stays(each)]
    if len(left) == len(tried):
        return ""
    if not left:
        return NONE_LEFT
    gone = [each.value for each in tried if not stays(each)]
    if fact.type is ValueType.QUANTITY and only_sizes and sizes:
        return _by_size(fact, left, tried, sizes)
    if fact.type is ValueType.QUANTITY:
        return _numbers(fact, left, tried, sizes)
    if fact.type in (ValueType.WIRE_SIZE, ValueType.COUNT):
        return _steps(fact, left, [each.value for each in tried])
    if fact.several:
        return _sets(fact, left, gone)
    return _choices(fact, left, gone)


def _choices(fact: Fact, left: Sequence[Possible], gone: Sequence[Possible]) -> str:
    if len(left) > FEW and len(gone) < len(left):
        return f"anything but {' or '.join(value_text(fact, each) for each in gone)}"
    return " or ".join(value_text(fact, each) for each in left)


def _sets(fact: Fact, left: Sequence[Possible], gone: Sequence[Possible]) -> str:
    """Sets by what all that are left hold and what none of them holds, where that says everything."""
    there = [each.sets[0].surely for each in left if each.sets]
    if not there or len(there) < len(left):
        return _choices(fact, left, gone)
    with_all = frozenset.intersection(*there)
    with_any = frozenset.union(*there)
    said = [each for each in fact.choices if each in with_all]
    never = [each for each in fact.choices if each not in with_any]
    allowed = [each.sets[0].surely for each in (*left, *gone) if each.sets]
    if sum(with_all <= each <= with_any for each in allowed) != len(left):
        return _choices(fact, left, gone)
    parts = [f"with {_named(fact, said)}"] if said else []
    parts += [f"without {_named(fact, never)}"] if never else []
    return ", ".join(parts) or "at least one of them"


def _named(fact: Fact, words: Iterable[str]) -> str:
    return " and ".join(fact.choices[word] for word in words)


def _steps(fact: Fact, left: Sequence[Possible], every: Sequence[Possible]) -> str:
    """Sizes and counts: where what is left is all from one size up, or up to one, by that end."""
    steps = sorted(each.spans[0].low for each in every if each.spans and each.spans[0].low is not None)
    mine = sorted(each.spans[0].low for each in left if each.spans and each.spans[0].low is not None)
    return " or ".join([*_runs(fact, mine, steps), *(["none"] if any(each.absent for each in left) else [])])


def _runs(fact: Fact, mine: Sequence[Fraction], steps: Sequence[Fraction]) -> list[str]:
    """Steps that follow one another, each row of them by its ends."""
    rows: list[list[int]] = []
    for place in (steps.index(each) for each in mine):
        if rows and rows[-1][-1] == place - 1:
            rows[-1].append(place)
        else:
            rows.append([place])
    return [_run(fact, row, steps) for row in rows]


def _run(fact: Fact, row: Sequence[int], steps: Sequence[Fraction]) -> str:
    low, high = (one_number(fact, steps[place], fact.unit) for place in (row[0], row[-1]))
    if len(row) == len(steps):
        return "any but none"
    if row[-1] == len(steps) - 1:
        return f"at least {low}"
    if low == high:
        return low
    return f"at most {high}" if row[0] == 0 else f"{low} to {high}"


def _by_size(fact: Fact, left: Sequence[Possible], tried: Sequence[Tried], sizes: Sequence[Fraction]) -> str:
    """Which standard sizes are left; by numbers where none is."""
    steps = sorted(size for size in sizes if any(span.holds(size) for each in tried for span in each.value.spans))
    mine = [size for size in steps if any(span.holds(size) for each in left for span in each.spans)]
    if not mine:
        return _numbers(fact, left, tried, ())
    if len(mine) == len(steps):
        return ""
    return " or ".join([*_runs(fact, mine, steps), *(["none"] if any(each.absent for each in left) else [])])


def _numbers(fact: Fact, left: Sequence[Possible], tried: Sequence[Tried], sizes: Sequence[Fraction]) -> str:
    ends = [span for each in tried for span in each.value.spans]
    lowest, highest = ends[0].low, ends[-1].high
    spans = merged_spans(span for each in left for span in each.spans)
    words = [_span(fact, span, lowest, highest) for span in spans]
    if any(each.absent for each in left):
        words.append("none")
    text = " or ".join(words)
    return "; ".join([text, *_standard(fact, spans, (lowest, highest), sizes)])


def _span(fact: Fact, span: Span, lowest: Fraction | None, highest: Fraction | None) -> str:
    def text(value: Fraction | None) -> str:
        return one_number(fact, value, fact.unit) if value is not None else ""

    if span.low == span.high:
        return text(span.low)
    above = "" if span.low == lowest else f"{'more than' if span.low_open else 'at least'} {text(span.low)}"
    below = "" if span.high == highest else f"{'less than' if span.high_open else 'at most'} {text(span.high)}"
    return " and ".join(part for part in (above, below) if part) or "any but none"


def _standard(
    fact: Fact, spans: Sequence[Span], ends: tuple[Fraction | None, Fraction | None], sizes: Sequence[Fraction]
) -> list[str]:
    """The smallest standard size that is left, where something bounds the fact from below; otherwise the largest, where
    something bounds it from above.
    """
    fitting = sorted(size for size in sizes if any(span.holds(size) for span in spans))
    if not fitting:
        return []
    if spans[0].low != ends[0]:
        return [f"next standard size {one_number(fact, fitting[0], fact.unit)}"]
    return [f"largest standard size {one_number(fact, fitting[-1], fact.unit)}"] if spans[-1].high != ends[1] else []
