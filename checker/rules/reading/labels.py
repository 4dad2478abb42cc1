"""The signs of a rule: what is engraved or told, where, in which colors, in letters of which height."""

from __future__ import annotations

from collections.abc import Iterator

from checker.files.yaml.tree import Entry, Node
from checker.files.yaml.tree import Mapping as MappingNode
from checker.rules.model.conditions import Condition, FactPath, Fold
from checker.rules.model.rule import Label, LabelColors, Rule
from checker.rules.reading import nodes
from checker.rules.reading.conditions import read_condition, read_editions
from checker.rules.reading.operands import tell_not_found
from checker.rules.reading.placeholders import TextCheck, refuse_placeholders
from checker.rules.reading.scope import Scope
from checker.rules.vocabulary import Around, NotFound
from checker.rules.walk import below, requirements_of
from checker.rules.wording import choice_of
from checker.values.positions import Position

_GROUND, _LETTERS = "ground_color", "letter_color"
_LENGTH = "length"


def read_labels(node: Node | None, around: Around, scope: Scope) -> tuple[Label, ...]:
    """The signs of ``label:``; what is wrong in them is told."""
    return tuple(_LabelReader(nodes.mapping(item), around, scope).read() for item in nodes.items(node))


class _LabelReader:
    """Reads one sign."""

    def __init__(self, node: MappingNode, around: Around, scope: Scope) -> None:
        self._node = node
        self._around = around
        self._scope = scope

    def read(self) -> Label:
        node = self._node
        at, where = self._place(node.entry("at"))
        when = node.get("when")
        return Label(
            words=nodes.texts(node.get("words")),
            meaning=nodes.text(node.get("meaning")),
            class_word=nodes.text(node.get("class_word")),
            at=at,
            where=where,
            when=None if when is None else read_condition(when, self._around, self._scope),
            part=nodes.text(node.get("part")) or None,
            colors=self._colors(node.get("colors")),
            letter_height=self._letter_height(node.entry("letter_height")),
            editions=read_editions(node.get("in"), self._scope),
        )

    # --- place ---------------------------------------------------------------------------------------------------

    def _place(self, entry: Entry | None) -> tuple[FactPath | None, Condition | None]:
        """A link to one piece, or a collection with what its members must be."""
        if entry is None:
            return None, None
        if isinstance(entry.value, MappingNode):
            return self._among(entry.value)
        return self._linked(nodes.text(entry.value), entry.value.at), None

    def _linked(self, link: str, at: Position) -> FactPath | None:
        links = self._scope.vocabulary.links(self._around.types)
        if link in links:
            return FactPath((link,), "", at)
        remedy = f"Write {choice_of(links)}, or a collection as {{of: stops}}." if links else "Leave `at` out."
        near = self._scope.problems.near(link, links)
        title = self._scope.vocabulary.title(self._around.types)
        self._scope.problems.add(f"`{link}` leads nowhere from {title}.", at, remedy, near)
        return None

    def _among(self, node: MappingNode) -> tuple[FactPath | None, Condition | None]:
        for word in ("that", "if_empty"):
            if node.get(word) is not None:
                sentence = f"`{word}` asks something, and `at` only says where a sign stands."
                self._scope.problems.add(sentence, nodes.place(node, word), "Write `where:`.")
        name = nodes.scalar(node.get("of"))
        found = self._scope.vocabulary.collection(name.text.strip(), self._around)
        if isinstance(found, NotFound):
            tell_not_found(found, name.at, self._scope)
            return None, None
        where = node.get("where")
        members = self._around.inside(found.collection.members)
        condition = None if where is None else read_condition(where, members, self._scope)
        return FactPath(found.links, found.collection.name, name.at), condition

    # --- colors and letters --------------------------------------------------------------------------------------

    def _colors(self, node: Node | None) -> LabelColors | None:
        if node is None:
            return None
        written = nodes.mapping(node)
        ground, letters = self._color(written, "ground", _GROUND), self._color(written, "letters", _LETTERS)
        return LabelColors(ground, letters, read_editions(written.get("in"), self._scope))

    def _color(self, node: MappingNode, word: str, fact: str) -> str:
        color, known = nodes.scalar(node.get(word)), self._scope.vocabulary.catalog.facts[fact].choices
        name = color.text.strip()
        if name not in known:
            near = self._scope.problems.near(name, known)
            sentence = f"`{name}` is no color of the {word} of a sign."
            self._scope.problems.add(sentence, color.at, f"Write {choice_of(known)}.", near)
        return name

    def _letter_height(self, entry: Entry | None) -> str | None:
        if entry is None:
            return None
        name = nodes.text(entry.value)
        parameter = self._scope.parameter(name, entry.value.at)
        if parameter is not None and parameter.type != _LENGTH:
            sentence = f"`{name}` is no length, so it is no height of letters."
            self._scope.problems.add(sentence, entry.value.at, "Name a parameter of the type length.")
        return name


def check_labels(rule: Rule, node: Node | None, check: TextCheck, scope: Scope) -> None:
    """Tell placeholders that name nothing, and parts that the rule does not have."""
    parts = {name: None for requires in _plain_requirements(rule) for name in requires}
    for item in nodes.items(node):
        written = nodes.mapping(item)
        meaning, part = written.get("meaning"), written.get("part")
        if meaning is not None:
            check.check(nodes.text(meaning), meaning.at)
        for line in nodes.items(written.get("words")):
            refuse_placeholders(nodes.text(line), line.at, scope.problems)
        name = nodes.text(part)
        if part is not None and name not in parts:
            remedy = f"Write {choice_of(parts)}, or leave `part` out." if parts else "Leave `part` out."
            near = scope.problems.near(name, parts)
            scope.problems.add(f"`{rule.id}` requires no part `{name}`.", part.at, remedy, near)
    if not rule.labels and _asks_for_a_label(rule):
        scope.notes.add(
            f"`{rule.id}` asks for a label and does not say which, so it is not on the label sheet.",
            rule.at,
            "Write `label:` with its words or its meaning.",
        )


_LABELS = "labels"


def _asks_for_a_label(rule: Rule) -> bool:
    """Whether the requirement looks at the labels of a piece; what keeps a rule out asks for none."""
    asked = (part for requires in requirements_of(rule) for part in requires.parts.values())
    folds = (each for part in asked for each in below(part) if isinstance(each, Fold))
    return any(each.collection.name == _LABELS and each.how != "none" for each in folds)


def _plain_requirements(rule: Rule) -> Iterator[tuple[str, ...]]:
    """The names of the parts of its requirement and of those that take its place; readings are answered whole."""
    if not rule.readings:
        yield from (tuple(requires.parts) for requires in requirements_of(rule))
