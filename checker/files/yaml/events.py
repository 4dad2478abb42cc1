"""The events of a YAML text: from libyaml where PyYAML was built with it, else from its slower Python twin."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol, cast

from yaml.error import Mark
from yaml.events import Event, ScalarEvent
from yaml.parser import Parser
from yaml.reader import Reader
from yaml.scanner import Scanner


class EventStream(Protocol):
    """Gives one event after another; raises yaml.YAMLError where the text breaks off."""

    def get_event(self) -> Event | None:
        """The next event; None after the last."""
        ...


class PythonEvents(Reader, Scanner, Parser):
    """The same events without libyaml, about ten times slower."""

    def __init__(self, text: str) -> None:
        Reader.__init__(self, text)
        Scanner.__init__(self)
        Parser.__init__(self)


StreamMaker = Callable[[str], EventStream]


def fastest() -> StreamMaker:
    """libyaml, or its twin where PyYAML was installed without it."""
    try:
        from yaml._yaml import CParser
    except ImportError:
        return PythonEvents
    return CParser


def start_of(event: Event) -> Mark:
    """Where an event begins; events that come from a text always have marks."""
    return cast(Mark, event.start_mark)


def end_of(event: Event) -> Mark:
    """The place after the last character of an event."""
    return cast(Mark, event.end_mark)


def is_quoted(event: ScalarEvent) -> bool:
    """Whether the text stands in single or double quotes."""
    return event.style in {"'", '"'}


def is_block(event: ScalarEvent) -> bool:
    """Whether the text stands below ``|`` or ``>``."""
    return event.style in {"|", ">"}
