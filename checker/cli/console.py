"""Where commands print: results to standard output, problems to standard error."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable
from contextlib import suppress
from time import monotonic
from typing import TextIO

from checker.report.folded import folded
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
    for each in folded(found):
        problem, lines = each.problem, [each.problem.sentence]
        if problem.at is not None:
            lines.append(f"  at {problem.at}")
        if problem.remedy:
            lines.append(f"  {problem.remedy}")
        if problem.near:
            lines.append(f"  Nearest valid name: {problem.near}")
        if each.also:
            lines.append(f"  {each.also_words}")
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


def at_work(text: str) -> None:
    """One plain line to a person on a terminal before something takes a while, which a serial line and a screen reader
    take as well; nothing where standard error is no terminal.
    """
    if sys.stderr is not None and sys.stderr.isatty():
        say(text)


class Progress:
    """One line on a terminal that says how far long work is, written over and over, and gone before anything else is
    printed. Nothing at all where standard error is no terminal.
    """

    def __init__(self) -> None:
        shown = sys.stderr is not None and sys.stderr.isatty() and os.environ.get("TERM", "dumb") != "dumb"
        self._stream = sys.stderr if shown else None
        self._last = 0.0

    def tell(self, text: str) -> None:
        """Show this line in place of the one before, a few times a second at most."""
        now = monotonic()
        if self._stream is None or now - self._last < _AT_MOST_EVERY:
            return
        self._last = now
        self._write(f"\r\x1b[2K{harmless(text)[:_PROGRESS_WIDTH]}")

    def clear(self) -> None:
        """Take the line away."""
        if self._stream is not None and self._last:
            self._write("\r\x1b[2K")
            self._last = 0.0

    def _write(self, text: str) -> None:
        with suppress(OSError, ValueError):
            assert self._stream is not None
            self._stream.write(text)
            self._stream.flush()


_AT_MOST_EVERY = 0.1
"""Seconds between two lines of progress."""

_PROGRESS_WIDTH = 78
"""Columns of a line of progress, so that it stands on one line of a common terminal."""


def _is_terminal() -> bool:
    return sys.stdout is not None and sys.stdout.isatty()


def on_terminal() -> bool:
    """Whether a person reads standard output on a terminal that shows weights."""
    return _is_terminal() and os.environ.get("TERM", "dumb") != "dumb" and not os.environ.get("NO_COLOR")


def can_print_marks() -> bool:
    """Whether marks can be printed: always in a file or pipe, which are UTF-8; on a terminal if its encoding is."""
    return not _is_terminal() or (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"
