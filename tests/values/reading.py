"""Reading a text that may be refused."""

from collections.abc import Callable
from typing import TypeVar

from checker.values.refusals import NotationError

Value = TypeVar("Value")


def read_or_none(read: Callable[[str], Value], text: str) -> Value | None:
    """What the text says, or None where it is refused as it should be: in a sentence, with what to do or a name."""
    try:
        return read(text)
    except NotationError as error:
        refused = error
    assert refused.sentence.endswith(".")
    assert "\n" not in str(refused)
    assert refused.remedy or refused.near
    return None
