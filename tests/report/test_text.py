"""The report for people: what is printed for each outcome, how it is wrapped, and what never gets through."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from checker.catalog.model import Stage
from checker.findings.finding import Check, Figure, Finding, Need, Notice, Review, SubjectName
from checker.findings.judging.outcomes import Outcome
from checker.report.paragraphs import LONG as LONG_LIST
from checker.report.paragraphs import MOST_SHOWN
from checker.report.text import PLAIN, TAG_COLUMN, WIDTH, Style, terminal_style, text_report
from checker.report.words import DISCLAIMER, MARKS
from checker.values.positions import Position
from checker.values.truth import Truth
from tests.report.generated import NASTY, reviews
from tests.report.reviews import AT, CHECK, EVERYTHING, LABELS, READINGS, finding, review
from tests.report.test_safe import steers

ESCAPE = re.compile(r"\x1b\[\d+m")
COULD_BE_DONE = (Outcome.CORRECTION, Outcome.RECOMMENDATION, Outcome.NOTE)


def printed(found: Review, *, everything: bool = True) -> str:
    """The report with every run of spaces and line breaks as one space, so that wrapping does not matter."""
    return " ".join(text_report(found, everything=everything).split())


# --- one outcome at a time -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("outcome", "heading", "sentence"),
    [
        (Outcome.RULE_ERROR, "The rule itself broke: 1", "ATS1 is rated 100 A and stands behind a 200 A breaker."),
        (Outcome.CORRECTION, "Corrections: 1", "ATS1 is rated 100 A and stands behind a 200 A breaker."),
        (Outcome.RECOMMENDATION, "Recommendations: 1", "ATS1 is rated 100 A and stands behind a 200 A breaker."),
        (Outcome.NOTE, "Notes: 1", "ATS1 is rated 100 A and stands behind a 200 A breaker."),
        (
            Outcome.NEEDS_INFORMATION,
            "Not shown: 1",
            "Cannot tell whether this holds: The switch is rated for the breaker ahead of it.",
        ),
        (Outcome.AHJ_TO_DECIDE, "AHJ to decide: 1", "ATS1 is rated 100 A and stands behind a 200 A breaker."),
        (Outcome.SPECIAL_PERMISSION, "By special permission: 1", "Without the permission: correction."),
        (Outcome.VERIFY_IN_FIELD, "To look at in the field: 1", "Look at the nameplate of ATS1."),
        (Outcome.MET, "Meets as shown", "The switch is rated for the breaker ahead of it (Town Code 2020 14-31"),
        (Outcome.NOT_APPLICABLE, "Does not apply", "of it, since role is no role (switch-not-below-its-breaker)"),
    ],
)
def test_each_outcome_has_its_heading_and_its_sentence(outcome: Outcome, heading: str, sentence: str) -> None:
    text = printed(review(finding(outcome)))
    assert heading in text
    assert sentence in text
    assert f"{MARKS[outcome]} 1 " in text or outcome is Outcome.NOT_APPLICABLE


@pytest.mark.parametrize(
    "outcome", [Outcome.MET, Outcome.NOT_APPLICABLE, Outcome.NEEDS_INFORMATION, Outcome.VERIFY_IN_FIELD]
)
def test_the_sentence_of_a_miss_stands_for_a_miss_only(outcome: Outcome) -> None:
    assert "is rated 100 A" not in printed(review(finding(outcome)))


@pytest.mark.parametrize("outcome", COULD_BE_DONE)
def test_a_miss_says_what_is_shown_what_is_wanted_and_what_cures_it(outcome: Outcome) -> None:
    text = printed(review(finding(outcome, companions=("The service disconnect has its bond",))))
    assert "shown rated current: 100 A (nameplate), wanted at least 200 A (overcurrent device ahead)" in text
    assert "Choose the next larger frame." in text
    assert "A switch carries what the breaker ahead lets through." in text
    assert "Goes with it: The service disconnect has its bond." in text
    assert "Caution: The line side stays live." in text
    assert "Town Code 2020 14-31, county rule 7; switch-not-below-its-breaker site.yaml:16:26" in text


@pytest.mark.parametrize(
    "check",
    [
        replace(CHECK, part=None),
        replace(CHECK, holds=Truth.YES),
        replace(CHECK, holds=Truth.UNKNOWN),
        replace(CHECK, direct=False),
        replace(CHECK, wanted=None),
        replace(CHECK, wanted=Figure(None, "margin", "not decided")),
    ],
)
def test_only_a_comparison_that_decides_is_told(check: Check) -> None:
    assert "shown rated current" not in printed(review(finding(Outcome.CORRECTION, checks=(check,))))


def test_one_of_several_cures_begins_with_the_word_that_says_so() -> None:
    text = printed(review(finding(Outcome.CORRECTION, remedy=("Choose the next larger frame.", "Reduce the breaker."))))
    assert "Choose the next larger frame. Or: Reduce the breaker." in text


def test_readings_that_come_to_the_same_are_not_told() -> None:
    alike = tuple(replace(each, holds=Truth.NO) for each in READINGS)
    assert "as read by" not in printed(review(finding(Outcome.CORRECTION, readings=alike)))


def test_readings_are_told_with_who_holds_them() -> None:
    text = printed(review(finding(Outcome.AHJ_TO_DECIDE, readings=READINGS)))
    assert "not met as read by some plan reviewers" in text
    assert "met as read by most plan reviewers" in text
    assert "open as read by the state" in text
    assert "wanted at least" not in text


def test_what_is_not_settled_asks_and_tells_where_it_turns() -> None:
    found = finding(Outcome.NEEDS_INFORMATION, break_even=EVERYTHING["break_even"])
    text = printed(review(found))
    assert "Provide ATS1.rated_current: rated current (nameplate)." in text
    assert "It holds while ATS1.rated_current is at least 200 A." in text


def test_same_needs_are_asked_once() -> None:
    other = finding(Outcome.NEEDS_INFORMATION, title="The switch carries the set", id="town-2020:switch-carries@ATS1")
    text = printed(review(finding(Outcome.NEEDS_INFORMATION), other))
    assert text.count("Provide ATS1.rated_current") == 1
    assert "The same answer settles 2 (ATS1: The switch carries the set)." in text
    assert "Not shown: 2" in text


def test_a_list_that_may_go_on_is_asked_for_in_words() -> None:
    text = printed(review(finding(Outcome.NEEDS_INFORMATION, needs=(LABELS,), due=Stage.INSTALLATION)))
    assert "Say whether the list of labels is complete (labels)." in text


def test_what_is_due_later_is_listed_apart() -> None:
    later = finding(Outcome.NEEDS_INFORMATION, due=Stage.ACCEPTANCE, needs=(LABELS,))
    text = printed(review(finding(Outcome.NEEDS_INFORMATION), later))
    assert "Not shown: 1" in text
    assert "To be shown at acceptance: 1" in text
    assert text.index("Not shown: 1") < text.index("To be shown at acceptance: 1")
    assert "1 finding due now cannot be settled" in text


def test_nothing_due_now_is_said_to_be_open_when_all_is_due_later() -> None:
    text = printed(review(finding(Outcome.NEEDS_INFORMATION, due=Stage.ACCEPTANCE), finding(Outcome.MET)))
    assert "No correction is wanted on what is shown, by the rules that were run, and nothing due now is open." in text


@pytest.mark.parametrize("outcome", [Outcome.MET, Outcome.NOT_APPLICABLE])
def test_what_rests_on_an_assumption_is_not_settled(outcome: Outcome) -> None:
    text = printed(review(finding(outcome, assumed=("GEN1.power_at_site",)), finding(Outcome.MET)))
    assert "Resting on assumed values: 1" in text
    assert "Rests on an assumed value: GEN1.power_at_site." in text
    assert "1 finding due now cannot be settled" in text
    assert "1 resting on assumed values; 1 meets as shown, 0 do not apply." in text


@pytest.mark.parametrize("outcome", [*COULD_BE_DONE, Outcome.NEEDS_INFORMATION, Outcome.AHJ_TO_DECIDE])
def test_every_finding_says_that_it_rests_on_assumptions(outcome: Outcome) -> None:
    text = printed(review(finding(outcome, assumed=("GEN1.power_at_site", "GEN1.fuel"))))
    assert "Rests on assumed values: GEN1.power_at_site and GEN1.fuel." in text


def test_findings_of_one_cause_are_named_together() -> None:
    one = finding(Outcome.CORRECTION, follows_from="ATS1.role")
    alone = finding(Outcome.CORRECTION, follows_from="GEN1.fuel")
    text = printed(review(one, one, alone))
    assert "1 and 2 follow from one decision: ATS1 is drawn as the service disconnect." in text
    assert "GEN1.fuel" not in text


# --- the whole report ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("outcomes", "verdict"),
    [
        ((), "No rule in force applies to this site, so nothing was looked at."),
        ((Outcome.NOT_APPLICABLE,), "No rule in force applies to this site, so nothing was looked at."),
        ((Outcome.RULE_ERROR, Outcome.CORRECTION), "1 rule broke, so this review is not complete."),
        ((Outcome.CORRECTION,), "1 correction wanted."),
        (
            (Outcome.CORRECTION, Outcome.NEEDS_INFORMATION),
            "1 correction wanted, and 1 finding due now cannot be settled.",
        ),
        (
            (Outcome.AHJ_TO_DECIDE,),
            "No correction is wanted on what is shown, but 1 finding due now cannot be settled.",
        ),
        ((Outcome.MET, Outcome.NOTE), "by the rules that were run, and nothing due now is open."),
    ],
)
def test_the_opening_says_what_the_exit_status_says(outcomes: tuple[Outcome, ...], verdict: str) -> None:
    assert verdict in printed(review(*map(finding, outcomes)))


def test_what_is_settled_is_listed_only_with_everything() -> None:
    found = review(finding(Outcome.MET), finding(Outcome.CORRECTION))
    assert "Meets as shown · 1 ATS1 The switch is rated" in printed(found)
    assert "Meets as shown" not in printed(found, everything=False)
    assert "1 meets as shown, 0 do not apply." in printed(found, everything=False)


def _not_shown(number: int) -> Iterator[Finding]:
    """Findings that wait, each for an answer of its own, every second of them with two more answers to wait for."""
    for place in range(number):
        own = Need("fact", f"ATS1.fact_{place}", f"fact {place}", "nameplate", Stage.PLAN_REVIEW)
        more = [replace(own, fact=f"{own.fact}_{each}") for each in "ab"]
        needs = (own,) if place % 2 else (own, *more)
        yield finding(Outcome.NEEDS_INFORMATION, id=f"a:b@{place}", rule=f"rule-{place}", needs=needs)


def test_a_long_list_of_what_is_not_shown_is_folded_to_what_the_fewest_answers_settle() -> None:
    found = review(*_not_shown(LONG_LIST + 5), file="job/site.yaml")
    text = printed(found, everything=False)
    shown = [place for place in range(LONG_LIST + 5) if f"; rule-{place} " in text]
    assert shown == [1, 3, 5, 7, 9, 11, 13, 15, 17, 19]
    assert len(shown) == MOST_SHOWN
    assert f"Not shown: {LONG_LIST + 5}" in text
    said = f"{LONG_LIST + 5 - MOST_SHOWN} more findings of this list are not printed here: "
    assert f"{said}`standby-checker review job/site.yaml --all` prints all." in text
    assert text.index("Begin with `standby-checker questions job/site.yaml`") < text.index("Not shown")
    whole = printed(found)
    assert all(f"; rule-{place} " in whole for place in range(LONG_LIST + 5))
    assert "not printed here" not in whole


def test_a_short_list_is_never_folded() -> None:
    text = printed(review(*_not_shown(LONG_LIST)), everything=False)
    assert all(f"; rule-{place} " in text for place in range(LONG_LIST))
    assert "not printed here" not in text
    assert "standby-checker questions" not in text


def test_every_report_has_the_disclaimer_the_cautions_and_what_nobody_looked_at() -> None:
    text = printed(review())
    assert DISCLAIMER in text
    assert "Cautions GEN1 starts by itself." in text
    assert text.endswith("No rule looked at: sound at the lot line.")


def test_notices_come_with_their_place_and_their_remedy() -> None:
    notice = Notice("drawing", "P1 is fed by nothing on the drawing.", AT, "Say what feeds it.")
    assert "P1 is fed by nothing on the drawing. Say what feeds it. site.yaml:16:26" in printed(
        review(notices=(notice,))
    )


def test_the_line_is_drawn_from_both_sources_and_each_switch_once() -> None:
    text = text_report(review(finding(Outcome.MET)))
    assert "  UTIL: utility supply\n    ATS1, normal side: transfer switch, service disconnect" in text
    assert "  GEN1: generator\n    ATS1, alternate side\n" in text
    assert "neutral bonded here" in text


def test_without_marks_there_are_words_only() -> None:
    found = review(*(finding(outcome) for outcome in Outcome))
    text = text_report(found, Style(marks=False), everything=True)
    assert not set(text) & set(MARKS.values()) - {MARKS[Outcome.NOT_APPLICABLE], MARKS[Outcome.MET]}
    assert "\n1  ATS1" in text


def test_weights_are_for_a_terminal_only_and_change_no_word() -> None:
    found = review(*(finding(outcome) for outcome in Outcome))
    weighted = text_report(found, terminal_style(marks=True), everything=True)
    assert "\x1b[1mATS1\x1b[0m" in weighted
    assert "\x1b" not in text_report(found, PLAIN, everything=True)
    assert ESCAPE.sub("", weighted) == text_report(found, PLAIN, everything=True)


def test_only_weights_and_no_hue() -> None:
    weighted = text_report(review(finding(Outcome.CORRECTION)), terminal_style(marks=True))
    assert set(ESCAPE.findall(weighted)) == {"\x1b[0m", "\x1b[1m", "\x1b[2m", "\x1b[4m"}


# --- wrapping --------------------------------------------------------------------------------------------------------


def too_long(text: str) -> list[str]:
    """Lines over the width that could have been broken at a space."""
    return [line for line in text.splitlines() if len(line) > WIDTH and " " in re.sub(r"^\W*\d*\s*", "", line).strip()]


def test_no_line_of_a_fixture_is_too_long(fixture_reviews: Mapping[str, Review]) -> None:
    for found in fixture_reviews.values():
        assert too_long(text_report(found, everything=True)) == []


LONG = "a very long name of a thing that somebody typed into the file without ever thinking of how it is printed " * 2


@pytest.mark.parametrize("outcome", Outcome)
def test_long_names_and_sentences_are_wrapped(outcome: Outcome) -> None:
    subject = SubjectName({"piece": "ATS1"}, LONG, "ATS1", "transfer_switch", (2, "ATS1"), "ATS1")
    found = finding(outcome, subject=subject, title=LONG, says=LONG, look=LONG, because=LONG, authority=LONG)
    place = Position("/".join(["folder"] * 20), 1, 1)
    notice = Notice("drawing", LONG, place, LONG)
    long = review(found, site_name=LONG, notices=(notice,), cautions=(LONG,), not_covered=(LONG,))
    assert too_long(text_report(long, everything=True)) == []
    assert "ever thinking of how it is printed" in printed(long)


def test_words_are_never_broken() -> None:
    word = "switch-" * 20
    text = text_report(
        review(finding(Outcome.MET, rule=word, title=word), finding(Outcome.NOT_APPLICABLE, rule=word)), everything=True
    )
    assert word in text


def test_sentences_begin_in_one_column() -> None:
    lines = text_report(review(finding(Outcome.CORRECTION))).splitlines()
    start = next(place for place, line in enumerate(lines) if line.startswith("■ 1"))
    assert lines[start].index("ATS1 is rated") == TAG_COLUMN
    assert {len(line) - len(line.lstrip()) for line in lines[start + 1 : start + 5]} == {TAG_COLUMN}


# --- strangers -------------------------------------------------------------------------------------------------------


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(reviews())
def test_nothing_in_a_review_steers_a_terminal_or_breaks_the_width(found: Review) -> None:
    text = text_report(found, everything=True)
    assert not steers(text)
    assert text.endswith("\n")
    weighted = text_report(found, terminal_style(marks=True), everything=True)
    assert not steers(ESCAPE.sub("", weighted))


@pytest.mark.parametrize("nasty", NASTY)
@pytest.mark.parametrize("outcome", Outcome)
def test_nasty_texts_come_out_tame_wherever_they_stand(outcome: Outcome, nasty: str) -> None:
    changes: dict[str, Any] = dict.fromkeys(("title", "says", "because", "look", "authority"), nasty)
    needs = (
        (Need("fact", "ATS1.rated_current", nasty, nasty, Stage.PLAN_REVIEW),)
        if outcome is Outcome.NEEDS_INFORMATION
        else ()
    )
    check = replace(CHECK, found=Figure("ATS1.rated_current", nasty, nasty, at=Position(nasty, 1, 1), per=nasty))
    subject = SubjectName({"piece": nasty}, nasty, nasty, "transfer_switch", (0, nasty), nasty)
    found = finding(
        outcome,
        subject=subject,
        needs=needs,
        checks=(check,),
        remedy=(nasty,),
        cautions=(nasty,),
        companions=(nasty,),
        **changes,
    )
    text = text_report(
        review(found, site_name=nasty, file=nasty, not_covered=(nasty,), cautions=(nasty,)), everything=True
    )
    assert not steers(text)


def test_no_code_word_or_empty_place_is_printed(fixture_reviews: Mapping[str, Review]) -> None:
    for found in fixture_reviews.values():
        text = printed(found)
        assert not re.search(r"\bNone\b|\{|\}|\bnan\b|, ,|\(\)|: \.", text)
