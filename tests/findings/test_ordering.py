"""What can kill comes first, then the walk; what binds comes before what is only practice."""

from __future__ import annotations

from typing import Any

import pytest

from checker.catalog.model import Stage
from checker.findings.assembling.ordering import ordered
from checker.findings.finding import Finding, SubjectName
from checker.findings.judging.outcomes import Outcome
from checker.rules.model.force import Basis, Force, Harm
from tests.report.reviews import finding

OPEN = Outcome.NEEDS_INFORMATION


def _at(place: int, rule: str, outcome: Outcome = Outcome.CORRECTION, **changes: Any) -> Finding:
    tag = f"B{place}"
    subject = SubjectName({"piece": tag}, tag, tag, "panelboard", (place, tag), tag)
    return finding(outcome, id=f"town:{rule}@{tag}", rule=rule, subject=subject, **changes)


def _rules(*findings: Finding) -> list[str]:
    return [each.rule for each in ordered(findings)]


def test_the_gravest_comes_first_and_the_walk_counts_among_the_same() -> None:
    assert _rules(
        _at(1, "sign"),
        _at(2, "breaks", harm=Harm.EQUIPMENT),
        _at(4, "kills-late", harm=Harm.LIFE),
        _at(3, "kills", harm=Harm.LIFE),
        _at(5, "burns", harm=Harm.FIRE),
    ) == ["kills", "kills-late", "burns", "breaks", "sign"]


def test_practice_that_is_grave_comes_after_a_sign_that_binds() -> None:
    practice = _at(1, "practice", OPEN, basis=Basis.TRADE_PRACTICE, harm=Harm.LIFE)
    advice = _at(2, "advice", OPEN, force=Force.RECOMMENDED, harm=Harm.FIRE)
    note = _at(3, "note", OPEN, force=Force.INFORMATIONAL, harm=Harm.LIFE)
    assert _rules(note, advice, practice, _at(9, "sign", OPEN)) == ["sign", "practice", "advice", "note"]


def test_what_is_due_first_is_asked_first() -> None:
    later = _at(1, "later", OPEN, due=Stage.ACCEPTANCE, harm=Harm.LIFE)
    assert _rules(later, _at(2, "now", OPEN)) == ["now", "later"]


def test_a_cure_that_comes_first_stays_ahead_of_a_graver_finding() -> None:
    first = _at(2, "ground-wire", before=("bond",))
    assert _rules(_at(1, "bond", harm=Harm.LIFE), first) == ["ground-wire", "bond"]


@pytest.mark.parametrize("outcome", [Outcome.MET, Outcome.NOT_APPLICABLE])
def test_what_is_settled_keeps_to_the_walk(outcome: Outcome) -> None:
    assert _rules(_at(2, "grave", outcome, harm=Harm.LIFE), _at(1, "sign", outcome)) == ["sign", "grave"]
