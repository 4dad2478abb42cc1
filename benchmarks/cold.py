"""The program from nothing: a new process for every measurement, byte code cached, as it is once installed."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Mapping
from pathlib import Path

from benchmarks.timing import Spread, in_turn
from checker.files.cache import SWITCH

ROOT = Path(__file__).resolve().parents[1]
EXAMPLE = "fixtures/harrow-lane/site.yaml"
PASS = "python -c pass"
_PARTS = Path(__file__).with_name("parts.py")


def cold(rounds: int) -> dict[str, Spread]:
    """Processor seconds of whole commands."""
    with tempfile.TemporaryDirectory() as folder:
        kept, fresh = _surroundings(Path(folder)), {**_surroundings(Path(folder)), SWITCH: "1"}
        review = ("-m", "checker", "review", EXAMPLE)
        return in_turn(
            {
                PASS: _command(kept, "-c", "pass"),
                "--version": _command(kept, "-m", "checker", "--version"),
                "review, packs from the cache": _command(kept, *review),
                "review --format json": _command(kept, *review, "--format", "json"),
                "review, packs from YAML": _command(fresh, *review),
            },
            rounds,
        )


def parts(rounds: int) -> tuple[dict[str, Spread], dict[str, Spread]]:
    """Processor seconds of each part of a review in a new process: with the packs in the cache, and without a cache."""
    with tempfile.TemporaryDirectory() as folder:
        kept, fresh = _surroundings(Path(folder)), {**_surroundings(Path(folder)), SWITCH: "1"}
        found = [(_in_parts(kept), _in_parts(fresh)) for _ in range(rounds + 1)][1:]
    return tuple(_by_part([pair[place] for pair in found]) for place in (0, 1))  # type: ignore[return-value]


def _by_part(rounds: list[Mapping[str, float]]) -> dict[str, Spread]:
    return {name: Spread.of([each[name] for each in rounds]) for name in rounds[0]}


def _surroundings(folder: Path) -> dict[str, str]:
    """The variables of the new process: byte code and cache in a folder of their own."""
    own = {name: value for name, value in os.environ.items() if name not in ("PYTHONDONTWRITEBYTECODE", SWITCH)}
    return {
        **own,
        "PYTHONPATH": str(ROOT),
        "PYTHONPYCACHEPREFIX": str(folder / "byte-code"),
        "XDG_CACHE_HOME": str(folder / "cache"),
    }


def _command(surroundings: Mapping[str, str], *arguments: str) -> Callable[[], float]:
    return lambda: _run(surroundings, *arguments)[0]


def _in_parts(surroundings: Mapping[str, str]) -> Mapping[str, float]:
    found: dict[str, float] = json.loads(_run(surroundings, str(_PARTS), EXAMPLE)[1])
    return found


def _run(surroundings: Mapping[str, str], *arguments: str) -> tuple[float, str]:
    """Processor seconds and output of one process; seconds on the wall where the system counts no others."""
    before, start = _used(), time.perf_counter()
    done = subprocess.run(
        (sys.executable, *arguments), cwd=ROOT, env=surroundings, capture_output=True, text=True, check=False
    )
    after, seconds = _used(), time.perf_counter() - start
    if done.returncode not in (0, 1, 3) or "Traceback" in done.stderr:
        raise RuntimeError(f"{' '.join(arguments)} ended with {done.returncode}:\n{done.stderr}")
    return after - before or seconds, done.stdout


def _used() -> float:
    """Processor seconds of all processes started so far that have ended; 0 where the system does not count them."""
    try:
        import resource
    except ImportError:
        return 0.0
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime
