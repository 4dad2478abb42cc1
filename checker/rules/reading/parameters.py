"""Parameters: the numbers, dates, lengths of time and lists of choices that a document sets."""

from __future__ import annotations

from collections.abc import Iterator

from checker.files.yaml.tree import Entry, Node, Sequence
from checker.files.yaml.tree import Mapping as MappingNode
from checker.rules.grammar import NO_EDITION, NO_LIMIT, SAME_AS
from checker.rules.model.numbers import Parameter, ParameterValue
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.reading.citing import Head, as_meant, check_edition, read_sources
from checker.rules.reading.value_kinds import CHOICES, SPAN
from checker.rules.reading.written_values import read_value
from checker.rules.wording import listing
from checker.values.dates import CalendarSpan, read_span
from checker.values.notation import NotationError
from checker.values.possible import Possible, several

Written = tuple[str, Possible | CalendarSpan | None, str | None]
"""Text, value and unit."""


def read_parameter(entry: Entry, head: Head, problems: ProblemList) -> Parameter:
    """One parameter; what is wrong with it is told, and values that cannot be read are left out."""
    node = nodes.mapping(entry.value)
    type_name = nodes.text(node.get("type"))
    stricter = nodes.text(node.get("stricter")) or None
    _check_stricter(entry, type_name, stricter, problems)
    written = dict(values_by_edition(node, "value", "values", head, problems))
    values = {}
    for edition, each in written.items():
        value = None if each is None else read_written(each, type_name, entry.key, problems)
        if value is not None:
            values[edition] = value
    may_cite_nothing = head.rests_on_practice
    sources = read_sources(entry, head, written, problems, may_cite_nothing=may_cite_nothing)
    return Parameter(
        entry.key,
        nodes.text(node.get("title")),
        type_name,
        stricter,
        {
            edition: ParameterValue(text, value, unit, sources.cites[edition], sources.checked[edition])
            for edition, (text, value, unit) in values.items()
        },
        entry.at,
    )


def _check_stricter(entry: Entry, type_name: str, stricter: str | None, problems: ProblemList) -> None:
    if type_name == CHOICES and stricter is not None:
        problems.add(f"`{entry.key}` holds choices, of which none is higher.", entry.at, "Leave `stricter` out.")
    if type_name != CHOICES and stricter is None:
        problems.add(
            f"`{entry.key}` does not say which way is stricter.",
            entry.at,
            "Write `stricter: higher` or `stricter: lower`.",
        )


def values_by_edition(
    node: MappingNode, single: str, by_edition: str, head: Head, problems: ProblemList
) -> Iterator[tuple[str, Node | None]]:
    """What is written for each edition (or once, for NO_EDITION), with ``same as`` followed; None where that leads
    nowhere.
    """
    once, listed = node.entry(single), node.entry(by_edition)
    if not head.editions:
        if once is not None:
            yield NO_EDITION, once.value
        elif listed is not None:
            problems.add("This pack has no editions: the value is written once.", listed.at, f"Write `{single}:`.")
        return
    if listed is None:
        at = node.at if once is None else once.at
        problems.add("This pack has editions: the value is written for each.", at, f"Write `{by_edition}:`.")
        return
    yield from editions_of(nodes.mapping(listed.value), head, problems)


def editions_of(written: MappingNode, head: Head, problems: ProblemList) -> Iterator[tuple[str, Node | None]]:
    """The editions of a mapping with what is written for each, oldest first; see ``values_by_edition``."""
    for each in written.entries:
        check_edition(each.key, each.at, head.editions, problems)
    written = as_meant(written, head.editions)
    for edition in head.editions:
        entry = written.entry(edition)
        if entry is not None:
            yield edition, _followed(entry, written, problems)


def _followed(entry: Entry, written: MappingNode, problems: ProblemList) -> Node | None:
    """What is written, or what is written for the edition that it is the same as."""
    other = _same_as(entry.value)
    if other is None:
        return entry.value
    meant = written.get(other)
    if meant is None or _same_as(meant) is not None:
        having = [each.key for each in written.entries if _same_as(each.value) is None]
        problems.add(
            f"Edition {entry.key} is the same as {other}, for which nothing is written.",
            entry.value.at,
            f"Written out is {listing(having)}." if having else "Write the value for one edition.",
        )
        return None
    return meant


def _same_as(node: Node) -> str | None:
    if isinstance(node, Sequence | MappingNode):
        return None
    match = SAME_AS(node.text.strip())
    return match[1] if match else None


def read_written(node: Node, type_name: str, name: str, problems: ProblemList) -> Written | None:
    """The value of a parameter of this type; None where it cannot be read, which is told."""
    if isinstance(node, Sequence):
        return _choices(node, type_name, name, problems)
    text = nodes.text(node)
    if text == NO_LIMIT:
        return text, None, None
    if type_name == CHOICES:
        problems.add(f"`{name}` holds choices, so its value is a list.", node.at, f"Write [{text}].")
        return None
    try:
        if type_name == SPAN:
            return text, read_span(text), None
        read = read_value(text, type_name)
    except NotationError as error:
        problems.refuse(error, node.at, name)
        return None
    return text, read.value, read.unit


def _choices(node: Sequence, type_name: str, name: str, problems: ProblemList) -> Written | None:
    if type_name != CHOICES:
        problems.add(f"`{name}` has several values, but is no list of choices.", node.at, "Write one value.")
        return None
    words = nodes.texts(node)
    return listing(words), several(words), None
