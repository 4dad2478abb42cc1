"""The page holds what the letter holds, whole in itself, and nothing in a name can get out of its place.

How it looks in a browser, and whether all can read it, is tried in ``tests/browser/``.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from checker.findings.finding import Review
from checker.findings.judging.outcomes import SETTLED_OUTCOMES, Outcome
from checker.report.page.page import html_report
from checker.report.words import sentence_of
from checker.rules.model.force import Harm
from tests.report.reviews import EVERYTHING, finding, review

VOID = ("meta", "br")
HOSTILE = "\"'><script>alert(1)</script>\x1b[31m\u202e{{ 7 * 7 }}"


class Reader(HTMLParser):
    """The text of a page, the names of its elements, and every attribute."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.text: list[str] = []
        self.open: list[str] = []
        self.elements: set[str] = set()
        self.attributes: list[tuple[str, str]] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.add(tag)
        self.attributes += [(name, value or "") for name, value in attrs]
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.add(tag)
        self.attributes += [(name, value or "") for name, value in attrs]

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)

    @property
    def words(self) -> str:
        """All text with single spaces."""
        return " ".join("".join(self.text).split())


def test_every_finding_stands_on_the_page_once(fixture_reviews: Mapping[str, Review]) -> None:
    for found in fixture_reviews.values():
        read = Reader(html_report(found))
        assert read.open == []
        ids = [value for name, value in read.attributes if name == "id"]
        assert len(set(ids)) == len(ids)
        for each in found.findings:
            if each.outcome in (Outcome.CORRECTION, Outcome.RECOMMENDATION, Outcome.AHJ_TO_DECIDE):
                assert f"finding-{each.number}" in ids
                assert (each.rule if each.under else " ".join(sentence_of(each).split())) in read.words
        for each in found.findings:
            if each.outcome is not Outcome.NOT_APPLICABLE:
                assert f"finding-{each.number}" in ids


def test_every_open_finding_hangs_on_the_rail_once(fixture_reviews: Mapping[str, Review]) -> None:
    for found in fixture_reviews.values():
        rail, end, _ = html_report(found).partition('class="rail"')[2].partition("</nav>")
        links = re.findall(r'href="(#[^"]*)"', rail + end)
        hung = [each for each in found.findings if each.outcome not in SETTLED_OUTCOMES]
        assert sorted(each for each in links if each.startswith("#finding-")) == sorted(
            f"#finding-{each.number}" for each in hung
        )


def test_the_opening_says_how_many_more_corrections_there_are(fixture_reviews: Mapping[str, Review]) -> None:
    words = Reader(html_report(fixture_reviews["harrow-lane"])).words
    wanted = sum(each.outcome is Outcome.CORRECTION for each in fixture_reviews["harrow-lane"].findings)
    assert wanted > 3
    assert f"{wanted - 3} more corrections are told below." in words


def test_the_line_is_drawn_in_the_symbols_that_the_profile_names(fixture_reviews: Mapping[str, Review]) -> None:
    named = {place: review.in_force.symbols for place, review in fixture_reviews.items()}
    assert {place for place, symbols in named.items() if symbols != "ieee_315"} == {"cinder-vale"}
    other, usual = html_report(fixture_reviews["cinder-vale"]), html_report(fixture_reviews["heron-cottage"])
    assert "Symbols after IEC 60617: " in Reader(other).words
    assert "Symbols after IEEE Std 315: " in Reader(usual).words
    assert ">Wh</text>" in other
    assert ">Wh</text>" not in usual


def test_the_opening_names_the_gravest_also_where_only_practice_says_so() -> None:
    signs = [finding(Outcome.CORRECTION, id=f"town:sign@B{place}", says=f"No sign {place}.") for place in range(4)]
    practice = finding(Outcome.RECOMMENDATION, id="trade:window@B9", says="Exhaust comes in.", harm=Harm.LIFE)
    mild = replace(practice, id="trade:mild@B9", says="It is slow.", harm=Harm.EQUIPMENT)
    words = Reader(html_report(review(*signs, mild, practice))).words
    opening, _, _ = words.partition("A check of a description")
    assert "6. Exhaust comes in. (recommendation)" in opening
    assert "It is slow." not in opening
    assert "1. No sign 0. 2. No sign 1. 2 more corrections are told below." in opening


def test_links_lead_somewhere(fixture_reviews: Mapping[str, Review]) -> None:
    for found in fixture_reviews.values():
        read = Reader(html_report(found))
        ids = {f"#{value}" for name, value in read.attributes if name == "id"}
        assert {value for name, value in read.attributes if name == "href"} <= ids


def test_nothing_is_asked_for_from_outside(fixture_reviews: Mapping[str, Review]) -> None:
    for found in fixture_reviews.values():
        page = html_report(found)
        read = Reader(page)
        assert read.elements.isdisjoint({"script", "link", "img", "iframe", "object", "form", "base"})
        addresses = [value for name, value in read.attributes if name in ("href", "src", "action", "xlink:href")]
        assert all(address.startswith("#") for address in addresses)
        assert "url(" not in page
        assert "@import" not in page


def test_the_page_is_the_same_bytes_each_time() -> None:
    found = review(*(finding(outcome) for outcome in Outcome))
    assert html_report(found) == html_report(found)
    assert html_report(found).endswith("</html>\n")


@pytest.mark.parametrize("outcome", Outcome, ids=lambda outcome: outcome.value)
def test_nothing_in_a_name_gets_out(outcome: Outcome) -> None:
    named = finding(outcome, says=HOSTILE, title=HOSTILE, why=HOSTILE, remedy=(HOSTILE,), look=HOSTILE, **EVERYTHING)
    page = html_report(review(named, site_name=HOSTILE, file=HOSTILE, cautions=(HOSTILE,), not_covered=(HOSTILE,)))
    read = Reader(page)
    assert "script" not in read.elements
    assert "<script>" in read.words
    assert "49" not in read.words.replace(named.rule, "")
    assert "\x1b" not in page
    assert "\u202e" not in page


def test_signs_and_papers_stand_on_the_page(fixture_reviews: Mapping[str, Review]) -> None:
    words = Reader(html_report(fixture_reviews["marsh-ferry"])).words
    assert "Signs, placards and markings: " in words
    assert "EMERGENCY DISCONNECTSERVICE DISCONNECT" in words.replace("DISCONNECT SERVICE", "DISCONNECTSERVICE")
    assert "Papers that are asked for: 6" in words
    assert "Does not show: where the neutral is bonded; grounding electrode conductor and its size." in words
    assert "Papers that are asked for" not in Reader(html_report(fixture_reviews["withy-hollow"])).words


def test_on_paper_quiet_words_are_smaller_than_the_letter() -> None:
    """Sizes in rem go by the root, so that it has to shrink together with the letter."""
    on_paper = html_report(review()).partition("@media print")[2]
    root, body = (re.search(rf"{name} \{{[^}}]*font-size: (\d+)pt", on_paper) for name in (":root", "body"))
    assert root is not None
    assert body is not None
    assert root[1] == body[1]


def test_what_does_not_apply_is_not_printed_and_still_counted() -> None:
    page = html_report(review(finding(Outcome.NOT_APPLICABLE), finding(Outcome.MET)))
    assert re.search('<details class="aside">\\s*<summary>Does not apply', page)
    assert re.search("<details>\\s*<summary>Meets as shown", page)
    hidden = re.search(r"([^{}]*)\{ display: none; \}", page.partition("@media print")[2])
    assert hidden is not None
    assert ".aside" in hidden[1].replace(" ", "").split(",")
    assert "1 do not apply" in page or "1 does not apply" in page
