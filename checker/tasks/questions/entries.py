"""What is asked where a person says that something is to be listed or drawn: a few facts of it, one after the other."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache

from checker.catalog.model import Catalog, Fact
from checker.engineering.calculation import OutsideLimits
from checker.facts.known import Ask, Leaf
from checker.facts.numbers import number_in_force
from checker.files.folders import data_folder
from checker.files.yaml.strict_yaml import read_file
from checker.files.yaml.tree import Mapping as MappingNode
from checker.rules.model.in_force import NumbersInForce
from checker.rules.reading import nodes
from checker.site.model import SITE, Site, Subject
from checker.tasks.questions.asked import NONE, Choice, Question, asked_of
from checker.tasks.questions.where import Stop
from checker.values.number_text import read_number
from checker.values.refusals import NotationError

NAME, RATING = "name", "load_power"


@dataclass(frozen=True, slots=True)
class What:
    """A word by which a person calls it, with the facts that it stands for, and other words for it; of what only heats,
    W and VA are one; the breaker of what lasts for hours is larger than its rating.
    """

    word: str
    title: str
    facts: Mapping[str, str]
    heats: bool
    also: tuple[str, ...] = ()
    lasts: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """One fact to ask: how, as what it is typed, which kinds of pieces can be named, of which whats it is asked (of all
    where none is named), the fact without which it is not asked, and what none means.
    """

    fact: str
    sentence: str
    typed_as: str
    among: tuple[str, ...]
    only: tuple[str, ...] = ()
    after: str = ""
    none_title: str = ""

    def is_asked(self, what: What | None, known: Collection[str]) -> bool:
        """Whether it is asked of what is being entered, of which these facts are known."""
        fits = not self.only or (what is not None and what.word in self.only)
        return fits and self.fact not in known and (not self.after or self.after in known)


@dataclass(frozen=True, slots=True)
class Form:
    """What is asked of a new member of a list, or of a new piece of a kind with the beginning of its tag: first by
    which of its whats it is called, where there are any.
    """

    name: str
    tag: str
    what_sentence: str
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
        nodes.text(node.get("what"), "What is it?"),
        () if whats is None else tuple(_what(entry.key, nodes.mapping(entry.value)) for entry in nodes.entries(whats)),
        tuple(_part(nodes.mapping(each)) for each in nodes.items(asks)),
    )


def _what(word: str, node: MappingNode) -> What:
    facts = {entry.key: nodes.text(entry.value) for entry in nodes.entries(node.get("facts"))}
    heats, lasts = (nodes.flag(node.get(each)) is True for each in ("heats", "lasts"))
    return What(word, nodes.text(node.get("title")), facts, heats, nodes.texts(node.get("also")), lasts)


def _part(node: MappingNode) -> Part:
    typed_as, among = node.get("as"), node.get("among")
    return Part(
        nodes.text(node.get("fact")),
        nodes.text(node.get("sentence")),
        "" if typed_as is None else nodes.text(typed_as),
        () if among is None else nodes.texts(among),
        nodes.texts(node.get("only")),
        nodes.text(node.get("after")),
        nodes.text(node.get("none")),
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
    if part.none_title:
        choices = (Choice(NONE, part.none_title) if each.word == NONE else each for each in found.choices)
        found = replace(found, choices=tuple(choices))
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

_CURRENT = re.compile(
    r"(?P<amps>[0-9.,]+)\s*-?\s*a(?:mps?|mperes?)?(?:\s*(?:(?:at|@|,|x)\s*(?P<at>[0-9.,]+)(?:\s*v(?:olts?)?)?|(?P<volts>[0-9.,]+)\s*v(?:olts?)?))?",
    re.IGNORECASE,
)
_WATTS = re.compile(r"(?P<number>[0-9.,]+)\s*(?P<kilo>k?)w(?:atts?)?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Current:
    """A rating in amperes, and volts of one phase where they are given."""

    amps: Fraction
    volts: Fraction | None

    @property
    def words(self) -> str:
        """As it is told."""
        at = "" if self.volts is None else f" at {float(self.volts):g} V"
        return f"{float(self.amps):g} A{at}"


def current_of(typed: str, fact: Fact) -> Current | None:
    """A rating in volt-amperes that is given in amperes; None for any other. Raises NotationError."""
    found = _CURRENT.fullmatch(typed.strip()) if fact.quantity == _APPARENT_POWER else None
    if found is None:
        return None
    volts = found["at"] or found["volts"]
    return Current(_number(found["amps"]), None if volts is None else _number(volts))


def power_words(current: Current) -> str:
    """Amperes times volts of one phase, as the site file takes it. Raises NotationError where no volts are given."""
    if current.volts is None:
        sentence = f"{current.words} alone gives no rating: it takes the volts as well."
        raise NotationError(sentence, f"Type both, as {current.words} at 240 V, or the rating, as 4.5 kVA.")
    product = current.amps * current.volts
    return f"{float(product):g} VA" if product < _SHORT else f"{float(product / _KILO):g} kVA"


def current_behind(breaker: Current, numbers: NumbersInForce) -> Current:
    """The most that a load that lasts for hours may draw behind a breaker, by what the documents in force want a device
    to have above such a load. Raises NotationError where they set no such number.
    """
    try:
        more = number_in_force(numbers, CONTINUOUS)
    except OutsideLimits:
        raise NotationError(
            "No document in force says how much larger the breaker of a load that lasts has to be.",
            "Type the current of the load itself, from its nameplate.",
        ) from None
    return Current(breaker.amps / (1 + more), breaker.volts)


CONTINUOUS = "what-a-continuous-load-adds"
_APPARENT_POWER = "apparent_power"


def rating_words(typed: str, fact: Fact, what: What | None) -> str:
    """A rating in volt-amperes as the site file takes it: amperes times volts of one phase, and watts of what heats.

    Raises NotationError for a number that cannot be read, and for amperes without volts.
    """
    if fact.quantity != _APPARENT_POWER:
        return typed
    current = current_of(typed, fact)
    if current is not None:
        return power_words(current)
    watts = _WATTS.fullmatch(typed.strip())
    if watts is not None and what is not None and what.heats:
        return f"{watts['number']} {watts['kilo'].lower()}VA"
    return typed


_KILO, _SHORT = 1000, 100_000


def _number(text: str) -> Fraction:
    return read_number(text)
