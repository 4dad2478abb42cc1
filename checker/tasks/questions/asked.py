"""What a person is asked for a leaf: a sentence, the choices, how an answer is written."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from checker.catalog.model import Catalog, Fact, ValueType
from checker.catalog.names import MAIN_WAY, SIDES, way_reference
from checker.facts.known import Ask, Leaf
from checker.facts.view import View
from checker.findings.assembling.naming import subject_name
from checker.site.model import SITE, Site
from checker.tasks.questions.trade_words import trade_words
from checker.tasks.questions.where import TAPE, Stop, is_on_site, stop_of

YES, NO, NONE, ADD = "yes", "no", "none", "add"


@dataclass(frozen=True, slots=True)
class Choice:
    """A word that may be answered, what it means, and what it comes to in plain words."""

    word: str
    title: str
    in_words: str = ""


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
    unit: str = ""

    @property
    def is_on_site(self) -> bool:
        """Whether it can be read on site."""
        return is_on_site(self.paper)

    @property
    def is_worked_out(self) -> bool:
        """Whether it is a figure that the program works out of others, and that neither an eye on site nor a letter of
        the utility gives.
        """
        fact, subject = self.fact, self.leaf.subject.type
        if fact is None or not fact.type.is_ordered or self.is_on_site:
            return False
        if subject == _SUPPLY and _UTILITY in self.paper:
            return False
        return subject in fact.derived_for


def question_of(leaf: Leaf, view: View) -> Question | None:
    """The question for a leaf; None for what is not written at one place of the site file by one answer."""
    catalog = view.ground.catalog
    if leaf.ask is Ask.MORE:
        title, paper = catalog.lists[leaf.name].title, catalog.list_found_on(leaf.name)
        means = catalog.lists[leaf.name].means if paper == TAPE else ""
        where = "" if leaf.subject.id == SITE.id else f" of {leaf.subject.id}"
        sentence = f"Are all {title}{where} listed in the site file, so that there are no others?"
        choices: tuple[Choice, ...] = (
            Choice(YES, "there are no others"),
            Choice(NO, "there are more, or nobody knows"),
            Choice(ADD, "list one that is missing"),
        )
        stop = stop_of(leaf, paper, view.ground.site, catalog)
        subject, asked = "The site file", f"lists all {title}{where}"
        if paper == TAPE:
            subject, asked = title.capitalize(), "each of them, and whether there are others"
        return Question(leaf, None, sentence, subject, asked, means, paper, stop, choices, "")
    if leaf.ask is Ask.EXISTS:
        kind = catalog.kinds[leaf.name]
        drawn = any(piece.type == leaf.name for piece in view.ground.site.pieces.values())
        sentence = (
            f"Is there, on this site, another {kind.title} than the site file lists?"
            if drawn
            else f"Is there {_article(kind.title)} on this site? The site file lists none."
        )
        choices = (
            Choice(NO, "none but what is listed" if drawn else "there is none"),
            Choice(YES, "there is; a few questions draw it"),
        )
        asked = f"another {kind.title} than the site file lists"
        means = kind.means.partition(_HOW_IT_IS_WRITTEN)[0]
        return Question(leaf, None, sentence, "The site", asked, means, "site", Stop(kind.seen_at), choices, "")
    return _of_fact(leaf, view)


_HOW_IT_IS_WRITTEN = "; `"
"""Begins what a kind says of how it is written, which is nothing to a person who is asked whether there is one."""


def _of_fact(leaf: Leaf, view: View) -> Question | None:
    site, catalog = view.ground.site, view.ground.catalog
    fact = catalog.facts[leaf.name]
    if leaf.subject.type in ("side", "figure") or leaf.subject.type not in fact.stated_for:
        return None
    if fact.exact or (fact.type is ValueType.STRUCTURE and fact.reads is None and not fact.may_be_none):
        return None
    words = _words(leaf, view)
    stop = stop_of(leaf, paper_of(fact, leaf, catalog), site, catalog)
    found = asked_of(leaf, fact, sentence_of(words, fact, catalog), words, stop, catalog)
    if fact.type is ValueType.TAG and not fact.choices:
        found = replace(found, kind_of_answer=f"the tag of a piece: {', '.join(site.pieces)}")
    return found


def asked_of(leaf: Leaf, fact: Fact, sentence: str, words: str, stop: Stop, catalog: Catalog) -> Question:
    """The question for a fact that is asked in this sentence, of what is called so."""
    return Question(
        leaf,
        fact,
        sentence,
        _capital(words) if words.startswith("the ") else words,
        _full_title(fact, catalog),
        fact.means,
        paper_of(fact, leaf, catalog),
        stop,
        tuple(_choices(fact, catalog)),
        _kind_of_answer(fact, catalog),
        _unit(fact, catalog),
    )


def _unit(fact: Fact, catalog: Catalog) -> str:
    """The unit of a bare number."""
    typed = fact if fact.short_for is None else catalog.facts[f"{fact.name}.{fact.short_for}"]
    return typed.unit or ""


def paper_of(fact: Fact, leaf: Leaf, catalog: Catalog) -> str:
    """Where it is found; what has no nameplate is read at what its kind names instead."""
    kind = catalog.kinds.get(leaf.subject.type)
    instead = "" if kind is None else kind.without_nameplate
    return instead if instead and fact.found_on == _NAMEPLATE else fact.found_on


_NAMEPLATE, _UTILITY, _SUPPLY = "nameplate", "utility letter", "utility_supply"
_HEAD = re.compile(r",| (?:of|in|at|that|for|together|or)\b")
"""Behind the word for what is counted."""
_IS_A_QUESTION = ("where ", "what ", "how ", "whom ", "which ", "whether ")
_COUNTED = (ValueType.QUANTITY, ValueType.COUNT, ValueType.DATE, ValueType.TEXT, ValueType.WIRE_SIZE)


def sentence_of(words: str, fact: Fact, catalog: Catalog) -> str:
    """The question in a sentence: of what first, then what of it."""
    whole, _, part = fact.name.partition(".")
    title, of = fact.title, words
    if part:
        before = catalog.facts[whole].title
        title = title.removeprefix(f"{before}: ")
        if title.startswith("on "):
            title = f"{before} {title}"
        elif before not in title:
            of = f"{words}, {before}"
    asked = trade_words(fact.name).asked
    if asked and not part:
        return f"{_capital(words)}: {asked}"
    if fact.type is ValueType.FLAG:
        return f"Is this so of {of}: {title}?"
    if title.startswith(_IS_A_QUESTION):
        return f"{_capital(of)}: {title}?"
    asks = "what is the" if fact.type in _COUNTED else "which"
    if fact.type is ValueType.COUNT and _HEAD.split(title)[0].endswith("s"):
        asks = "how many"
    return f"{_capital(of)}: {asks} {title}?"


def _article(title: str) -> str:
    return f"{'an' if title[0] in 'aeiou' else 'a'} {title}"


def _capital(text: str) -> str:
    """With a capital, but tags as they are written on the drawing."""
    return text[:1].upper() + text[1:]


def _full_title(fact: Fact, catalog: Catalog) -> str:
    """The title, of a part with that of the whole before it."""
    whole, _, part = fact.name.partition(".")
    before = catalog.facts[whole].title
    title = fact.title.removeprefix(f"{before}: ") if part else fact.title
    if not part or before in title:
        return title
    return f"{before} {title}" if title.startswith("on ") else f"{before}, {title}"


def _words(leaf: Leaf, view: View) -> str:
    name, catalog = subject_name(view, leaf.subject).words, view.ground.catalog
    if leaf.subject.type == "connection":
        return f"the line from {name}"
    way = way_reference(leaf.subject.id) if leaf.subject.type == "way" else None
    if way is not None and way[2] in SIDES:
        return f"the {way[2]} side of {way[1]}"
    if way is not None:
        return f"the main of {way[1]}" if way[2] == MAIN_WAY else f"way {way[2]} of {way[1]}"
    kind = catalog.kinds.get(leaf.subject.type)
    return name if kind is None else f"{name} ({kind.title})"


def _choices(fact: Fact, catalog: Catalog) -> Iterator[Choice]:
    if fact.type is ValueType.FLAG:
        yield from (Choice(YES, ""), Choice(NO, ""))
    in_words = trade_words(fact.name).in_words
    for word, title in fact.choices.items():
        yield Choice(word, "" if title == word.replace("_", " ") else title, in_words.get(word, ""))
    if catalog.may_be_absent(fact):
        yield Choice(NONE, "known not to be there")


def _kind_of_answer(fact: Fact, catalog: Catalog) -> str:
    """What is typed where no choice says it."""
    if typed := trade_words(fact.name).typed:
        return typed
    if fact.short_for is not None:
        part = catalog.facts[f"{fact.name}.{fact.short_for}"]
        title = part.title.removeprefix(f"{fact.title}: ")
        return f"its {title}: {_kind_of_answer(part, catalog)}"
    if fact.type is ValueType.QUANTITY and fact.quantity is not None:
        example = _RANGES.get(fact.unit or "", f"1 {fact.unit} to 2 {fact.unit}")
        return f'{_number_words(fact)}, or a range as "{example}"'
    return _KINDS_OF_ANSWER.get(fact.reads or fact.type.value, "")


def _number_words(fact: Fact) -> str:
    """A number, with its unit in words and as it is written."""
    if fact.unit:
        words = _UNITS.get(fact.unit)
        return f"a number in {fact.unit}" if words is None else f"{words} ({fact.unit})"
    bounds = fact.physical
    if bounds is not None and bounds.low is not None and bounds.high is not None:
        return f"a number from {float(bounds.low):g} to {float(bounds.high):g}"
    return "a number"


_RANGES = {
    "": "0.8 to 0.9",
    "A": "100 A to 125 A",
    "kA": "5 kA to 10 kA",
    "V": "120 V to 240 V",
    "VA": "3600 VA to 4500 VA",
    "W": "1200 W to 1500 W",
    "kW": "18 kW to 20 kW",
    "ft": "20 ft to 30 ft",
    "ft2": "2000 ft2 to 2400 ft2",
    "in": "6 in to 8 in",
    "in wc": "7 in wc to 11 in wc",
    "ft3/h": "200 ft3/h to 250 ft3/h",
    "kBTU/h": "200 kBTU/h to 250 kBTU/h",
    "gal": "250 gal to 500 gal",
    "dBA": "60 dBA to 65 dBA",
    "%": "10 % to 15 %",
    "F": "90 F to 100 F",
}
"""Ends of a range that stands for an answer of which nobody is sure."""

_UNITS = {
    "A": "amperes",
    "kA": "kiloamperes",
    "V": "volts",
    "VA": "volt-amperes",
    "kVA": "kilovolt-amperes",
    "W": "watts",
    "kW": "kilowatts",
    "hp": "horsepower",
    "Hz": "hertz",
    "ft": "feet",
    "in": "inches",
    "ft2": "square feet",
    "in wc": "inches of water column",
    "psi": "pounds per square inch",
    "ft3/h": "cubic feet an hour",
    "kBTU/h": "thousand BTU an hour",
    "gal": "gallons",
    "gal/h": "gallons an hour",
    "s": "seconds",
    "min": "minutes",
    "h": "hours",
    "dBA": "decibels, A-weighted",
    "%": "percent",
    "F": "degrees Fahrenheit",
    "C": "degrees Celsius",
}


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
    """The leaf under which it is asked: the whole of a structure that one line gives, or for which one part is short,
    and of which nothing is shown; of a structure of which one part is in use what says so, then that part.
    """
    whole, _, part = leaf.name.partition(".")
    if leaf.ask is not Ask.FACT or not part:
        return leaf
    in_use = catalog.facts[whole].part_in_use
    if in_use is not None and catalog.fact(in_use, leaf.subject.type) is not None:
        says = site.stated(leaf.subject, in_use)
        used = None if says is None else says.value.atom
        return Leaf(leaf.subject, in_use if used is None else f"{whole}.{used}")
    if catalog.facts[whole].reads is None and part != catalog.facts[whole].short_for:
        return leaf
    shown = site.stated(leaf.subject, whole)
    return (
        leaf
        if shown is not None and not shown.value.anything and shown.text != "unknown"
        else Leaf(leaf.subject, whole)
    )
