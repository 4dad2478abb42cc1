"""Reads a text from both makers of events and sees that they say the same."""

from typing import Any

import yaml

from checker.files.limits import USUAL_LIMITS, Limits
from checker.files.yaml.events import PythonEvents, fastest
from checker.files.yaml.reading import parsed
from checker.files.yaml.tree import Mapping, Node, Scalar
from checker.values.problems import Problem, Unreadable

FILE = "site.yaml"


def documents(content: str | bytes, limits: Limits = USUAL_LIMITS) -> tuple[Node, ...]:
    """All documents; both makers of events must give the same."""
    fast = parsed(content, FILE, limits, single=False, events=fastest())
    assert parsed(content, FILE, limits, single=False, events=PythonEvents) == fast
    return fast


def node(content: str | bytes, limits: Limits = USUAL_LIMITS) -> Node:
    """The only document."""
    (only,) = documents(content, limits)
    return only


def value(content: str | bytes, key: str) -> Scalar:
    """The single text under a key of the only document."""
    mapping = node(content)
    assert isinstance(mapping, Mapping)
    found = mapping.get(key)
    assert isinstance(found, Scalar)
    return found


def problems(content: str | bytes, limits: Limits = USUAL_LIMITS, *, single: bool = True) -> tuple[Problem, ...]:
    """The problems of a text that must be refused; both makers of events must tell the same."""
    fast = _refusal(content, limits, single, python=False)
    assert _refusal(content, limits, single, python=True) == fast
    return fast


def problem(content: str | bytes, limits: Limits = USUAL_LIMITS, *, single: bool = True) -> Problem:
    """The only problem of a text."""
    found = problems(content, limits, single=single)
    assert len(found) == 1, "\n".join(map(str, found))
    return found[0]


def place(told: Problem) -> tuple[int, int]:
    """Line and column of a problem."""
    assert told.at is not None
    assert told.at.file == FILE
    return told.at.line, told.at.column


def texts(node: Node) -> Any:
    """Only the texts, as dict, list and str, as a reader that resolves nothing gives them."""
    if isinstance(node, Mapping):
        return {entry.key: texts(entry.value) for entry in node.entries}
    if isinstance(node, Scalar):
        return node.text
    return [texts(item) for item in node.items]


def as_pyyaml_reads(text: str) -> list[Any]:
    """All documents as PyYAML's loader that leaves every text as it is gives them."""
    loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    return list(yaml.load_all(text, Loader=loader))


def _refusal(content: str | bytes, limits: Limits, single: bool, *, python: bool) -> tuple[Problem, ...]:
    try:
        read = parsed(content, FILE, limits, single=single, events=PythonEvents if python else fastest())
    except Unreadable as unreadable:
        return unreadable.problems
    raise AssertionError(f"this was read as {read}")
