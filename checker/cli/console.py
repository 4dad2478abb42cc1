"""Where commands print: results to standard output, problems to standard error."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable

from checker.report.safe import harmless
from checker.values.problems import Problem


def result(text: str) -> None:
    """Print a result as it is, in UTF-8 whatever the locale."""
    stream = sys.stdout
    if hasattr(stream, "buffer"):
        stream.flush()
        stream.buffer.write(text.encode("utf-8", "replace"))
        stream.buffer.flush()
    else:
        stream.write(text)


def problems(found: Iterable[Problem]) -> None:
    """Print each problem: one sentence, then where, then what to do."""
    for problem in found:
        lines = [problem.sentence]
        if problem.at is not None:
            lines.append(f"  at {problem.at}")
        if problem.remedy:
            lines.append(f"  {problem.remedy}")
        if problem.near:
            lines.append(f"  Nearest valid name: {problem.near}")
        say("\n".join(lines))


def say(text: str) -> None:
    """One message to a person beside the result."""
    sys.stderr.write(harmless(text) + "\n")


def on_terminal() -> bool:
    """Whether a person reads standard output on a terminal that shows weights."""
    return sys.stdout.isatty() and os.environ.get("TERM", "dumb") != "dumb" and "NO_COLOR" not in os.environ


def can_print_marks() -> bool:
    """Whether marks can be printed: always in a file or pipe, which are UTF-8; on a terminal if its encoding is."""
    return not sys.stdout.isatty() or (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"
