"""The opening of the page: whom to ask next, with counts, so that an owner knows who has to do what."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from checker.catalog.model import Stage
from checker.findings.finding import Finding, Need, Review
from checker.findings.judging.outcomes import Outcome
from checker.report.next_steps import next_steps
from checker.report.page.page import html_report
from tests.report.reviews import finding, review

LETTER = Need("fact", "UTIL.available_fault_current", "fault current", "utility letter", Stage.PLAN_REVIEW)
SHEET = replace(LETTER, fact="ATS1~GEN1.available_fault_current", paper="utility letter, or data sheet of the set")


def told(found: Review) -> str:
    return " ".join("".join(map(str, sentence)) for sentence in next_steps(found))


def waits(need: Need) -> Finding:
    return finding(Outcome.NEEDS_INFORMATION, needs=(need,))


def test_each_party_is_named_with_what_is_asked_of_it() -> None:
    wanted = finding(Outcome.CORRECTION)
    asked = (
        *(wanted, wanted, wanted, replace(wanted, who_acts="engineer"), wanted),
        *(finding(Outcome.NEEDS_INFORMATION), waits(LETTER), finding(Outcome.AHJ_TO_DECIDE)),
        *(finding(Outcome.MET), finding(Outcome.VERIFY_IN_FIELD)),
    )
    found = review(*(replace(each, number=place) for place, each in enumerate(asked, start=1)))
    assert told(found) == (
        "1 finding meets the rules as shown. Ask next: the contractor for 4 corrections (1 to 3, 5) and what 1 "
        "finding waits for (6); the engineer for 1 correction (4); the utility for what 1 finding waits for (7); the "
        "AHJ for 1 decision (8)."
    )


@pytest.mark.parametrize(
    ("need", "party"),
    [
        (LETTER, "the utility"),
        (replace(LETTER, paper="gas utility letter"), "the gas supplier"),
        (replace(LETTER, paper="owner"), "the owner"),
        (replace(LETTER, paper="nameplate"), "the contractor"),
        (replace(LETTER, in_place_of="UTIL.other"), "the contractor"),
        (SHEET, "the contractor"),
    ],
    ids=["utility", "gas", "owner", "nameplate", "in place of another", "of a set"],
)
def test_what_only_somebody_else_can_give_is_asked_of_them(need: Need, party: str) -> None:
    assert told(review(waits(need))) == f"Ask next: {party} for what 1 finding waits for (1)."


def _asked(found: Review) -> str:
    return told(found).partition("Ask next")[2]


def test_what_is_due_later_is_asked_of_nobody_yet() -> None:
    later = replace(waits(LETTER), due=Stage.INSTALLATION)
    assert told(review(finding(Outcome.MET), later)).endswith("Nobody has to be asked for anything that is due now.")
    assert told(review(later)) == ""


def test_the_counts_are_those_of_the_verdict(fixture_reviews: dict[str, Review]) -> None:
    for found in fixture_reviews.values():
        asked = [int(each) for each in re.findall("([0-9]+) (?:correction|finding|decision)", _asked(found))]
        due = sum(each.is_open_at(found.stage) or each.outcome is Outcome.CORRECTION for each in found.findings)
        assert sum(asked) == due


def test_the_numbers_are_those_of_the_counts_and_lead_to_the_findings(fixture_reviews: dict[str, Review]) -> None:
    for found in fixture_reviews.values():
        numbers: list[int] = []
        for listed in re.findall(r"\(([^)]*)\)", _asked(found)):
            for each in listed.split(", "):
                first, _, last = each.partition(" to ")
                numbers += range(int(first), int(last or first) + 1)
        wanted = [
            each.number for each in found.findings if each.is_open_at(found.stage) or each.outcome is Outcome.CORRECTION
        ]
        assert sorted(numbers) == sorted(wanted)
        opening = html_report(found).partition("<header>")[2].partition("</header>")[0]
        for number in (part for sentence in next_steps(found) for part in sentence if isinstance(part, int)):
            assert f'<a href="#finding-{number}">{number}</a>' in opening


def test_what_came_out_stands_before_rail_rules_and_drawing(fixture_reviews: dict[str, Review]) -> None:
    page = html_report(fixture_reviews["harrow-lane"])
    first = next(each for each in fixture_reviews["harrow-lane"].findings if each.outcome is Outcome.CORRECTION)
    places = [
        page.index(text) for text in ("Ask next:", f'">1</a>. {first.says}', "Read for plan review", 'class="rail"')
    ]
    assert places == sorted(places)
    assert page.index('class="rail"') < page.index('id="the-line"')
