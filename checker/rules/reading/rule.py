"""One rule: from its node to its model, with everything that can be wrong in it told."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from checker.catalog.model import Stage
from checker.files.yaml.tree import Entry, Node, Scalar
from checker.files.yaml.tree import Mapping as MappingNode
from checker.files.yaml.tree import Sequence as SequenceNode
from checker.rules.grammar import ANY_WAY, NO_EDITION
from checker.rules.model.citing import Citation
from checker.rules.model.conditions import Condition
from checker.rules.model.force import Basis, Editions, Force, Harm
from checker.rules.model.rule import Instead, NamedException, Reading, Requires, Rule
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.reading.citing import (
    Head,
    Sources,
    check_edition,
    read_cites,
    read_sections,
    read_sources,
    section_editions,
)
from checker.rules.reading.conditions import check_part_name, read_condition, read_editions
from checker.rules.reading.labels import check_labels, read_labels
from checker.rules.reading.placeholders import TextCheck, refuse_placeholders
from checker.rules.reading.rule_editions import check_editions
from checker.rules.reading.scope import Numbers, Scope
from checker.rules.reading.told import check_told, read_told, text_of_told
from checker.rules.vocabulary import Around, Vocabulary
from checker.rules.walk import parts_of
from checker.rules.wording import choice_of


def read_rule(
    entry: Entry, head: Head, numbers: Numbers, vocabulary: Vocabulary, problems: ProblemList, notes: ProblemList
) -> Rule | None:
    """One rule; None where its subject is not known, so that nothing else can be said of it."""
    node = nodes.mapping(entry.value)
    types = _types(node, vocabulary, problems)
    if types is None:
        return None
    basis = _basis(entry, node, head, problems)
    editions = section_editions(node, head)
    scope = Scope(entry.key, vocabulary, numbers, editions if head.editions else (), problems, notes)
    sources = read_sources(entry, head, editions, problems, may_cite_nothing=not basis.can_correct)
    told_before = len(problems)
    rule = _RuleReader(entry, node, head, scope, Around(types)).read(basis, sources)
    _check_texts(rule, node, scope, Around(types))
    if len(problems) == told_before:
        check_editions(rule, editions, scope)
    return rule


def _types(node: MappingNode, vocabulary: Vocabulary, problems: ProblemList) -> tuple[str, ...] | None:
    written = nodes.scalar(node.get("subject"))
    subject = written.text.strip()
    try:
        return vocabulary.types_of(subject)
    except KeyError:
        near = problems.near(subject, vocabulary.subjects)
        problems.add(
            f"`{subject}` is no subject of a rule.",
            written.at,
            "Write a kind, a group, a role, a pair, the member of a list, connection, site or service.",
            near,
        )
        return None


def _basis(entry: Entry, node: MappingNode, head: Head, problems: ProblemList) -> Basis:
    written = nodes.text(node.get("basis"))
    if written:
        return Basis(written)
    if head.basis is None:
        problems.add(
            f"`{entry.key}` does not say what it rests on.",
            entry.at,
            "Write `basis:` here or, for all rules, in pack.yaml.",
        )
        return Basis.LAW
    return head.basis


class _RuleReader:
    """Reads the body of one rule."""

    def __init__(self, entry: Entry, node: MappingNode, head: Head, scope: Scope, around: Around) -> None:
        self._entry = entry
        self._node = node
        self._head = head
        self._scope = scope
        self._around = around

    def read(self, basis: Basis, sources: Sources) -> Rule:
        """The rule as it is written, in all editions."""
        node = self._node
        requires = node.get("requires")
        cited = sources.cites.get(NO_EDITION, ())
        return Rule(
            id=self._entry.key,
            pack=self._head.id,
            title=nodes.text(node.get("title")),
            subject=nodes.text(node.get("subject")),
            basis=basis,
            says=nodes.text(node.get("says")),
            at=self._entry.at,
            force=Force(nodes.text(node.get("force"), Force.MANDATORY.value)),
            due=Stage(nodes.text(node.get("due"), Stage.PLAN_REVIEW.value)),
            harm=Harm(nodes.text(node.get("harm"), Harm.NONE.value)),
            when=self._condition(node.get("when")),
            unless=self._unless(sources),
            instead=self._instead(),
            requires=None if requires is None else self._requires(requires),
            readings=self._readings(),
            look=nodes.text(node.get("look")) or None,
            says_where=read_told(node.get("says_where"), self._around, self._scope),
            why=nodes.text(node.get("why")),
            remedy=read_told(node.get("remedy"), self._around, self._scope),
            who_acts=nodes.text(node.get("who_acts"), "contractor"),
            before=nodes.texts(node.get("before")),
            companions=nodes.texts(node.get("companions")),
            cautions=read_told(node.get("cautions"), self._around, self._scope),
            interim=dict(self._interim()),
            sections={
                edition: tuple(each.section for each in cites) for edition, cites in sources.cites.items() if edition
            },
            cites=cited,
            checked=sources.checked if any(sources.cites.values()) else {},
            covers=nodes.texts(node.get("covers")),
            labels=read_labels(node.get("label"), self._around, self._scope),
        )

    def _condition(self, node: Node | None) -> Condition | None:
        return None if node is None else read_condition(node, self._around, self._scope)

    def _unless(self, sources: Sources) -> tuple[NamedException, ...]:
        seen: dict[str, None] = {}
        found = []
        for item in nodes.items(self._node.get("unless")):
            written = nodes.mapping(item)
            name = self._unique_id(written, seen)
            condition = self._condition(written.get("if"))
            if condition is not None:
                because = nodes.text(written.get("because"))
                cites = self._exception_cites(written, sources)
                editions = self._exception_editions(written)
                found.append(NamedException(name, condition, because, cites, editions))
        return tuple(found)

    def _unique_id(self, written: MappingNode, seen: dict[str, None]) -> str:
        name = nodes.text(written.get("id"))
        if name in seen:
            self._scope.problems.add(
                f"`{self._entry.key}` has two things with the id `{name}`.",
                nodes.place(written, "id"),
                "Give each its own.",
            )
        seen[name] = None
        return name

    def _exception_cites(self, written: MappingNode, sources: Sources) -> tuple[Citation, ...]:
        wrong, right = ("cites", "sections") if self._head.editions else ("sections", "cites")
        if written.get(wrong) is not None:
            at = nodes.place(written, wrong)
            self._scope.problems.add(f"This pack cites by `{right}:`.", at, f"Write `{right}:` instead of `{wrong}:`.")
            return ()
        if not self._head.editions:
            return read_cites(written.get("cites"), self._head.document)
        by_edition = read_sections(written.get("sections"), self._head.document)
        confirmed = {edition for edition, note in sources.checked.items() if note.confirmed}
        return tuple(
            replace(each, verify=edition not in confirmed) for edition, cites in by_edition.items() for each in cites
        )

    def _exception_editions(self, written: MappingNode) -> Editions:
        """The editions of an exception: those named, or those in which it has a section."""
        named = read_editions(written.get("in"), self._scope)
        sections = written.get("sections")
        if sections is None or not self._head.editions:
            return named
        entries = nodes.entries(sections)
        known = [each.key for each in entries if self._is_edition(each)]
        if named and named != frozenset(known):
            at = nodes.place(written, "in")
            self._scope.problems.add("`in` and `sections` name different editions.", at, "Leave `in` out.")
        return frozenset(known)

    def _is_edition(self, entry: Entry) -> bool:
        return check_edition(entry.key, entry.at, self._scope.editions, self._scope.problems)

    def _interim(self) -> Iterator[tuple[str, str]]:
        """The interim amendment of each edition that brought the rule into it."""
        for each in nodes.entries(self._node.get("interim")):
            number = nodes.text(each.value)
            known = self._head.interim.get(each.key, {})
            if self._is_edition(each) and number not in known:
                remedy = f"Known is {choice_of(known)}." if known else "Write it under `interim:` in pack.yaml."
                near = self._scope.problems.near(number, known)
                sentence = f"There is no interim amendment {number} of edition {each.key} in this pack."
                self._scope.problems.add(sentence, each.value.at, remedy, near)
            yield each.key, number

    def _instead(self) -> tuple[Instead, ...]:
        seen: dict[str, None] = {}
        found = []
        for item in nodes.items(self._node.get("instead")):
            written = nodes.mapping(item)
            name = self._unique_id(written, seen)
            condition = self._condition(written.get("if"))
            requires = self._requires(nodes.mapping(written.get("requires")))
            if condition is not None:
                editions = read_editions(written.get("in"), self._scope)
                found.append(Instead(name, condition, requires, editions))
        return tuple(found)

    def _readings(self) -> tuple[Reading, ...]:
        found = []
        for each in nodes.entries(self._node.get("readings")):
            written = nodes.mapping(each.value)
            check_part_name(each.key, each, self._scope)
            requires = self._requires(nodes.mapping(written.get("requires")))
            editions = read_editions(written.get("in"), self._scope)
            found.append(Reading(each.key, nodes.text(written.get("held_by")), requires, editions))
        return tuple(found)

    def _requires(self, node: Node) -> Requires:
        written = nodes.mapping(node)
        ways = written.get(ANY_WAY)
        parts = {}
        for each in nodes.entries(written if ways is None else ways):
            check_part_name(each.key, each, self._scope)
            condition = self._condition(each.value)
            if condition is not None:
                parts[each.key] = condition
        return Requires(parts, any_way=ways is not None)


def _written_parts(node: MappingNode) -> set[str]:
    """The names of parts as they are written, whether or not they could be read."""
    others = (*nodes.items(node.get("instead")), *(each.value for each in nodes.entries(node.get("readings"))))
    holders = (node, *(each for each in others if isinstance(each, MappingNode)))
    written = [nodes.entries(holder.get("requires")) for holder in holders]
    below = [nodes.entries(each.value) for entries in written for each in entries if each.key == ANY_WAY]
    parts = [each for entries in (*written, *below) for each in entries]
    return {each.key for each in parts} | {name for each in parts for name in _named_inside(each.value)}


def _named_inside(node: Node) -> Iterator[str]:
    """The names that conditions inside one another are given by ``part``."""
    if isinstance(node, MappingNode):
        part = node.get("part")
        yield from (part.text,) if isinstance(part, Scalar) else ()
        yield from (name for each in node.entries for name in _named_inside(each.value))
    elif isinstance(node, SequenceNode):
        yield from (name for each in node.items for name in _named_inside(each))


_TEXTS = ("says", "says_where", "why", "remedy", "cautions", "look")


def _check_texts(rule: Rule, node: MappingNode, scope: Scope, around: Around) -> None:
    parts = parts_of(rule)
    check = TextCheck(scope.vocabulary, around, parts, scope.problems, _written_parts(node) - parts.keys())
    for key in _TEXTS:
        for item in nodes.items(node.get(key)):
            said = text_of_told(item)
            check.check(nodes.text(said), said.at)
    check_told(rule, scope)
    for item in nodes.items(node.get("unless")):
        because = nodes.scalar(nodes.mapping(item).get("because"))
        check.check(because.text, because.at)
    check_labels(rule, node.get("label"), check, scope)
    title = nodes.scalar(node.get("title"))
    refuse_placeholders(title.text, title.at, scope.problems)
