"""Facts that are made of parts: a short text that gives them, or the parts themselves."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from checker.catalog.model import Fact
from checker.catalog.reading.short_forms import SHORT_FORMS, PartReading
from checker.catalog.reading.stated import Stated
from checker.catalog.reading.texts import NONE, UNKNOWN
from checker.catalog.reading.values import PER, VALUE, paper_of, read_bare
from checker.catalog.reading.written import Converted, Reading, Written, refusal, refusal_of, stated
from checker.files.yaml.tree import Entry, Mapping, Node, Scalar
from checker.values.notation import NotationError
from checker.values.possible import ABSENT, Possible, exactly, union_of

ReadParts = Callable[[Fact, Sequence[Entry], str | None, bool], dict[str, Stated]]
"""Reads the parts of a structure: the whole, their entries, the paper of the whole, whether ``none`` is allowed."""

_Facts = dict[str, Stated]
_IS_THERE = Reading(exactly(True))


@dataclass(frozen=True, slots=True)
class StructureReader:
    """Reads structured facts."""

    read_parts: ReadParts

    def read(self, written: Written) -> Converted:
        """The whole under the name of the fact, its parts under dotted names; raises Unreadable with one problem."""
        if isinstance(written.node, Mapping):
            return Converted(self._from_mapping(written, written.node))
        return Converted(self._from_text(written, written.node, written.per))

    def _from_mapping(self, written: Written, mapping: Mapping) -> _Facts:
        fact, per = written.fact, paper_of(mapping) or written.per
        parts = [entry for entry in mapping.entries if entry.key not in (VALUE, PER)]
        value = mapping.entry(VALUE)
        if value is None and not parts:
            remedy = f"Write {_shape(fact)}, or leave it out."
            raise refusal(f"{fact.name}: nothing is said about it.", mapping.at, remedy)
        facts = {} if value is None else self._from_value(written, value, parts, per)
        if parts and fact.quantity is None:
            # A whole with parts is there; one with a value of its own says so by that value alone.
            facts.setdefault(fact.name, stated(_IS_THERE, ", ".join(_part_texts(parts)), mapping.at, per))
        return facts | (self.read_parts(fact, parts, per, False) if parts else {})

    def _from_value(self, written: Written, value: Entry, parts: Sequence[Entry], per: str | None) -> _Facts:
        fact = written.fact
        given_twice = [part for part in parts if fact.reads is not None or part.key == fact.short_for]
        if given_twice:
            part = given_twice[0]
            raise refusal(f"{fact.name}: value already gives {part.key}.", part.at, "Keep one of the two.")
        facts = self._from_text(written, value.value, per)
        if parts and facts[fact.name].value.only_absent:
            raise refusal(f"{fact.name}: what is none has no parts.", parts[0].at, "Keep one of the two.")
        return facts

    def _from_text(self, written: Written, node: Node, per: str | None) -> _Facts:
        fact = written.fact
        if not isinstance(node, Scalar):
            raise refusal(f"{fact.name}: one text or its parts stand here.", node.at, f"Write {_shape(fact)}.")
        typed = node.text.strip()
        if typed in (NONE, UNKNOWN) or fact.quantity is not None:
            return _with_absent_parts(fact, read_bare(written, node, per))
        if fact.short_for is not None:
            return self._from_one_part(written, fact.short_for, node, per)
        return _from_line(written, node, per)

    def _from_one_part(self, written: Written, part: str, node: Scalar, per: str | None) -> _Facts:
        """``overcurrent: 90 A`` is short for its rated current."""
        fact = written.fact
        facts = self.read_parts(fact, [Entry(part, node.at, node)], per, written.may_be_none)
        short = facts.get(f"{fact.name}.{part}")
        absent = short is not None and short.value.absent
        whole = stated(Reading(Possible(frozenset({True}), absent=absent)), node.text.strip(), node.at, per)
        return {fact.name: whole, **facts}


def _with_absent_parts(fact: Fact, whole: Stated) -> _Facts:
    """The whole and, where it is known not to be there, every part as not there."""
    parts = fact.parts if whole.value.only_absent else ()
    return {fact.name: whole, **{f"{fact.name}.{part}": whole for part in parts}}


def _from_line(written: Written, node: Scalar, per: str | None) -> _Facts:
    """``phase: 3 AWG copper`` gives several parts at once."""
    fact = written.fact
    form = SHORT_FORMS.get(fact.reads or "")
    if form is None:
        raise refusal(f"{fact.name} is made of parts.", node.at, f"Write {_shape(fact)}.")
    try:
        lines = form.lines(node.text, may_be_none=written.may_be_none)
    except NotationError as error:
        raise refusal_of(error, node.at, fact) from None
    whole = Reading(Possible(frozenset({True}), absent=None in lines))
    facts = {fact.name: stated(whole, node.text.strip(), node.at, per)}
    for part in fact.parts:
        readings = [(Reading(ABSENT), NONE) if line is None else line.get(part) for line in lines]
        said = [reading for reading in readings if reading is not None]
        if len(said) == len(lines):
            reading, text = _joined(said)
            facts[f"{fact.name}.{part}"] = stated(reading, text, node.at, per)
    return facts


def _joined(readings: Sequence[PartReading]) -> PartReading:
    """What one part may be by several lines."""
    value = union_of(reading.value for reading, _ in readings)
    unit = next((reading.unit for reading, _ in readings if reading.unit), None)
    return Reading(value, unit), " or ".join(dict.fromkeys(text for _, text in readings))


def _shape(fact: Fact) -> str:
    parts = ", ".join(f"{part}: ..." for part in fact.parts[:2])
    return f"{fact.name}: {{{parts}}}"


def _part_texts(parts: Sequence[Entry]) -> Iterator[str]:
    for entry in parts:
        value = entry.value.get(VALUE) if isinstance(entry.value, Mapping) else entry.value
        if isinstance(value, Scalar):
            yield f"{entry.key} {value.text.strip()}"
