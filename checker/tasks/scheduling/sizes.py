"""What is left of a size of conductors: the least that surely does, and what stays open below and above it.

A size is read as advice by whoever pulls the wire. So a size counts as the least only where every rule is sure of it;
what may do once more is known is told as open, with what is missing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from checker.catalog.model import Fact
from checker.catalog.wording import value_text
from checker.tasks.scheduling.trying import Tried
from checker.tasks.scheduling.words import NONE_LEFT
from checker.values.possible import Possible


@dataclass(frozen=True, slots=True)
class SizesLeft:
    """What is left in words, and the sizes that stand for each part of it.

    ``must`` is the least size that surely does, or the one shown where of others nothing is sure. ``undecided`` are
    sizes below it, or besides it, of which a rule cannot tell; empty words with sizes mean all that are left. ``never``
    is the smallest that may do at all. ``larger`` is the size above which more is asked of something else.
    ``whatever`` are rules that are open at the size told and that no larger one would help. ``least`` is the least
    size that does.
    """

    must: str = ""
    turned_down: tuple[Tried, ...] = ()
    undecided: str = ""
    open: tuple[Tried, ...] = ()
    never: str = ""
    larger: str = ""
    above: tuple[Tried, ...] = ()
    whatever: frozenset[int] = frozenset()
    least: Tried | None = None

    @property
    def without_least(self) -> SizesLeft:
        """The same where the least turns out to be none: all from it up is open for what is open besides."""
        from_it = () if self.least is None else (self.least,)
        never = self.never or self.must.removeprefix(_AT_LEAST)
        return replace(self, must="", open=from_it, undecided="", never=never, whatever=frozenset())


_AT_LEAST = "at least "


def sizes_left(fact: Fact, tried: Sequence[Tried], shown: Possible) -> SizesLeft:
    """What is left of the sizes that were tried, the smallest first; none is no size."""
    sizes = [each for each in tried if each.value.spans]
    lower = _from_below(sizes)
    place = next((place for place, each in enumerate(sizes) if not _is_gone(each)), None)
    if place is None:
        return SizesLeft(NONE_LEFT, tuple(sizes)) if sizes else SizesLeft()
    below, rest = tuple(sizes[:place]), sizes[place:]
    never = _text(fact, rest[0]) if below else ""
    sure = [each for each in rest if _is_sure(each, lower)]
    if not sure:
        return SizesLeft(turned_down=below, open=_open_of(rest, lower), never=never, whatever=_besides(rest[0], lower))
    besides = _besides(sure[0], lower)
    if [each.value for each in sure] == [shown] and len(rest) > 1:
        return replace(_as_shown(fact, below, rest, sure[0], lower), never=never, whatever=besides)
    first = rest.index(sure[0])
    waiting, after = _open_of(rest[:first], lower), rest[first:]
    last = next((at for at, each in enumerate(after) if _is_gone(each) or _besides(each, lower) - besides), len(after))
    return SizesLeft(
        must=f"{_AT_LEAST}{_text(fact, sure[0])}" if below or waiting else "",
        turned_down=below,
        undecided="smaller sizes" if waiting else "",
        open=waiting,
        larger=_text(fact, after[last - 1]) if last < len(after) else "",
        above=tuple(after[last:]),
        whatever=besides,
        least=sure[0],
    )


_CORRECTED, _OPEN, _MET = range(3)


def _from_below(sizes: Sequence[Tried]) -> frozenset[int]:
    """The rules that some larger size satisfies better than a smaller one: what they wait for, a size waits for."""
    named = frozenset[int]().union(*(each.verdict.corrected | each.verdict.may_correct for each in sizes))
    return frozenset(
        rule for rule in named if any(_says(small, rule) < _says(large, rule) for small, large in pairwise(sizes))
    )


def _says(each: Tried, rule: int) -> int:
    if rule in each.verdict.corrected:
        return _CORRECTED
    return _OPEN if rule in each.verdict.may_correct else _MET


def _besides(each: Tried, lower: frozenset[int]) -> frozenset[int]:
    """Rules that are open at a size and that no larger one would help."""
    return each.verdict.may_correct - lower


def _as_shown(
    fact: Fact, below: tuple[Tried, ...], rest: Sequence[Tried], mine: Tried, lower: frozenset[int]
) -> SizesLeft:
    others = tuple(each for each in rest if each != mine)
    waiting = _open_of(others, lower)
    return SizesLeft(
        must=f"{_text(fact, mine)} as shown",
        turned_down=(*below, *(each for each in others if _is_gone(each))),
        undecided="other sizes" if waiting else "",
        open=waiting,
    )


def _is_gone(each: Tried) -> bool:
    return bool(each.verdict.corrected)


def _is_sure(each: Tried, lower: frozenset[int]) -> bool:
    return not each.verdict.corrected and not each.verdict.may_correct & lower


def _open_of(found: Sequence[Tried], lower: frozenset[int]) -> tuple[Tried, ...]:
    return tuple(each for each in found if not _is_gone(each) and not _is_sure(each, lower))


def _text(fact: Fact, each: Tried) -> str:
    return value_text(fact, each.value, fact.unit)
