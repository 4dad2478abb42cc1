"""The answers from which a layer and a profile are drafted, and how they are read from a file."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from checker.files.strict_yaml import read_bytes, read_text
from checker.files.tree import Mapping as MappingNode
from checker.files.tree import Node
from checker.rules import grammar, nodes
from checker.rules.citing import day
from checker.rules.model import Basis, May
from checker.rules.problem_list import ProblemList
from checker.rules.schema_words import (
    DATE,
    EDITION,
    FLAG,
    TEXT,
    TEXT_OR_NUMBER,
    Schema,
    a_list,
    a_map,
    an_object,
    words,
)
from checker.rules.shape_check import check_shape
from checker.values.positions import Position
from checker.values.problems import Problem

SET, DELETE, ADD, ASK_FOR, LIMIT = "set", "delete", "add", "ask_for", "limit"
CHANGES = (SET, DELETE, ADD, ASK_FOR, LIMIT)
_NOT_A_NAME = re.compile(r"[^a-z0-9]+")
_NEEDED_FOR_CHANGES = ("authority", "document")


@dataclass(frozen=True, slots=True)
class Adopted:
    """A document as it is adopted; ``edition`` is empty for one without editions."""

    document: str
    edition: str
    start: str
    adopted_by: str


@dataclass(frozen=True, slots=True)
class Wanted:
    """One change as it was answered: ``word`` is one of CHANGES, ``target`` a word, a section, an id, a shape or a
    paper, ``values`` what else was said, as YAML on one line.
    """

    word: str
    target: str
    section: str
    start: str = ""
    until: str = ""
    reason: str = ""
    values: Mapping[str, str] = field(default_factory=dict)
    lists: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    at: Position | None = None


@dataclass(frozen=True, slots=True)
class Record:
    """An interpretation or a special permission: ``rule`` is a word, a section or an id."""

    rule: str
    values: Mapping[str, str]
    conditions: tuple[str, ...] = ()
    at: Position | None = None


@dataclass(frozen=True, slots=True)
class Answers:
    """Everything that was answered. Dates are written as 2026-03-14."""

    place: str
    event: str
    adopts: tuple[Adopted, ...]
    authority: str = ""
    document: str = ""
    basis: str = Basis.LAW.value
    may: str = May.ANYTHING.value
    checked: Mapping[str, str] = field(default_factory=dict)
    changes: tuple[Wanted, ...] = ()
    interpretations: tuple[Record, ...] = ()
    permissions: tuple[Record, ...] = ()

    @property
    def name(self) -> str:
        """The place as a name: Sedge Hollow is sedge-hollow."""
        return name_of(self.place)

    @property
    def adopted(self) -> Mapping[str, tuple[str, ...]]:
        """The editions of each adopted document, in the order of their days."""
        ordered = sorted(self.adopts, key=lambda each: each.start)
        return {
            name: tuple(each.edition for each in ordered if each.document == name)
            for name in dict.fromkeys(each.document for each in ordered)
        }

    @property
    def editions(self) -> Mapping[str, str]:
        """The edition of each adopted document, the last one where several are."""
        return {document: editions[-1] for document, editions in self.adopted.items()}


def with_texts(answers: Answers, texts: Mapping[str, str]) -> Answers:
    """The answers with some of place, authority, document, basis, event and may in the place of what they were."""
    return replace(
        answers,
        place=texts.get("place", answers.place),
        authority=texts.get("authority", answers.authority),
        document=texts.get("document", answers.document),
        basis=texts.get("basis", answers.basis),
        event=texts.get("event", answers.event),
        may=texts.get("may", answers.may),
    )


def name_of(text: str) -> str:
    """A text as a name in small letters and hyphens."""
    return _NOT_A_NAME.sub("-", text.lower()).strip("-")


def read_answers(path: Path) -> Answers:
    """The answers in a file. Raises Unreadable with everything that is wrong in it."""
    shown = path.name if path.is_absolute() else path.as_posix()
    root = read_text(read_bytes(path, shown), shown)
    return answers_from(root)


def answers_from(root: Node) -> Answers:
    """The answers in what was read. Raises Unreadable with everything that is wrong in it."""
    problems = ProblemList()
    check_shape(root, answers_schema(), problems)
    problems.raise_if_any()
    reader = _Reader(nodes.mapping(root), problems)
    answers = reader.read()
    problems.extend(unanswered(answers, root.at))
    problems.raise_if_any()
    return answers


def unanswered(answers: Answers, at: Position | None = None) -> Iterator[Problem]:
    """What has to be answered too."""
    if not answers.name or not answers.name[0].isalpha():
        yield Problem("The place has no name that a file can have.", at, "Write it in letters: place: Sedge Hollow.")
    if "{" in answers.place or "}" in answers.place:
        yield Problem("In a sentence of a rule { } stand for a fact.", at, "Leave them out of the name of the place.")
    for word in _NEEDED_FOR_CHANGES if answers.changes else ():
        if not getattr(answers, word):
            yield Problem(f"There are changes, and the answers do not name the {word}.", at, f"Write `{word}:`.")
    for change in answers.changes:
        if change.word == LIMIT and not (change.until or change.start):
            yield Problem("This change limits nothing.", change.at, "Write `until:` or `from:`.")


def answers_schema() -> Schema:
    """The shape of a file of answers."""
    adopted = {"document": TEXT, "edition": EDITION, "from": DATE, "adopted_by": TEXT}
    change: dict[str, Schema] = {
        SET: TEXT_OR_NUMBER,
        "to": {"title": "value", "type": ["string", "number", "array"]},
        "exceptions": words("apply", "do_not_apply"),
        DELETE: TEXT_OR_NUMBER,
        "every": FLAG,
        ADD: TEXT,
        "with": a_map("answers", {"title": "answer", "type": ["string", "number", "array"]}),
        ASK_FOR: TEXT,
        "must_show": a_list("list of what it shows", TEXT),
        LIMIT: TEXT_OR_NUMBER,
        "section": TEXT_OR_NUMBER,
        "from": DATE,
        "until": DATE,
        "reason": TEXT,
    }
    record: dict[str, Schema] = {"rule": TEXT_OR_NUMBER, "says": TEXT, "by": TEXT, "on": DATE}
    interpretation = {**record, "status": words(*grammar.INTERPRETATION_STATUS)}
    permission = {**record, "site": TEXT, "subject": TEXT, "until": DATE, "conditions": a_list("conditions", TEXT)}
    checked = an_object(
        "note of who checked",
        {"sure": words(*grammar.SURE), "against": TEXT, "on": DATE, "by": TEXT},
        ["sure", "against"],
    )
    properties: dict[str, Schema] = {
        "place": TEXT,
        "authority": TEXT,
        "document": TEXT,
        "basis": words(*(each.value for each in Basis)),
        "may": words(*(each.value for each in May)),
        "event": words(*grammar.EVENTS),
        "adopts": a_list("list of documents", an_object("document", adopted, ["document", "from", "adopted_by"])),
        "checked": checked,
        "changes": a_list("list of changes", an_object("change", change, ["section"])),
        "interpretations": a_list("list", an_object("interpretation", interpretation, ["rule", "says", "by", "on"])),
        "special_permissions": a_list(
            "list", an_object("special permission", permission, ["rule", "site", "says", "by", "on"])
        ),
    }
    return an_object("file of answers", properties, ["place", "event", "adopts"])


class _Reader:
    """Reads answers whose shape is sound."""

    def __init__(self, root: MappingNode, problems: ProblemList) -> None:
        self._root = root
        self._problems = problems

    def read(self) -> Answers:
        """Everything."""
        root = self._root
        return Answers(
            nodes.text(root.get("place")),
            nodes.text(root.get("event")),
            tuple(self._adopted(nodes.mapping(each)) for each in nodes.items(root.get("adopts"))),
            nodes.text(root.get("authority")),
            nodes.text(root.get("document")),
            nodes.text(root.get("basis"), Basis.LAW.value),
            nodes.text(root.get("may"), May.ANYTHING.value),
            {each.key: nodes.text(each.value) for each in nodes.entries(root.get("checked"))},
            tuple(filter(None, (self._change(nodes.mapping(each)) for each in nodes.items(root.get("changes"))))),
            tuple(self._record(nodes.mapping(each)) for each in nodes.items(root.get("interpretations"))),
            tuple(self._record(nodes.mapping(each)) for each in nodes.items(root.get("special_permissions"))),
        )

    def _day(self, node: MappingNode, key: str) -> str:
        found = day(node.get(key), key, self._problems)
        return "" if found is None else found.isoformat()

    def _adopted(self, node: MappingNode) -> Adopted:
        document, edition, by = (nodes.text(node.get(key)) for key in ("document", "edition", "adopted_by"))
        return Adopted(document, edition, self._day(node, "from"), by)

    def _change(self, node: MappingNode) -> Wanted | None:
        said = [each for each in node.entries if each.key in CHANGES]
        if len(said) != 1:
            self._problems.add("A change is one of set, delete, add, ask_for, limit.", node.at, "Write one of them.")
            return None
        word = said[0]
        if word.key == SET and node.get("to") is None:
            self._problems.add("`set` does not say to what.", word.at, "Write `to:` beside it.")
        inner = (*(each for each in node.entries if each.key in ("to", "exceptions", "every", "must_show")),)
        inner += nodes.entries(node.get("with"))
        return Wanted(
            word.key,
            nodes.text(word.value),
            nodes.text(node.get("section")),
            self._day(node, "from"),
            self._day(node, "until"),
            nodes.text(node.get("reason")),
            {each.key: ", ".join(nodes.texts(each.value)) for each in inner},
            {each.key: nodes.texts(each.value) for each in inner},
            word.at,
        )

    def _record(self, node: MappingNode) -> Record:
        values = {each.key: nodes.text(each.value) for each in node.entries if each.key not in ("rule", "conditions")}
        return Record(nodes.text(node.get("rule")), values, nodes.texts(node.get("conditions")), node.at)
