"""Where commands print: results to standard output, problems to standard error."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable
from contextlib import suppress
from typing import TextIO

from checker.report.safe import harmless
from checker.values.problems import Problem


class NotWritten(Exception):
    """Standard output could not be written; the text says why, and is empty where whoever read it has seen enough and
    left.
    """


def result(text: str) -> None:
    """Print a result as it is, in UTF-8 whatever the locale. Raises NotWritten."""
    stream = sys.stdout
    if stream is None:
        raise NotWritten("standard output is closed")
    try:
        _write(stream, text)
    except OSError as error:
        _drop(stream)
        raise NotWritten("" if isinstance(error, BrokenPipeError) else error.strerror) from None


def _write(stream: TextIO, text: str) -> None:
    if hasattr(stream, "buffer"):
        stream.flush()
        stream.buffer.write(text.encode("utf-8", "replace"))
        stream.buffer.flush()
    else:
        stream.write(text)


def _drop(stream: TextIO) -> None:
    """Let nothing more go to a stream that cannot be written: what is left there would be tried again at the end."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


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
    if sys.stderr is None:
        return
    try:
        sys.stderr.write(harmless(text) + "\n")
    except OSError:
        # The exit status still tells that something is wrong.
        _drop(sys.stderr)


def _is_terminal() -> bool:
    return sys.stdout is not None and sys.stdout.isatty()


def on_terminal() -> bool:
    """Whether a person reads standard output on a terminal that shows weights."""
    return _is_terminal() and os.environ.get("TERM", "dumb") != "dumb" and not os.environ.get("NO_COLOR")


def can_print_marks() -> bool:
    """Whether marks can be printed: always in a file or pipe, which are UTF-8; on a terminal if its encoding is."""
    return not _is_terminal() or (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"
