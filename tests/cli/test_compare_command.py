"""The command ``compare`` as a user runs it: two revisions, or one site under several sets of rules."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.cli.running import USAGE
from tests.cli.test_review_command import BONDED

Site = Callable[..., Path]

FLOATING = ("fed_from: ATS1", "neutral_bond: floating, fed_from: ATS1")
SEVERAL = "Two revisions are compared under one set of rules, or one site under several."


def test_what_a_revision_cured_and_brought(run: Run, site: Site) -> None:
    site(*BONDED, name="was/site.yaml")
    site(*FLOATING, name="now/site.yaml")
    ran = run("compare", "was", "now")
    assert (ran.status, ran.err) == (0, "")
    assert "\nCured: 1\n" in ran.out
    assert "was a correction, now meets what is shown" in ran.out
    assert "because: P1.neutral_bond was bonded, is floating" in ran.out
    back = run("compare", "now", "was", "--format", "json")
    (bond,) = (each for each in json.loads(back.out)["findings"] if each["standing"] == "new")
    assert (bond["was"], bond["is"]) == ("met", "correction")
    assert bond["facts"] == [{"fact": "P1.neutral_bond", "was": "floating", "is": "bonded"}]


def test_what_changed_and_is_the_reason_of_no_finding_is_told_too(run: Run, site: Site) -> None:
    site(*BONDED, name="was/site.yaml")
    later = site(*FLOATING, name="now/site.yaml")
    text = later.read_text(encoding="utf-8").replace("occupancy:", "zones: [residential], occupancy:", 1)
    assert "zones" in text
    later.write_text(text + WINDOWS, encoding="utf-8")
    told = " ".join(run("compare", "was", "now").out.split())
    _, _, block = told.partition("Also changed in the description, and named by no finding above as its reason: ")
    assert "site.zones is residential, and was not given" in block
    assert "P1.neutral_bond" not in block
    assert "window was added" not in block
    data = json.loads(run("compare", "now", "was", "--format", "json").out)["other_changes"]
    assert {"fact": "site.zones", "was": "residential", "is": ""} in data["facts"]
    assert "Also changed" not in run("compare", "was", "was").out


def test_a_bond_that_the_list_of_bonds_does_not_name_is_told_as_at_odds_with_it(run: Run, site: Site) -> None:
    for name, bond in (("was", "floating"), ("now", "bonded")):
        path = site("fed_from: ATS1", f"neutral_bond: {bond}, fed_from: ATS1", name=f"{name}/site.yaml")
        bonds = "bonds: {complete: yes, list: [{bond: main_bonding_jumper, at: ATS1}]}\n"
        path.write_text(path.read_text(encoding="utf-8") + bonds, encoding="utf-8")
    told = " ".join(run("compare", "was", "now").out.split())
    assert "because: P1.neutral_bond was floating, is bonded" in told
    assert "because: The list of bonds is complete and names none at P1" in told
    assert "bonded as written" in told
    assert "P1.neutral_bond was floating, is not shown" not in told
    assert ".agree" not in told


def test_either_comparison_is_a_page_too(run: Run, site: Site) -> None:
    site(*BONDED, name="was/site.yaml")
    site(*FLOATING, name="now/site.yaml")
    for words, told in (
        (("was", "now"), "was a correction, now meets what is shown."),
        (("was", "--jurisdiction", "nec-2017", "--jurisdiction", "nec-2023"), "Tern Cove under 2 sets of rules"),
    ):
        ran = run("compare", *words, "--format", "html")
        assert (ran.status, ran.err) == (0, "")
        assert ran.out.startswith("<!doctype html>")
        assert told in ran.out


def test_the_same_site_twice_changes_nothing(run: Run, site: Site) -> None:
    site(name="a.yaml")
    site(name="b.yaml")
    ran = run("compare", "a.yaml", "b.yaml")
    assert "\n0 new, 0 changed, 0 cured, 0 no longer asked, 0 no longer in the description, " in ran.out


WINDOWS = """distances:
  list:
    - {of: GEN1, to: north bedroom window, to_kind: opening, distance: 3 ft}
    - {of: GEN1, to: kitchen window, to_kind: opening, distance: 3 ft}
"""


def test_a_window_that_is_taken_out_is_gone_and_not_cured(run: Run, site: Site) -> None:
    before = site(name="was/site.yaml")
    before.write_text(before.read_text(encoding="utf-8") + WINDOWS, encoding="utf-8")
    kept = "".join(line for line in WINDOWS.splitlines(keepends=True) if "north" not in line)
    after = site(name="now/site.yaml")
    after.write_text(after.read_text(encoding="utf-8") + kept, encoding="utf-8")
    told = json.loads(run("compare", "was", "now", "--format", "json").out)["findings"]
    of_windows = {(each["id"].partition("@")[2], each["standing"]) for each in told if "window" in each["id"]}
    assert of_windows == {("GEN1 to north bedroom window", "gone"), ("GEN1 to kitchen window", "still_open")}
    text = run("compare", "was", "now").out
    assert "\nCured" not in text
    assert "\nNo longer in the description: " in text


def test_an_entry_moved_in_its_list_changes_nothing(run: Run, site: Site) -> None:
    head, lines = WINDOWS.splitlines(keepends=True)[:2], WINDOWS.splitlines(keepends=True)[2:]
    for name, order in (("was", lines), ("now", lines[::-1])):
        path = site(name=f"{name}/site.yaml")
        path.write_text(path.read_text(encoding="utf-8") + "".join([*head, *order]), encoding="utf-8")
    told = json.loads(run("compare", "was", "now", "--format", "json").out)["findings"]
    assert {each["standing"] for each in told} == {"still_open"}
    assert all(each["facts"] == [] for each in told)


def test_a_rule_of_a_later_edition_is_the_reason_and_not_facts_that_stayed(run: Run, site: Site) -> None:
    site(name="was/site.yaml")
    later = site(name="now/site.yaml")
    text = later.read_text(encoding="utf-8").replace("jurisdiction: nec-2020", "jurisdiction: nec-2023")
    later.write_text(text, encoding="utf-8")
    told = run("compare", "was", "now").out
    was, _, now = told.partition("Is: ")
    assert "National Electrical Code 2020" in " ".join(was.split())
    assert "National Electrical Code 2023" in " ".join(now.partition("\n\n")[0].split())
    assert " is new" not in told
    found = json.loads(run("compare", "was", "now", "--format", "json").out)["findings"]
    appeared = [each for each in found if each["was"] is None]
    assert appeared
    assert {tuple(each["why"]) for each in appeared} == {("rule_only_now",)}
    # Numbers of a rule differ with its edition; nothing that is stated does.
    assert not [fact for each in found for fact in each["facts"] if "." in fact["fact"]]


def test_two_files_of_one_name_are_told_apart(run: Run, site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    site(name="was/site.yaml")
    site(name="now/site.yaml")
    monkeypatch.chdir(site(name="was/site.yaml").parent)
    told = run("compare", "site.yaml", "../now/site.yaml").out
    assert "Was: Tern Cove, site.yaml, " in told
    assert "Is: Tern Cove, ../now/site.yaml, " in told


def test_two_dates_are_told_with_section_reason_and_notices(run: Run, site: Site) -> None:
    site()
    words = ("compare", "site.yaml", "--jurisdiction", "nec-2017", "--jurisdiction", "nec-2023")
    told = run(*words).out
    assert "National Electrical Code 2017" in " ".join(told.split())
    assert "\nWhy they differ, by the numbers of the table\n" in told
    sides = json.loads(run(*words, "--format", "json").out)
    assert all(each["why"] and any(each["sections"]) for each in sides["differ"])
    assert all(side["rules"] and side["notices"] for side in sides["sides"])


def test_one_site_under_several_rules_side_by_side(run: Run, site: Site) -> None:
    site()
    ran = run("compare", "site.yaml", "--jurisdiction", "nec-2017", "--jurisdiction", "nec-2023")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith("Tern Cove under 2 sets of rules\n")
    sides = json.loads(
        run("compare", "site.yaml", "--jurisdiction", "nec-2017", "--jurisdiction", "nec-2023", "--format", "json").out
    )
    assert [each["profile"] for each in sides["sides"]] == ["nec-2017", "nec-2023"]
    assert sides["differ"]
    assert all(len(set(each["outcomes"])) > 1 for each in sides["differ"])


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("a.yaml",), "One site under one set of rules has nothing to be compared with."),
        (
            ("a.yaml", "a.yaml", "a.yaml"),
            SEVERAL,
        ),
        (
            ("a.yaml", "a.yaml", "--date", "2020-01-01", "--date", "2024-01-01"),
            SEVERAL,
        ),
        (("a.yaml", "missing.yaml"), "There is no file missing.yaml."),
    ],
)
def test_sides_that_cannot_be_told(words: tuple[str, ...], sentence: str, run: Run, site: Site) -> None:
    site(name="a.yaml")
    ran = run("compare", *words)
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err.startswith(sentence)


@pytest.mark.parametrize("command", [("compare",), ("rules", "compare")], ids=" ".join)
def test_a_comparison_has_no_other_formats_than_its_own(command: tuple[str, ...], run: Run, site: Site) -> None:
    site(name="a.yaml")
    ran = run(*command, "a.yaml", "--format", "sarif")
    assert (ran.status, ran.out) == (USAGE, "")
    assert "'sarif'" in ran.err
