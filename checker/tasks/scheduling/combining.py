"""Which combinations of facts somebody would order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from checker.catalog.model import Fact
from checker.facts.known import Leaf
from checker.tasks.scheduling.model import Combination
from checker.tasks.scheduling.trying import Trial


@dataclass(frozen=True, slots=True)
class Group:
    """Facts that hang together: the last one is told for each combination of the first.

    ``elsewhere`` are rules missed as drawn that no combination settles, ``whatever`` those of the first facts alone
    that turn down every combination.
    """

    first: tuple[Leaf, ...]
    last: Leaf
    facts: tuple[Fact, ...]
    elsewhere: frozenset[int] = frozenset()
    whatever: frozenset[int] = frozenset()

    @property
    def leaves(self) -> frozenset[Leaf]:
        """All of them."""
        return frozenset((*self.first, self.last))


def leaves_something(trial: Trial) -> bool:
    """Whether some value is turned down by no rule; a fact that no rule bounds is left as a whole."""
    return not trial.tried or any(not each.verdict.corrected for each in trial.tried)


def never_cured(trials: Sequence[Trial]) -> frozenset[int]:
    """Rules that turn down every value in every combination."""
    every = [trial.never_cured for trial in trials if trial.tried]
    return frozenset.intersection(*every) if every and len(every) == len(trials) else frozenset()


def marked_as_more(
    combinations: Sequence[Combination], first: Sequence[Leaf], no_more: Sequence[str]
) -> list[Combination]:
    """Combinations with more of something than another that is left and has everything else alike are marked."""
    found = list(combinations)
    for place, leaf in enumerate(first):
        if leaf.name in no_more:
            found = [replace(each, is_more=each.is_more or _has_more(each, found, place)) for each in found]
    return found


def _has_more(mine: Combination, among: Sequence[Combination], place: int) -> bool:
    others = (each for each in among if not each.turned_down and _elsewhere(each, place) == _elsewhere(mine, place))
    number = mine.values[place].number
    fewer = (each.values[place].number for each in others)
    return number is not None and any(each is not None and each < number for each in fewer)


def _elsewhere(each: Combination, place: int) -> tuple[str, ...]:
    return (*each.given[:place], *each.given[place + 1 :])
