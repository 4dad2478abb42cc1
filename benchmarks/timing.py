"""Several pieces of work measured in turn, round after round, so that what else the machine does meets all alike."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from statistics import median

_LEAST_SECONDS = 0.02


@dataclass(frozen=True, slots=True)
class Spread:
    """Seconds of one piece of work over all rounds."""

    least: float
    middle: float
    most: float

    @staticmethod
    def of(seconds: list[float]) -> Spread:
        return Spread(min(seconds), median(seconds), max(seconds))

    def over(self, base: Spread) -> float:
        """How many times the base it takes, middle over middle."""
        return self.middle / base.middle


def in_turn(work: Mapping[str, Callable[[], float]], rounds: int) -> dict[str, Spread]:
    """Each piece of work once a round; it returns the seconds it took. The first round warms up and is not counted."""
    taken: dict[str, list[float]] = {name: [] for name in work}
    for turn in range(rounds + 1):
        for name, measure in work.items():
            seconds = measure()
            if turn:
                taken[name].append(seconds)
    return {name: Spread.of(seconds) for name, seconds in taken.items()}


def repeated(work: Callable[[], object]) -> Callable[[], float]:
    """Measures processor seconds of one call, taken from as many calls as the clock needs."""
    calls = 1
    while _seconds(work, calls) < _LEAST_SECONDS:
        calls *= 2
    return lambda: _seconds(work, calls) / calls


def _seconds(work: Callable[[], object], calls: int) -> float:
    start = time.process_time()
    for _ in range(calls):
        work()
    return time.process_time() - start
