"""Reads the papers that a layer declares: those of the fact catalog do for most, and these are the town's own."""

from __future__ import annotations

from collections.abc import Iterator

from checker.catalog.model import Stage
from checker.files.yaml.tree import Entry
from checker.rules.grammar import PAPER
from checker.rules.layers.head import LayerHead
from checker.rules.model.profile import OwnPaper
from checker.rules.reading import nodes


def declared_papers(layer: LayerHead) -> tuple[OwnPaper, ...]:
    """The papers of its own, from a file whose shape is sound; what is wrong is added to the problems."""
    return tuple(_papers(layer))


def _papers(layer: LayerHead) -> Iterator[OwnPaper]:
    """Each paper with a name and a title that no other paper has: a site lists it by the one, a reader knows it by the
    other.
    """
    known = layer.vocabulary.catalog.facts[PAPER].choices
    names = {title: name for name, title in known.items()}
    for entry in nodes.entries(layer.root.get("papers")):
        paper = _paper(entry, layer)
        if paper.name in known:
            sentence = f"The paper `{paper.name}` is declared already, by a layer below."
            layer.problems.add(sentence, entry.at, "Ask for that one, or take another name.")
        elif paper.title in names:
            sentence = f"The paper `{paper.name}` has the title of the paper `{names[paper.title]}`."
            layer.problems.add(sentence, entry.at, "Ask for that one, or say in the title what is different.")
        else:
            names[paper.title] = paper.name
            yield paper


def _paper(entry: Entry, layer: LayerHead) -> OwnPaper:
    node = nodes.mapping(entry.value)
    cites = layer.cites(node.get("cites"))
    if not cites and not layer.head.rests_on_practice:
        sentence = f"The paper `{entry.key}` does not say what it rests on."
        layer.problems.add(sentence, entry.at, "Write `cites: [{section: ...}]` with the section of the ordinance.")
    return OwnPaper(
        entry.key,
        nodes.text(node.get("title")).strip(),
        nodes.text(node.get("means")).strip(),
        Stage(nodes.text(node.get("due"), Stage.PLAN_REVIEW.value)),
        cites,
        entry.at,
    )
