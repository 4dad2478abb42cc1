"""What a person is asked for a leaf: a sentence, the choices, how an answer is written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from checker.catalog.model import Catalog, Fact, ValueType
from checker.catalog.names import way_reference
from checker.facts.known import Ask, Leaf
from checker.facts.view import View
from checker.findings.naming import subject_name
from checker.site.model import SITE, Site
from checker.tasks.questions.where import TAPE, Stop, is_on_site, stop_of

YES, NO, NONE = "yes", "no", "none"


@dataclass(frozen=True, slots=True)
class Choice:
    """A word that may be answered, and what it means."""

    word: str
    title: str


@dataclass(frozen=True, slots=True)
class Question:
    """One thing to ask: as a sentence, and in a few words (of what, and what of it) for a list; with the choices, and
    what is typed where no choice says it.
    """

    leaf: Leaf
    fact: Fact | None
    sentence: str
    subject: str
    asked: str
    means: str
    paper: str
    stop: Stop
    choices: tuple[Choice, ...]
    kind_of_answer: str

    @property
    def is_on_site(self) -> bool:
        """Whether it can be read on site."""
        return is_on_site(self.paper)


def question_of(leaf: Leaf, view: View) -> Question | None:
    """The question for a leaf; None for what is not written at one place of the site file by one answer."""
    catalog = view.ground.catalog
    if leaf.ask is Ask.MORE:
        title, paper = catalog.lists[leaf.name].title, catalog.list_found_on(leaf.name)
        means = catalog.lists[leaf.name].means if paper == TAPE else ""
        where = "" if leaf.subject.id == SITE.id else f" of {leaf.subject.id}"
        sentence = f"Are all {title}{where} listed in the site file, so that there are no others?"
        choices = (Choice(YES, "there are no others"), Choice(NO, "there are more, or nobody knows"))
        stop = stop_of(leaf, paper, view.ground.site, catalog)
        subject, asked = "The site file", f"lists all {title}{where}"
        if paper == TAPE:
            subject, asked = title.capitalize(), "each of them, and whether there are others"
        return Question(leaf, None, sentence, subject, asked, means, paper, stop, choices, "")
    if leaf.ask is Ask.EXISTS:
        kind = catalog.kinds[leaf.name]
        sentence = f"Is there, on this site, another {kind.title} than the site file lists?"
        choices = (Choice(NO, "none but what is listed"), Choice(YES, "there is, and it is to be drawn"))
        asked = f"another {kind.title} than the site file lists"
        return Question(leaf, None, sentence, "The site", asked, kind.means, "site", Stop.SITE, choices, "")
    return _of_fact(leaf, view)


def _of_fact(leaf: Leaf, view: View) -> Question | None:
    site, catalog = view.ground.site, view.ground.catalog
    fact = catalog.facts[leaf.name]
    if leaf.subject.type in ("side", "figure") or leaf.subject.type not in fact.stated_for:
        return None
    if fact.exact or (fact.type is ValueType.STRUCTURE and fact.reads is None and not fact.may_be_none):
        return None
    title = _full_title(fact, catalog)
    words = _words(leaf, view)
    verb = "Is this so of" if fact.type is ValueType.FLAG else "What is known of"
    return Question(
        leaf,
        fact,
        f"{verb} {words}: {title}?",
        words[:1].upper() + words[1:] if words.startswith("the ") else words,
        title,
        fact.means,
        fact.found_on,
        stop_of(leaf, fact.found_on, site, catalog),
        tuple(_choices(fact, catalog)),
        _kind_of_answer(fact, catalog),
    )


def _full_title(fact: Fact, catalog: Catalog) -> str:
    """The title, of a part with that of the whole before it."""
    whole, _, part = fact.name.partition(".")
    before = catalog.facts[whole].title
    return f"{before}, {fact.title}" if part and before not in fact.title else fact.title


def _words(leaf: Leaf, view: View) -> str:
    name, catalog = subject_name(view, leaf.subject).words, view.ground.catalog
    if leaf.subject.type == "connection":
        return f"the line from {name}"
    way = way_reference(leaf.subject.id) if leaf.subject.type == "way" else None
    if way is not None:
        return f"way {way[2]} of {way[1]}"
    kind = catalog.kinds.get(leaf.subject.type)
    return name if kind is None else f"{name} ({kind.title})"


def _choices(fact: Fact, catalog: Catalog) -> Iterator[Choice]:
    if fact.type is ValueType.FLAG:
        yield from (Choice(YES, ""), Choice(NO, ""))
    for word, title in fact.choices.items():
        yield Choice(word, "" if title == word.replace("_", " ") else title)
    if catalog.may_be_absent(fact):
        yield Choice(NONE, "known not to be there")


def _kind_of_answer(fact: Fact, catalog: Catalog) -> str:
    """What is typed where no choice says it."""
    if fact.short_for is not None:
        part = catalog.facts[f"{fact.name}.{fact.short_for}"]
        return f"its {part.title}: {_kind_of_answer(part, catalog)}"
    if fact.type is ValueType.QUANTITY and fact.quantity is not None:
        unit = f" in {fact.unit}" if fact.unit else ""
        return f"{fact.quantity.replace('_', ' ')}{unit}, or a range with to between"
    return _KINDS_OF_ANSWER.get(fact.reads or fact.type.value, "")


_KINDS_OF_ANSWER = {
    "conductor": "conductors, as 3 AWG copper",
    "voltage_system": "voltages, phases and wires, as 120/240 V 1-phase 3-wire",
    ValueType.COUNT.value: "a whole number",
    ValueType.WIRE_SIZE.value: "a wire size, as 3 AWG",
    ValueType.DATE.value: "a date, as 2026-03-14",
    ValueType.TAG.value: "the tag of a piece",
    ValueType.WAY.value: "a piece and one of its ways, as P1/7",
    ValueType.TEXT.value: "words",
}


def asked_as(leaf: Leaf, site: Site, catalog: Catalog) -> Leaf:
    """The leaf under which it is asked: the whole of a structure that one line gives and of which nothing is shown."""
    whole, _, part = leaf.name.partition(".")
    if leaf.ask is not Ask.FACT or not part or catalog.facts[whole].reads is None:
        return leaf
    shown = site.stated(leaf.subject, whole)
    return (
        leaf
        if shown is not None and not shown.value.anything and shown.text != "unknown"
        else Leaf(leaf.subject, whole)
    )
