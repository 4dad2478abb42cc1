"""The papers that rules want in the packet, and those that are in it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from checker.facts.view import View
from checker.findings.finding import PaperAsked, PaperShown
from checker.findings.judging.conditions import Judge
from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.operands import Numbers
from checker.findings.judging.paths import Place
from checker.findings.judging.plan import Planned
from checker.rules.model.conditions import Compare, Condition, FactPath, Fold, Group, Test, Words
from checker.rules.model.in_force import RuleInForce
from checker.rules.vocabulary import Around, Vocabulary
from checker.rules.walk import below, requirements_of
from checker.rules.words.condition_words import words_in_force
from checker.site.model import Subject
from checker.values.truth import Truth

PAPERS, PAPER, SHOWS = "papers", "paper", "shows"
_ASKING = "some"
_SHOWING = ("includes", "includes_all")


def papers_asked(view: View, on: date, planned: Planned) -> tuple[PaperAsked, ...]:
    """The papers that the requirement of a rule asks for; none for a rule that asks for none."""
    folds = tuple(dict.fromkeys(_folds_over_papers(planned.rule)))
    if not folds:
        return ()
    judge = Judge(SiteEvidence(view), Numbers.of(planned.rule), on)
    asker = _Asker(view, planned.rule, judge, Place(planned.subject, planned.subject))
    return tuple(asker.asked(fold) for fold in folds)


def _folds_over_papers(rule: RuleInForce) -> Iterator[Fold]:
    for requires in requirements_of(rule.rule):
        for part in requires.parts.values():
            for each in below(part):
                if isinstance(each, Fold) and each.how == _ASKING and each.collection.name == PAPERS:
                    yield each


class _Asker:
    """Says of one rule at one subject what it wants of papers."""

    def __init__(self, view: View, rule: RuleInForce, judge: Judge, place: Place) -> None:
        self._catalog = view.ground.catalog
        self._rule = rule
        self._judge = judge
        self._place = place

    def asked(self, fold: Fold) -> PaperAsked:
        """What one question about the packet asks for."""
        wanted = tuple(_conjuncts(fold.that))
        words = dict.fromkeys(word for each in wanted for word in _words_shown(each))
        further = [each for each in wanted if not any(_words_shown(each))]
        return PaperAsked(
            papers=tuple(dict.fromkeys(word for each in _conjuncts(fold.where) for word in _named(each))),
            there=self._holds(fold, None),
            shows=tuple((word, self._holds(fold, _shows(word))) for word in words),
            further=tuple((self._said(each), self._holds(fold, each)) for each in further),
        )

    def _holds(self, fold: Fold, that: Condition | None) -> Truth:
        return self._judge.condition(Fold(_ASKING, fold.collection, fold.where, that), self._place).truth

    def _said(self, condition: Condition) -> str:
        vocabulary = Vocabulary(self._catalog)
        around = Around((PAPER,), vocabulary.types_of(self._rule.rule.subject))
        return words_in_force(self._rule, vocabulary).line(condition, around)


def _conjuncts(condition: Condition | None) -> Iterator[Condition]:
    """The conditions that must all hold for this one."""
    if isinstance(condition, Group) and condition.how == "all":
        for each in condition.conditions:
            yield from _conjuncts(each)
    elif condition is not None:
        yield condition


def _named(condition: Condition) -> Iterator[str]:
    """The papers by which a condition picks: one, or one of several."""
    if isinstance(condition, Compare) and condition.path == FactPath((), PAPER):
        for test in condition.tests:
            if test.relation in ("is", "one_of"):
                yield from _choices(test)


def _words_shown(condition: Condition) -> Iterator[str]:
    """What a paper has to show by a condition that asks for all of it."""
    if isinstance(condition, Compare) and condition.path == FactPath((), SHOWS):
        for test in condition.tests:
            if test.relation in _SHOWING:
                yield from _choices(test)


def _choices(test: Test) -> Iterator[str]:
    operand = test.operands[0]
    if isinstance(operand, Words):
        yield from (word for word in operand.words if isinstance(word, str))


def _shows(word: str) -> Compare:
    """That a paper shows one thing; one that shows nothing does not."""
    return Compare(FactPath((), SHOWS), (Test("includes", (Words((word,), is_list=False),)),), if_absent=False)


# --- the packet ------------------------------------------------------------------------------------------------------


def packet(view: View) -> tuple[PaperShown, ...]:
    """The papers of the packet, in its order, each with what it surely shows."""
    listed = view.ground.site.members(PAPERS).members
    return tuple(PaperShown(str(view.read(each, PAPER).atom), _surely_shown(view, each)) for each in listed)


def _surely_shown(view: View, paper: Subject) -> tuple[str, ...]:
    if view.ground.site.stated(paper, SHOWS) is None:
        return ()
    sets = view.read(paper, SHOWS).sets
    sure = frozenset.intersection(*(each.surely for each in sets)) if sets else frozenset()
    return tuple(choice for choice in view.ground.catalog.facts[SHOWS].choices if choice in sure)


def is_complete(view: View) -> bool:
    """Whether somebody says that there are no other papers."""
    return view.ground.site.members(PAPERS).complete
