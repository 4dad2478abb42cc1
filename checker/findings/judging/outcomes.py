"""What can come out of a rule, and how it follows from the answers of its conditions."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum
from itertools import product

from checker.rules.model.force import Basis, Force
from checker.rules.model.rule import Rule
from checker.values.truth import Truth, all_of


class Outcome(Enum):
    """What a finding says. The order is the order of a report."""

    RULE_ERROR = "rule_error"
    CORRECTION = "correction"
    RECOMMENDATION = "recommendation"
    NOTE = "note"
    NEEDS_INFORMATION = "needs_information"
    AHJ_TO_DECIDE = "ahj_to_decide"
    SPECIAL_PERMISSION = "special_permission"
    VERIFY_IN_FIELD = "verify_in_field"
    MET = "met"
    NOT_APPLICABLE = "not_applicable"

    @property
    def order(self) -> int:
        """Place in a report, from 0."""
        return list(Outcome).index(self)


SETTLED_OUTCOMES = (Outcome.MET, Outcome.NOT_APPLICABLE)
"""Those of which nobody wants anything more."""

Outcomes = frozenset[Outcome]
"""What is still possible for one finding."""

_NOT_APPLICABLE = frozenset({Outcome.NOT_APPLICABLE})

NOTHING_ASKED: Outcomes = _NOT_APPLICABLE
"""What comes out where an authority has no such rule."""

MISSES = (Outcome.CORRECTION, Outcome.RECOMMENDATION, Outcome.NOTE)
"""What a rule that is not met comes to, the most binding first."""
_SETTLED_EITHER_WAY = tuple(
    frozenset({outcome, Outcome.NOT_APPLICABLE}) for outcome in (Outcome.MET, Outcome.VERIFY_IN_FIELD)
)


def miss_of(rule: Rule) -> Outcome:
    """What a miss of this rule is."""
    return miss_with(rule.force, rule.basis)


def miss_with(force: Force, basis: Basis) -> Outcome:
    """What a miss is: force and basis bound it, and practice never corrects."""
    if force is Force.INFORMATIONAL:
        return Outcome.NOTE
    if force is Force.RECOMMENDED or not basis.can_correct:
        return Outcome.RECOMMENDATION
    return Outcome.CORRECTION


def possible_outcomes(applies: Truth, excepted: Truth, required: Truth, miss: Outcome) -> Outcomes:
    """The table of the design: what can come out when the rule applies, an exception holds and the requirement
    holds.
    """
    if applies is Truth.NO or excepted is Truth.YES:
        return _NOT_APPLICABLE
    doubt = _NOT_APPLICABLE if applies is Truth.UNKNOWN or excepted is Truth.UNKNOWN else frozenset()
    return _when_applied(required, miss) | doubt


def _when_applied(required: Truth, miss: Outcome) -> Outcomes:
    if required is Truth.YES:
        return frozenset({Outcome.MET})
    if required is Truth.NO:
        return frozenset({miss})
    return frozenset({Outcome.MET, miss})


def outcomes_of_readings(applies: Truth, excepted: Truth, readings: Iterable[Truth], miss: Outcome) -> Outcomes:
    """Several readings of one text: the same under all, that one; different, for the AHJ to decide."""
    answers = tuple(readings)
    if applies is Truth.NO or excepted is Truth.YES:
        return _NOT_APPLICABLE
    doubt = _NOT_APPLICABLE if applies is Truth.UNKNOWN or excepted is Truth.UNKNOWN else frozenset()
    found = set(doubt)
    if Truth.NO not in answers:
        found.add(Outcome.MET)
    if Truth.YES not in answers:
        found.add(miss)
    if len(answers) > 1 and (len(set(answers)) > 1 or Truth.UNKNOWN in answers):
        found.add(Outcome.AHJ_TO_DECIDE)
    return frozenset(found)


def outcomes_of_versions(versions: Iterable[Outcomes]) -> Outcomes:
    """Several versions of one rule: the same under all, that one; a miss under one and not under another, for the AHJ
    to decide. Where none misses, what asks for the most counts: a decision before a look, a look before what is met.
    """
    found: set[Outcome] = set()
    for together in product(*versions):
        misses = {each in MISSES for each in together}
        if len(set(together)) == 1:
            found.add(together[0])
        elif True in misses:
            found.add(Outcome.AHJ_TO_DECIDE)
        else:
            found.add(min(together, key=lambda each: each.order))
    return frozenset(found)


def outcomes_of_look(applies: Truth, excepted: Truth) -> Outcomes:
    """What a person must see: it does not apply, or somebody has to look; both while it is open whether it applies."""
    stands = all_of((applies, ~excepted))
    if stands is Truth.NO:
        return _NOT_APPLICABLE
    return frozenset({Outcome.VERIFY_IN_FIELD}) | (_NOT_APPLICABLE if stands is Truth.UNKNOWN else frozenset())


def settled(possible: Outcomes) -> Outcome:
    """The outcome: the one that is left; met where nothing is to be corrected either way, and a look where one is due
    unless the rule does not apply; otherwise information is needed.
    """
    if len(possible) == 1:
        return next(iter(possible))
    if possible in _SETTLED_EITHER_WAY:
        return next(iter(possible - _NOT_APPLICABLE))
    return Outcome.NEEDS_INFORMATION
