"""Measures the checker against simple yardsticks and prints one table of ratios.

Usage: python benchmarks/run.py [--rounds N]
"""

from __future__ import annotations

import argparse
import os
import platform
import sys
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmarks import cold, electrical, engineering, loading, notation, rules
from benchmarks.timing import Spread

Row = tuple[str, str, str, str, str]
HEADS = ("", "min", "median", "max", "ratio")


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--rounds", type=int, default=9, help="how often each piece of work is measured (default 9)")
    rounds: int = parser.parse_args().rounds
    if rounds < 1:
        parser.error("at least one round is needed")
    for line in _report(rounds):
        print(line, flush=True)
    return 0


def _report(rounds: int) -> Iterator[str]:
    yield f"Python {platform.python_version()}, {os.cpu_count()} cores, {rounds} rounds in turn, processor time.\n"
    yield from _cold(rounds)
    yield from _loading(rounds)
    yield from _rules(rounds)
    worked = electrical.electrical(rounds)
    yield _table("Conductors and faults, over the full-load current", worked, worked[electrical.BASE])
    read = notation.reading(rounds)
    yield _table("Notation, one quantity, over float()", read, read[notation.FLOAT])
    worked = engineering.engineering(rounds)
    yield _table("Calculations, over the full-load current", worked, worked[engineering.BASE])


def _cold(rounds: int) -> Iterator[str]:
    commands = cold.cold(rounds)
    base = commands[cold.PASS]
    yield _table("Cold start, whole commands, over python -c pass", commands, base)
    kept, fresh = cold.parts(rounds)
    yield _table("Cold review in parts, cache filled, over python -c pass", kept, base)
    yield _table("Cold review in parts, no cache, over python -c pass", fresh, base)


def _loading(rounds: int) -> Iterator[str]:
    read = loading.loading(rounds)
    for title, base in (("pack", loading.PACK), ("site", loading.SITE)):
        own = {name: spread for name, spread in read.items() if name.startswith(f"{title}:")}
        yield _table(f"Loading a {title}, over yaml.CSafeLoader on the same files", own, read[base])


def _rules(rounds: int) -> Iterator[str]:
    found = rules.compared(rounds)
    few = {name: found.spreads[name] for name in (rules.BY_HAND, rules.ENGINE, rules.WITH_FINDINGS)}
    title = f"Warm, {found.rules} rules on {found.pairs} subjects of the example, over the same by hand"
    yield _table(title, few, found.spreads[rules.BY_HAND])
    every = {name: found.spreads[name] for name in (rules.ALL_OUTCOMES, rules.ALL_FINDINGS)}
    title = f"Warm, all rules, {found.all_pairs} findings, over the {found.rules} rules by hand"
    yield _table(title, every, few[rules.BY_HAND])
    if found.differing:
        yield f"By hand and by the engine the answers differ for {_listed(found.differing)}: the twin is out of date.\n"
    else:
        yield "By hand and by the engine every answer is the same.\n"


def _listed(pairs: Iterable[tuple[str, str]]) -> str:
    return ", ".join(f"{rule} of {subject}" for rule, subject in pairs)


def _table(title: str, spreads: Mapping[str, Spread], base: Spread) -> str:
    rows = [HEADS, *(_row(name, spread, base) for name, spread in spreads.items())]
    return "\n".join((title, *(_line(*row) for row in rows), ""))


def _line(name: str, *figures: str) -> str:
    return name.ljust(_NAME) + "".join(figure.rjust(_FIGURE) for figure in figures)


_NAME, _FIGURE = 34, 11


def _row(name: str, spread: Spread, base: Spread) -> Row:
    return name, _time(spread.least), _time(spread.middle), _time(spread.most), f"x{_short(spread.over(base))}"


def _time(seconds: float) -> str:
    return f"{_short(seconds * 1e3)} ms" if seconds >= 1e-4 else f"{_short(seconds * 1e6)} us"


def _short(number: float) -> str:
    """A number with three digits at most that say something."""
    return f"{number:.0f}" if number >= 100 else f"{number:.3g}"


if __name__ == "__main__":
    sys.exit(main())
