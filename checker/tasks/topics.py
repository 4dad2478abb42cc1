"""What a reader may expect to be looked at, and which rules look at it."""

from __future__ import annotations

from checker.files.folders import data_folder
from checker.files.strict_yaml import read_file
from checker.files.tree import Mapping, Scalar, Sequence
from checker.findings.review import Topic


def read_topics() -> tuple[Topic, ...]:
    """The topics of ``shared/topics.yaml``: title -> ids of the rules any of which looks at it."""
    node = read_file(data_folder("shared") / "topics.yaml", "topics.yaml")
    topics = node.get("topics") if isinstance(node, Mapping) else None
    assert isinstance(topics, Mapping)
    return tuple(Topic(entry.key, frozenset(_texts(entry.value))) for entry in topics.entries)


def _texts(node: Mapping | Sequence | Scalar) -> tuple[str, ...]:
    assert isinstance(node, Sequence)
    return tuple(item.text for item in node.items if isinstance(item, Scalar))
