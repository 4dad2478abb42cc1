"""One comparison of one open fact: exactly what can come out is said to be possible, no more and no less.

Every value that matters is tried: the ends of what is possible, numbers beside them, and the limits that the rule sets.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations

from checker.catalog.model import Fact, ValueType
from checker.rules.model.citing import Citation
from checker.rules.model.conditions import Compare, FactOperand, ParameterOperand
from checker.rules.model.force import Basis
from checker.rules.model.in_force import RuleInForce
from checker.rules.model.rule import Requires, Rule
from checker.rules.vocabulary import Around
from checker.rules.walk import operands_of
from checker.site.model import SITE, Members, Site, Stated, Subject, Thing
from checker.values.positions import Position
from checker.values.possible import ABSENT, Possible, SetSpan, exactly, number, several
from checker.values.relations import relate
from checker.values.truth import Truth
from tests.generators.cases import CATALOG, NAMES
from tests.generators.choosing import Chooser, seeded
from tests.generators.conditions import ConditionWriter
from tests.generators.operands import NumberBook
from tests.generators.rule_text import rules_text
from tests.generators.rules import in_force
from tests.generators.written import TEXTS, exact, undecided
from tests.soundness.budget import seeds
from tests.soundness.engine import verdicts
from tests.soundness.oracle import expected, limits

_AT = Position("site.yaml", 1, 1)
_NEAR = Fraction(1, 10**6)
_MOST_WORDS = 6
_TRIES = 20


def _site(subject: Subject, facts: dict[str, Possible]) -> Site:
    """A site with one piece, or one member of a list, of which little is said."""
    stated = {name: Stated(value, "as drawn", _AT) for name, value in facts.items()}
    if subject.type in CATALOG.kinds:
        stated["kind"] = Stated(exactly(subject.type), subject.type, _AT)
    things = {SITE: Thing(SITE, _AT, {})} | {subject: Thing(subject, _AT, stated)}
    lists = {
        (name, "site"): Members((subject,), complete=True)
        for name, listing in CATALOG.lists.items()
        if listing.member == subject.type
    }
    pieces = {subject.id: subject} if subject.type in CATALOG.kinds else {}
    return Site("site.yaml", "0" * 64, things, pieces, (), lists, frozenset())


def _comparison(choose: Chooser, subject_type: str, book: NumberBook) -> Compare | None:
    """One comparison of a fact that is only stated with what the rule itself sets; None where none came up."""
    writer = ConditionWriter.of(choose, NAMES, book)
    around = Around((subject_type,))
    for _ in range(_TRIES):
        compare = writer.comparison(around)
        fact = CATALOG.facts[compare.path.name]
        is_only_stated = subject_type not in fact.derived_for and not fact.exact and not fact.said_only
        asks_for_itself = any(isinstance(each, FactOperand) for each in operands_of(compare))
        asks_what_is_known = any(test.relation == "known" for test in compare.tests)
        asks_once = len(compare.tests) == 1 and not _runs_backwards(compare, book)
        if is_only_stated and asks_once and not (compare.path.links or asks_for_itself or asks_what_is_known):
            return compare
    return None


def _runs_backwards(compare: Compare, book: NumberBook) -> bool:
    """Whether nothing can lie between the two ends: both are asked by themselves, and each alone can hold."""
    ends = compare.tests[0].operands
    if len(ends) == 1:
        return False
    if not all(isinstance(end, ParameterOperand) for end in ends):
        return True
    low, high = (book.parameters[end.name].value for end in ends if isinstance(end, ParameterOperand))
    return isinstance(low, Possible) and isinstance(high, Possible) and relate("more_than", low, high) is Truth.YES


def _open_value(choose: Chooser, fact: Fact) -> Possible:
    """What is possible for a fact: anything, one value, or one of several; perhaps none of them."""
    way = 1 if fact.type is ValueType.STRUCTURE else choose.whole(1, 4)
    value = fact.anything() if way == 1 else exact(choose, fact, ["P1"]).value
    if way > 2:
        value = undecided(choose, fact, ["P1"]).value
    value = value.present() or fact.anything()
    return replace(value, absent=choose.chance(40)) if CATALOG.may_be_absent(fact) else value


def _values(possible: Possible, critical: frozenset[Fraction], words: frozenset[str]) -> Iterator[Possible]:
    """Every value that matters."""
    yield from ([ABSENT] if possible.absent else [])
    yield from (exactly(atom) for atom in possible.atoms)
    yield from (exactly(text) for text in (*TEXTS, "something else") if possible.anything)
    for span in possible.spans:
        ends = {end for end in (span.low, span.high, *critical, Fraction(0)) if end is not None}
        tried = {end + step for end in ends for step in (-_NEAR, Fraction(0), _NEAR)}
        yield from (number(each) for each in sorted(tried) if span.holds(each))
    for members in possible.sets:
        yield from (several(each) for each in _subsets(members, words))


def _subsets(members: SetSpan, words: frozenset[str]) -> Iterator[frozenset[str]]:
    """Sets that differ in the words that the rule names, and in one that it does not; and all of them together."""
    yield members.perhaps
    free = sorted(members.perhaps - members.surely, key=lambda word: (word not in words, word))[:_MOST_WORDS]
    for size in range(len(free) + 1):
        yield from (members.surely | frozenset(extra) for extra in combinations(free, size))


_SUBJECTS = (
    *CATALOG.kinds, *(listing.member for listing in CATALOG.lists.values() if listing.on == "site"), "site",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Trial:
    """One rule with one comparison, the thing that it is about, and what is possible for the fact that it reads."""

    rule: RuleInForce
    subject: Subject
    fact: Fact
    possible: Possible

    def site(self, value: Possible) -> Site:
        """The fact, and where it is a part, the whole that is there unless the part alone cannot say so."""
        whole = CATALOG.facts[self.fact.name.partition(".")[0]]
        if whole is self.fact:
            return _site(self.subject, {self.fact.name: value})
        may_be_gone = value.absent and not self.fact.may_be_none
        there = value.present() is not None or not may_be_gone
        said = Possible(frozenset({True}), absent=may_be_gone) if there else ABSENT
        return _site(self.subject, {whole.name: said, self.fact.name: value})


def _trial(choose: Chooser) -> _Trial | None:
    subject_type = choose.one(_SUBJECTS)
    name = "P1" if subject_type in CATALOG.kinds else "one 1"
    book = NumberBook()
    compare = _comparison(choose, subject_type, book)
    if compare is None:
        return None
    body = Rule(
        id="one-comparison", pack="tried", title="The rule", subject=subject_type, basis=Basis.LAW, says="It misses.",
        at=_AT, requires=Requires({"part": compare}), cites=(Citation("tried", None, "1"),),
    )  # fmt: skip
    rule = RuleInForce(body, None, "nobody", body.cites, book.parameters, book.tables)
    subject = SITE if subject_type == "site" else Subject(subject_type, name)
    fact = CATALOG.facts[compare.path.name]
    return _Trial(rule, subject, fact, _open_value(choose, fact))


def _difference(trial: _Trial) -> str | None:
    """What is said to be possible, where that is not what comes out for one of the values."""
    rules, key = in_force((trial.rule,)), (trial.rule.id, trial.subject)
    critical, words = limits(trial.rule, rules.date)
    said = {outcome.value for outcome in verdicts(trial.site(trial.possible), CATALOG, rules)[key].could_be}
    values = _values(trial.possible, critical, words)
    found = set().union(*(expected(trial.site(value), CATALOG, rules)[key] for value in values))
    if said == found:
        return None
    told = f"{trial.fact.name} is {trial.possible}: said to be {sorted(said)}, and is {sorted(found)}"
    return f"{told}\n{rules_text(rules)}"


def test_exactly_what_can_come_out_is_possible() -> None:
    tried = 0
    for seed in seeds(2500):
        trial = _trial(seeded(seed))
        if trial is not None:
            tried += 1
            assert (difference := _difference(trial)) is None, f"case {seed}: {difference}"
    assert tried * 2 > len(seeds(2500))
