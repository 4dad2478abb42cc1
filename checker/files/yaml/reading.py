"""Reading a text to its end: also past places where YAML breaks off, so that all problems are told at once."""

from __future__ import annotations

from dataclasses import dataclass

from yaml.error import YAMLError

from checker.files.forbidden import harmless
from checker.files.limits import Limits
from checker.files.yaml import refused
from checker.files.yaml.builder import MOST_PROBLEMS, LimitReached, TreeBuilder
from checker.files.yaml.characters import hidden_characters, leading_tabs
from checker.files.yaml.events import StreamMaker, fastest
from checker.files.yaml.lost_text import Span
from checker.files.yaml.source import Source, decoded
from checker.files.yaml.stop import COVER, Stop
from checker.files.yaml.tree import Node
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable

# How often, and how many characters in all, a text is read again after the place of a stop was covered.
_MOST_STOPS = 20
_MOST_READ_AGAIN = 2_000_000


@dataclass(frozen=True, slots=True)
class _Reading:
    """What came of a text; ``last`` is the problem at which reading stopped for good."""

    documents: tuple[Node, ...]
    problems: list[Problem]
    last: Problem | None = None


def parsed(
    content: str | bytes, file: str, limits: Limits, *, single: bool, events: StreamMaker | None = None
) -> tuple[Node, ...]:
    """All documents of a text, from the given maker of events or the fastest there is.

    Raises Unreadable with all problems in the order of the file; one that stops the reader comes last.
    """
    source = Source.of(file, decoded(content, file, limits))
    hidden = hidden_characters(source, MOST_PROBLEMS)
    tabs = leading_tabs(source)
    if tabs is not None:
        # What a line indented with tabs belongs to cannot be known, so nothing is read.
        raise Unreadable(_in_order([*hidden, tabs]))
    reading = _read(source.reading(harmless(source.typed)), limits, single, events or fastest())
    problems = _in_order([*hidden, *reading.problems])
    if reading.last is not None:
        problems.append(reading.last)
    if problems:
        raise Unreadable(problems)
    if not reading.documents:
        raise Unreadable([refused.empty_file(file, has_comments=bool(source.typed.strip()))])
    return reading.documents


def _read(source: Source, limits: Limits, single: bool, events: StreamMaker) -> _Reading:
    """Read to the end; where the text breaks off, cover the place if that helps and read again."""
    stopped_at: list[Problem] = []
    while True:
        builder = TreeBuilder(source, limits, single)
        stop = _feed(builder, source, limits, events)
        problems = _without_echoes(stopped_at, builder.problems)
        if stop is None:
            return _Reading(tuple(builder.documents), problems)
        if stop.cover is None or _is_enough(source, stopped_at):
            problems = [problem for problem in problems if problem.at != stop.problem.at]
            is_echo = _line(stop.problem) in map(_line, stopped_at)
            return _Reading((), problems, None if is_echo else stop.problem)
        stopped_at.append(stop.problem)
        source = _covered(source, stop.cover, stop.filler)


def _feed(builder: TreeBuilder, source: Source, limits: Limits, events: StreamMaker) -> Stop | None:
    """Give all events to the builder; the stop if they do not come to an end."""
    try:
        stream = events(source.text)
        while (event := stream.get_event()) is not None:
            builder.feed(event)
    except LimitReached as reached:
        return Stop(reached.problem)
    except YAMLError as error:
        from checker.files.yaml.explanations import explain  # only a text that breaks off needs it

        return explain(source, error, builder.resume_at, limits)
    return None


def _is_enough(source: Source, stopped_at: list[Problem]) -> bool:
    return len(stopped_at) == _MOST_STOPS or len(source.text) * (len(stopped_at) + 1) > _MOST_READ_AGAIN


def _covered(source: Source, place: Span, filler: str) -> Source:
    text = source.text[: place.start] + filler * (place.end - place.start) + source.text[place.end :]
    return source.reading(text)


def _without_echoes(stopped_at: list[Problem], others: list[Problem]) -> list[Problem]:
    """All problems, but of a line with a covered place only its first stop, and none that shows the cover itself."""
    if not stopped_at:
        return others
    first_of_line = {_line(problem): problem for problem in reversed(stopped_at)}
    real = [problem for problem in others if _line(problem) not in first_of_line and COVER not in str(problem)]
    return [*first_of_line.values(), *real]


def _line(problem: Problem) -> int:
    return problem.at.line if problem.at else 0


def _in_order(problems: list[Problem]) -> list[Problem]:
    return sorted(problems, key=lambda problem: problem.at or Position("", 0, 0))
