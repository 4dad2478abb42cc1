"""Reads the cases of a pack: NAME.cases.yaml beside NAME.yaml."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from checker.catalog.model import Catalog
from checker.files.folders import inside
from checker.files.yaml.strict_yaml import read_bytes, read_text
from checker.files.yaml.tree import Entry, Node
from checker.files.yaml.tree import Mapping as MappingNode
from checker.rules.cases.model import Case, Given
from checker.rules.cases.values import GivenReader
from checker.rules.edition import editions_of
from checker.rules.grammar import NOT_IN_FORCE
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Rule
from checker.rules.outcomes import outcomes_of
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.reading.citing import check_edition, day
from checker.rules.reading.names_read import NamesRead, names_of_cases
from checker.rules.reading.pack_paths import CASES, shown_folder
from checker.rules.reading.shape_check import is_broken, sound_shape
from checker.rules.schemas.published import case_schema
from checker.rules.schemas.words import Schema
from checker.rules.vocabulary import Around, Vocabulary
from checker.rules.wording import choice_of
from checker.values.problems import Unreadable


@dataclass(frozen=True, slots=True)
class CaseRule:
    """A rule that cases can be about: the names that they can give, the outcomes that they can show, the editions in
    which a case runs that names none, and those that it can name.
    """

    rule: Rule
    names: NamesRead
    outcomes: frozenset[str]
    usual: tuple[str, ...]
    allowed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CaseRules:
    """What the cases of a file can be about: ``owner`` is the pack or layer in words, ``editions`` are those of its
    document.
    """

    owner: str
    rules: Mapping[str, CaseRule]
    editions: tuple[str, ...]
    retired: Mapping[str, str]


def read_cases(pack: Pack, catalog: Catalog) -> tuple[Case, ...]:
    """The cases of a pack, in the order of the files. Raises Unreadable with everything that is wrong in them."""
    problems = ProblemList()
    cases = tuple(_all_cases(pack, Vocabulary(catalog), problems))
    problems.raise_if_any()
    return cases


def read_case_text(text: str, folder: Path, rules: CaseRules, catalog: Catalog) -> tuple[Case, ...]:
    """Cases that no file holds yet, as if they lay in the folder. Raises Unreadable with everything that is wrong."""
    problems = ProblemList()
    root = nodes.mapping(read_text(text.encode(), "cases"))
    cases = tuple(_CaseFile(folder / "cases", root, rules, Vocabulary(catalog), problems).cases())
    problems.raise_if_any()
    return cases


def case_files(pack: Pack) -> tuple[Path, ...]:
    """The files with cases of a pack."""
    return tuple(sorted(Path(pack.folder).glob(f"*{CASES}")))


def read_case_file(path: Path, shown: str, rules: CaseRules, catalog: Catalog) -> tuple[Case, ...]:
    """The cases of one file. Raises Unreadable with everything that is wrong in them."""
    problems = ProblemList()
    cases = tuple(_file_cases(path, shown, rules, Vocabulary(catalog), problems))
    problems.raise_if_any()
    return cases


def _all_cases(pack: Pack, vocabulary: Vocabulary, problems: ProblemList) -> Iterator[Case]:
    shown = shown_folder(Path(pack.folder))
    rules = _rules_of(pack, vocabulary)
    for path in case_files(pack):
        yield from _file_cases(path, f"{shown}/{path.name}", rules, vocabulary, problems)


def _rules_of(pack: Pack, vocabulary: Vocabulary) -> CaseRules:
    def case_rule(rule: Rule) -> CaseRule:
        editions = editions_of(rule, pack)
        return CaseRule(rule, names_of_cases((rule,)), outcomes_of(rule, vocabulary), editions, editions)

    return CaseRules("this pack", {rule.id: case_rule(rule) for rule in pack.rules}, pack.editions, pack.retired)


def _file_cases(
    path: Path, name: str, rules: CaseRules, vocabulary: Vocabulary, problems: ProblemList
) -> Iterator[Case]:
    root = _root(path, name, problems)
    if root is not None:
        _check_beside(path, root, problems)
        yield from _CaseFile(path, root, rules, vocabulary, problems).cases()


def _check_beside(path: Path, root: MappingNode, problems: ProblemList) -> None:
    beside = path.with_name(path.name.removesuffix(CASES) + ".yaml")
    if not beside.is_file():
        problems.add(
            f"There is no {beside.name} beside these cases.", root.at, "Name the file after the file with the rules."
        )


def _root(path: Path, name: str, problems: ProblemList) -> MappingNode | None:
    try:
        root = read_text(read_bytes(path, name), name)
    except Unreadable as error:
        problems.extend(error.problems)
        return None
    if not isinstance(root, MappingNode):
        sentence = "This file is no mapping from rules to their cases."
        problems.add(sentence, root.at, "Write the id of a rule and its cases below.")
        return None
    return root


@cache
def _shape() -> Schema:
    return case_schema()


class _CaseFile:
    """Reads the cases of one file."""

    def __init__(
        self, path: Path, root: MappingNode, rules: CaseRules, vocabulary: Vocabulary, problems: ProblemList
    ) -> None:
        self._folder = path.parent
        self._root = root
        self._rules = rules
        self._vocabulary = vocabulary
        self._problems = problems

    def cases(self) -> Iterator[Case]:
        """The cases of every rule of the file whose shape is sound."""
        root, broken = sound_shape(self._root, _shape(), self._problems)
        for entry in nodes.mapping(root).entries:
            rule = self._rules.rules.get(entry.key)
            if rule is None:
                self._refuse_rule(entry)
            elif not is_broken(broken, (entry.key,)):
                yield from self._of_rule(rule, nodes.mapping(entry.value))

    def _refuse_rule(self, entry: Entry) -> None:
        rules = self._rules
        went = rules.retired.get(entry.key)
        remedy = f"It is retired and went to {went}." if went else f"Name a rule of {rules.owner}."
        near = self._problems.near(entry.key, rules.rules)
        self._problems.add(f"There is no rule `{entry.key}` in {rules.owner}.", entry.at, remedy, near)

    def _of_rule(self, rule: CaseRule, node: MappingNode) -> Iterator[Case]:
        reader = _RuleCases(rule, self._rules.editions, self._folder, self._vocabulary, self._problems)
        base = nodes.entries(node.get("base"))
        reader.check_base(base)
        for item in nodes.items(node.get("cases")):
            yield reader.case(nodes.mapping(item), base)


class _RuleCases:
    """Reads the cases of one rule."""

    def __init__(
        self, about: CaseRule, editions: tuple[str, ...], folder: Path, vocabulary: Vocabulary, problems: ProblemList
    ) -> None:
        self._rule = about.rule
        self._about = about
        self._all_editions = editions
        self._folder = folder
        self._problems = problems
        self._names = about.names
        self._around = Around(vocabulary.types_of(about.rule.subject))
        self._outcomes = about.outcomes
        self._given = GivenReader(about.rule.id, vocabulary, problems)
        self._shown: dict[tuple[str, tuple[str, ...]], None] = {}

    def check_base(self, base: tuple[Entry, ...]) -> None:
        """Tell what is wrong with the facts that all cases share."""
        self._given.read(base, self._names, self._around)

    def case(self, node: MappingNode, base: tuple[Entry, ...]) -> Case:
        """One case; what is wrong with it is told."""
        shows = nodes.text(node.get("shows"))
        self._check_shown_once(node, shows)
        outcome = nodes.text(node.get("outcome"))
        self._check_outcome(node, "outcome", outcome)
        could_be = node.get("could_be")
        for item in nodes.items(could_be):
            self._check_outcome(node, "could_be", nodes.text(item))
        site = node.get("site")
        return Case(
            self._rule.id,
            shows,
            outcome,
            node.at,
            given=Given() if site is not None else self._merged(base, node),
            site=None if site is None else self._site(site),
            subject=nodes.text(node.get("subject")) or None,
            needs=self._needs(node.get("needs"), has_site=site is not None),
            could_be=None if could_be is None else nodes.texts(could_be),
            says=nodes.text(node.get("says")) or None,
            editions=self._case_editions(node),
            date=day(node.get("date"), "date", self._problems),
        )

    def _check_shown_once(self, node: MappingNode, shows: str) -> None:
        """One edition may show the same as another; within one, two cases show two things."""
        key = (shows, nodes.texts(node.get("in")))
        if key in self._shown:
            self._problems.add(
                f"Two cases of `{self._rule.id}` show the same: {shows}.",
                nodes.place(node, "shows"),
                "Say what differs.",
            )
        self._shown[key] = None

    def _check_outcome(self, node: MappingNode, key: str, outcome: str) -> None:
        if outcome not in self._outcomes:
            allowed = sorted(self._outcomes)
            self._problems.add(
                f"{outcome} cannot come out of `{self._rule.id}`.",
                nodes.place(node, key),
                f"Write {choice_of(allowed)}.",
            )

    def _merged(self, base: tuple[Entry, ...], node: MappingNode) -> Given:
        """The base with what the case changes; a collection, and a fact with its parts, is replaced as a whole."""
        changed = nodes.entries(node.get("but"))
        names = {entry.key for entry in changed}
        wholes = tuple(f"{name}." for name in names)
        kept = tuple(entry for entry in base if entry.key not in names and not entry.key.startswith(wholes))
        return self._given.read((*kept, *changed), self._names, self._around)

    def _site(self, node: Node) -> str:
        written = nodes.scalar(node)

        try:
            inside(self._folder, written.text.strip(), written.at)
        except Unreadable as error:
            self._problems.extend(error.problems)
        return written.text.strip()

    def _needs(self, node: Node | None, *, has_site: bool) -> tuple[str, ...] | None:
        if node is None:
            return None
        for item in nodes.items(node):
            name = nodes.text(item)
            known = (*self._names.facts, *self._names.lists)
            if not has_site and name not in known:
                near = self._problems.near(name, known)
                self._problems.add(
                    f"`{self._rule.id}` does not read `{name}`.", item.at, f"It reads {choice_of(known)}.", near
                )
        return nodes.texts(node)

    def _case_editions(self, node: MappingNode) -> tuple[str, ...]:
        written = node.get("in")
        if written is None:
            return self._about.usual if any(self._about.usual) else ()
        not_in_force = nodes.text(node.get("outcome")) == NOT_IN_FORCE
        allowed = self._all_editions if not_in_force else tuple(filter(None, self._about.allowed))
        known = [
            nodes.text(item)
            for item in nodes.items(written)
            if check_edition(nodes.text(item), item.at, allowed, self._problems)
        ]
        return tuple(known)
