"""How a report puts findings together: what can kill first, one cause told once, one question for what it settles."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from html import unescape

import pytest

from checker.catalog.model import Stage
from checker.findings.finding import Check, Figure, Finding, Need, Review
from checker.findings.judging.outcomes import Outcome
from checker.report.page.page import html_report
from checker.report.paragraphs import causes, cautions_of, count_words, goes_with, one_cause, settles_too, waiting
from checker.report.text import text_report
from checker.rules.model.force import Basis, Harm
from checker.values.truth import Truth
from tests.report.reviews import CHECK, finding, review

# --- the example sites ------------------------------------------------------------------------------------------------


def test_no_fixture_tells_a_sign_or_a_paper_before_what_can_kill(fixture_reviews: Mapping[str, Review]) -> None:
    """Only a cure that has to come first (`before`) may stand ahead of a graver one."""
    for name, found in fixture_reviews.items():
        grades = [each.harm.order for each in found.findings if each.outcome is Outcome.CORRECTION and not each.before]
        assert grades == sorted(grades), name


def _groups(found: Review) -> dict[str, set[str]]:
    """The rules that are told under another one, by the rule of that."""
    rules = {each.id: each.rule for each in found.findings}
    groups: dict[str, set[str]] = {}
    for each in found.findings:
        if each.under is not None:
            groups.setdefault(rules[each.under], set()).add(each.rule)
    return groups


@pytest.mark.parametrize(
    ("site", "head", "others"),
    [
        (
            "brackwater",
            "outdoor-engine-away-from-openings",
            {"set-as-far-away-as-its-maker-asks", "set-clear-of-openings"},
        ),
        (
            "harrow-lane",
            "fennmoor-set-clear-of-openings",
            {"outdoor-engine-away-from-openings", "set-as-far-away-as-its-maker-asks", "set-clear-of-openings"},
        ),
        ("teal-mill", "dwelling-stop-outside", {"remote-stop-above-15-kw", "stop-keeps-the-engine-off"}),
        ("sandpiper-weir", "switch-not-below-its-breakers", {"switch-carries-the-set"}),
    ],
)
def test_one_cause_on_the_example_sites(
    fixture_reviews: Mapping[str, Review], site: str, head: str, others: set[str]
) -> None:
    assert _groups(fixture_reviews[site])[head] == others


def test_nothing_binding_is_told_under_what_binds_less(fixture_reviews: Mapping[str, Review]) -> None:
    for found in fixture_reviews.values():
        by_id = {each.id: each for each in found.findings}
        for each in found.findings:
            if each.under is not None:
                head = by_id[each.under]
                assert head.under is None
                assert head.outcome.order <= each.outcome.order


# --- one cause --------------------------------------------------------------------------------------------------------


def _asks(amperes: str, outcome: Outcome = Outcome.CORRECTION, number: int = 1) -> Finding:
    assert CHECK.wanted is not None
    wanted = replace(CHECK.wanted, text=f"{amperes} A", low=amperes, high=amperes)
    basis = Basis.LAW if outcome is Outcome.CORRECTION else Basis.TRADE_PRACTICE
    return finding(outcome, checks=(replace(CHECK, wanted=wanted),), basis=basis, number=number)


def test_each_standard_is_told_with_its_limit_and_the_largest_serves_all() -> None:
    head, other = _asks("200"), _asks("150", number=2)
    assert list(one_cause(head, (other,))) == [
        "2 findings ask for this measure:",
        "1: at least 200 A (Town Code 2020 14-31, county rule 7; switch-not-below-its-breaker)",
        "2: at least 150 A (Town Code 2020 14-31, county rule 7; switch-not-below-its-breaker)",
        "At least 200 A serves all of them.",
    ]


def test_practice_that_asks_for_more_is_told_beside_what_the_corrections_ask_for() -> None:
    head, practice = _asks("150"), _asks("200", Outcome.RECOMMENDATION, 2)
    told = list(one_cause(head, (practice,)))
    assert told[2].startswith("2: at least 200 A (recommendation, trade practice, no section; ")
    assert told[-1] == "At least 150 A serves the corrections, at least 200 A serves all of them."


def test_one_thing_that_is_not_there_is_asked_for_by_each_claim() -> None:
    none = (Check("stop", Truth.NO, "some", Figure(None, "stops", "none", None, "0", "0"), None),)
    head = finding(Outcome.CORRECTION, checks=none)
    other = finding(Outcome.CORRECTION, checks=none, number=2, says="No stop that has to be reset by hand is shown.")
    told = list(one_cause(head, (other,)))
    assert told[0] == "2 findings ask for this one thing:"
    assert told[1].startswith("1: as told above (Town Code ")
    assert told[2].startswith("2: No stop that has to be reset by hand is shown (Town Code ")
    assert told[-1] == "What is put in place has to hold all of these."


def test_no_caution_is_lost_and_none_is_told_twice() -> None:
    one, two = (finding(Outcome.CORRECTION, cautions=texts) for texts in (("a", "b"), ("b", "c")))
    assert cautions_of(one, (two,)) == ("a", "b", "c")


def test_a_finding_under_another_one_has_no_place_of_its_own_in_the_letter() -> None:
    head = finding(Outcome.CORRECTION)
    under = finding(Outcome.CORRECTION, id="town:other@ATS1", rule="other", says="Said under another.", under=head.id)
    text = text_report(review(head, under))
    assert "Corrections: 2" in text
    assert "Said under another." not in text
    assert "; other)" in text


def test_a_heading_says_under_how_many_heads_its_findings_are_told() -> None:
    head, alone = finding(Outcome.CORRECTION), finding(Outcome.CORRECTION, id="town:alone@ATS1")
    under = finding(Outcome.CORRECTION, id="town:other@ATS1", under=head.id)
    assert count_words("Corrections", (head, alone)) == "Corrections: 2"
    assert count_words("Corrections", (head, under)) == "Corrections: 2, told under 1 head"
    assert count_words("Corrections", (head, alone, under)) == "Corrections: 3, told under 2 heads"
    assert count_words("Notes", (under,)) == "Notes: 1, told with a finding above"
    assert count_words("Notes", (alone, under, under)) == "Notes: 3, 2 of them with findings above"


def test_heads_are_as_many_as_the_letter_has(fixture_reviews: Mapping[str, Review]) -> None:
    """Counted on the page itself: an entry is an article."""
    for found in fixture_reviews.values():
        section = html_report(found).partition('<h2 id="corrections">')[2].partition("</section>")[0]
        heading, entries = section.partition("</h2>")[0], section.count("<article")
        numbers = re.findall("[0-9]+", heading)
        assert not section or int(numbers[-1]) == entries


def test_page_and_text_name_the_same_findings_of_one_decision(fixture_reviews: Mapping[str, Review]) -> None:
    for found in fixture_reviews.values():
        missed = (Outcome.RULE_ERROR, Outcome.CORRECTION, Outcome.RECOMMENDATION, Outcome.NOTE)
        told = list(causes(found, [each for each in found.findings if each.outcome in missed]))
        lines = re.findall("<p>(.* follow from one decision.*)</p>", html_report(found))
        assert [unescape(re.sub("<[^>]*>", "", line)) for line in lines] == told


def test_what_is_told_under_a_head_is_not_told_again_as_what_goes_with_it() -> None:
    head = finding(Outcome.CORRECTION, companions=("It can be reset by hand", "It is marked"))
    other = finding(Outcome.CORRECTION, number=2, title="It can be reset by hand")
    assert goes_with(head, ()) == head.companions
    assert goes_with(head, (other,)) == ("It is marked",)


# --- one question -----------------------------------------------------------------------------------------------------


def _need(fact: str, in_place_of: str = "") -> Need:
    return Need("fact", fact, fact.partition(".")[2], "tape", Stage.PLAN_REVIEW, in_place_of)


SPACE, WIDTH = _need("ATS1.working_space"), _need("ATS1.enclosure_width")


def _open(number: int, *needs: Need, harm: Harm = Harm.NONE, basis: Basis = Basis.LAW) -> Finding:
    return finding(Outcome.NEEDS_INFORMATION, number=number, needs=needs, harm=harm, basis=basis)


def _numbers(*findings: Finding) -> list[list[int]]:
    return [[each.number for each in group] for group in waiting(findings)]


def test_a_question_stands_under_what_binds_and_not_under_practice() -> None:
    assert _numbers(_open(1, SPACE, basis=Basis.TRADE_PRACTICE, harm=Harm.LIFE), _open(2, SPACE)) == [[2, 1]]


def test_a_question_stands_under_the_gravest() -> None:
    assert _numbers(_open(1, SPACE), _open(2, SPACE, harm=Harm.FIRE), _open(3, SPACE, harm=Harm.LIFE)) == [[3, 2, 1]]


def test_what_asks_for_more_of_one_thing_is_asked_with_it() -> None:
    (group,) = waiting((_open(1, SPACE), _open(2, SPACE, WIDTH)))
    assert list(settles_too(group)) == [
        f"Of the same thing 2 (ATS1: {group[1].title}) asks further:",
        "Provide ATS1.enclosure_width: enclosure_width (tape).",
    ]


def test_what_asks_for_less_of_one_thing_is_settled_with_it() -> None:
    (group,) = waiting((_open(1, SPACE, WIDTH), _open(2, SPACE)))
    assert list(settles_too(group)) == [f"The same answers settle 2 (ATS1: {group[1].title})."]


def test_what_asks_for_something_else_is_asked_by_itself() -> None:
    other = replace(_open(3, SPACE, WIDTH), subject=replace(finding(Outcome.MET).subject, id="ATS2"))
    assert _numbers(_open(1, SPACE), _open(2, WIDTH), other) == [[1], [2], [3]]


def test_what_says_more_of_itself_is_asked_by_itself() -> None:
    speaks = replace(_open(2, SPACE, WIDTH), reasons=("two figures do not agree",))
    assert _numbers(_open(1, SPACE), speaks) == [[1], [2]]


def test_findings_that_nobody_can_answer_for_stand_each_by_itself() -> None:
    assert _numbers(_open(1), _open(2)) == [[1], [2]]
