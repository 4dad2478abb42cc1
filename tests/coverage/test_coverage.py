"""What is said to be covered is, and what is not covered says why."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from checker.files.folders import data_folder
from checker.findings.judging.outcomes import Outcome
from tests.coverage.answers import Answers, Fired, found_in_examples, never_in_force, unknown
from tests.coverage.entries import Entry, office_items, requirements
from tests.coverage.page import page

REQUIREMENTS = requirements()
ITEMS = office_items()
KNOWN = (*REQUIREMENTS, *ITEMS)


@pytest.fixture(scope="module")
def found() -> Answers:
    return found_in_examples()


def _share(entries: Sequence[Entry], asked: str, found: Answers) -> float:
    of = [each for each in entries if each.asked == asked]
    return sum(map(found.fires, of)) / len(of)


def test_the_page_is_fresh(found: Answers) -> None:
    """Run `python -m tests.coverage.renew` after every change of rules, examples or the two lists."""
    kept = (data_folder("schemas") / "coverage.md").read_text(encoding="utf-8")
    assert kept == page(REQUIREMENTS, ITEMS, found)


def test_rules_cover_only_what_the_lists_have(found: Answers) -> None:
    assert unknown(KNOWN, found) == []


def test_a_rule_that_covers_something_of_a_dwelling_is_in_force_for_one(found: Answers) -> None:
    assert list(never_in_force(KNOWN, found)) == []


def test_what_no_rule_answers_says_why_and_nothing_else_does(found: Answers) -> None:
    wrong = [each.id for each in KNOWN if bool(each.without_rule) is (found.fires(each) or bool(each.why))]
    assert wrong == []


def test_ids_are_unique() -> None:
    assert len({each.id for each in KNOWN}) == len(KNOWN)


def test_as_much_is_covered_as_is_aimed_at(found: Answers) -> None:
    assert _share(ITEMS, "yes", found) >= 0.8
    assert _share(ITEMS, "partly", found) >= 0.6


def _of(*fired: Fired) -> Answers:
    return Answers({"SV-01": fired}, frozenset({"ruled-here"}))


SURE = Entry("SV-01", "A claim", "yes", "", "")


def test_a_rule_that_never_fires_answers_nothing() -> None:
    silent = _of(Fired("ruled-here", "", None, asks_for_paper=False, looks=False))
    assert not silent.fires(SURE)
    assert not silent.by_paper_alone(SURE)


def test_papers_and_looks_are_told_apart() -> None:
    paper = Fired("packet-holds-survey", "here", Outcome.MET, asks_for_paper=True, looks=False)
    look = Fired("ruled-here", "here", Outcome.VERIFY_IN_FIELD, asks_for_paper=False, looks=True)
    assert _of(paper).by_paper_alone(SURE)
    assert _of(look).in_the_field_alone(SURE)
    assert not _of(paper, look).by_paper_alone(SURE)
    assert not _of(paper, look).in_the_field_alone(SURE)


def test_what_no_list_has_and_what_is_in_force_nowhere_is_seen() -> None:
    stranger = _of(Fired("elsewhere-ruled", "", None, asks_for_paper=False, looks=False))
    assert unknown((), stranger) == ["SV-01"]
    assert list(never_in_force((SURE,), stranger)) == [("SV-01", "elsewhere-ruled")]
