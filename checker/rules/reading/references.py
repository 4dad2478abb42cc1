"""Reads the standards to which a code sends: they count beside it wherever it is adopted."""

from __future__ import annotations

from collections.abc import Iterator

from checker.files.yaml.tree import Entry, Node
from checker.files.yaml.tree import Mapping as MappingNode
from checker.rules.model.conditions import Condition
from checker.rules.model.pack import Reference
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.reading.citing import Head, check_edition, read_sources
from checker.rules.reading.conditions import read_condition
from checker.rules.reading.scope import Numbers, Scope
from checker.rules.vocabulary import Around, Vocabulary
from checker.rules.wording import choice_of


def read_references(
    node: Node | None, head: Head, vocabulary: Vocabulary, problems: ProblemList
) -> tuple[Reference, ...]:
    """The standards under ``sends_to`` of a pack; what is wrong with one is told."""
    return tuple(_reference(nodes.mapping(item), head, vocabulary, problems) for item in nodes.items(node))


def _reference(node: MappingNode, head: Head, vocabulary: Vocabulary, problems: ProblemList) -> Reference:
    document = nodes.text(node.get("document"))
    written = nodes.entries(node.get("editions"))
    editions = {each.key: nodes.text(each.value) for each in written}
    own = tuple(each.key for each in written if check_edition(each.key, each.at, head.editions, problems))
    sources = read_sources(Entry(document, node.at, node), head, own, problems, may_cite_nothing=False)
    only = dict(_conditions(node.get("only"), vocabulary, problems))
    return Reference(document, editions, sources.cites, only, node.at)


def _conditions(node: Node | None, vocabulary: Vocabulary, problems: ProblemList) -> Iterator[tuple[str, Condition]]:
    """What is asked of each subject before the standard counts for it."""
    for each in nodes.entries(node):
        if each.key not in vocabulary.subjects:
            near = problems.near(each.key, vocabulary.subjects)
            problems.add(f"There is no subject {each.key}.", each.at, f"Write {choice_of(vocabulary.subjects)}.", near)
            continue
        scope = Scope("only", vocabulary, Numbers({}, {}), (), problems, ProblemList())
        found = read_condition(each.value, Around(vocabulary.types_of(each.key)), scope)
        if found is not None:
            yield each.key, found
