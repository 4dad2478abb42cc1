"""Rules of common shapes, and conditions under which they count: texts with gaps, from ``shared/shapes.yaml``."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from string import Template

from checker.catalog.model import Catalog, Fact
from checker.files.folders import data_folder
from checker.files.yaml.strict_yaml import read_file
from checker.files.yaml.tree import Mapping as MappingNode
from checker.rules.reading import nodes
from checker.rules.reading.written_values import read_value
from checker.rules.vocabulary import Vocabulary
from checker.rules.wording import choice_of
from checker.tasks.drafting.answers import Wanted, name_of
from checker.tasks.drafting.yaml_text import listed
from checker.values.notation import NotationError, nearest
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable

ANY, SITE = "any", "site"
ONLY = "only"
"""The answer that names the conditions of a change."""
NO_ANSWERS = (ONLY, "must_show")
"""What stands among the values of a change and fills no gap."""


@dataclass(frozen=True, slots=True)
class Ask:
    """One answer that a shape needs: ``what`` is choice, several, quantity or kind, ``of`` the fact, the kind of
    quantity or the group of equipment.
    """

    name: str
    question: str
    what: str
    of: str


@dataclass(frozen=True, slots=True)
class Shape:
    """A rule with gaps. ``when`` is where it counts anyway, in conditions; the gap $when stands for these and for those
    that are chosen.
    """

    name: str
    title: str
    asks: tuple[Ask, ...]
    when: tuple[str, ...]
    rule: str
    parameters: str


@dataclass(frozen=True, slots=True)
class Condition:
    """Where alone a rule or a paper may be said to count. ``texts`` are by the subject of the rule, of a paper the
    site; ANY for every other subject.
    """

    name: str
    title: str
    asks: tuple[Ask, ...]
    texts: Mapping[str, str]
    parameters: str

    def text(self, subject: str) -> str | None:
        """How it is written of a subject; None where it says nothing of it."""
        return self.texts.get(subject, None if subject == SITE else self.texts.get(ANY))


@dataclass(frozen=True, slots=True)
class Filled:
    """The texts of a rule and of the numbers that it reads, without gaps."""

    rule: str
    parameters: str

    @property
    def name(self) -> str:
        """The id of the rule, which stands in its first line."""
        return self.rule.partition("\n")[0].removeprefix("id: ")


@dataclass(frozen=True, slots=True)
class Restricted:
    """Conditions as they are written, and the numbers that they read."""

    when: tuple[str, ...]
    parameters: str = ""


def shapes() -> Mapping[str, Shape]:
    """Every shape by its name."""
    return {entry.key: _shape(entry.key, nodes.mapping(entry.value)) for entry in nodes.entries(_root().get("shapes"))}


def conditions(subject: str) -> Mapping[str, Condition]:
    """Every condition that says something of this subject, by its name."""
    found = (_condition(each.key, nodes.mapping(each.value)) for each in nodes.entries(_root().get("conditions")))
    return {each.name: each for each in found if each.text(subject) is not None}


def subject_of(shape: Shape, answers: Mapping[str, tuple[str, ...]]) -> str:
    """What a rule of this shape is about; where that is asked, what was answered."""
    (line,) = (each for each in shape.rule.splitlines() if each.startswith("subject: "))
    subject = line.removeprefix("subject: ")
    return (answers.get(subject[1:]) or ("",))[0] if subject.startswith("$") else subject


def _root() -> MappingNode:
    return nodes.mapping(read_file(data_folder("shared") / "shapes.yaml", "shapes.yaml"))


def _shape(name: str, node: MappingNode) -> Shape:
    rule, parameters = _block(node, "rule"), _block(node, "parameters")
    when = nodes.texts(node.get("when"))
    return Shape(name, nodes.text(node.get("title")), _asks(node), when, rule, parameters)


def _condition(name: str, node: MappingNode) -> Condition:
    texts = {each.key: nodes.text(each.value) for each in nodes.entries(node.get("of"))}
    return Condition(name, nodes.text(node.get("title")), _asks(node), texts, _block(node, "parameters"))


def _asks(node: MappingNode) -> tuple[Ask, ...]:
    return tuple(_ask(each.key, nodes.mapping(each.value)) for each in nodes.entries(node.get("asks")))


def _block(node: MappingNode, key: str) -> str:
    return nodes.scalar(node.get(key)).text if node.get(key) else ""


def _ask(name: str, node: MappingNode) -> Ask:
    (kind,) = (each for each in node.entries if each.key != "ask")
    return Ask(name, nodes.text(node.get("ask")), kind.key, nodes.text(kind.value))


def filled(shape: Shape, wanted: Wanted, place: str, cites: str, catalog: Catalog) -> Filled:
    """The shape with the answers in its gaps. Raises Unreadable for an answer that is missing or cannot be used."""
    gaps = {"place": name_of(place), "town": json.dumps(place, ensure_ascii=False)[1:-1], "cites": cites}
    gaps |= _answered(shape.asks, wanted, catalog)
    name = Template(shape.rule.partition("\n")[0].removeprefix("id: ")).substitute(gaps)
    only = restricted(subject_of(shape, wanted.lists), name, wanted, cites, catalog, shape.asks)
    own = tuple(Template(each).substitute(gaps) for each in shape.when)
    rule = Template(shape.rule).substitute(gaps, when=_when(own + only.when))
    lines = "".join(f"{line}\n" for line in rule.splitlines() if line.strip())
    return Filled(lines, Template(shape.parameters).substitute(gaps) + only.parameters)


def restricted(
    subject: str, rule: str, wanted: Wanted, cites: str, catalog: Catalog, beside: tuple[Ask, ...] = ()
) -> Restricted:
    """The conditions that were chosen for a rule about this subject. ``beside`` are the answers that the rule itself
    takes. Raises Unreadable for a condition that is none, and for an answer too many, too few or that cannot be used.
    """
    known = conditions(subject)
    titles = {name: each.title for name, each in known.items()}
    _check(titles, wanted.lists.get(ONLY, ()), wanted.at)
    chosen = [known[name] for name in dict.fromkeys(wanted.lists.get(ONLY, ()))]
    asks = (*beside, *(ask for each in chosen for ask in each.asks))
    _check_names(wanted, [each.name for each in asks])
    gaps = {"rule": rule, "cites": cites} | _answered(asks, wanted, catalog)
    when = tuple(Template(each.text(subject) or "").substitute(gaps) for each in chosen)
    return Restricted(when, "".join(Template(each.parameters).substitute(gaps) for each in chosen))


def _when(found: tuple[str, ...]) -> str:
    if len(found) == 1:
        return f"when: {{{found[0]}}}"
    return "when:\n  all:\n" + "".join(f"    - {each}\n" for each in found) if found else ""


def _answered(asks: tuple[Ask, ...], wanted: Wanted, catalog: Catalog) -> dict[str, str]:
    """The texts for the gaps. Raises Unreadable with everything that is missing or cannot be used."""
    gaps: dict[str, str] = {}
    found: list[Problem] = []
    for ask in asks:
        try:
            gaps.update(_gaps(ask, wanted, catalog))
        except Unreadable as error:
            found += error.problems
    if found:
        raise Unreadable(found)
    return gaps


def _check_names(wanted: Wanted, asked: Sequence[str]) -> None:
    found: list[Problem] = []
    for name in wanted.values:
        if name not in (*asked, *NO_ANSWERS):
            remedy = f"It takes {choice_of(asked)}." if asked else "It takes none."
            sentence = f"`{name}` is no answer that `{wanted.target}` takes."
            found.append(Problem(sentence, wanted.at, remedy, nearest(name, asked)))
    if found:
        raise Unreadable(found)


def _gaps(ask: Ask, wanted: Wanted, catalog: Catalog) -> Mapping[str, str]:
    given = wanted.lists.get(ask.name, ())
    if not given:
        sentence = f"`{wanted.target}` also needs an answer: {ask.question}?"
        raise Unreadable([Problem(sentence, wanted.at, f"Write `with: {{{ask.name}: ...}}`.")])
    return dict(_READ[ask.what](ask, given, wanted.at, catalog))


def _choice(ask: Ask, given: tuple[str, ...], at: Position | None, catalog: Catalog) -> Iterator[tuple[str, str]]:
    fact = catalog.facts[ask.of]
    _check(fact.choices, given, at)
    yield ask.name, given[0]
    yield f"{ask.name}_name", name_of(given[0])
    yield f"{ask.name}_title", fact.choices[given[0]]


def _several(ask: Ask, given: tuple[str, ...], at: Position | None, catalog: Catalog) -> Iterator[tuple[str, str]]:
    fact = catalog.facts[ask.of]
    _check(fact.choices, given, at)
    yield ask.name, listed(given)
    yield f"{ask.name}_words", "; ".join(fact.choices[each] for each in given)


def _quantity(ask: Ask, given: tuple[str, ...], at: Position | None, _: Catalog) -> Iterator[tuple[str, str]]:
    try:
        read_value(given[0], ask.of)
    except NotationError as error:
        raise Unreadable([Problem(error.sentence, at, error.remedy, error.near)]) from error
    yield ask.name, json.dumps(given[0], ensure_ascii=False)


def _kind(ask: Ask, given: tuple[str, ...], at: Position | None, catalog: Catalog) -> Iterator[tuple[str, str]]:
    known = {name: catalog.titles[name] for name in Vocabulary(catalog).types_of(ask.of)}
    _check(known, given, at)
    yield ask.name, given[0]
    yield f"{ask.name}_name", name_of(given[0])
    yield f"{ask.name}_title", known[given[0]]


def _check(known: Mapping[str, str], given: tuple[str, ...], at: Position | None) -> None:
    for word in given:
        if word not in known:
            remedy = f"Write {choice_of(known)}."
            raise Unreadable([Problem(f"`{word}` is none of the choices.", at, remedy, nearest(word, known))])


_READ: Mapping[str, Callable[[Ask, tuple[str, ...], Position | None, Catalog], Iterator[tuple[str, str]]]] = {
    "choice": _choice,
    "several": _several,
    "quantity": _quantity,
    "kind": _kind,
}


def choices_of(ask: Ask, catalog: Catalog) -> Mapping[str, str]:
    """The choices among which an answer is, with their titles; none where it is a quantity."""
    if ask.what == "kind":
        return {name: catalog.titles[name] for name in Vocabulary(catalog).types_of(ask.of)}
    fact: Fact | None = catalog.facts.get(ask.of)
    return {} if ask.what == "quantity" or fact is None else fact.choices
