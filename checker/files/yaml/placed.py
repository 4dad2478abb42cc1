"""The content of a YAML text with the places at which each part begins and ends, for whoever changes the text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from yaml.error import YAMLError
from yaml.events import (
    Event,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
    StreamEndEvent,
)

from checker.files.yaml.events import EventStream, end_of, fastest, is_block, start_of


@dataclass(frozen=True, slots=True)
class PlacedScalar:
    """A text; ``block`` where it stands below ``|`` or ``>``."""

    start: int
    end: int
    text: str
    block: bool


@dataclass(frozen=True, slots=True)
class PlacedEntry:
    """A key, the place where it begins, and its value."""

    key: str
    start: int
    value: Placed


@dataclass(frozen=True, slots=True)
class PlacedMapping:
    """Keys and values; ``flow`` where it stands in braces. One that does not ends with its last value."""

    start: int
    end: int
    flow: bool
    entries: tuple[PlacedEntry, ...]


@dataclass(frozen=True, slots=True)
class PlacedSequence:
    """A list; ``flow`` where it stands in brackets."""

    start: int
    end: int
    flow: bool
    items: tuple[Placed, ...]


Placed: TypeAlias = PlacedScalar | PlacedMapping | PlacedSequence
Content: TypeAlias = "dict[str, Content] | list[Content] | str"


def placed(text: str) -> Placed:
    """The one document of a text that the strict reader takes. Raises ValueError where it does not."""
    try:
        return _Walk(fastest()(text)).document()
    except YAMLError as error:
        raise ValueError(str(error)) from error


def content(node: Placed) -> Content:
    """What it holds, without places."""
    if isinstance(node, PlacedMapping):
        return {entry.key: content(entry.value) for entry in node.entries}
    if isinstance(node, PlacedSequence):
        return [content(each) for each in node.items]
    return node.text


class _Walk:
    def __init__(self, stream: EventStream) -> None:
        self._events = _events(stream)

    def document(self) -> Placed:
        for event in self._events:
            if isinstance(event, ScalarEvent | MappingStartEvent | SequenceStartEvent):
                return self._node(event)
        raise ValueError("there is no document")

    def _node(self, event: Event) -> Placed:
        if isinstance(event, MappingStartEvent):
            return self._mapping(event)
        if isinstance(event, SequenceStartEvent):
            return self._sequence(event)
        if isinstance(event, ScalarEvent):
            return PlacedScalar(start_of(event).index, end_of(event).index, event.value, is_block(event))
        raise ValueError("this is no value")

    def _mapping(self, event: MappingStartEvent) -> PlacedMapping:
        entries: list[PlacedEntry] = []
        for key in self._events:
            if isinstance(key, MappingEndEvent):
                end = end_of(key).index if event.flow_style else entries[-1].value.end
                return PlacedMapping(start_of(event).index, end, bool(event.flow_style), tuple(entries))
            if not isinstance(key, ScalarEvent):
                raise ValueError("this is no key")
            entries.append(PlacedEntry(key.value, start_of(key).index, self._node(next(self._events))))
        raise ValueError("the text breaks off")

    def _sequence(self, event: SequenceStartEvent) -> PlacedSequence:
        items: list[Placed] = []
        for item in self._events:
            if isinstance(item, SequenceEndEvent):
                end = end_of(item).index if event.flow_style else items[-1].end
                return PlacedSequence(start_of(event).index, end, bool(event.flow_style), tuple(items))
            items.append(self._node(item))
        raise ValueError("the text breaks off")


def _events(stream: EventStream) -> Iterator[Event]:
    while (event := stream.get_event()) is not None and not isinstance(event, StreamEndEvent):
        yield event
