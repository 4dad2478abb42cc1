"""Words, marks and small sentences of the report."""

from __future__ import annotations

from enum import Enum
from typing import Any

import pytest

from checker.catalog.model import Stage
from checker.findings.finding import SubjectName
from checker.findings.judging.outcomes import Outcome
from checker.report.words import (
    MARKS,
    OUTCOME_WORDS,
    RELATION_WORDS,
    STAGE_WORDS,
    authority_text,
    citation_text,
    counted,
    joined,
    sentence_of,
)
from checker.rules.grammar import EVENTS, RELATIONS
from checker.rules.model.citing import Citation
from checker.rules.model.force import Basis
from checker.rules.wording import EVENT_WORDS
from tests.report.reviews import finding


@pytest.mark.parametrize(
    ("words", "of"),
    [
        (OUTCOME_WORDS, Outcome),
        (MARKS, Outcome),
        (STAGE_WORDS, Stage),
        (EVENT_WORDS, EVENTS),
        (RELATION_WORDS, RELATIONS),
    ],
)
def test_there_is_a_word_for_each(words: dict[Any, str], of: Any) -> None:
    assert set(words) == set(of)
    assert not [key for key, text in words.items() if "_" in text or (isinstance(key, Enum) and not text)]


def test_marks_are_one_sign_each_and_told_apart() -> None:
    assert {len(mark) for mark in MARKS.values()} == {1}
    alike = (Outcome.RECOMMENDATION, Outcome.NOTE)
    others = [mark for outcome, mark in MARKS.items() if outcome not in alike]
    assert len(set(others)) == len(others)
    assert MARKS[alike[0]] == MARKS[alike[1]]


@pytest.mark.parametrize(
    ("cites", "text"),
    [
        ((), ""),
        ((Citation("NFPA 70", "2020", "230.85"),), "NFPA 70 2020 230.85"),
        (
            (Citation("NFPA 70", "2020", "230.85"), Citation("NFPA 70", "2020", "230.70(B)")),
            "NFPA 70 2020 230.85, 230.70(B)",
        ),
        (
            (Citation("NFPA 70", "2020", "230.85"), Citation("NFPA 70", "2023", "230.85")),
            "NFPA 70 2020 230.85, NFPA 70 2023 230.85",
        ),
        ((Citation("Town Code", None, "14-31"), Citation("NFPA 70", "2020", "1")), "Town Code 14-31, NFPA 70 2020 1"),
    ],
)
def test_citations(cites: tuple[Citation, ...], text: str) -> None:
    assert citation_text(cites) == text


@pytest.mark.parametrize(
    ("changes", "text"),
    [
        ({}, "Town Code 2020 14-31, county rule 7"),
        ({"authority": ""}, "Town Code 2020 14-31"),
        (
            {"cites": (Citation("Town Code", "2020", "14-31", verify=True),)},
            "Town Code 2020 14-31, county rule 7, verify the citation",
        ),
        ({"unconfirmed": ("margin",)}, "Town Code 2020 14-31, county rule 7, verify the citation"),
        ({"basis": Basis.TRADE_PRACTICE, "cites": (), "unconfirmed": ("margin",)}, "trade practice, no section"),
        ({"basis": Basis.LOCAL_PRACTICE, "cites": ()}, "local practice, no section"),
    ],
)
def test_what_a_finding_rests_on(changes: dict[str, Any], text: str) -> None:
    assert authority_text(finding(Outcome.CORRECTION, **changes)) == text


@pytest.mark.parametrize(
    ("number", "words", "plural", "text"),
    [
        (0, "correction", None, "0 corrections"),
        (1, "correction", None, "1 correction"),
        (2, "correction", None, "2 corrections"),
        (1, "not shown", "not shown", "1 not shown"),
        (3, "not shown", "not shown", "3 not shown"),
    ],
)
def test_counted(number: int, words: str, plural: str | None, text: str) -> None:
    assert counted(number, words, plural) == text


@pytest.mark.parametrize(
    ("names", "text"), [([], ""), (["1"], "1"), (["1", "2"], "1 and 2"), (["1", "2", "3"], "1, 2 and 3")]
)
def test_joined(names: list[str], text: str) -> None:
    assert joined(names) == text


FIGURE = SubjectName(
    {"figure": "GEN1.capacity"}, "GEN1, capacity", "GEN1.capacity", "figure", (0, "GEN1"), "GEN1.capacity"
)


@pytest.mark.parametrize(
    ("outcome", "changes", "text"),
    [
        (Outcome.CORRECTION, {}, "ATS1 is rated 100 A and stands behind a 200 A breaker."),
        (Outcome.RECOMMENDATION, {}, "ATS1 is rated 100 A and stands behind a 200 A breaker."),
        (Outcome.AHJ_TO_DECIDE, {}, "ATS1 is rated 100 A and stands behind a 200 A breaker."),
        (Outcome.SPECIAL_PERMISSION, {}, "ATS1 is rated 100 A and stands behind a 200 A breaker."),
        (Outcome.MET, {}, "The switch is rated for the breaker ahead of it."),
        (Outcome.NOT_APPLICABLE, {}, "Does not apply: role is no role."),
        (Outcome.NOT_APPLICABLE, {"because": ""}, "Does not apply."),
        (Outcome.VERIFY_IN_FIELD, {}, "Look at the nameplate of ATS1."),
        (
            Outcome.NEEDS_INFORMATION,
            {},
            "Cannot tell whether this holds: The switch is rated for the breaker ahead of it.",
        ),
        (
            Outcome.NEEDS_INFORMATION,
            {"needs": ()},
            "Nothing here tells whether this holds: The switch is rated for the breaker ahead of it.",
        ),
        (Outcome.NEEDS_INFORMATION, {"subject": FIGURE}, "ATS1 is rated 100 A and stands behind a 200 A breaker."),
    ],
)
def test_one_sentence_says_what_came_out(outcome: Outcome, changes: dict[str, Any], text: str) -> None:
    """The sentence of a miss must not stand where nothing is missed."""
    assert sentence_of(finding(outcome, **changes)) == text
