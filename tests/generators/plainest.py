"""Makes what failed smaller: fewer choices, and plainer ones, as long as it still fails."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

Steps = tuple[int, ...]
Fails = Callable[[Steps], bool]

MOST_TRIES = 1500
"""A limit of effort; what is found by then is small enough to read."""


def plainest(steps: Sequence[int], fails: Fails) -> Steps:
    """A shorter list of smaller steps that fails too; ``steps`` itself where none was found. It must fail."""
    best = tuple(steps)
    tries = 0
    size = max(1, len(best) // 2)
    while size and tries < MOST_TRIES:
        changed = False
        for candidate in _candidates(best, size):
            tries += 1
            if tries > MOST_TRIES:
                break
            if _is_plainer(candidate, best) and fails(candidate):
                best, changed = candidate, True
                break
        if not changed:
            size //= 2
    return best


def _is_plainer(candidate: Steps, best: Steps) -> bool:
    return (len(candidate), sum(candidate)) < (len(best), sum(best))


def _candidates(steps: Steps, size: int) -> Iterator[Steps]:
    """The same without so many steps in a row, with them at their smallest, or each halved."""
    starts = range(len(steps) - size, -1, -size)
    for start in starts:
        yield steps[:start] + steps[start + size :]
    for start in starts:
        yield (*steps[:start], *(0 for _ in range(size)), *steps[start + size :])
    for start in starts:
        yield (*steps[:start], *(step // 2 for step in steps[start : start + size]), *steps[start + size :])
