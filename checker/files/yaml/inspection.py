"""What is wrong with a single text, key or missing value, told from its event and the text around it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from yaml.events import Event, NodeEvent, ScalarEvent

from checker.files.limits import Limits
from checker.files.yaml import lost_text, refused
from checker.files.yaml.characters import hidden_in_text, tab_in_text
from checker.files.yaml.events import end_of, is_block, start_of
from checker.files.yaml.lost_text import Span
from checker.files.yaml.open_nodes import OpenNode, WaitingKey
from checker.files.yaml.source import Source
from checker.values.positions import Position
from checker.values.problems import Problem

_COMMENT = re.compile(r"#[^\n]*")
_BEFORE_LOST_ITEM = re.compile(r"[\[{,:][ \t]*$")
_GLUED_HEADER = re.compile(r"[|>][-+0-9]*#")
_GLUED_HASH = re.compile(r"[ \t]#[^\s#]")
_HASH_AFTER_COLON = re.compile(r"\s*:[ \t]*(?=#)")
_HASH_AFTER_DASH = re.compile(r"[ \t]*(?=#)")


class Inspection:
    """Looks at one file."""

    def __init__(self, source: Source, limits: Limits) -> None:
        self._source = source
        self._limits = limits
        self._has_tabs = "\t" in source.typed
        self._glued_hash_lines = {source.line_of(match.start()) for match in _GLUED_HASH.finditer(source.text)}

    def properties(self, event: NodeEvent) -> Iterator[Problem]:
        """An anchor or a type before a node."""
        if event.anchor is not None:
            yield refused.anchor(self._source, self._source.text.index("&", start_of(event).index))
        if getattr(event, "tag", None) is not None:
            yield refused.tag(self._source, self._source.text.index("!", start_of(event).index))

    def text(self, event: ScalarEvent, at: Position) -> Iterator[Problem]:
        """Hidden characters, tabs and too great a length of a key or value."""
        block = is_block(event)
        if not event.value.isprintable():
            yield from hidden_in_text(event.value, at, block)
        if len(event.value) > self._limits.text:
            yield refused.long_text(at, self._limits.text)
        if self._has_tabs:
            yield from self._tabs(Span(start_of(event).index, end_of(event).index), block)

    def glued_comment(self, event: Event) -> Iterator[Problem]:
        """A comment that touches the closing quote or bracket."""
        if self._source.text.startswith("#", end_of(event).index):
            yield lost_text.glued_to_close(self._source, end_of(event).index)

    def block_header(self, event: ScalarEvent) -> Iterator[Problem]:
        """A comment that touches ``|`` or ``>``."""
        start = start_of(event).index
        if _GLUED_HEADER.match(self._source.text, start):
            yield refused.begins_with(self._source, start, self._source.line_end(start))

    def lost_items(self, event: Event, previous_end: int) -> Iterator[Problem]:
        """Values in brackets that are read as comments, between the event before and this one."""
        if isinstance(event, ScalarEvent) and not event.value and not event.style:
            return  # told as a missing value
        gap = Span(previous_end, start_of(event).index)
        for comment in _COMMENT.finditer(self._source.text, gap.start, gap.end):
            hash_at = comment.start()
            before = _BEFORE_LOST_ITEM.search(self._source.text, self._source.line_start(hash_at), hash_at)
            if before and (before.group().endswith(("[", "{", ",")) or comment.group()[1:2].isdigit()):
                yield lost_text.item_lost_to_hash(self._source, hash_at)

    def cut(self, event: ScalarEvent, parent: OpenNode) -> Iterator[Problem]:
        """Whether a plain value is only a part of what was typed."""
        value = Span(start_of(event).index, end_of(event).index)
        problem = None
        if end_of(event).line + 1 in self._glued_hash_lines:
            problem = lost_text.cut_at_hash(self._source, value, parent.key_text, parent.in_flow)
        if parent.in_flow and not parent.is_mapping and parent.last is not None:
            problem = problem or lost_text.cut_at_thousands(self._source, parent.last, value)
        if problem:
            yield problem

    def no_value(self, event: ScalarEvent, parent: OpenNode, is_document: bool) -> Iterator[Problem]:
        """Why there is nothing where a value belongs."""
        if event.anchor or event.tag:
            yield from self.properties(event)
        elif is_document:
            yield refused.empty_document(parent.at)
        elif parent.key is None:
            yield self._no_item(start_of(event).index, parent.in_flow)
        elif parent.key.text and parent.key.has_colon:
            yield self._nothing_under(parent.key, parent.key.text, parent.in_flow)

    def _tabs(self, span: Span, block: bool) -> Iterator[Problem]:
        # The line of | or > itself may end in a comment.
        start = self._source.line_end(span.start) if block else span.start
        tab = self._source.typed.find("\t", start, span.end)
        if tab >= 0:
            yield tab_in_text(self._source.at(tab))

    def _no_item(self, index: int, in_flow: bool) -> Problem:
        before_hash = _HASH_AFTER_DASH.match(self._source.text, index)
        if before_hash:
            return lost_text.emptied_by_hash(self._source, before_hash.end(), None, in_flow)
        return lost_text.missing_value(self._source, index, None)

    def _nothing_under(self, key: WaitingKey, text: str, in_flow: bool) -> Problem:
        before_hash = _HASH_AFTER_COLON.match(self._source.text, key.span.end)
        if before_hash:
            return lost_text.emptied_by_hash(self._source, before_hash.end(), text, in_flow)
        return lost_text.missing_value(self._source, key.span.start, text)
