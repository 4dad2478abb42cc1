"""Runs the cases beside a layer, each on the rule as the layer leaves it on the day of the case."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from checker.catalog.model import Catalog
from checker.rules.cases.model import Case
from checker.rules.layers.cases import full_names
from checker.rules.layers.stack import Stack
from checker.rules.vocabulary import Vocabulary
from checker.tasks.testing.cases import USUAL_DATE, Answer, CaseResult, answer, complaints_of


def run_layer_cases(stack: Stack, cases: tuple[Case, ...], catalog: Catalog) -> Iterator[CaseResult]:
    """Every case of a layer: in the edition that it was written against unless the case names others, and on the day
    on which all its changes of the rule have begun unless the case names one.
    """
    vocabulary, names = Vocabulary(stack.known(catalog)), full_names(stack)
    for case in cases:
        for edition in case.editions or (None,):
            found = layer_answer(stack, names[case.rule], case, edition, vocabulary)
            yield CaseResult(case, edition, complaints_of(case, found), found.outcome)


def layer_answer(stack: Stack, name: str, case: Case, edition: str | None, vocabulary: Vocabulary) -> Answer:
    """What a rule (as pack:id) answers on one case as the layer leaves it."""
    day = case.date or stack.usual_day(name) or USUAL_DATE
    return answer(replace(case, date=day), stack.rule_on(name, edition, day), stack.path.parent, vocabulary)
