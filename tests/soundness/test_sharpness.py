"""One comparison of one open fact: exactly what can come out is said to be possible, no more and no less.

Every value that matters is tried: the ends of what is possible, numbers beside them, and the limits that the rule sets.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

from hypothesis import assume, given
from hypothesis import strategies as st

from checker.catalog.model import Fact, ValueType
from checker.rules.model import Basis, Citation, Compare, FactOperand, Requires, Rule, RuleInForce
from checker.rules.vocabulary import Around
from checker.rules.walk import operands_of
from checker.site.model import SITE, Members, Site, Stated, Subject, Thing
from checker.values.positions import Position
from checker.values.possible import ABSENT, Possible, SetSpan, exactly, number, several
from tests.generators.cases import CATALOG, NAMES
from tests.generators.choosing import Chooser, drawn
from tests.generators.conditions import ConditionWriter
from tests.generators.operands import NumberBook
from tests.generators.rules import in_force
from tests.generators.written import TEXTS, exact, undecided
from tests.soundness.budget import examples
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
        if is_only_stated and not (compare.path.links or asks_for_itself or asks_what_is_known):
            return compare
    return None


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
    """Sets that differ in the words that the rule names, and in one that it does not."""
    free = sorted(members.perhaps - members.surely, key=lambda word: (word not in words, word))[:_MOST_WORDS]
    for size in range(len(free) + 1):
        yield from (members.surely | frozenset(extra) for extra in combinations(free, size))


_SUBJECTS = (
    *CATALOG.kinds, *(listing.member for listing in CATALOG.lists.values() if listing.on == "site"), "site",
)  # fmt: skip


@examples(500)
@given(st.data())
def test_exactly_what_can_come_out_is_possible(data: st.DataObject) -> None:
    choose = drawn(data.draw)
    subject_type = choose.one(_SUBJECTS)
    name = "P1" if subject_type in CATALOG.kinds else "one 1"
    subject = SITE if subject_type == "site" else Subject(subject_type, name)
    book = NumberBook()
    compare = _comparison(choose, subject_type, book)
    assume(compare is not None)
    assert compare is not None
    body = Rule(
        id="one-comparison", pack="tried", title="The rule", subject=subject_type, basis=Basis.LAW, says="It misses.",
        at=_AT, requires=Requires({"part": compare}), cites=(Citation("tried", None, "1"),),
    )  # fmt: skip
    rule = RuleInForce(body, None, "nobody", body.cites, book.parameters, book.tables)
    rules, fact = in_force((rule,)), CATALOG.facts[compare.path.name]
    possible = _open_value(choose, fact)

    def facts(value: Possible) -> dict[str, Possible]:
        """The fact, and where it is a part, the whole that is there unless the part alone cannot say so."""
        whole = CATALOG.facts[fact.name.partition(".")[0]]
        if whole is fact:
            return {fact.name: value}
        there = value.present() is not None
        may_be_gone = value.absent and not fact.may_be_none
        whole_value = Possible(frozenset({True}), absent=may_be_gone) if there or not may_be_gone else ABSENT
        return {whole.name: whole_value, fact.name: value}

    critical, words = limits(rule, rules.date)
    key = (rule.id, subject)
    found = verdicts(_site(subject, facts(possible)), CATALOG, rules)[key].could_be
    values = _values(possible, critical, words)
    outcomes = [expected(_site(subject, facts(value)), CATALOG, rules)[key] for value in values]
    assert {outcome.value for outcome in found} == set().union(*outcomes), (fact.name, possible)
