"""Rules of common shapes: texts with gaps, from ``shared/shapes.yaml``."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from string import Template

from checker.catalog.model import Catalog, Fact
from checker.files.folders import data_folder
from checker.files.strict_yaml import read_file
from checker.files.tree import Mapping as MappingNode
from checker.rules import nodes
from checker.rules.vocabulary import Vocabulary
from checker.rules.wording import choice_of
from checker.rules.written_values import read_value
from checker.tasks.drafting.answers import Wanted, name_of
from checker.tasks.drafting.yaml_text import listed
from checker.values.notation import NotationError, nearest
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable


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
    """A rule with gaps."""

    name: str
    title: str
    asks: tuple[Ask, ...]
    rule: str
    parameters: str


@dataclass(frozen=True, slots=True)
class Filled:
    """The texts of a rule and of the numbers that it reads, without gaps."""

    rule: str
    parameters: str


def shapes() -> Mapping[str, Shape]:
    """Every shape by its name."""
    root = nodes.mapping(read_file(data_folder("shared") / "shapes.yaml", "shapes.yaml"))
    return {entry.key: _shape(entry.key, nodes.mapping(entry.value)) for entry in nodes.entries(root.get("shapes"))}


def _shape(name: str, node: MappingNode) -> Shape:
    asks = tuple(_ask(each.key, nodes.mapping(each.value)) for each in nodes.entries(node.get("asks")))
    rule, parameters = (nodes.scalar(node.get(key)).text if node.get(key) else "" for key in ("rule", "parameters"))
    return Shape(name, nodes.text(node.get("title")), asks, rule, parameters)


def _ask(name: str, node: MappingNode) -> Ask:
    (kind,) = (each for each in node.entries if each.key != "ask")
    return Ask(name, nodes.text(node.get("ask")), kind.key, nodes.text(kind.value))


def filled(shape: Shape, wanted: Wanted, place: str, cites: str, catalog: Catalog) -> Filled:
    """The shape with the answers in its gaps. Raises Unreadable for an answer that is missing or cannot be used."""
    gaps = {"place": name_of(place), "town": json.dumps(place, ensure_ascii=False)[1:-1], "cites": cites}
    found: list[Problem] = []
    for ask in shape.asks:
        try:
            gaps.update(_gaps(ask, wanted, catalog))
        except Unreadable as error:
            found += error.problems
    asked = [each.name for each in shape.asks]
    for name in wanted.values:
        if name not in asked:
            remedy = f"It takes {choice_of(asked)}." if asked else "It takes none."
            sentence = f"`{name}` is no answer that `{shape.name}` takes."
            found.append(Problem(sentence, wanted.at, remedy, nearest(name, asked)))
    if found:
        raise Unreadable(found)
    return Filled(Template(shape.rule).substitute(gaps), Template(shape.parameters).substitute(gaps))


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
