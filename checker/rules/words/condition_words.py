"""Conditions in words: what a rule asks, as a person would say it, with the titles of the fact catalog."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from checker.catalog.model import Fact, ValueType
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
from checker.rules.model.in_force import RuleInForce
from checker.rules.model.numbers import ParameterValue
from checker.rules.vocabulary import REACHING_BACK, Around, CollectionFound, FactFound, Vocabulary
from checker.rules.walk import below, inside
from checker.rules.wording import choice_of, listing
from checker.values.possible import Possible

Numbers = Mapping[str, str]
"""For each parameter that a rule reads what is said of it, with its value."""

_LINKS = {
    "normal": "on the normal side",
    "alternate": "on the alternate side",
    "fed_from": "of what feeds it",
    "from": "of the piece it comes from",
    "to": "of the piece it leads to",
    "site": "of the site",
    "service": "of its service",
    "measured_from": "of what it is measured from",
    REACHING_BACK: "of the subject itself",
}

_RELATIONS = {
    "is": "is {}",
    "is_not": "is not {}",
    "one_of": "is {}",
    "none_of": "is none of {}",
    "at_least": "is at least {}",
    "at_most": "is at most {}",
    "more_than": "is more than {}",
    "less_than": "is less than {}",
    "between": "is between {}",
    "includes": "includes {}",
    "includes_any": "includes {}",
    "includes_all": "includes {}",
    "includes_only": "is nothing but {}",
    "before": "is before {}",
    "on_or_after": "is not before {}",
    "no_older_than": "is not older than {}",
}
_OR = frozenset({"one_of", "includes_any", "includes_only"})
"""Relations to a list of which any one may hold; the others read ``and``."""

NO_LIMIT = "no limit"

_FOLDS = {"some": "for at least one of", "every": "for each of", "none": "for none of"}
_ARE_THERE = {"some": "there is one of", "every": "there is each of", "none": "there are none of"}
_EMPTY = {True: ", also where there are none", False: ", of which there must be one"}


@dataclass(frozen=True, slots=True)
class Clause:
    """A condition in words: a line, and below it what stands inside."""

    text: str
    inner: tuple[Clause, ...] = ()


LONGEST_LINE = 280
"""A condition of more letters is told on lines below lines: nobody keeps brackets within brackets in mind so long."""


def clause_lines(clause: Clause, indent: int = 0) -> Iterator[str]:
    """The lines of a clause, what stands inside further in."""
    yield f"{' ' * indent}{clause.text}{':' if clause.inner else ''}"
    for each in clause.inner:
        yield from clause_lines(each, indent + 2)


class ConditionWords:
    """Says the conditions of one rule. With ``editions`` it also says in which editions something is asked."""

    def __init__(self, vocabulary: Vocabulary, numbers: Numbers, *, editions: bool = False) -> None:
        self._vocabulary = vocabulary
        self._numbers = numbers
        self._editions = editions

    def clause(self, condition: Condition, around: Around) -> Clause:
        """The condition as a line with lines below it; on one line where no list of conditions is in it."""
        if isinstance(condition, Group) and len(condition.conditions) == 1:
            return self.clause(condition.conditions[0], around)
        if not any(isinstance(each, Group) for each in below(condition)):
            return Clause(self.line(condition, around))
        if isinstance(condition, Group):
            head = "all of these hold" if condition.how == "all" else "one of these holds"
            return Clause(self._marked(head, condition), self._clauses(condition, around))
        if isinstance(condition, Not):
            return Clause(self._marked("this does not hold", condition), self._clauses(condition, around))
        assert isinstance(condition, Fold | Count)
        return self._members_clause(condition, around)

    def told(self, condition: Condition, around: Around) -> str:
        """The condition on one line, a long one on lines below lines."""
        line = self.line(condition, around)
        return line if len(line) <= LONGEST_LINE else "\n".join(clause_lines(self.clause(condition, around)))

    def _clauses(self, condition: Condition, around: Around) -> tuple[Clause, ...]:
        return tuple(self.clause(each, around) for each in inside(condition))

    def _members_clause(self, condition: Fold | Count, around: Around) -> Clause:
        members = self._inside(condition, around)
        inner = []
        if condition.where is not None:
            inner.append(Clause("taking those of which this holds", (self.clause(condition.where, members),)))
        if isinstance(condition, Fold) and condition.that is not None:
            inner.append(Clause("this holds", (self.clause(condition.that, members),)))
        return Clause(self._marked(self._members_head(condition, around), condition), tuple(inner))

    def line(self, condition: Condition, around: Around) -> str:
        """The condition on one line."""
        return self._marked(self._line(condition, around), condition)

    def _line(self, condition: Condition, around: Around) -> str:
        match condition:
            case Compare():
                return self._compare(condition, around)
            case Group():
                joiner = " and " if condition.how == "all" else " or "
                return joiner.join(self._bracketed(each, around) for each in condition.conditions)
            case Not():
                return f"it is not so that {self._bracketed(condition.condition, around)}"
            case Fold() | Count():
                return self._members_line(condition, around)

    def _bracketed(self, condition: Condition, around: Around) -> str:
        line = self.line(condition, around)
        return f"({line})" if isinstance(condition, Group) and len(condition.conditions) > 1 else line

    def _members_line(self, condition: Fold | Count, around: Around) -> str:
        members = self._inside(condition, around)
        where = f" (those of which {self.line(condition.where, members)})" if condition.where is not None else ""
        head = self._members_head(condition, around, where)
        if isinstance(condition, Fold) and condition.that is not None:
            return f"{head}: {self._bracketed(condition.that, members)}"
        return head

    def _members_head(self, condition: Fold | Count, around: Around, where: str = "") -> str:
        found = self._vocabulary.collection(str(condition.collection), around)
        title = str(condition.collection)
        if isinstance(found, CollectionFound):
            title = f"{found.collection.title}{self._linked(found.links, around)}"
        if isinstance(condition, Count):
            tests = listing([self._test(each, None, around) for each in condition.tests])
            return f"the number of {title}{where} {tests}"
        words = _ARE_THERE if condition.that is None else _FOLDS
        empty = "" if condition.if_empty is None else _EMPTY[condition.if_empty]
        return f"{words[condition.how]} the {title}{where}{empty}"

    def _inside(self, condition: Fold | Count, around: Around) -> Around:
        found = self._vocabulary.collection(str(condition.collection), around)
        return around.inside(found.collection.members) if isinstance(found, CollectionFound) else around

    def _marked(self, text: str, condition: Condition) -> str:
        if not self._editions or not condition.editions:
            return text
        return f"{text} (in {listing(sorted(condition.editions))} only)"

    # --- comparisons -------------------------------------------------------------------------------------------------

    def _compare(self, compare: Compare, around: Around) -> str:
        found = self._vocabulary.fact(str(compare.path), around)
        fact = found.fact if isinstance(found, FactFound) else None
        title = self._title(compare.path, around)
        absent = ", or there is none" if compare.if_absent else ""
        first, *more = [self._said(each, fact, around) for each in compare.tests]
        return f"{title}{listing([first, *(each.strip() for each in more)])}{absent}"

    def _said(self, test: Test, fact: Fact | None, around: Around) -> str:
        """A test behind the title of its fact. A flag is said as yes or no: its title is a claim."""
        is_flag = fact is not None and fact.type is ValueType.FLAG and test.relation == "is"
        operand = test.operands[0]
        if is_flag and isinstance(operand, Words):
            return f": {_word(operand.words[0], fact)}"
        return f" {self._test(test, fact, around)}"

    def _test(self, test: Test, fact: Fact | None, around: Around) -> str:
        if test.relation in ("known", "present"):
            operand = test.operands[0]
            wanted = isinstance(operand, Words) and operand.words[0] is True
            there = "is shown" if test.relation == "known" else "is there"
            return there if wanted else there.replace("is ", "is not ")
        operands = [self._operand(each, fact, around, either=test.relation in _OR) for each in test.operands]
        if operands[0].startswith(NO_LIMIT):
            return f"may be anything: {operands[0]}"
        return _RELATIONS[test.relation].format(listing(operands))

    def _title(self, path: FactPath, around: Around) -> str:
        found = self._vocabulary.fact(str(path), around)
        if not isinstance(found, FactFound):
            return str(path).replace("_", " ")
        return f"{found.fact.title}{self._linked(found.links, around)}"

    def _linked(self, links: tuple[str, ...], around: Around) -> str:
        return "".join(f" {_LINKS.get(each) or self._end_of_pair(each, around)}" for each in reversed(links))

    def _end_of_pair(self, link: str, around: Around) -> str:
        catalog = self._vocabulary.catalog
        pair = catalog.pairs.get(around.types[0])
        if pair is None:
            return f"of {link}"
        end, other = (pair.a, pair.b) if link == "a" else (pair.b, pair.a)
        place = "" if end != other else "first " if link == "a" else "second "
        return f"of the {place}{catalog.titles.get(end, end)}"

    def _operand(self, operand: Operand, fact: Fact | None, around: Around, *, either: bool = False) -> str:
        def said(each: Operand) -> str:
            return self._operand(each, fact, around)

        match operand:
            case Words():
                words = [_word(each, fact) for each in operand.words]
                return choice_of(words) if either else listing(words)
            case FactOperand():
                return self._title(operand.path, around)
            case ParameterOperand():
                return self._numbers.get(operand.name, operand.name.replace("-", " "))
            case Combined():
                how = {"largest_of": "the largest of", "smallest_of": "the smallest of", "sum_of": "the sum of"}
                skip = ", of those that are there" if operand.skip_absent else ""
                return f"{how[operand.how]} {listing([said(each) for each in operand.operands])}{skip}"
            case Scaled():
                return f"{said(operand.factor)} of {said(operand.operand)}"
            case NextSize():
                return f"the next of the {operand.table.replace('-', ' ')} from {said(operand.operand)}"
            case Lookup():
                keys = [f"{said(each)}" for each in operand.keys.values()]
                return f"what the table {operand.table.replace('-', ' ')} gives for {listing(keys)}"


def _word(word: str | bool, fact: Fact | None) -> str:
    if isinstance(word, bool):
        return "yes" if word else "no"
    return word if fact is None else fact.choices.get(word, word.replace("_", " "))


def numbers_in_force(rule: RuleInForce, vocabulary: Vocabulary) -> Numbers:
    """What is said of each parameter of a rule in force: its value, and what it is."""
    return {name: _number(name, value, rule, vocabulary) for name, value in rule.parameters.items()}


def _number(name: str, value: ParameterValue, rule: RuleInForce, vocabulary: Vocabulary) -> str:
    text = value_words(value, vocabulary)
    title = rule.parameter_titles.get(name, "")
    return f"{text} ({title})" if title else text


def value_words(value: ParameterValue, vocabulary: Vocabulary) -> str:
    """The value of a parameter; choices by their titles."""
    if value.no_limit:
        return NO_LIMIT
    choices = sorted(_choices(value))
    if not choices:
        return value.text
    titles = _choice_titles(vocabulary)
    return choice_of([titles.get(each, each.replace("_", " ")) for each in choices])


def _choices(value: ParameterValue) -> Iterator[str]:
    possible = value.value
    if isinstance(possible, Possible):
        yield from (str(each) for each in possible.atoms)
        for member in possible.sets:
            yield from member.surely


def _choice_titles(vocabulary: Vocabulary) -> Mapping[str, str]:
    titles: dict[str, str] = {}
    for fact in vocabulary.catalog.facts.values():
        for word, title in fact.choices.items():
            titles.setdefault(word, title)
    return titles


def words_in_force(rule: RuleInForce, vocabulary: Vocabulary) -> ConditionWords:
    """Says the conditions of a rule in force, with its numbers."""
    return ConditionWords(vocabulary, numbers_in_force(rule, vocabulary))
