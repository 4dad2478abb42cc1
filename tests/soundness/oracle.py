"""An oracle: rules judged on a drawing of which nothing is open, in plain two-valued logic.

Written from the design alone; it imports nothing of ``checker.facts`` or ``checker.findings``. ``None`` in place of a
truth stands for no answer (a place that nothing feeds, a table that does not reach so far, a source that is not
drawn), and for nothing else.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from itertools import combinations, product

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Catalog
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
from checker.rules.model.force import Basis, Force
from checker.rules.model.in_force import RuleInForce, RulesInForce
from checker.rules.model.numbers import TableValues
from checker.rules.model.rule import Requires, Rule
from checker.rules.walk import operands_in
from checker.site.model import SITE, Site, Subject
from checker.values.dates import CalendarSpan
from checker.values.possible import Possible
from tests.soundness.exact_facts import ABSENT, ExactFacts, NoAnswer, Value, exact_value

Truth = bool | None
Outcomes = frozenset[str]
"""What can come out: one outcome, or several where something has no answer."""

_MONTHS = 12
_FIGURES = frozenset(
    {
        *("role", "neutral_bond", "capacity", "greatest_current", "automatic_load"),
        *("available_fault_current", "least_fault_current", "greatest_fault_current", "motor_fault_current"),
        *("managed_load", "calculated_load", "load_with_vehicles_in_full"),
        *("power_at_site", "sound_at_lot_line", "time_to_load", "starting_power"),
        *("ampacity", "neutral_ampacity", "neutral_load", "current_carrying"),
        *("load_put_on_the_set", "whole_dwelling_load", "tank_to_building", "tank_to_lot_line", "set_to_lot_line"),
    }
)
"""Facts that a person can state and the program works out for the same piece."""
_YES_WHEN_ABSENT = frozenset({"is_not", "none_of"})


class NoLimit(Exception):
    """What a comparison is held against has no limit."""


def expected(site: Site, catalog: Catalog, rules: RulesInForce) -> Mapping[tuple[str, Subject], Outcomes]:
    """What must come out of every rule for every subject that it speaks of."""
    facts = ExactFacts(site, catalog)
    return {
        (rule.id, subject): _Judge(facts, rule, subject, rules.date).outcomes()
        for rule in rules.rules
        for subject in subjects(facts, rule.rule.subject)
    }


def limits(rule: RuleInForce, on: date) -> tuple[frozenset[Fraction], frozenset[str]]:
    """The numbers at which something can turn in a rule that reads no other facts, and the words that it names."""
    numbers: set[Fraction] = set()
    words: set[str] = set()
    for operand in operands_in(rule.rule):
        if isinstance(operand, Words):
            words |= {str(word) for word in operand.words}
            continue
        try:
            value = _operand_value(rule, on, operand)
        except (NoAnswer, NoLimit):
            continue
        numbers |= {value} if isinstance(value, Fraction) else set()
        words |= value if isinstance(value, frozenset) else set()
    return frozenset(numbers), frozenset(words)


def _operand_value(rule: RuleInForce, on: date, operand: Operand) -> Value:
    """An operand that asks for no fact."""
    return _Judge(_NO_FACTS, rule, SITE, on).value(operand, SITE)


# --- what a rule speaks of --------------------------------------------------------------------------------------------


def subjects(facts: ExactFacts, name: str) -> Iterator[Subject]:
    """Every subject of a rule."""
    catalog, site = facts.catalog, facts.site
    roles = (name,) if name in catalog.roles else catalog.role_groups.get(name, ())
    if roles:
        pieces = (facts.pieces[tag] for tag in facts.walk.of("disconnecting"))
        yield from (piece for piece in pieces if facts.fact(piece, "role") in roles)
    elif name in catalog.pairs:
        yield from _pairs(facts, name)
    elif name == "site":
        yield SITE
    elif name == "connection":
        yield from (feed.subject for feed in facts.feeds)
    elif name == "figure":
        yield from _figures(facts)
    elif catalog.kinds_of(name):
        yield from (facts.pieces[tag] for tag in facts.walk.of(name))
    else:
        for (_, owner), listed in site.lists.items():
            if owner == "site" or owner in facts.pieces:
                yield from (member for member in listed.members if member.type == name)


def _figures(facts: ExactFacts) -> Iterator[Subject]:
    for thing in facts.site.things.values():
        if set(thing.subject.id.split("~")) & (facts.site.pieces.keys() - facts.pieces.keys()):
            continue
        if thing.subject.type == "connection" and thing.subject not in {feed.subject for feed in facts.feeds}:
            continue
        for name in thing.facts:
            if name in _FIGURES and thing.subject.type in facts.catalog.facts[name].derived_for:
                yield Subject("figure", f"{thing.subject.id}.{name}")


def _pairs(facts: ExactFacts, name: str) -> Iterator[Subject]:
    walk = facts.walk
    if name == "fault_source":
        for tag in walk.of("rated_for_fault"):
            yield from (Subject(name, f"{tag}~{source}") for source in walk.reaching(tag))
        return
    group = "disconnecting" if name == "service_disconnect_pair" else "transfer_switch"
    together = _serve_alike if name == "service_disconnect_pair" else _share_a_set
    for one, other in combinations(sorted(walk.of(group)), 2):
        if together(facts, one, other):
            yield Subject(name, f"{one}~{other}")


def _serve_alike(facts: ExactFacts, one: str, other: str) -> bool:
    """Whether both are service disconnects of one service, neither behind the other."""
    walk = facts.walk
    return (
        walk.utility(one) is not None
        and walk.utility(one) == walk.utility(other)
        and one not in walk.ahead(other)
        and other not in walk.ahead(one)
        and all(facts.fact(facts.pieces[tag], "role") == "service_disconnect" for tag in (one, other))
    )


def _share_a_set(facts: ExactFacts, one: str, other: str) -> bool:
    shared = facts.walk.reaching(one) & facts.walk.reaching(other)
    return any(facts.walk.is_of(source, "generator") for source in shared)


# --- plain logic -----------------------------------------------------------------------------------------------------


def _not(truth: Truth) -> Truth:
    return None if truth is None else not truth


def _all(truths: Iterable[Truth]) -> Truth:
    found = list(truths)
    return False if False in found else None if None in found else True


def _any(truths: Iterable[Truth]) -> Truth:
    return _not(_all(_not(truth) for truth in truths))


def _ways(truth: Truth) -> tuple[bool, ...]:
    return (True, False) if truth is None else (truth,)


@dataclass(frozen=True, slots=True)
class _Judge:
    """One rule at one subject."""

    facts: ExactFacts
    rule: RuleInForce
    subject: Subject
    on: date

    def outcomes(self) -> Outcomes:
        """What comes out."""
        body = self.rule.rule
        applies = True if body.when is None else self._holds(body.when, self.subject)
        excepted = _any(self._holds(each.condition, self.subject) for each in body.unless)
        wanted: list[Requires | None] = [each.requires for each in body.readings]
        required = [None if each is None else self._meets(each) for each in wanted or [self._standing(body)]]
        ways = product(_ways(applies), _ways(excepted), *(_ways(truth) for truth in required))
        return frozenset(_outcome(body, when, exception, tuple(met)) for when, exception, *met in ways)

    def _standing(self, body: Rule) -> Requires | None:
        """The requirement that stands; None where that has no answer. A look has none, which does not matter."""
        for each in body.instead:
            truth = self._holds(each.condition, self.subject)
            if truth is None:
                return None
            if truth:
                return each.requires
        return body.requires

    def _meets(self, requires: Requires) -> Truth:
        truths = [self._holds(condition, self.subject) for condition in requires.parts.values()]
        return _any(truths) if requires.any_way else _all(truths)

    # --- conditions --------------------------------------------------------------------------------------------------

    def _holds(self, condition: Condition, here: Subject) -> Truth:
        match condition:
            case Compare():
                return _all(self._compares(condition, test, here) for test in condition.tests)
            case Group():
                combine = _all if condition.how == "all" else _any
                return combine([self._holds(each, here) for each in condition.conditions])
            case Not():
                return _not(self._holds(condition.condition, here))
            case Fold():
                return self._folds(condition, here)
            case Count():
                return self._counts(condition, here)

    def _members(self, path: FactPath, where: Condition | None, here: Subject) -> list[tuple[Subject, Truth]]:
        """The members with the answer whether each counts; one of which nothing is known where more are not drawn."""
        owner = self._reach(path.links, here)
        if owner is None:
            return []
        members, more = self.facts.collection(path.name, owner)
        found = [(each, True if where is None else self._holds(where, each)) for each in members]
        return [*found, *([(_NOT_DRAWN, None)] if more else [])]

    def _folds(self, fold: Fold, here: Subject) -> Truth:
        try:
            members = self._members(fold.collection, fold.where, here)
        except NoAnswer:
            return None
        answers = [(counts, self._that(fold.that, each)) for each, counts in members]
        if fold.how == "every":
            answer = _all(_any([_not(counts), that]) for counts, that in answers)
        else:
            answer = _any(_all([counts, that]) for counts, that in answers)
            answer = _not(answer) if fold.how == "none" else answer
        if fold.if_empty is None:
            return answer
        somebody = _any(counts for counts, _ in answers)
        results = {answer if there else fold.if_empty for there in _ways(somebody)}
        return results.pop() if len(results) == 1 else None

    def _that(self, that: Condition | None, member: Subject) -> Truth:
        if that is None:
            return True
        return None if member is _NOT_DRAWN else self._holds(that, member)

    def _counts(self, count: Count, here: Subject) -> Truth:
        try:
            counted = [counts for _, counts in self._members(count.collection, count.where, here)]
        except NoAnswer:
            return None
        if None in counted:
            return None
        left = Fraction(sum(bool(counts) for counts in counted))
        return _all(self._relates(test, left, None, here) for test in count.tests)

    # --- comparisons -------------------------------------------------------------------------------------------------

    def _compares(self, compare: Compare, test: Test, here: Subject) -> Truth:
        try:
            left = self._fact(compare.path, here)
        except NoAnswer:
            return self._without_left(test, here)
        if test.relation in ("known", "present"):
            wanted = self.value(test.operands[0], here) is True
            return (test.relation == "known" or left is not ABSENT) is wanted
        return self._relates(test, left, compare.if_absent, here)

    def _without_left(self, test: Test, here: Subject) -> Truth:
        """No answer, but that everything is within no limit."""
        for operand in test.operands:
            try:
                self.value(operand, here)
            except NoLimit:
                return True
            except NoAnswer:
                continue
        return None

    def _relates(self, test: Test, left: Value, if_absent: bool | None, here: Subject) -> Truth:
        try:
            values = [self.value(operand, here) for operand in test.operands]
        except NoLimit:
            return True
        except NoAnswer:
            return self._relates_to_parts(test, left, if_absent, here)
        if test.relation == "between":
            return _all(
                [_related("at_least", left, values[0], if_absent), _related("at_most", left, values[1], if_absent)]
            )
        return _related(test.relation, left, values[0], if_absent)

    def _relates_to_parts(self, test: Test, left: Value, if_absent: bool | None, here: Subject) -> Truth:
        """Of the largest or smallest of several the rest can decide where one has no answer: what is within one of them
        is within the largest, and what is beyond one of them is beyond the smallest.
        """
        operand = test.operands[0]
        if not isinstance(operand, Combined) or (operand.how, test.relation) not in _DECIDED_BY:
            return None
        values = [self._answer(each, here) for each in operand.operands]
        if ABSENT in values:
            return None
        related = [None if each is None else _related(test.relation, left, each, if_absent) for each in values]
        return _DECIDED_BY[operand.how, test.relation](related)

    def _answer(self, operand: Operand, here: Subject) -> Value | None:
        """The value of an operand; None where it has no answer."""
        try:
            return self.value(operand, here)
        except NoAnswer:
            return None

    def _reach(self, links: tuple[str, ...], here: Subject) -> Subject | None:
        reached: Subject | None = here
        for link in links:
            if reached is None:
                return None
            reached = self.subject if link == "subject" else self.facts.linked(reached, link)
        return reached

    def _fact(self, path: FactPath, here: Subject) -> Value:
        owner = self._reach(path.links, here)
        return ABSENT if owner is None else self.facts.fact(owner, path.name)

    # --- operands ----------------------------------------------------------------------------------------------------

    def value(self, operand: Operand, here: Subject) -> Value:
        """The value of an operand; raises NoAnswer, or NoLimit."""
        match operand:
            case Words():
                words = operand.words
                return frozenset(str(word) for word in words) if operand.is_list else words[0]
            case FactOperand():
                return self._fact(operand.path, here)
            case ParameterOperand():
                return self._parameter(operand.name)
            case Combined():
                return _combined(operand, [self.value(each, here) for each in operand.operands])
            case Scaled():
                return _scaled(self.value(operand.operand, here), self.value(operand.factor, here))
            case NextSize():
                return _next_size(self.rule.tables[operand.table], self.value(operand.operand, here))
            case Lookup():
                keys = {name: self.value(each, here) for name, each in operand.keys.items()}
                return _cell(self.rule.tables[operand.table], keys)

    def _parameter(self, name: str) -> Value:
        value = self.rule.parameters[name].value
        if value is None:
            raise NoLimit
        if isinstance(value, CalendarSpan):
            return Fraction(_earlier(self.on, value).toordinal())
        return exact_value(value)


_NO_FACTS = ExactFacts(Site("", "", {}, {}, (), {}, frozenset()), shipped_catalog())
_NOT_DRAWN = Subject("not drawn", "not drawn")


def _outcome(rule: Rule, applies: bool, excepted: bool, met: tuple[bool, ...]) -> str:
    """The design's table, its exact rows."""
    if not applies or excepted:
        return "not_applicable"
    if rule.look is not None:
        return "verify_in_field"
    if len(set(met)) > 1:
        return "ahj_to_decide"
    return "met" if met[0] else _miss(rule)


def _miss(rule: Rule) -> str:
    if rule.force is Force.INFORMATIONAL:
        return "note"
    practice = rule.basis in (Basis.TRADE_PRACTICE, Basis.LOCAL_PRACTICE)
    return "recommendation" if practice or rule.force is Force.RECOMMENDED else "correction"


def _related(relation: str, left: Value, right: Value, if_absent: bool | None) -> bool:
    if left is ABSENT or right is ABSENT:
        return relation in _YES_WHEN_ABSENT if if_absent is None else if_absent
    return _RELATIONS[relation](left, right)


_DECIDED_BY: Mapping[tuple[str, str], Callable[[Iterable[Truth]], Truth]] = {
    ("largest_of", "at_most"): _any,
    ("largest_of", "less_than"): _any,
    ("largest_of", "at_least"): _all,
    ("largest_of", "more_than"): _all,
    ("smallest_of", "at_most"): _all,
    ("smallest_of", "less_than"): _all,
    ("smallest_of", "at_least"): _any,
    ("smallest_of", "more_than"): _any,
}
"""How an order against the largest or smallest follows from the order against each: one decides, or all do."""


def _as_set(value: Value) -> frozenset[str]:
    return value if isinstance(value, frozenset) else frozenset({str(value)})


def _order(compare: Callable[[Fraction, Fraction], bool]) -> Callable[[Value, Value], bool]:
    def ordered(left: Value, right: Value) -> bool:
        assert isinstance(left, Fraction)
        assert isinstance(right, Fraction)
        return compare(left, right)

    return ordered


_RELATIONS: Mapping[str, Callable[[Value, Value], bool]] = {
    "is": lambda left, right: left == right,
    "is_not": lambda left, right: left != right,
    "one_of": lambda left, right: _as_set(left) <= _as_set(right),
    "none_of": lambda left, right: not _as_set(left) <= _as_set(right),
    "includes": lambda left, right: _as_set(right) <= _as_set(left),
    "includes_all": lambda left, right: _as_set(right) <= _as_set(left),
    "includes_any": lambda left, right: bool(_as_set(right) & _as_set(left)),
    "includes_only": lambda left, right: _as_set(left) <= _as_set(right),
    "at_least": _order(lambda left, right: left >= right),
    "at_most": _order(lambda left, right: left <= right),
    "more_than": _order(lambda left, right: left > right),
    "less_than": _order(lambda left, right: left < right),
    "before": _order(lambda left, right: left < right),
    "on_or_after": _order(lambda left, right: left >= right),
    "no_older_than": _order(lambda left, right: left >= right),
}


def _combined(combined: Combined, values: list[Value]) -> Value:
    numbers = [value for value in values if isinstance(value, Fraction)]
    if len(numbers) < len(values) and not combined.skip_absent:
        return ABSENT
    if combined.how == "sum_of":
        return sum(numbers, Fraction(0))
    pick = max if combined.how == "largest_of" else min
    return pick(numbers, default=ABSENT)


def _scaled(value: Value, factor: Value) -> Value:
    if not isinstance(value, Fraction) or not isinstance(factor, Fraction):
        return ABSENT
    return value * factor


def _next_size(table: TableValues, value: Value) -> Value:
    if not isinstance(value, Fraction):
        return ABSENT
    sizes = [size for row in table.rows if isinstance(size := exact_value(row.value), Fraction) and size >= value]
    if not sizes:
        raise NoAnswer(table.beyond)
    return min(sizes)


def _cell(table: TableValues, keys: Mapping[str, Value]) -> Value:
    if ABSENT in keys.values():
        return ABSENT
    for row in table.rows:
        if all(_serves(row.keys[name], value) for name, value in keys.items()):
            return exact_value(row.value)
    raise NoAnswer(table.beyond)


def _serves(key: Possible, value: Value) -> bool:
    """Whether the key of a row stands for a value."""
    if isinstance(value, Fraction):
        span = key.spans[0]
        above = span.low is None or value > span.low or (value == span.low and not span.low_open)
        below = span.high is None or value < span.high or (value == span.high and not span.high_open)
        return above and below
    return value in key.atoms


def _earlier(day: date, span: CalendarSpan) -> date:
    """The day a span earlier; the last of the month where the month is too short."""
    year, month = divmod(day.year * _MONTHS + day.month - 1 - span.months, _MONTHS)
    following = date(year + (month + 1) // _MONTHS, (month + 1) % _MONTHS + 1, 1)
    last = following - timedelta(days=1)
    return date(last.year, last.month, min(day.day, last.day)) - timedelta(days=span.days)
