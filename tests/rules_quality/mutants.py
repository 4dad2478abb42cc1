"""Rules that are wrong in one place: what a slip of the pen, or a misread section, would make of a shipped rule."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TypeVar

from checker.catalog.model import Fact
from checker.rules.model.conditions import (
    Combined,
    Compare,
    Condition,
    Count,
    FactOperand,
    FactPath,
    Fold,
    Group,
    Lookup,
    NextSize,
    Not,
    Operand,
    ParameterOperand,
    Scaled,
    Test,
    Words,
)
from checker.rules.model.numbers import Parameter, ParameterValue
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Instead, NamedException, Requires, Rule
from checker.rules.reading.names_read import NamesRead, names_read
from checker.rules.vocabulary import REACHING_BACK, Around, CollectionFound, FactFound, Vocabulary
from checker.rules.walk import parameters_read
from checker.values.dates import CalendarSpan
from checker.values.possible import Possible, number, several

_Item = TypeVar("_Item")
Change = tuple[str, _Item]
"""What was done, and what came of it."""


@dataclass(frozen=True, slots=True)
class Mutant:
    """A pack with one rule, or one number that the rule reads, changed in one place."""

    rule: str
    what: str
    pack: Pack


@dataclass(frozen=True, slots=True)
class _Scope:
    """Where a condition stands: from where names are read, and which names the rule reads there."""

    vocabulary: Vocabulary
    around: Around
    here: NamesRead
    top: NamesRead

    def fact(self, path: FactPath) -> Fact | None:
        found = self.vocabulary.fact(str(path), self.around)
        return found.fact if isinstance(found, FactFound) else None

    def inside(self, path: FactPath) -> _Scope:
        found = self.vocabulary.collection(str(path), self.around)
        assert isinstance(found, CollectionFound)
        back = path.links[:1] == (REACHING_BACK,)
        name = str(path).removeprefix(f"{REACHING_BACK}.") if back else str(path)
        names = (self.top if back else self.here).lists[name]
        return _Scope(self.vocabulary, self.around.inside(found.collection.members), names, self.top)

    def alike(self, path: FactPath) -> Iterator[FactPath]:
        """Other facts of the same kind that the rule reads at the same place."""
        mine = self.fact(path)
        for name in self.here.facts:
            found = self.vocabulary.fact(name, self.around)
            if isinstance(found, FactFound) and name != str(path) and mine is not None and _alike(mine, found.fact):
                yield FactPath(found.links, found.fact.name)


def _alike(one: Fact, other: Fact) -> bool:
    return (one.type, one.quantity, one.several) == (other.type, other.quantity, other.several) and (
        not one.choices or bool(set(one.choices) & set(other.choices))
    )


def mutants_of(rule: Rule, pack: Pack, vocabulary: Vocabulary) -> Iterator[Mutant]:
    """Every rule that differs from this one in one place, in an order that does not change."""
    names = names_read(rule)
    scope = _Scope(vocabulary, Around(vocabulary.types_of(rule.subject)), names, names)
    for what, changed in _of_rule(rule, pack, scope):
        yield Mutant(rule.id, what, _with_rule(pack, changed))
    for name in parameters_read(rule):
        for what, parameter in _of_parameter(pack.parameters[name]):
            changed_pack = replace(_with_rule(pack, rule), parameters={**pack.parameters, name: parameter})
            yield Mutant(rule.id, what, changed_pack)


def _with_rule(pack: Pack, rule: Rule) -> Pack:
    return replace(pack, rules=(rule,))


# --- rules -----------------------------------------------------------------------------------------------------------


def _of_rule(rule: Rule, pack: Pack, scope: _Scope) -> Iterator[Change[Rule]]:
    missing = [edition for edition in pack.editions if edition not in rule.sections]
    if missing and rule.sections:
        sections = next(iter(rule.sections.values()))
        yield "rule in every edition", replace(rule, sections={**dict.fromkeys(missing, sections), **rule.sections})
    if rule.when is not None:
        yield "when dropped", replace(rule, when=None)
        yield from ((f"when: {what}", replace(rule, when=each)) for what, each in _of_condition(rule.when, scope))
    yield from _of_items("unless", rule.unless, _of_exception, scope, lambda items: replace(rule, unless=items))
    yield from _of_items("instead", rule.instead, _of_instead, scope, lambda items: replace(rule, instead=items))
    if rule.requires is not None:
        for what, requires in _of_requires(rule.requires, scope):
            yield f"requires: {what}", replace(rule, requires=requires)
    for place, reading in enumerate(rule.readings):
        if len(rule.readings) > 1:
            yield f"reading {reading.name} dropped", replace(rule, readings=_without(rule.readings, place))
        if reading.editions:
            freed = replace(reading, editions=frozenset())
            yield f"reading {reading.name} in every edition", replace(rule, readings=_with(rule.readings, place, freed))
        for what, requires in _of_requires(reading.requires, scope):
            changed = _with(rule.readings, place, replace(reading, requires=requires))
            yield f"reading {reading.name}: {what}", replace(rule, readings=changed)


def _of_items(
    word: str,
    items: tuple[_Item, ...],
    changes: Callable[[_Item, _Scope], Iterator[Change[_Item]]],
    scope: _Scope,
    put: Callable[[tuple[_Item, ...]], Rule],
) -> Iterator[Change[Rule]]:
    """Each exception or replacement left out, and each changed."""
    for place, item in enumerate(items):
        yield f"{word} {place + 1} dropped", put(_without(items, place))
        yield from (
            (f"{word} {place + 1}: {what}", put(_with(items, place, each))) for what, each in changes(item, scope)
        )


def _of_exception(item: NamedException, scope: _Scope) -> Iterator[Change[NamedException]]:
    if item.editions:
        yield "in every edition", replace(item, editions=frozenset())
    yield from ((what, replace(item, condition=each)) for what, each in _of_condition(item.condition, scope))


def _of_instead(item: Instead, scope: _Scope) -> Iterator[Change[Instead]]:
    if item.editions:
        yield "in every edition", replace(item, editions=frozenset())
    yield from ((what, replace(item, condition=each)) for what, each in _of_condition(item.condition, scope))
    yield from ((what, replace(item, requires=each)) for what, each in _of_requires(item.requires, scope))


def _of_requires(requires: Requires, scope: _Scope) -> Iterator[Change[Requires]]:
    if len(requires.parts) > 1:
        yield "all parts and any way swapped", replace(requires, any_way=not requires.any_way)
    for name, condition in requires.parts.items():
        if len(requires.parts) > 1:
            kept = {each: part for each, part in requires.parts.items() if each != name}
            yield f"part {name} dropped", replace(requires, parts=kept)
        for what, each in _of_condition(condition, scope):
            yield f"{name}: {what}", replace(requires, parts={**requires.parts, name: each})


# --- conditions ------------------------------------------------------------------------------------------------------

_OTHER_FOLDS = {"some": ("every", "none"), "every": ("some",), "none": ("some",)}


def _of_condition(condition: Condition, scope: _Scope) -> Iterator[Change[Condition]]:
    """The condition changed in one place, at any depth."""
    if condition.editions:
        yield f"{_short(condition)} in every edition", replace(condition, editions=frozenset())
    match condition:
        case Compare():
            yield from _of_compare(condition, scope)
        case Group():
            yield from _of_group(condition, scope)
        case Not():
            yield "not dropped", condition.condition
            yield from (
                (what, replace(condition, condition=each)) for what, each in _of_condition(condition.condition, scope)
            )
        case Fold():
            yield from _of_fold(condition, scope)
        case Count():
            yield from _of_count(condition, scope)


def _short(condition: Condition) -> str:
    match condition:
        case Compare():
            return str(condition.path)
        case Group():
            return condition.how
        case Not():
            return "not"
        case Fold():
            return f"{condition.how} of {condition.collection}"
        case Count():
            return f"count of {condition.collection}"


def _of_group(group: Group, scope: _Scope) -> Iterator[Change[Condition]]:
    if len(group.conditions) > 1:
        yield f"{group.how} swapped", replace(group, how="any" if group.how == "all" else "all")
    for place, condition in enumerate(group.conditions):
        if len(group.conditions) > 1:
            dropped = replace(group, conditions=_without(group.conditions, place))
            yield f"{group.how} without {place + 1} ({_short(condition)})", dropped
        for what, each in _of_condition(condition, scope):
            yield what, replace(group, conditions=_with(group.conditions, place, each))


def _of_fold(fold: Fold, scope: _Scope) -> Iterator[Change[Condition]]:
    inner = scope.inside(fold.collection)
    for how in _OTHER_FOLDS[fold.how]:
        yield f"{fold.how} of {fold.collection} to {how}", _other_fold(fold, how)
    if fold.if_empty is not None:
        yield f"if_empty of {fold.collection} flipped", replace(fold, if_empty=not fold.if_empty)
    if fold.where is not None:
        yield f"where of {fold.collection} dropped", replace(fold, where=None)
        yield from ((what, replace(fold, where=each)) for what, each in _of_condition(fold.where, inner))
    if fold.that is not None:
        if fold.how != "every":
            yield f"that of {fold.collection} dropped", replace(fold, that=None)
        yield from ((what, replace(fold, that=each)) for what, each in _of_condition(fold.that, inner))


def _other_fold(fold: Fold, how: str) -> Fold:
    """Every needs something to ask of each member and an answer for none; what is asked where becomes that."""
    if how != "every":
        return replace(fold, how=how, if_empty=fold.if_empty if fold.how == "every" else None)
    that, where = (fold.that, fold.where) if fold.that is not None else (fold.where, None)
    return replace(fold, how=how, that=that, where=where, if_empty=False)


def _of_count(count: Count, scope: _Scope) -> Iterator[Change[Condition]]:
    if count.where is not None:
        inner = scope.inside(count.collection)
        yield f"where of {count.collection} dropped", replace(count, where=None)
        yield from ((what, replace(count, where=each)) for what, each in _of_condition(count.where, inner))
    yield from _of_tests(
        count.tests, None, scope, f"count of {count.collection}", lambda tests: replace(count, tests=tests)
    )


def _of_compare(compare: Compare, scope: _Scope) -> Iterator[Change[Condition]]:
    if compare.if_absent is not None:
        yield f"if_absent of {compare.path} flipped", replace(compare, if_absent=not compare.if_absent)
    for path in scope.alike(compare.path):
        if compare.path.links[:1] != (REACHING_BACK,):
            yield f"{compare.path} replaced by {path}", replace(compare, path=path)
    fact = scope.fact(compare.path)
    yield from _of_tests(compare.tests, fact, scope, str(compare.path), lambda tests: replace(compare, tests=tests))


# --- relations and operands ------------------------------------------------------------------------------------------

_NEIGHBORS = {
    "at_least": ("more_than", "at_most"),
    "more_than": ("at_least", "less_than"),
    "at_most": ("less_than", "at_least"),
    "less_than": ("at_most", "more_than"),
    "is": ("is_not",),
    "is_not": ("is",),
    "one_of": ("none_of",),
    "none_of": ("one_of",),
    "includes_any": ("includes_all",),
    "includes_all": ("includes_any",),
    "includes_only": ("includes_any",),
    "before": ("on_or_after",),
    "on_or_after": ("before",),
}


def _of_tests(
    tests: tuple[Test, ...],
    fact: Fact | None,
    scope: _Scope,
    name: str,
    put: Callable[[tuple[Test, ...]], Condition],
) -> Iterator[Change[Condition]]:
    for place, test in enumerate(tests):
        if len(tests) > 1:
            yield f"{name} without {test.relation}", put(_without(tests, place))
        for relation in _neighbors(test, fact):
            yield f"{name}: {test.relation} to {relation}", put(_with(tests, place, replace(test, relation=relation)))
        for index, operand in enumerate(test.operands):
            for what, each in _of_operand(operand, fact, scope):
                changed = replace(test, operands=_with(test.operands, index, each))
                yield f"{name} {test.relation}: {what}", put(_with(tests, place, changed))


def _neighbors(test: Test, fact: Fact | None) -> tuple[str, ...]:
    if test.relation == "is" and (fact is None or fact.type.is_ordered):
        return ("is_not", "at_least", "at_most")
    return _NEIGHBORS.get(test.relation, ())


def _of_operand(operand: Operand, fact: Fact | None, scope: _Scope) -> Iterator[Change[Operand]]:
    match operand:
        case Words():
            yield from _of_words(operand, fact)
        case FactOperand():
            for path in scope.alike(operand.path):
                yield f"{operand.path} replaced by {path}", replace(operand, path=path)
        case Combined():
            yield from _of_combined(operand, fact, scope)
        case Scaled() | NextSize():
            yield "scale dropped" if isinstance(operand, Scaled) else "next size dropped", operand.operand
            for what, each in _of_operand(operand.operand, fact, scope):
                yield what, replace(operand, operand=each)
        case Lookup():
            yield from _of_lookup(operand, scope)
        case ParameterOperand():
            return


def _of_lookup(lookup: Lookup, scope: _Scope) -> Iterator[Change[Operand]]:
    for key, inner in lookup.keys.items():
        for what, each in _of_operand(inner, None, scope):
            yield f"key {key}: {what}", replace(lookup, keys={**lookup.keys, key: each})


def _of_combined(combined: Combined, fact: Fact | None, scope: _Scope) -> Iterator[Change[Operand]]:
    others = {"largest_of": "smallest_of", "smallest_of": "largest_of", "sum_of": "largest_of"}
    yield f"{combined.how} to {others[combined.how]}", replace(combined, how=others[combined.how])
    yield "skip_absent flipped", replace(combined, skip_absent=not combined.skip_absent)
    for place, operand in enumerate(combined.operands):
        if len(combined.operands) > 1:
            yield f"{combined.how} without {place + 1}", replace(combined, operands=_without(combined.operands, place))
        for what, each in _of_operand(operand, fact, scope):
            yield what, replace(combined, operands=_with(combined.operands, place, each))


def _of_words(words: Words, fact: Fact | None) -> Iterator[Change[Operand]]:
    for place, word in enumerate(words.words):
        if isinstance(word, bool):
            yield f"{'yes' if word else 'no'} flipped", replace(words, words=(not word,))
            continue
        if words.is_list and len(words.words) > 1:
            yield f"{word} dropped", replace(words, words=_without(words.words, place))
        other = _other_choice(word, words, fact)
        if other is not None:
            yield f"{word} replaced by {other}", replace(words, words=_with(words.words, place, other))


def _other_choice(word: str, words: Words, fact: Fact | None) -> str | None:
    """The next choice of the catalog that is not there yet."""
    choices = list(fact.choices) if fact is not None else []
    if word not in choices:
        return None
    place = choices.index(word)
    return next((each for each in (*choices[place + 1 :], *choices[:place]) if each not in words.words), None)


# --- parameters ------------------------------------------------------------------------------------------------------

_MOVES: Mapping[str, Fraction] = {
    "1 % up": Fraction(101, 100),
    "1 % down": Fraction(99, 100),
    "x 1000": Fraction(1000),
}
_STEPPED = frozenset({"count", "date"})


def _of_parameter(parameter: Parameter) -> Iterator[Change[Parameter]]:
    """The number moved in one edition; where an edition has the same as another, they were written one by one."""
    for edition, value in parameter.values.items():
        for what, each in _of_value(value, parameter.type):
            name = f"{parameter.name}{f' in {edition}' if edition else ''}"
            yield f"{name} {what}", replace(parameter, values={**parameter.values, edition: each})


def _of_value(written: ParameterValue, kind: str) -> Iterator[Change[ParameterValue]]:
    value = written.value
    if isinstance(value, CalendarSpan):
        yield "a day longer", replace(written, value=CalendarSpan(value.months, value.days + 1))
        yield "a day shorter", replace(written, value=CalendarSpan(value.months, value.days - 1))
    elif value is not None and value.number is not None:
        moved = _stepped(value.number) if kind in _STEPPED else _moved(value.number)
        yield from ((what, replace(written, value=number(each))) for what, each in moved)
    elif value is not None and value.sets:
        yield from ((what, replace(written, value=each)) for what, each in _fewer(value))


def _stepped(value: Fraction) -> Iterator[Change[Fraction]]:
    yield "1 up", value + 1
    if value >= 1:
        yield "1 down", value - 1


def _moved(value: Fraction) -> Iterator[Change[Fraction]]:
    yield from ((what, value * factor) for what, factor in _MOVES.items() if value)


def _fewer(value: Possible) -> Iterator[Change[Possible]]:
    (members,) = value.sets
    for word in sorted(members.surely):
        if len(members.surely) > 1:
            yield f"without {word}", several(members.surely - {word})


# --- small helpers ---------------------------------------------------------------------------------------------------


def _without(items: tuple[_Item, ...], place: int) -> tuple[_Item, ...]:
    return items[:place] + items[place + 1 :]


def _with(items: tuple[_Item, ...], place: int, item: _Item) -> tuple[_Item, ...]:
    return (*items[:place], item, *items[place + 1 :])
