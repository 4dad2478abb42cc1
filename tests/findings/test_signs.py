"""The signs that a rule wants at a subject, and the papers that it asks for: what is told of each, by hand."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Stage
from checker.findings.finding import Review
from checker.findings.review import Job, review
from checker.rules.edition import pack_in_edition
from checker.rules.model.in_force import PackInForce, RulesInForce
from checker.rules.model.profile import Profile
from checker.rules.reading.pack import read_pack
from checker.site.read import read_site
from checker.tasks.papers.label_sheet import SignState, label_sheet
from checker.tasks.papers.submittal import PaperState, submittal
from checker.values.truth import Truth

PACK = """\
pack: heron-point
title: Heron Point Code
document: Heron Point Code
editions: ["1", "2"]
basis: law
parameters:
  letters-of-the-plate:
    title: height of the letters
    type: length
    stricter: higher
    values: {{"1": no_limit, "2": 1/2 in}}
    sections: {{"1": "9", "2": "9"}}
    checked: {{sure: low, against: memory}}
rules:
  rule-under-trial:
    title: It is as wanted
    {rule}
    says: "{{subject}} is not as wanted."
    sections: {{"1": "1", "2": "1"}}
    checked: {{sure: low, against: memory}}
"""

SITE = """\
site: {{name: Tern Cove, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1, listed: {listed}}}
  GEN1: {{kind: generator}}
  S1: {{kind: stop, of: GEN1, place: outdoors}}
  S2: {{kind: stop, of: GEN1, place: indoors}}
{lists}
"""

PLATE = """subject: transfer_switch
    requires:
      marked: {some: {of: labels, that: {marking: {includes: service_disconnect, if_absent: no}}}}
      listed: {listed: {is: yes}}
    label:
      - words: [SERVICE DISCONNECT]
        part: marked
        colors: {ground: red, letters: white, in: ["2"]}
        letter_height: letters-of-the-plate
"""
MARKED = "labels: {complete: yes, list: [{at: ATS1, marking: [service_disconnect]}]}"
BARE = "labels: {complete: yes, list: []}"


def _review(folder: Path, rule: str, lists: str, listed: str = "yes", edition: str = "2") -> Review:
    pack = folder / "heron-point"
    pack.mkdir()
    (pack / "pack.yaml").write_text(PACK.format(rule=rule), encoding="utf-8")
    (folder / "site.yaml").write_text(SITE.format(listed=listed, lists=lists), encoding="utf-8")
    catalog = shipped_catalog()
    read = read_pack(pack, catalog)
    profile = Profile("small", "Heron Point", "permit_application", (), "profile.yaml", read.digest)
    used = PackInForce(read.id, read.title, edition, read.digest, "", date(2020, 1, 1))
    rules = RulesInForce(profile, date(2026, 3, 14), pack_in_edition(read, edition, "rule 3"), (used,))
    return review(Job(read_site(folder / "site.yaml", catalog), catalog, rules, Stage.PLAN_REVIEW))


@pytest.mark.parametrize(
    ("lists", "listed", "state"),
    [
        (MARKED, "yes", SignState.THERE),
        (BARE, "yes", SignState.MISSING),
        (MARKED, "no", SignState.THERE),
        (BARE, "no", SignState.MISSING),
        (BARE, "unknown", SignState.MISSING),
        ("", "no", SignState.OPEN),
        ("", "unknown", SignState.OPEN),
    ],
)
def test_a_sign_is_told_by_its_own_part(tmp_path: Path, lists: str, listed: str, state: SignState) -> None:
    (wanted,) = label_sheet(_review(tmp_path, PLATE, lists, listed)).signs
    assert wanted.state is state
    assert (wanted.sign.places, [piece.title for piece in wanted.pieces]) == (("ATS1",), ["transfer switch"])


@pytest.mark.parametrize(("edition", "looks"), [("1", ("", "", "", "")), ("2", ("red", "white", "1/2 in", "1/24"))])
def test_colors_and_letters_are_those_of_the_edition(tmp_path: Path, edition: str, looks: tuple[str, ...]) -> None:
    """Half an inch is a twenty-fourth of a foot."""
    (wanted,) = label_sheet(_review(tmp_path, PLATE, BARE, edition=edition)).signs
    sign = wanted.sign
    assert (sign.ground, sign.letters, sign.letter_height, sign.letter_feet) == looks


def test_labels_that_are_there_are_told_in_words(tmp_path: Path) -> None:
    lists = "labels: {complete: yes, list: [{at: ATS1, marking: [meter_disconnect], ground_color: blue}]}"
    (wanted,) = label_sheet(_review(tmp_path, PLATE, lists)).signs
    assert wanted.state is SignState.MISSING
    assert wanted.sign.shown == ("METER DISCONNECT; color of the ground blue",)


STOP = """subject: generator
    requires:
      marked: {some: {of: stops, that: {some: {of: labels, that: {tells: {includes: purpose, if_absent: no}}}}}}
    label: [{meaning: "What {subject} does.", class_word: notice, at: {of: stops, where: {place: {is: outdoors}}}}]
"""


def test_a_sign_stands_at_the_members_that_can_carry_it(tmp_path: Path) -> None:
    (wanted,) = label_sheet(_review(tmp_path, STOP, BARE)).signs
    assert (wanted.sign.places, wanted.sign.among) == (("S1",), "stops of the set")
    assert wanted.sign.meaning == "What GEN1 does."


WHICH = """subject: transfer_switch
    requires: {marked: {some: {of: labels, that: {tells: {includes: purpose, if_absent: no}}}}}
    label:
      - {words: [ONE], when: {operation: {is: automatic}}}
      - {words: [OTHER], when: {operation: {is: manual}}}
"""


@pytest.mark.parametrize(
    ("operation", "words"),
    [("yes, operation: automatic", ["ONE"]), ("yes, operation: manual", ["OTHER"]), ("yes", ["ONE", "OTHER"])],
)
def test_of_several_signs_only_those_that_may_be_wanted(tmp_path: Path, operation: str, words: list[str]) -> None:
    found = label_sheet(_review(tmp_path, WHICH, BARE, operation)).signs
    assert [line for each in found for line in each.sign.words] == words
    names = ["1a", "1b"] if len(words) > 1 else ["1"]
    assert [each.name for each in found] == names
    assert all(bool(each.sign.only_if) == (len(words) > 1) for each in found)


def test_a_rule_that_does_not_apply_wants_no_sign(tmp_path: Path) -> None:
    rule = PLATE.replace("requires:\n", "when: {listed: {is: no}}\n    requires:\n", 1)
    assert label_sheet(_review(tmp_path, rule, BARE)).signs == ()


def test_a_sign_that_may_not_be_wanted_is_not_missing(tmp_path: Path) -> None:
    rule = PLATE.replace("requires:\n", "when: {operation: {is: manual}}\n    requires:\n", 1)
    (wanted,) = label_sheet(_review(tmp_path, rule, BARE)).signs
    assert wanted.state is SignState.OPEN


SURVEY = """subject: site
    requires:
      paper:
        some:
          of: papers
          where: {paper: {one_of: [survey, one_line]}}
          that: {all: [{shows: {includes_all: [openings, meter], if_absent: no}}, {test_witnessed: {is: yes}}]}
"""


@pytest.mark.parametrize(
    ("papers", "state", "shows"),
    [
        ("{complete: yes, list: []}", PaperState.MISSING, ("no", "no", "no")),
        ("{list: []}", PaperState.OPEN, ("unknown", "unknown", "unknown")),
        ("{complete: yes, list: [{paper: manual}]}", PaperState.MISSING, ("no", "no", "no")),
        ("{complete: yes, list: [{paper: survey}]}", PaperState.OPEN, ("unknown", "unknown", "unknown")),
        ("{complete: yes, list: [{paper: survey, shows: [meter]}]}", PaperState.INCOMPLETE, ("no", "yes", "unknown")),
        (
            "{complete: yes, list: [{paper: one_line, shows: [meter, openings], test_witnessed: yes}]}",
            PaperState.THERE,
            ("yes", "yes", "yes"),
        ),
    ],
)
def test_a_paper_is_told_with_what_it_shows(
    tmp_path: Path, papers: str, state: PaperState, shows: tuple[str, ...]
) -> None:
    found = submittal(_review(tmp_path, SURVEY, f"papers: {papers}"))
    (wanted,) = found.wanted
    assert (wanted.names, wanted.state) == (("survey", "one_line"), state)
    (asking,) = wanted.askings
    assert tuple(each.truth for each in asking.shows) == tuple(Truth(each) for each in shows)
    assert [each.words for each in asking.shows][:2] == ["windows and other openings", "meter"]


def test_papers_that_nobody_asks_for_are_told_beside(tmp_path: Path) -> None:
    papers = "papers: {complete: yes, list: [{paper: manual, shows: [clearances]}]}"
    found = submittal(_review(tmp_path, PLATE, papers))
    assert found.wanted == ()
    assert [(each.title, each.shows) for each in found.beside] == [
        ("maker's installation manual", ("clearances on each side",))
    ]
