"""Problems that one mistake brings about at several places, told once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from checker.values.positions import Position
from checker.values.problems import Problem

_MOST_PLACES = 5


@dataclass(frozen=True, slots=True)
class Folded:
    """A problem with the other places of the same file at which it says the same."""

    problem: Problem
    also: tuple[Position, ...] = ()

    @property
    def also_words(self) -> str:
        """The other places in words; empty where there are none."""
        if not self.also:
            return ""
        more = f" and at {len(self.also) - _MOST_PLACES} more places" if len(self.also) > _MOST_PLACES else ""
        return f"The same at {', '.join(map(str, self.also[:_MOST_PLACES]))}{more}."


def folded(problems: Iterable[Problem]) -> Sequence[Folded]:
    """The problems in their order, each sentence of a file once."""
    together: dict[tuple[str, str, str, str | None], list[Problem]] = {}
    for each in problems:
        file = "" if each.at is None else each.at.file
        together.setdefault((file, each.sentence, each.remedy, each.near), []).append(each)
    return [
        Folded(found[0], tuple(each.at for each in found[1:] if each.at is not None)) for found in together.values()
    ]
