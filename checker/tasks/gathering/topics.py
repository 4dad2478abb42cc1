"""What a reader may expect to be looked at, and which rules look at it."""

from __future__ import annotations

from checker.files.folders import data_folder
from checker.files.yaml.strict_yaml import read_file
from checker.files.yaml.tree import Mapping, Node, Scalar, Sequence
from checker.findings.review import Topic


def read_topics() -> tuple[Topic, ...]:
    """The topics of ``shared/topics.yaml``: title -> ids of the rules any of which looks at it, or what else shows that
    a rule does.
    """
    node = read_file(data_folder("shared") / "topics.yaml", "topics.yaml")
    topics = node.get("topics") if isinstance(node, Mapping) else None
    assert isinstance(topics, Mapping)
    return tuple(_topic(entry.key, entry.value) for entry in topics.entries)


def _topic(title: str, node: Node) -> Topic:
    if isinstance(node, Sequence):
        return Topic(title, _texts(node))
    assert isinstance(node, Mapping)
    rules, covers, facts, but_not = (_texts(node.get(key)) for key in ("rules", "covers", "facts", "but_not"))
    kinds = node.get("of")
    of = kinds.entries[0] if isinstance(kinds, Mapping) else None
    where = node.get("where")
    return Topic(
        title,
        rules,
        covers,
        facts,
        by_law=node.get("by_law") is not None,
        of="" if of is None else of.key,
        choices=frozenset() if of is None else _texts(of.value),
        but_not=but_not,
        where=where.text if isinstance(where, Scalar) else "",
    )


def _texts(node: Node | None) -> frozenset[str]:
    if node is None:
        return frozenset()
    assert isinstance(node, Sequence)
    return frozenset(item.text for item in node.items if isinstance(item, Scalar))
