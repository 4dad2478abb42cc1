"""Equipment sheets: what a piece takes from a file of the repository."""

from pathlib import Path

import pytest

from checker.site.model import Site
from checker.site.read import read_site
from checker.values.positions import Position
from checker.values.possible import exactly
from checker.values.problems import Unreadable
from tests.site.reading import CATALOG, read, refused, subject

SHEET = "kind: panelboard\nrated_current: 200 A\nshort_circuit_rating: 22 kA\n"


def using(more: str = "") -> str:
    return f"site: {{}}\nequipment:\n  P1: {{kind: panelboard, use: s.yaml{more}}}\n"


def text_of(site: Site, fact: str) -> str:
    stated = site.stated(subject(site, "P1"), fact)
    assert stated is not None
    return stated.text


def test_facts_of_the_sheet_are_facts_of_the_piece_and_stand_in_the_sheet(tmp_path: Path) -> None:
    site = read(using(), tmp_path, s=SHEET)
    stated = site.stated(subject(site, "P1"), "short_circuit_rating")
    assert stated is not None
    assert stated.at == Position("s.yaml", 3, 23)
    assert text_of(site, "rated_current") == "200 A"


def test_the_kind_may_stand_in_both_or_in_the_sheet_alone(tmp_path: Path) -> None:
    alone = using().replace("kind: panelboard, ", "")
    assert read(alone, tmp_path, s=SHEET).pieces["P1"].type == "panelboard"
    (problem,) = refused(using(), tmp_path, s=SHEET.replace("panelboard", "switchboard"))
    assert "The sheet is one of switchboard (s.yaml:1:7)" in problem.sentence


def test_a_key_in_both_is_refused(tmp_path: Path) -> None:
    (problem,) = refused(using(", rated_current: 100 A"), tmp_path, s=SHEET)
    assert problem.sentence == "rated_current stands here and in the sheet (s.yaml:2:1)."
    assert "override: [rated_current]" in problem.remedy
    assert problem.at == Position("site.yaml", 3, 39)


def test_what_is_overridden_counts_as_written_at_the_piece(tmp_path: Path) -> None:
    site = read(using(", rated_current: 100 A, override: [rated_current]"), tmp_path, s=SHEET)
    assert text_of(site, "rated_current") == "100 A"


@pytest.mark.parametrize("override", ["[place]", "[rated_curent]", "[rated_current]", "[3]", "[[a]]"])
def test_an_override_of_nothing_is_refused(override: str, tmp_path: Path) -> None:
    problems = refused(using(f", override: {override}"), tmp_path, s=SHEET)
    assert [problem for problem in problems if "overrides nothing" in problem.sentence]


def test_the_kind_is_not_overridden(tmp_path: Path) -> None:
    problems = refused(using(", override: [kind]"), tmp_path, s=SHEET)
    assert "kind of a sheet cannot be overridden" in problems[0].sentence


def test_lists_and_ways_never_merge(tmp_path: Path) -> None:
    sheet = "ways: {1: {overcurrent: 20 A}}\n"
    (problem,) = refused(using(", ways: {2: {overcurrent: 30 A}}"), tmp_path, s=sheet)
    assert "ways stands here and in the sheet" in problem.sentence
    site = read(using(", ways: {2: {overcurrent: 30 A}}, override: [ways]"), tmp_path, s=sheet)
    assert [each.id for each in site.things if each.type == "way"] == ["P1/2"]


def test_what_is_missing_is_asked_after_the_sheet(tmp_path: Path) -> None:
    text = "site: {}\nequipment:\n  G: {kind: generator}\n  S: {use: s.yaml}\n"
    site = read(text, tmp_path, s="kind: stop\nof: G\n")
    stated = site.stated(subject(site, "S"), "of")
    assert stated is not None
    assert stated.value == exactly("G")
    (problem,) = refused(text, tmp_path, s="kind: stop\n")
    assert problem.sentence.startswith("of is missing")


def test_a_sheet_may_use_a_sheet(tmp_path: Path) -> None:
    site = read(using(), tmp_path, s="use: t.yaml\nrated_current: 200 A\n", t="place: garage\n")
    assert text_of(site, "place") == "garage"
    site = read(using(), tmp_path, s="use: t.yaml\nplace: basement\noverride: [place]\n", t="place: garage\n")
    assert text_of(site, "place") == "basement"


@pytest.mark.parametrize(
    ("sheets", "says"),
    [
        ({"s": "use: s.yaml\n"}, "The sheet s.yaml uses itself."),
        ({"s": "use: t.yaml\n", "t": "use: s.yaml\n"}, "The sheet s.yaml uses itself."),
        ({"s": "use: site.yaml\n"}, "The sheet site.yaml uses itself."),
        ({"s": "fed_from: UTIL\n"}, "does not say how a piece is fed"),
        ({"s": "- a\n"}, "lists facts of one piece"),
        ({"s": ""}, "empty"),
        ({"s": "a: [\n"}, "not closed"),
        ({"s": "rated_curent: 200 A\n"}, "rated_curent is not a fact"),
        ({"s": "neutral: solid\n"}, "neutral is a fact of a transfer switch"),
        ({}, "no file `s.yaml`"),
    ],
)
def test_sheets_that_cannot_be_used(sheets: dict[str, str], says: str, tmp_path: Path) -> None:
    problems = refused(using(), tmp_path, **sheets)
    assert any(says in problem.sentence for problem in problems), [str(problem) for problem in problems]


def test_sheets_that_use_one_another_without_end(tmp_path: Path) -> None:
    chain = {f"s{number}": f"use: s{number + 1}.yaml\n" for number in range(20)}
    problems = refused(using(), tmp_path, s="use: s0.yaml\n", **chain)
    assert "More than 8 sheets use one another." in problems[0].sentence


def test_more_sheets_than_any_site_has(tmp_path: Path) -> None:
    for number in range(205):
        (tmp_path / f"x{number}.yaml").write_text("place: garage\n", encoding="utf-8")
    pieces = "".join(f"  P{number}: {{kind: panelboard, use: x{number}.yaml}}\n" for number in range(205))
    problems = refused(f"site: {{}}\nequipment:\n{pieces}", tmp_path)
    assert len(problems) == 1
    assert "more than 200 sheets" in problems[0].sentence


def test_a_sheet_in_a_folder_above_within_the_root(tmp_path: Path) -> None:
    (tmp_path / "sheets").mkdir()
    (tmp_path / "place").mkdir()
    (tmp_path / "sheets" / "s.yaml").write_text(SHEET, encoding="utf-8")
    path = tmp_path / "place" / "site.yaml"
    path.write_text(using().replace("s.yaml", "../sheets/s.yaml"), encoding="utf-8")
    site = read_site(path, CATALOG, tmp_path)
    assert site.file == "place/site.yaml"
    stated = site.stated(subject(site, "P1"), "rated_current")
    assert stated is not None
    assert stated.at.file == "sheets/s.yaml"
    with pytest.raises(Unreadable, match="leads out of the folder"):
        read_site(path, CATALOG)


def test_a_link_that_leads_out_of_the_root(tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "s.yaml").write_text(SHEET, encoding="utf-8")
    inside = tmp_path / "inside"
    inside.mkdir()
    (inside / "s.yaml").symlink_to(outside / "s.yaml")
    (problem,) = refused(using(), inside)
    assert "leads out of the folder" in problem.sentence


def test_a_root_that_does_not_hold_the_file_is_passed_over(tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.mkdir()
    here = tmp_path / "here"
    here.mkdir()
    (here / "site.yaml").write_text("site: {}\n", encoding="utf-8")
    assert read_site(here / "site.yaml", CATALOG, other).file == "site.yaml"


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(Unreadable, match="no file"):
        read_site(tmp_path / "site.yaml", CATALOG)
    with pytest.raises(Unreadable, match="is a folder"):
        read_site(tmp_path, CATALOG)


def test_the_digest_changes_with_the_sheet_and_with_nothing_else(tmp_path: Path) -> None:
    first = read(using(), tmp_path, s=SHEET).digest
    assert read(using(), tmp_path, s=SHEET).digest == first
    (tmp_path / "unused.yaml").write_text("a: b\n", encoding="utf-8")
    assert read(using(), tmp_path, s=SHEET).digest == first
    assert read(using(), tmp_path, s=SHEET.replace("22 kA", "10 kA")).digest != first
    assert read(using() + "\n", tmp_path, s=SHEET).digest != first
