"""The pages of ``compare`` hold what the text holds, whole in themselves; ``tests/browser`` looks at them as well."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from checker.catalog.model import Stage
from checker.findings.finding import Described, Review
from checker.findings.judging.outcomes import Outcome
from checker.report.comparison.revised import reasons, revised_text, totals_words, turned
from checker.report.comparison.side_by_side import row_lines, rows_of
from checker.report.page.compared_page import revised_page, sides_page
from checker.tasks.comparing.revisions import Revised, revised
from tests.report.page.test_page import HOSTILE, Reader
from tests.report.reviews import finding, review

OPEN = (Outcome.CORRECTION, Outcome.NEEDS_INFORMATION, Outcome.AHJ_TO_DECIDE, Outcome.NOTE)


def two_revisions(name: str = "14 Meadow Lane") -> Revised:
    """One finding of each way to stand, and something that changed and is the reason of none."""
    was = [replace(finding(each), id=f"town-2020:was-{each.value}@ATS1") for each in OPEN]
    met = [replace(finding(Outcome.MET, title=name), id=each.id) for each in was[:1]]
    gone = [replace(finding(Outcome.NOT_APPLICABLE), id=each.id) for each in was[1:2]]
    new = replace(finding(Outcome.CORRECTION, says=name), id="town-2020:new@ATS1")
    before = review(
        *was, site_name=name, described=Described(subjects=frozenset({"ATS1", "P9"}), stated={"ATS1.x": "1"})
    )
    now = Described(subjects=frozenset({"ATS1", name}), stated={"ATS1.x": name})
    after = review(*met, *gone, *was[2:], new, site_name=name, described=now)
    return revised(before, after, ("was/site.yaml", "now/site.yaml"))


def several_sides(name: str = "14 Meadow Lane") -> tuple[Review, ...]:
    other = review(finding(Outcome.CORRECTION), site_name=name)
    later = replace(other.in_force, date=date(2027, 1, 1), title=name)
    return review(finding(Outcome.MET, title=name), site_name=name), replace(other, in_force=later), other


def test_every_finding_that_is_told_stands_on_the_page_of_two_revisions() -> None:
    found = two_revisions()
    read = Reader(revised_page(found))
    assert read.open == []
    for heading in ("New: 1", "Cured: 1", "No longer asked: 1", "Still open: 2"):
        assert heading in read.words
    for step in found.steps:
        assert step.told.title in read.words
    for step in found.steps[:2]:
        assert f"{turned(step)}." in read.words
        for reason in reasons(step):
            assert reason in read.words
    assert "ATS1.x 1 14 Meadow Lane" in " ".join(" ".join(read.text).split())
    assert "P9 is no longer there" in read.words


def test_counts_before_and_after_and_the_kind_of_what_is_still_open() -> None:
    one = [finding(each) for each in (Outcome.CORRECTION, Outcome.VERIFY_IN_FIELD, Outcome.NEEDS_INFORMATION)]
    later = replace(one[2], due=Stage.ACCEPTANCE)
    was = [replace(each, id=f"town-2020:{place}@ATS1") for place, each in enumerate((*one, later, one[0]))]
    decide = replace(finding(Outcome.AHJ_TO_DECIDE), id="town-2020:decide@ATS1")
    found = revised(review(*was), review(*was[:-1], decide))
    totals = (
        "Corrections: 2, now 1. Not shown: 1, now 1. AHJ to decide: 0, now 1. To be looked at: 1, now 1. "
        "To be shown later: 1, now 1."
    )
    assert totals_words(found) == totals
    text, page = " ".join(revised_text(found).split()), " ".join(Reader(revised_page(found)).words.split())
    for told in (text, page):
        assert totals in told
        for kind in ("Correction", "To be looked at", "Not shown"):
            assert f"{kind}: {one[0].title}" in told


def test_what_differs_stands_on_the_page_of_several_sides() -> None:
    reviews = several_sides()
    read = Reader(sides_page(reviews))
    assert read.open == []
    rows = list(rows_of(reviews))
    assert rows
    for name, found in rows:
        assert name in read.words
        for line in row_lines(reviews, found):
            assert " ".join(line.split()) in read.words
    assert "meets as shown" in read.words
    assert "2027-01-01" in read.words


def test_both_are_whole_in_themselves_and_the_same_bytes_each_time() -> None:
    for one, other in (
        (revised_page(two_revisions()), revised_page(two_revisions())),
        (sides_page(several_sides()), sides_page(several_sides())),
    ):
        assert one == other
        assert one.endswith("</html>\n")
        read = Reader(one)
        assert read.elements.isdisjoint({"script", "link", "img", "iframe", "object", "form", "base"})
        ids = [value for name, value in read.attributes if name == "id"]
        assert len(set(ids)) == len(ids)
        assert {value for name, value in read.attributes if name == "href"} <= {f"#{each}" for each in ids}


def test_nothing_in_a_name_gets_out() -> None:
    for page in (revised_page(two_revisions(HOSTILE)), sides_page(several_sides(HOSTILE))):
        read = Reader(page)
        assert "script" not in read.elements
        assert "<script>" in read.words
        assert "\x1b" not in page
        assert "\u202e" not in page
        assert "{{ 7 * 7 }}" in read.words
