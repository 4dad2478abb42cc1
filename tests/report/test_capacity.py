"""The opening of a report: load, output and answer for each set, whatever comes of it."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from checker import review as review_of
from checker.catalog.model import Stage
from checker.findings.finding import ListedLoads, LoadOfSet, Need, Review
from checker.findings.judging.outcomes import Outcome
from checker.report.capacity import capacity_sentences, listed_and_given_words
from checker.report.page.page import html_report
from checker.report.text import text_report
from tests.project.project_tree import ROOT
from tests.report.reviews import finding, review

KNOWN = LoadOfSet("GEN1", "18 kW", "75 A", "66 A", "", "", ("it",), by_hand=False)
NOTHING = LoadOfSet("GEN1", "", "", "", "", "", ("it",), by_hand=False)


def with_set(figures: LoadOfSet, outcome: Outcome, **changes: object) -> Review:
    found = replace(finding(outcome), id="it", number=7, **changes)  # type: ignore[arg-type]
    return replace(review(found), sets=(figures,))


def told(found: Review) -> str:
    return " ".join(capacity_sentences(found))


@pytest.mark.parametrize(
    ("outcome", "answer"),
    [
        (Outcome.MET, "As shown it carries its load."),
        (Outcome.CORRECTION, "As shown it does not carry its load (correction 1)."),
        (Outcome.AHJ_TO_DECIDE, "Whether it carries its load is for the AHJ to decide (1)."),
        (Outcome.NOT_APPLICABLE, "Whether it carries its load no rule in force asks of it."),
    ],
)
def test_the_answer_follows_load_and_output(outcome: Outcome, answer: str) -> None:
    assert told(with_set(KNOWN, outcome)) == (
        f"GEN1: load put on it automatically 66 A; it gives 18 kW or 75 A at its site. {answer}"
    )


def test_what_is_open_names_what_is_missing_figures_first() -> None:
    needs = (
        Need("fact", "GEN1.altitude", "altitude", "site", Stage.PLAN_REVIEW, in_place_of="GEN1.capacity"),
        Need("fact", "GEN1.capacity", "capacity at the site", "generator data sheet", Stage.PLAN_REVIEW),
    )
    assert told(with_set(NOTHING, Outcome.NEEDS_INFORMATION, needs=needs)) == (
        "GEN1: its load is not known; what it gives at its site is not known. "
        "Whether it carries its load is open (1): provide capacity at the site and altitude."
    )


def test_what_several_findings_leave_open_is_said_once_with_the_number_of_each() -> None:
    needs = [
        Need("fact", f"GEN1.{name}", title, "site", Stage.PLAN_REVIEW)
        for name, title in (("load", "load"), ("capacity", "capacity at the site"))
    ]
    first, second, third = (
        replace(finding(outcome), id=name, number=number, needs=asked)
        for outcome, name, number, asked in (
            (Outcome.NEEDS_INFORMATION, "a", 101, tuple(needs)),
            (Outcome.NEEDS_INFORMATION, "b", 108, tuple(needs[:1])),
            (Outcome.CORRECTION, "c", 3, ()),
        )
    )
    found = replace(review(first, second, third), sets=(replace(NOTHING, findings=("a", "b", "c")),))
    sentences = told(found)
    numbers = " and ".join(str(each.number) for each in found.findings if each.id in "ab")
    assert f"Whether it carries its load is open ({numbers}): provide load and capacity at the site." in sentences
    assert sentences.count("Whether it carries its load") == 1
    assert sentences.count("As shown it does not carry its load") == 1


def test_more_than_a_few_missing_facts_of_several_findings_are_cut_short() -> None:
    findings = [
        replace(
            finding(Outcome.NEEDS_INFORMATION),
            id=name,
            needs=tuple(Need("fact", each, each, "site", Stage.PLAN_REVIEW) for each in titles),
        )
        for name, titles in (("a", ("one", "two")), ("b", ("two", "three", "four")))
    ]
    found = replace(review(*findings), sets=(replace(NOTHING, findings=("a", "b")),))
    assert told(found).endswith("provide one, two, three and what else the findings ask.")


def test_several_misses_stand_in_the_plural() -> None:
    misses = [replace(finding(Outcome.CORRECTION), id=name) for name in ("a", "b")]
    found = replace(review(*misses), sets=(replace(KNOWN, findings=("a", "b")),))
    assert told(found).endswith("As shown it does not carry its load (corrections 1 and 2).")


def test_nothing_that_rests_on_an_assumption_looks_settled() -> None:
    found = with_set(KNOWN, Outcome.MET, assumed=("GEN1.capacity",))
    assert "As shown it carries its load, resting on an assumption." in told(found)


def test_managed_and_chosen_loads_are_named() -> None:
    managed = told(with_set(replace(KNOWN, managed="50 A"), Outcome.MET))
    assert "load put on it automatically 66 A, 50 A under load management;" in managed
    chosen = told(with_set(replace(KNOWN, load="", selected="30 A"), Outcome.MET))
    assert chosen.startswith("GEN1: meant to run on it at once 30 A;")


def test_a_set_connected_by_hand_wants_its_chosen_load_told() -> None:
    by_hand = replace(KNOWN, load="", by_hand=True)
    assert told(with_set(by_hand, Outcome.NOT_APPLICABLE)).endswith("State the load that is meant to run at once.")
    assert "no rule in force asks" in told(with_set(replace(by_hand, selected="30 A"), Outcome.NOT_APPLICABLE))
    assert told(with_set(by_hand, Outcome.CORRECTION)).endswith("As shown it does not carry its load (correction 1).")


def test_text_and_page_open_with_it() -> None:
    found = with_set(KNOWN, Outcome.CORRECTION)
    text = " ".join(text_report(found).split())
    assert told(found) in text.partition("Corrections: 1")[0]
    page = html_report(found)
    assert told(found) in page.partition("</header>")[0]


def test_without_a_set_nothing_is_said() -> None:
    assert told(review(finding(Outcome.MET))) == ""


def test_kilowatts_and_amperes_are_not_held_against_each_other_while_the_power_factor_is_open() -> None:
    needs = (
        Need("fact", "GEN1.altitude", "altitude", "site", Stage.PLAN_REVIEW, in_place_of="GEN1.capacity"),
        Need("fact", "GEN1.capacity", "capacity at the site", "generator data sheet", Stage.PLAN_REVIEW),
        Need("fact", "GEN1.power_factor", "rated power factor", "nameplate", Stage.PLAN_REVIEW, "GEN1.capacity"),
    )
    figures = replace(KNOWN, current="at least 75 A", to_amperes=("rated power factor",))
    one = with_set(figures, Outcome.NEEDS_INFORMATION, needs=needs)
    assert "gives 18 kW or at least 75 A at its site, and its rated power factor tells how many amperes that is." in (
        told(one)
    )
    assert told(one).endswith("provide rated power factor, capacity at the site and altitude.")
    both = replace(figures, to_amperes=("voltage system", "rated power factor"))
    assert "its voltage system and rated power factor tell how many" in told(with_set(both, Outcome.CORRECTION))


@pytest.mark.parametrize(
    ("system", "load", "said"),
    [
        (True, "55 A", "12 kW or at least 50 A at its site, and its rated power factor tells how many amperes that is"),
        (False, "38 A", "12 kW at its site, and its voltage system and rated power factor tell how many amperes"),
    ],
)
def test_a_site_without_the_power_factor_says_what_makes_amperes_of_its_kilowatts(
    system: bool, load: str, said: str, tmp_path: Path
) -> None:
    """12 kW over 240 V is 50 A at a power factor of 1, and more at any other."""
    folder = Path(shutil.copytree(ROOT / "fixtures" / "plover-row", tmp_path / "job"))
    text = (folder / "site.yaml").read_text(encoding="utf-8")
    text = text.replace(' power_factor: "1.0",', "").replace("automatic_load: 38 A", f"automatic_load: {load}")
    if not system:
        text = text.replace("system: 120/240 V 1-phase 3-wire, frequency: 60 Hz, fuel", "frequency: 60 Hz, fuel")
    (folder / "site.yaml").write_text(text, encoding="utf-8")
    sentences = " ".join(capacity_sentences(review_of(folder / "site.yaml")))
    assert said in sentences
    assert "provide rated power factor" in sentences


LISTED = ListedLoads(3, "5 kVA", "6 kVA", "well pump", 0, is_all=True, is_more=False)


@pytest.mark.parametrize(
    ("listed", "said"),
    [
        (
            LISTED,
            (
                "the 3 loads listed past it take 5 kVA with all of them on. "
                "The most that one of their motors takes to start is 6 kVA, well pump."
            ),
        ),
        (
            replace(LISTED, motors_open=1, is_all=False),
            (
                "the 3 loads listed past it take 5 kVA with all of them on. "
                "The most that one of their motors takes to start is 6 kVA, well pump. "
                "What another motor among them takes to start is not shown. "
                "The list of loads is not said to be complete, so that there may be more."
            ),
        ),
        (
            replace(LISTED, count=1, starting="", starter="", motors_open=1, is_more=True),
            (
                "the 1 load listed past it takes 5 kVA. What a motor among them takes to start is not shown. "
                "That is more than it gives: not all of them can run at once."
            ),
        ),
        (
            replace(LISTED, power="", starting="", starter="", motors_open=2),
            (
                "the 3 loads listed past it are not all shown with what they take. "
                "What 2 motors among them take to start is not shown."
            ),
        ),
    ],
)
def test_what_is_listed_past_a_set_that_is_connected_by_hand_is_added_up(listed: ListedLoads, said: str) -> None:
    by_hand = replace(KNOWN, load="", by_hand=True, listed=listed)
    assert told(with_set(by_hand, Outcome.NOT_APPLICABLE)).endswith(f"GEN1: {said}")
    given = listed_and_given_words(by_hand)
    assert "; it gives 18 kW or 75 A at its site." in given
    assert "carries its load" not in given


def test_nothing_is_added_up_for_a_set_that_starts_by_itself() -> None:
    assert listed_and_given_words(KNOWN) == ""
