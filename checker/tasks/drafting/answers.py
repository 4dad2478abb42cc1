"""The answers from which a layer and a profile are drafted, and how they are read from a file."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from checker.catalog.model import Stage
from checker.files.yaml.strict_yaml import read_bytes, read_text
from checker.files.yaml.tree import Entry, Node
from checker.files.yaml.tree import Mapping as MappingNode
from checker.rules import grammar
from checker.rules.model.force import Basis
from checker.rules.model.profile import May
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.reading.citing import day
from checker.rules.reading.shape_check import sound_shape
from checker.rules.schemas.words import (
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
from checker.rules.wording import listing
from checker.values.positions import Position
from checker.values.problems import Problem

SET, DELETE, ADD, ASK_FOR, LIMIT = "set", "delete", "add", "ask_for", "limit"
CHANGES = (SET, DELETE, ADD, ASK_FOR, LIMIT)
_TERMS = ("section", "from", "until", "reason")
_TAKES: Mapping[str, tuple[str, ...]] = {
    SET: ("to", "exceptions"),
    DELETE: ("every",),
    ADD: ("with", "only"),
    ASK_FOR: ("must_show", "title", "means", "due", "with", "only"),
    LIMIT: ("every",),
}
_VALUES = ("to", "exceptions", "every", "must_show", "only")
_WITH_HYPHEN = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)+").fullmatch
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
class PaperOfOwn:
    """A paper that only this place knows: its title as it stands after the word the, what it is, when it is due."""

    title: str
    means: str = ""
    due: str = ""


@dataclass(frozen=True, slots=True)
class Wanted:
    """One change as it was answered: ``word`` is one of CHANGES, ``target`` a word, a section, an id, a shape or a
    paper, ``values`` what else was said, as YAML on one line. ``own`` says what the paper is where the catalog has none
    of this name.
    """

    word: str
    target: str
    section: str
    start: str = ""
    until: str = ""
    reason: str = ""
    values: Mapping[str, str] = field(default_factory=dict)
    lists: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    own: PaperOfOwn | None = None
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


def name_with_hyphen(name: str) -> bool:
    """Whether a paper of a town's own can have this name: no paper of the catalog has a hyphen."""
    return _WITH_HYPHEN(name) is not None


def a_name_with_hyphen(title: str) -> str:
    """A name that a paper of this title can have: signed notice is signed-notice, handout is handout-of-the-office."""
    name = name_of(title)
    return name if name_with_hyphen(name) else f"{name}-of-the-office".lstrip("-0123456789")


def read_answers(path: Path) -> Answers:
    """The answers in a file. Raises Unreadable with everything that is wrong in it."""
    shown = path.name if path.is_absolute() else path.as_posix()
    root = read_text(read_bytes(path, shown), shown)
    return answers_from(root)


def answers_from(root: Node) -> Answers:
    """The answers in what was read. Raises Unreadable with everything that is wrong in it."""
    problems = ProblemList()
    sound_shape(root, answers_schema(), problems)
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
        "only": a_list("list of conditions", TEXT),
        "title": TEXT,
        "means": TEXT,
        "due": words(*(each.value for each in Stage)),
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
        self._check_keys(word, node)
        inner = (*(each for each in node.entries if each.key in _VALUES),)
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
            self._own_paper(word, node),
            word.at,
        )

    def _check_keys(self, word: Entry, node: MappingNode) -> None:
        """What a change says that its word does not take is told, as nothing would come of it."""
        takes = (word.key, *_TAKES[word.key], *_TERMS)
        for each in node.entries:
            if each.key not in takes:
                sentence = f"`{each.key}` says nothing of a change that begins with `{word.key}`."
                self._problems.add(sentence, each.at, f"Take it out. Beside `{word.key}` stand {listing(takes[1:])}.")

    def _own_paper(self, word: Entry, node: MappingNode) -> PaperOfOwn | None:
        """What a paper is that only this place knows; None where nothing is said of it."""
        title, means, due = (nodes.text(node.get(key)) for key in ("title", "means", "due"))
        if not (title or means or due) or word.key != ASK_FOR:
            return None
        name = nodes.text(word.value)
        if not title:
            remedy = "Write `title:`, as it is printed after the word the: signed notice to the neighbors."
            self._problems.add(f"The paper `{name}` has no title.", word.at, remedy)
        if not name_with_hyphen(name):
            remedy = f"Write `ask_for: {a_name_with_hyphen(title or name)}`, or another of two or more words."
            self._problems.add(f"`{name}` is no name for a paper of your own, which has a hyphen.", word.at, remedy)
        return PaperOfOwn(title, means, due)

    def _record(self, node: MappingNode) -> Record:
        values = {each.key: nodes.text(each.value) for each in node.entries if each.key not in ("rule", "conditions")}
        return Record(nodes.text(node.get("rule")), values, nodes.texts(node.get("conditions")), node.at)
