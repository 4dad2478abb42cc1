"""What a fact, a parameter or a table holds, as far as it decides what can be compared with what."""

from __future__ import annotations

from dataclasses import dataclass

from checker.catalog.model import Fact, ValueType
from checker.rules.wording import with_article
from checker.values.kinds import KINDS

SPAN = "span"
CHOICES = "choices"
_NUMBERS = frozenset({ValueType.COUNT.value, ValueType.QUANTITY.value, ValueType.WIRE_SIZE.value})
_LABELS = {
    "flag": "yes or no",
    "choice": "a choice",
    CHOICES: "several choices",
    "count": "a count",
    "wire_size": "a wire size",
    "date": "a date",
    SPAN: "a length of time by the calendar",
    "text": "a text",
    "tag": "a tag",
    "way": "a way of a piece",
    "structure": "something with parts",
}
RATIO = "ratio"


@dataclass(frozen=True, slots=True)
class ValueKind:
    """``type`` is a type of the catalog, or ``span`` or ``choices``; ``words`` are the choices that it can hold."""

    type: str
    quantity: str | None = None
    words: frozenset[str] = frozenset()

    @property
    def label(self) -> str:
        """The kind in words."""
        if self.quantity is not None:
            return with_article(KINDS[self.quantity].label)
        return _LABELS[self.type]

    @property
    def is_number(self) -> bool:
        """Whether it lies on the number line and can be reckoned with."""
        return self.type in _NUMBERS

    @property
    def is_ordered(self) -> bool:
        """Whether one can be larger than another."""
        return self.is_number or self.type == ValueType.DATE.value

    @property
    def is_ratio(self) -> bool:
        """Whether it can be a factor."""
        return self.quantity == RATIO

    def compares_with(self, other: ValueKind) -> bool:
        """Whether the two can be held against each other."""
        return (self.type, self.quantity) == (other.type, other.quantity)


def kind_of_fact(fact: Fact) -> ValueKind:
    """What a fact holds."""
    if fact.several:
        return ValueKind(CHOICES, None, frozenset(fact.choices))
    return ValueKind(fact.type.value, fact.quantity, frozenset(fact.choices))


def kind_of_type(written: str, words: frozenset[str] = frozenset()) -> ValueKind:
    """What a parameter or a table holds whose type is written so."""
    if written in KINDS:
        return ValueKind(ValueType.QUANTITY.value, written)
    return ValueKind(written, None, words)
