"""From the events of a YAML text to nodes; collects every problem on the way instead of stopping at the first."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from yaml.error import Mark
from yaml.events import (
    AliasEvent,
    DocumentEndEvent,
    DocumentStartEvent,
    Event,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from checker.files.limits import Limits
from checker.files.yaml import lost_text, refused
from checker.files.yaml.events import end_of, is_block, is_quoted, start_of
from checker.files.yaml.inspection import Inspection
from checker.files.yaml.lost_text import Span
from checker.files.yaml.open_nodes import OpenNode, WaitingKey
from checker.files.yaml.source import Source
from checker.files.yaml.tree import Node, Scalar
from checker.values.positions import Position
from checker.values.problems import Problem

# A person mends a few dozen problems and checks again.
MOST_PROBLEMS = 100
_COLON = re.compile(r"\s*:")
_QUESTION_MARK = re.compile(r"(?:^|(?<=[\s\[{,:-]))\?(?=\s|$)", re.MULTILINE)
_COMMENT = re.compile(r"#[^\n]*")
_HASH_IN_BRACKETS = re.compile(r"[\[{,](?:#|[ \t]*#[0-9])|:[ \t]+#[0-9]")
_BEFORE_ENTRY = re.compile(r"[ -]*")


class LimitReached(Exception):
    """The file is larger than we read; carries the one problem that says so."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        super().__init__(problem.sentence)


class TreeBuilder:
    """Takes the events of the text of ``source`` and keeps the finished documents and all problems."""

    def __init__(self, source: Source, limits: Limits, single: bool) -> None:
        self.documents: list[Node] = []
        self.problems: list[Problem] = []
        # Start of the line of the key read last in block style: from here a scan can begin afresh.
        self.resume_at = 0
        self._source = source
        self._limits = limits
        self._single = single
        self._inspect = Inspection(source, limits)
        self._stack: list[OpenNode] = []
        self._begun_documents = 0
        self._values = 0
        self._has_lost_items = _HASH_IN_BRACKETS.search(source.text) is not None
        self._has_question_marks = _QUESTION_MARK.search(source.text) is not None
        self._previous_end = 0
        self._take: dict[type[Event], Callable[[Any], None]] = {
            ScalarEvent: self._scalar,
            MappingStartEvent: self._open,
            SequenceStartEvent: self._open,
            MappingEndEvent: self._close,
            SequenceEndEvent: self._close,
            AliasEvent: self._alias,
            DocumentStartEvent: self._open_document,
            DocumentEndEvent: self._close_document,
        }

    def feed(self, event: Event) -> None:
        """Take the next event; raises LimitReached where the text is too deep, too much or has too many problems."""
        take = self._take.get(event.__class__)
        if take is None:
            return
        if self._has_lost_items and self._stack and self._stack[-1].in_flow:
            self._check_gap(event)
        take(event)
        if len(self.problems) > MOST_PROBLEMS:
            raise LimitReached(refused.more_problems(self._at(end_of(event))))
        if self._has_question_marks or self._has_lost_items:
            self._previous_end = end_of(event).index

    def _check_gap(self, event: Event) -> None:
        """What stands in brackets between the event before and this one, unless it was told as a missing value."""
        told = {problem.at for problem in self.problems}
        lost = self._inspect.lost_items(event, self._previous_end)
        self.problems.extend(problem for problem in lost if problem.at not in told)

    def _open_document(self, event: DocumentStartEvent) -> None:
        at = self._at(start_of(event))
        if self._source.text.startswith("%", start_of(event).index):
            self.problems.append(refused.directive(self._source, start_of(event).index))
        self._begun_documents += 1
        if self._single and self._begun_documents == 2:
            self.problems.append(refused.second_document(at))
        self._stack.append(OpenNode(at, is_mapping=False, in_flow=False))

    def _close_document(self, _: DocumentEndEvent) -> None:
        self.documents.append(self._stack.pop().only_item())

    def _open(self, event: MappingStartEvent | SequenceStartEvent) -> None:
        is_key = self._stack[-1].wants_key
        at = self._at(start_of(event))
        self._count(at)
        self.problems.extend(self._inspect.properties(event))
        if len(self._stack) > self._limits.depth:
            raise LimitReached(refused.too_deep(at, self._limits.depth))
        if is_key:
            self.problems.append(refused.complex_key(at))
        self._stack.append(OpenNode(at, isinstance(event, MappingStartEvent), bool(event.flow_style), is_key))

    def _close(self, event: MappingEndEvent | SequenceEndEvent) -> None:
        closed = self._stack.pop()
        parent = self._stack[-1]
        self._finish_cut(closed)
        parent.last = None
        if closed.in_flow:
            self.problems.extend(self._inspect.glued_comment(event))
        if closed.is_key:
            parent.key = self._refused_key(event)
        else:
            parent.put(closed.closed())

    def _alias(self, event: AliasEvent) -> None:
        parent = self._stack[-1]
        at = self._at(start_of(event))
        self.problems.append(refused.alias(self._source, start_of(event).index))
        parent.last = None
        if parent.wants_key:
            parent.key = self._refused_key(event)
        else:
            self._count(at)
            parent.put(Scalar("", at))

    def _scalar(self, event: ScalarEvent) -> None:
        parent = self._stack[-1]
        at = self._at(start_of(event))
        if parent.wants_key:
            self._key(event, at, parent)
        else:
            self._value(event, at, parent)

    def _value(self, event: ScalarEvent, at: Position, parent: OpenNode) -> None:
        self._count(at)
        quoted = is_quoted(event)
        if not event.value and not quoted:
            self.problems.extend(self._inspect.no_value(event, parent, is_document=len(self._stack) == 1))
        else:
            self._check_value(event, at, parent)
        # libyaml puts what is missing at the end of a text on a line after the last.
        line = self._source.lines[min(at.line, len(self._source.lines)) - 1]
        parent.put(Scalar(event.value, at, quoted, line, is_block(event)))

    def _check_value(self, event: ScalarEvent, at: Position, parent: OpenNode) -> None:
        self.problems.extend(self._inspect.properties(event))
        self.problems.extend(self._inspect.text(event, at))
        if is_quoted(event):
            self.problems.extend(self._inspect.glued_comment(event))
        elif is_block(event):
            self.problems.extend(self._inspect.block_header(event))
        else:
            self.problems.extend(self._inspect.cut(event, parent))
        parent.last = None if event.style else Span(start_of(event).index, end_of(event).index)

    def _key(self, event: ScalarEvent, at: Position, parent: OpenNode) -> None:
        start = start_of(event)
        span = Span(start.index, end_of(event).index)
        if not parent.in_flow and _BEFORE_ENTRY.fullmatch(self._source.lines[start.line], 0, start.column):
            self.resume_at = start.index - start.column
        if self._has_question_marks and self._follows_question_mark(span.start):
            parent.key = WaitingKey(None, at, span)
            return
        self._check_key(event, at)
        if parent.in_flow and not _COLON.match(self._source.text, span.end):
            parent.key = WaitingKey(event.value, at, span, has_colon=False)
            self._lone_text(event, span, parent)
            return
        self._finish_cut(parent)
        parent.key = WaitingKey(event.value, at, span)
        first = parent.first_places.setdefault(event.value, at)
        if first is not at and event.value.strip():
            self.problems.append(refused.duplicate_key(event.value, first, at))

    def _check_key(self, event: ScalarEvent, at: Position) -> None:
        if not event.value.strip():
            self.problems.append(refused.missing_key(at))
            return
        if event.value == "<<" and not event.style:
            self.problems.append(refused.merge_key(at))
        self.problems.extend(self._inspect.properties(event))
        self.problems.extend(self._inspect.text(event, at))

    def _follows_question_mark(self, start: int) -> bool:
        between = self._source.text[self._previous_end : start]
        blanked = _COMMENT.sub(lambda comment: " " * len(comment.group()), between)
        sign = blanked.find("?")
        if sign >= 0:
            self.problems.append(refused.question_mark(self._source, self._previous_end + sign))
        return sign >= 0

    def _lone_text(self, event: ScalarEvent, span: Span, parent: OpenNode) -> None:
        begin = parent.cut or parent.last
        if begin is None or event.style:
            self.problems.append(lost_text.lone_key(self._source, span))
        else:
            parent.cut = Span(begin.start, span.end)

    def _finish_cut(self, node: OpenNode) -> None:
        if node.cut is not None:
            self.problems.append(lost_text.cut_at_comma(self._source, node.cut, node.last_key))
            node.cut = None

    def _refused_key(self, event: Event) -> WaitingKey:
        mark = end_of(event)
        return WaitingKey(None, self._at(mark), Span(mark.index, mark.index))

    def _count(self, at: Position) -> None:
        self._values += 1
        if self._values > self._limits.nodes:
            raise LimitReached(refused.too_many(at, self._limits.nodes))

    def _at(self, mark: Mark) -> Position:
        return Position(self._source.file, mark.line + 1, mark.column + 1)
