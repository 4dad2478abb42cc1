"""What is asked where a person says that something is to be listed or drawn: a few facts of it, one after the other."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache

from checker.catalog.model import Catalog, Fact
from checker.facts.known import Ask, Leaf
from checker.files.folders import data_folder
from checker.files.strict_yaml import read_file
from checker.files.tree import Mapping as MappingNode
from checker.rules import nodes
from checker.site.model import SITE, Site, Subject
from checker.tasks.questions.asked import Choice, Question, asked_of
from checker.tasks.questions.where import Stop
from checker.values.number_text import read_number

NAME, RATING = "name", "load_power"


@dataclass(frozen=True, slots=True)
class What:
    """A word by which a person calls it, with the facts that it stands for, and other words for it; of what only heats,
    W and VA are one.
    """

    word: str
    title: str
    facts: Mapping[str, str]
    heats: bool
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Part:
    """One fact to ask: how, as what it is typed, and which kinds of pieces can be named."""

    fact: str
    sentence: str
    typed_as: str
    among: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Form:
    """What is asked of a new member of a list, or of a new piece of a kind with the beginning of its tag."""

    name: str
    tag: str
    whats: tuple[What, ...]
    parts: tuple[Part, ...]


@cache
def forms() -> Mapping[str, Form]:
    """Every form by the name of its list or kind."""
    root = nodes.mapping(read_file(data_folder("shared") / "entries.yaml", "entries.yaml"))
    found = {entry.key: nodes.mapping(entry.value) for entry in nodes.entries(root.get("entries"))}
    return {name: _form(name, node) for name, node in found.items()}


def _form(name: str, node: MappingNode) -> Form:
    tag, whats, asks = node.get("tag"), node.get("whats"), node.get("asks")
    return Form(
        name,
        "" if tag is None else nodes.text(tag),
        () if whats is None else tuple(_what(entry.key, nodes.mapping(entry.value)) for entry in nodes.entries(whats)),
        tuple(_part(nodes.mapping(each)) for each in nodes.items(asks)),
    )


def _what(word: str, node: MappingNode) -> What:
    facts = {entry.key: nodes.text(entry.value) for entry in nodes.entries(node.get("facts"))}
    return What(
        word, nodes.text(node.get("title")), facts, node.get("heats") is not None, nodes.texts(node.get("also"))
    )


def _part(node: MappingNode) -> Part:
    typed_as, among = node.get("as"), node.get("among")
    return Part(
        nodes.text(node.get("fact")),
        nodes.text(node.get("sentence")),
        "" if typed_as is None else nodes.text(typed_as),
        () if among is None else nodes.texts(among),
    )


def form_of(question: Question) -> Form | None:
    """What is asked where there is more than the file lists; None where that has to be written by hand."""
    leaf = question.leaf
    if leaf.ask is Ask.FACT or (leaf.ask is Ask.MORE and leaf.subject != SITE):
        return None
    return forms().get(leaf.name)


def subject_of(form: Form, catalog: Catalog) -> str:
    """The type of subject that a form makes."""
    return catalog.lists[form.name].member if form.name in catalog.lists else form.name


def what_question(form: Form) -> tuple[Choice, ...]:
    """The words by which it may be called."""
    return tuple(Choice(each.word, each.title) for each in form.whats)


def part_question(form: Form, part: Part, site: Site, catalog: Catalog) -> Question:
    """The question for one fact of what is to be listed or drawn."""
    kind = subject_of(form, catalog)
    fact = catalog.facts[part.fact]
    found = asked_of(Leaf(Subject(kind, "new"), part.fact), fact, part.sentence, "", Stop.SITE, catalog)
    found = replace(found, kind_of_answer=part.typed_as or found.kind_of_answer)
    if not part.among:
        return found
    tags = tuple(Choice(tag, "") for tag in candidates(part, site, catalog))
    return replace(found, choices=tags, kind_of_answer="")


def candidates(part: Part, site: Site, catalog: Catalog) -> tuple[str, ...]:
    """The tags of the pieces that can be named."""
    kinds = {kind for name in part.among for kind in catalog.groups.get(name, (name,))}
    return tuple(tag for tag, piece in site.pieces.items() if piece.type in kinds)


def tag_of(form: Form, site: Site) -> str:
    """The next tag that is free."""
    number = 1
    while f"{form.tag}{number}" in site.pieces:
        number += 1
    return f"{form.tag}{number}"


# --- ratings ---------------------------------------------------------------------------------------------------------

_CURRENT_AT = re.compile(
    r"(?P<amps>[0-9.,]+)\s*a(?:mps?)?\s*(?:at|@|,|x)?\s*(?P<volts>[0-9.,]+)\s*v(?:olts?)?", re.IGNORECASE
)
_WATTS = re.compile(r"(?P<number>[0-9.,]+)\s*(?P<kilo>k?)w(?:atts?)?", re.IGNORECASE)


def rating_words(typed: str, fact: Fact, what: What | None) -> str:
    """A rating in volt-amperes as the site file takes it: amperes times volts of one phase, and watts of what heats.

    Raises NotationError for a number that cannot be read.
    """
    if fact.quantity != "apparent_power":
        return typed
    current = _CURRENT_AT.fullmatch(typed.strip())
    if current is not None:
        product = _number(current["amps"]) * _number(current["volts"])
        return f"{float(product):g} VA" if product < _SHORT else f"{float(product / _KILO):g} kVA"
    watts = _WATTS.fullmatch(typed.strip())
    if watts is not None and what is not None and what.heats:
        return f"{watts['number']} {watts['kilo'].lower()}VA"
    return typed


_KILO, _SHORT = 1000, 100_000


def _number(text: str) -> Fraction:
    return read_number(text)
