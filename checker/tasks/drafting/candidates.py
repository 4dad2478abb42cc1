"""Values that are worth a case: for each name that a rule reads those at which its answer can turn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import islice, product

from checker.catalog.model import Fact, ValueType
from checker.catalog.wording import one_number
from checker.rules.model.conditions import Compare, Condition, Count, FactPath, Fold, ParameterOperand, Words
from checker.rules.model.in_force import RuleInForce
from checker.rules.model.rule import Rule
from checker.rules.reading.names_read import NamesRead, names_read
from checker.rules.reading.operands import may_be_absent_in
from checker.rules.vocabulary import REACHING_BACK, Around, CollectionFound, FactFound, Vocabulary
from checker.rules.walk import conditions_of, inside
from checker.tasks.drafting.yaml_text import flow, listed, quoted
from checker.values.possible import Possible
from checker.values.wire_sizes import SIZES

MOST_MEMBERS = 12
_NEAR = Fraction(1, 10)

Key = tuple[str, ...]
"""Where a name is read: the lists that lead to it, then the name."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """One value as it is written in a case, with what it shows."""

    text: str
    shows: str


@dataclass(frozen=True, slots=True)
class Slot:
    """One name that a rule reads. ``unknown`` is how it is left open; None where it is never open."""

    name: str
    candidates: tuple[Candidate, ...]
    unknown: Candidate | None


@dataclass(slots=True)
class _Seen:
    """What a rule compares a name with: words, and numbers."""

    words: dict[str, None] = field(default_factory=dict)
    numbers: dict[Fraction, str | None] = field(default_factory=dict)
    present: bool = False


def slots(rule: RuleInForce, vocabulary: Vocabulary) -> tuple[Slot, ...]:
    """Every name that the rule reads of its subject, the lists last."""
    seen: dict[Key, _Seen] = {}
    for condition in conditions_of(rule.rule):
        _collect(condition, (), rule, seen)
    around = Around(vocabulary.types_of(rule.rule.subject))
    return tuple(_slots(names_read(rule.rule), (), around, vocabulary, seen))


def _slots(
    names: NamesRead, at: Key, around: Around, vocabulary: Vocabulary, seen: Mapping[Key, _Seen]
) -> Iterator[Slot]:
    for name in names.facts:
        found = vocabulary.fact(name, around)
        if isinstance(found, FactFound):
            yield _fact_slot(name, found, seen.get((*at, name), _Seen()), vocabulary)
    for name, inner in names.lists.items():
        reached = vocabulary.collection(name, around)
        if isinstance(reached, CollectionFound):
            members = around.inside(reached.collection.members)
            yield _list_slot(name, tuple(_slots(inner, (*at, name), members, vocabulary, seen)))


def _list_slot(name: str, members: tuple[Slot, ...]) -> Slot:
    words = name.rpartition(".")[2].replace("_", " ")
    choices = [[(slot.name, each) for each in slot.candidates] for slot in members]
    found = [
        Candidate(
            f"{{complete: yes, list: [{flow({key: each.text for key, each in one})}]}}",
            f"{words}, {', '.join(each.shows for _, each in one)}",
        )
        for one in islice(product(*choices), MOST_MEMBERS)
        if one
    ]
    nothing = Candidate("{complete: yes, list: []}", f"no {words}")
    return Slot(name, (*found, nothing), Candidate("{list: []}", f"{words} not listed"))


def _fact_slot(name: str, found: FactFound, seen: _Seen, vocabulary: Vocabulary) -> Slot:
    fact, words = found.fact, name.replace("_", " ").replace(".", " ")
    values = list(dict.fromkeys(_values(fact, seen)))
    if (seen.present or may_be_absent_in(found, vocabulary)) and not fact.exact:
        values.append("none")
    written = tuple(Candidate(each, f"{words} {_plain(each)}") for each in values)
    return Slot(name, written, None if fact.exact else Candidate("unknown", f"{words} not shown"))


def _plain(text: str) -> str:
    return text.strip('[]"').replace("_", " ")


def _values(fact: Fact, seen: _Seen) -> Iterator[str]:
    if fact.type is ValueType.FLAG:
        yield from ("yes", "no")
    elif fact.choices:
        others = [each for each in fact.choices if each not in seen.words]
        if fact.several:
            yield listed(seen.words) if seen.words else listed(others[:1])
        else:
            yield from seen.words
        yield from (listed([each]) if fact.several else each for each in others[:1])
    else:
        for number, unit in seen.numbers.items():
            yield from (quoted(one_number(fact, each, unit)) for each in _around(fact, number))


def _around(fact: Fact, number: Fraction) -> tuple[Fraction, ...]:
    if fact.type is ValueType.WIRE_SIZE:
        areas = sorted(size.circular_mils for size in SIZES.values())
        place = areas.index(number) if number in areas else 0
        return (number, *areas[max(place - 1, 0) : place], *areas[place + 1 : place + 2])
    step = number * _NEAR if fact.type is ValueType.QUANTITY else Fraction(1)
    return (number, number - step, number + step)


# --- what is compared -----------------------------------------------------------------------------------------------


def _collect(condition: Condition, at: Key, rule: RuleInForce, seen: dict[Key, _Seen]) -> None:
    if isinstance(condition, Compare):
        _see(condition, at, rule, seen)
    if isinstance(condition, Fold | Count):
        at = _key(condition.collection, at)
    for each in inside(condition):
        _collect(each, at, rule, seen)


def _key(path: FactPath, at: Key) -> Key:
    name = str(path)
    back = path.links[:1] == (REACHING_BACK,)
    return (name.removeprefix(f"{REACHING_BACK}."),) if back else (*at, name)


def _see(compare: Compare, at: Key, rule: RuleInForce, seen: dict[Key, _Seen]) -> None:
    found = seen.setdefault(_key(compare.path, at), _Seen())
    for test in compare.tests:
        found.present = found.present or test.relation == "present"
        for operand in test.operands:
            if isinstance(operand, Words):
                found.words.update(dict.fromkeys(each for each in operand.words if isinstance(each, str)))
            elif isinstance(operand, ParameterOperand) and operand.name in rule.parameters:
                _see_number(rule, operand.name, found)


def _see_number(rule: RuleInForce, name: str, found: _Seen) -> None:
    value = rule.parameters[name]
    if isinstance(value.value, Possible):
        if value.value.number is not None:
            found.numbers[value.value.number] = value.unit
        else:
            members = sorted(str(word) for span in value.value.sets for word in span.surely)
            found.words.update(dict.fromkeys(members))


def compared_with(rule: Rule, parameter: str) -> Iterator[str]:
    """The facts of the subject itself that a rule compares with a parameter."""
    for top in conditions_of(rule):
        yield from _compared(top, parameter)


def _compared(condition: Condition, parameter: str) -> Iterator[str]:
    if isinstance(condition, Compare):
        operands = [operand for test in condition.tests for operand in test.operands]
        if any(isinstance(each, ParameterOperand) and each.name == parameter for each in operands):
            yield str(replace(condition.path, at=None))
    if not isinstance(condition, Fold | Count):
        for each in inside(condition):
            yield from _compared(each, parameter)
