"""Reads jurisdiction profiles: which documents and layers are adopted where, from when, by what event."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Catalog
from checker.files.yaml.strict_yaml import read_bytes, read_text
from checker.files.yaml.tree import Entry, Mapping, Node
from checker.rules import grammar
from checker.rules.grammar import NO_EDITION
from checker.rules.layers.papers import paper_rule
from checker.rules.layers.scopes import SITE, is_plain
from checker.rules.model.conditions import Condition
from checker.rules.model.force import Basis
from checker.rules.model.profile import Adoption, Grace, Interpretation, May, Permission, Profile, Ranked
from checker.rules.model.rule import Rule
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.reading.citing import Head, day
from checker.rules.reading.conditions import read_condition
from checker.rules.reading.rule import read_rule
from checker.rules.reading.scope import Numbers, Scope
from checker.rules.vocabulary import Around, Vocabulary
from checker.rules.wording import choice_of

_Read = TypeVar("_Read")


def read_profile(path: Path, shown_as: str | None = None, catalog: Catalog | None = None) -> Profile:
    """The profile in a file; ``shown_as`` is its name in messages. Raises Unreadable with everything that is wrong in
    it.
    """
    from checker.rules.reading.shape_check import sound_shape  # brings a library that takes long to import

    shown = shown_as or (path.name if path.is_absolute() else path.as_posix())
    content = read_bytes(path, shown)
    root: Node = read_text(content, shown)
    problems = ProblemList()
    sound_shape(root, _shape(), problems)
    problems.raise_if_any()
    reader = _ProfileReader(nodes.mapping(root), Vocabulary(catalog or shipped_catalog()), problems)
    profile = reader.read(shown, hashlib.sha256(content).hexdigest())
    problems.raise_if_any()
    return profile


@cache
def _shape() -> dict[str, Any]:
    from checker.rules.schemas.published import profile_schema

    return profile_schema()


class _ProfileReader:
    """Reads one profile into its model."""

    def __init__(self, root: Mapping, vocabulary: Vocabulary, problems: ProblemList) -> None:
        self._root = root
        self._vocabulary = vocabulary
        self._problems = problems
        self._name = nodes.text(root.get("profile"))
        self._title = nodes.text(root.get("title"))

    def read(self, file: str, digest: str) -> Profile:
        """The whole profile."""
        documents = tuple(self._each("documents", self._adoption))
        _check_dates(documents, self._problems)
        layers = tuple(self._ranked())
        grace = tuple(self._each("grace", self._grace))
        self._check_grace(grace, documents, layers)
        return Profile(
            self._name,
            self._title,
            nodes.text(self._root.get("event")),
            documents,
            file,
            digest,
            layers,
            grace,
            tuple(self._each("papers", self._paper)),
            tuple(self._each("interpretations", self._interpretation)),
            tuple(self._each("special_permissions", self._permission)),
            nodes.text(self._root.get("symbols"), grammar.SYMBOLS[0]),
        )

    def _each(self, section: str, read: Callable[[Mapping], _Read | None]) -> Iterator[_Read]:
        for item in nodes.items(self._root.get(section)):
            found = read(nodes.mapping(item))
            if found is not None:
                yield found

    def _day(self, node: Mapping, key: str) -> date | None:
        return day(node.get(key), key, self._problems)

    def _days(self, node: Mapping) -> tuple[date | None, date | None]:
        start, until = self._day(node, "from"), self._day(node, "until")
        if start is not None and until is not None and until < start:
            self._problems.add("This ends before it begins.", nodes.place(node, "until"), "Turn the dates round.")
        return start, until

    def _adoption(self, node: Mapping) -> Adoption | None:
        start, until = self._days(node)
        if start is None:
            return None
        where, words = self._where(node)
        return Adoption(
            nodes.text(node.get("document")),
            nodes.text(node.get("edition"), NO_EDITION),
            start,
            nodes.text(node.get("adopted_by")),
            node.at,
            until,
            nodes.text(node.get("event")) or None,
            nodes.texts(node.get("interim")),
            where,
            words,
        )

    def _ranked(self) -> Iterator[Ranked]:
        rank = 0
        for item in nodes.items(self._root.get("layers")):
            node = nodes.mapping(item)
            rank += 0 if nodes.flag(node.get("same_rank")) else 1
            start, until = self._days(node)
            where, words = self._where(node)
            may = May(nodes.text(node.get("may")))
            event = nodes.text(node.get("event")) or None
            yield Ranked(nodes.text(node.get("layer")), may, rank, node.at, start, until, event, where, words)

    def _where(self, node: Mapping) -> tuple[Condition | None, str]:
        """Where a document or a layer holds: comparisons of facts of the site."""
        written = node.entry("where")
        if written is None:
            return None, ""
        scope = Scope("where", self._vocabulary, Numbers({}, {}), (), self._problems, ProblemList())
        found = read_condition(written.value, Around((SITE,)), scope)
        if found is not None and not is_plain(found):
            self._problems.add("`where` asks facts of the site alone.", written.at, "Write comparisons, all, any, not.")
            return None, ""
        return found, nodes.text(node.get("where_words"))

    def _grace(self, node: Mapping) -> Grace | None:
        until = self._day(node, "until")
        if until is None:
            return None
        return Grace(nodes.text(node.get("for")), until, nodes.text(node.get("if")), node.at)

    def _check_grace(self, grace: Iterable[Grace], documents: Iterable[Adoption], layers: Iterable[Ranked]) -> None:
        known = [*dict.fromkeys(each.document for each in documents), *(each.layer for each in layers)]
        for each in grace:
            if each.of not in known:
                near = self._problems.near(each.of, known)
                self._problems.add(
                    f"{each.of} is no document or layer of this profile.", each.at, f"Write {choice_of(known)}.", near
                )

    def _paper(self, node: Mapping) -> Rule | None:
        """The rule that asks for a paper, by the authority of the profile."""
        asked = paper_rule(node, node.at, self._vocabulary.catalog)
        body = nodes.mapping(asked.value)
        cites = node.entry("cites")
        entries = [*body.entries, *([cites] if cites is not None else [])]
        if node.get("checked") is not None:
            entries.append(Entry("checked", node.at, nodes.mapping(node.get("checked"))))
        head = Head(self._name, self._title, self._title, (), Basis.WRITTEN_POLICY, {}, node.at)
        entry = Entry(asked.key, node.at, Mapping(tuple(entries), node.at))
        return read_rule(entry, head, Numbers({}, {}), self._vocabulary, self._problems, ProblemList())

    def _interpretation(self, node: Mapping) -> Interpretation | None:
        on = self._day(node, "on")
        if on is None:
            return None
        return Interpretation(
            nodes.text(node.get("rule")),
            nodes.text(node.get("status")),
            nodes.text(node.get("says")),
            nodes.text(node.get("by")),
            on,
            nodes.text(node.get("reading")) or None,
            node.at,
        )

    def _permission(self, node: Mapping) -> Permission | None:
        on = self._day(node, "on")
        if on is None:
            return None
        return Permission(
            nodes.text(node.get("rule")),
            nodes.text(node.get("site")),
            nodes.text(node.get("subject")) or None,
            nodes.text(node.get("by")),
            on,
            self._day(node, "until"),
            nodes.texts(node.get("conditions")),
            nodes.text(node.get("says")),
            node.at,
        )


def _check_dates(documents: Sequence[Adoption], problems: ProblemList) -> None:
    """One document cannot begin twice on one day in one place."""
    seen: dict[tuple[str, date, str], Adoption] = {}
    for each in documents:
        other = seen.setdefault((each.document, each.start, each.where_words), each)
        if other is not each:
            problems.add(
                f"{each.document} is adopted twice from {each.start}.",
                each.at,
                f"The other stands at {other.at}; keep one.",
            )
