"""A town with a paper of its own: what a site of it may list, what is told where it is missing, and that sites of
other towns cannot list it.
"""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from checker.files.folders import data_folder
from checker.tasks.gathering.library import Library
from tests.cli.conftest import Run
from tests.cli.running import LINT_WRONG, USAGE
from tests.cli.town_runs import CODE, PLACE, copy_town, small_library

OWN = "gas-diagrams"  # near to gas_diagram, which every town has
TITLE = "gas diagrams with the stamp of the harbor master"
DECLARED = f"""\
papers:
  {OWN}:
    title: {TITLE}
    means: The harbor master stamps them on Mondays
    cites: [{{section: 14-41}}]
changes:
  - ask_for:
      paper: {OWN}
      when: {{some: {{of: standby_sources, that: {{fuel: {{is: natural_gas, if_absent: no}}}}}}}}
    cites: [{{section: 14-42}}]
"""
CASES = f"""\
packet-holds-{OWN}:
  base: {{standby_sources: {{complete: yes, list: [{{fuel: natural_gas}}]}}, papers: {{complete: yes, list: [{{paper: {OWN}}}]}}}}
  cases:
    - {{shows: there, outcome: met}}
    - {{shows: missing, but: {{papers: {{complete: yes, list: [{{paper: gas_diagram}}]}}}}, outcome: correction}}
    - {{shows: not told, but: {{papers: {{list: []}}}}, outcome: needs_information, needs: [papers]}}
    - {{shows: a set on diesel, but: {{standby_sources: {{complete: yes, list: [{{fuel: diesel}}]}}, papers: {{complete: yes, list: []}}}}, outcome: not_applicable}}
"""  # noqa: E501  as it stands in a file
FINDING = f"packet-holds-{OWN}"
OTHER = PLACE.replace("osprey", "heron")
PAGES = ("text", "html")


@pytest.fixture(scope="module")
def library() -> Library:
    """The small model code in the place of the packs of the program."""
    return small_library()


@pytest.fixture
def town(tmp_path: Path) -> Path:
    """The town that declares a paper, and beside it one that does not."""
    folder = copy_town(tmp_path)
    code = folder / CODE
    code.write_text(code.read_text(encoding="utf-8").replace("changes:\n", DECLARED, 1), encoding="utf-8")
    with code.with_name(f"{code.stem}.cases.yaml").open("a", encoding="utf-8") as cases:
        cases.write(CASES)
    profile = (folder / f"{PLACE}.yaml").read_text(encoding="utf-8")
    other = profile.replace(f"profile: {PLACE}", f"profile: {OTHER}").partition("  - {layer: osprey")[0]
    (folder / f"{OTHER}.yaml").write_text(other, encoding="utf-8")
    return folder


def _listing(town: Path, *papers: str) -> str:
    listed = ", ".join(f"{{paper: {each}}}" for each in papers)
    path = town / "site.yaml"
    path.write_text(
        f"{path.read_text(encoding='utf-8')}papers: {{complete: yes, list: [{listed}]}}\n", encoding="utf-8"
    )
    return path.as_posix()


def _outcome(run: Run, site: str, *more: str) -> str:
    findings = json.loads(run("review", site, "--format", "json", *more).out)["findings"]
    return str(next(each["outcome"] for each in findings if each["rule"] == FINDING))


def test_a_site_of_the_town_lists_it_as_any_paper(town: Path, run: Run) -> None:
    assert _outcome(run, _listing(town, "survey", OWN)) == "met"


def test_where_it_is_missing_the_office_wants_it(town: Path, run: Run) -> None:
    site = _listing(town, "gas_diagram")
    assert _outcome(run, site) == "correction"
    told = " ".join(run("review", site).out.split())
    assert f"This office asks for the {TITLE}." in told
    assert f"list it under papers, as paper: {OWN}." in told


def test_where_nobody_lists_papers_it_is_asked_for(town: Path, run: Run) -> None:
    assert _outcome(run, (town / "site.yaml").as_posix()) == "needs_information"


def test_a_site_of_another_town_cannot_list_it(town: Path, run: Run) -> None:
    site = town / "site.yaml"
    text = site.read_text(encoding="utf-8")
    site.write_text(text.replace(f"jurisdiction: {PLACE}", f"jurisdiction: {OTHER}"), encoding="utf-8")
    ran = run("review", _listing(town, OWN))
    assert (ran.status, ran.out) == (USAGE, "")
    assert f"No paper {OWN} is declared by the jurisdiction of this site." in ran.err
    assert "Nearest valid name: gas_diagram\n" in ran.err
    assert f"or {OWN}." not in ran.err


def test_a_site_held_against_another_town_is_read_in_the_words_of_its_own(town: Path, run: Run) -> None:
    ran = run("review", _listing(town, OWN), "--jurisdiction", OTHER, "--format", "json")
    assert ran.err == ""
    assert FINDING not in [each["rule"] for each in json.loads(ran.out)["findings"]]


@pytest.mark.parametrize("written", ["gas-diagram-s", "gas-diagrms", "gas_diagrams"])
def test_a_misspelt_one_is_told_with_the_nearest(written: str, town: Path, run: Run) -> None:
    ran = run("review", _listing(town, written))
    assert (ran.status, ran.out) == (USAGE, "")
    assert f"Nearest valid name: {OWN}\n" in ran.err


def test_the_list_of_papers_has_it_with_what_the_town_says(town: Path, run: Run) -> None:
    site = _listing(town, "survey")
    told = " ".join(run("submittal", site).out.split())
    assert f"{TITLE}: not in the packet." in told
    assert (
        "The harbor master stamps them on Mondays (Osprey Point Town Code 14-41, verify the citation). "
        f"In a site file it is written paper: {OWN}."
    ) in told
    (paper,) = json.loads(run("submittal", site, "--format", "json").out)["papers"]
    assert (paper["papers"], paper["title"], paper["state"]) == ([OWN], TITLE, "missing")
    (declared,) = paper["declared"]
    assert (declared["paper"], declared["due"], declared["cites"][0]["section"]) == (OWN, "plan_review", "14-41")


def test_in_the_packet_it_is_no_paper_for_which_nobody_asks(town: Path, run: Run) -> None:
    data = json.loads(run("submittal", _listing(town, OWN, "survey"), "--format", "json").out)
    assert [each["state"] for each in data["papers"]] == ["there"]
    assert [each["title"] for each in data["beside"]] == ["survey or site plan"]


@pytest.mark.parametrize("form", PAGES)
def test_the_list_is_set_in_every_form(form: str, town: Path, run: Run) -> None:
    ran = run("submittal", _listing(town, OWN), "--format", form)
    assert (ran.status, ran.err) == (0, "")
    assert TITLE in " ".join(ran.out.split())


def test_the_field_sheet_names_it(town: Path, run: Run) -> None:
    ran = run("field-sheet", (town / "site.yaml").as_posix(), "--format", "text")
    assert (ran.status, ran.err) == (0, "")
    assert "lists all papers" in ran.out


def test_lint_and_cases_of_the_town_hold(town: Path, run: Run) -> None:
    ran = run("rules", "test", town.as_posix())
    assert (ran.status, ran.err) == (0, "")
    assert FINDING in ran.out
    assert "asks for the paper" not in run("rules", "lint", town.as_posix()).out


def test_lint_tells_of_a_paper_for_which_nobody_asks(town: Path, run: Run) -> None:
    code = town / CODE
    text = code.read_text(encoding="utf-8").replace(f"paper: {OWN}", "paper: survey")
    code.write_text(text, encoding="utf-8")
    told = " ".join(run("rules", "lint", town.as_posix()).out.split())
    assert f"look again: No change of osprey-point-code asks for the paper `{OWN}`." in told


def test_lint_tells_of_a_misspelt_one(town: Path, run: Run) -> None:
    code = town / CODE
    text = code.read_text(encoding="utf-8").replace(f"paper: {OWN}", "paper: gas-digrams")
    code.write_text(text, encoding="utf-8")
    ran = run("rules", "lint", town.as_posix())
    assert ran.status == LINT_WRONG
    assert "`gas-digrams` is no choice of `paper`." in ran.out
    assert f"Nearest valid name: {OWN}" in ran.out


def test_a_case_that_misspells_it_is_told(town: Path, run: Run) -> None:
    cases = town / f"{Path(CODE).stem}.cases.yaml"
    cases.write_text(cases.read_text(encoding="utf-8").replace(f"{{paper: {OWN}}}", "{paper: gas-digrams}"), "utf-8")
    ran = run("rules", "test", town.as_posix())
    assert ran.status == USAGE
    assert f"Nearest valid name: {OWN}" in ran.err


@pytest.mark.parametrize("where", [("--site", f"{PLACE}/site.yaml"), ("--jurisdiction", PLACE, "--folder", PLACE), ()])
def test_a_rule_that_asks_for_it_is_told_in_words(where: tuple[str, ...], town: Path, run: Run) -> None:
    dated = ("--date", "2025-07-01") if where else ("--folder", town.name)
    ran = run("rules", "explain", FINDING, *where, *dated)
    assert (ran.status, ran.err) == (0, "")
    assert f"which paper is {TITLE}" in " ".join(ran.out.split())


def test_rules_of_two_towns_are_compared_in_its_words(town: Path, run: Run) -> None:
    sides = ("--jurisdiction", OTHER, "--to-jurisdiction", PLACE, "--date", "2025-07-01", "--to-date", "2025-07-01")
    ran = run("rules", "compare", *sides, "--folder", town.name)
    assert (ran.status, ran.err) == (0, "")
    assert TITLE in " ".join(ran.out.split())


@pytest.mark.parametrize(
    ("paper", "valid"), [(OWN, True), ("gas_diagram", True), ("gas_digram", False), ("gas", False)]
)
def test_an_editor_takes_a_name_with_a_hyphen_and_marks_a_misspelt_one(paper: str, valid: bool) -> None:
    for name, definition in (("site", "value-paper"), ("layer", "choice.paper"), ("pack", "choice.paper")):
        schema = json.loads((data_folder("schemas") / f"{name}.schema.json").read_text(encoding="utf-8"))
        whole = {"$defs": schema["$defs"], "$ref": f"#/$defs/{definition}"}
        assert jsonschema.Draft202012Validator(whole).is_valid(paper) is valid
