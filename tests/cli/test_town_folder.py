"""A packet in a folder of its own, under rules of a town that lie elsewhere: ``--folder``, and the folders above."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from checker.tasks.gathering.library import Library
from tests.cli.conftest import Run
from tests.cli.running import USAGE
from tests.cli.town_runs import CODE, PLACE, PROFILE, TOWN, copy_town, small_library

COMMANDS = (
    ("review", "packet"),
    ("submittal", "packet"),
    ("labels", "packet"),
    ("schedule", "packet"),
    ("field-sheet", "packet"),
    ("worksheet", "packet"),
    ("explain", "packet", "1"),
    ("compare", "packet", "packet"),
    ("rules", "compare", "packet", "--jurisdiction", PLACE, "--date", "2025-06-30", "--to-date", "2025-07-01"),
    ("rules", "explain", "set-clear-of-openings", "--site", "packet"),
)


@pytest.fixture(scope="module")
def library() -> Library:
    """The small model code in the place of the packs of the program."""
    return small_library()


@pytest.fixture
def packet(tmp_path: Path) -> Path:
    """A site in a folder beside that of its town, neither in the other."""
    copy_town(tmp_path / "towns")
    folder = tmp_path / "packet"
    folder.mkdir()
    shutil.move(tmp_path / "towns" / PLACE / "site.yaml", folder / "site.yaml")
    return folder


@pytest.mark.usefixtures("packet")
@pytest.mark.parametrize("command", COMMANDS, ids=lambda words: " ".join(words[:2]))
def test_the_folder_of_the_town_can_be_named(command: tuple[str, ...], run: Run) -> None:
    without = run(*command)
    assert without.status == USAGE
    assert "There is no " in without.err
    ran = run(*command, "--folder", f"towns/{PLACE}")
    assert ran.status != USAGE or "worksheet" in command, ran.err
    assert "There is no jurisdiction profile" not in ran.err


@pytest.mark.usefixtures("packet")
def test_a_profile_that_is_not_found_says_where_it_was_looked_for(run: Run) -> None:
    told = run("review", "packet").err
    assert f"There is no jurisdiction profile {PLACE}." in told
    assert "Looked for in the folder packet, the folder ." in told
    assert "--folder names another" in told


@pytest.mark.usefixtures("packet")
def test_a_folder_that_is_not_there_is_told(run: Run) -> None:
    ran = run("review", "packet", "--folder", "no-town")
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err.startswith("There is no folder no-town.\n")


def test_the_folders_above_a_site_are_searched_as_far_as_the_one_in_which_the_command_runs(
    run: Run, packet: Path, tmp_path: Path
) -> None:
    deep = tmp_path / "towns" / PLACE / "permits" / "2025" / "lot-4"
    deep.mkdir(parents=True)
    shutil.copy(packet / "site.yaml", deep / "site.yaml")
    assert run("review", f"towns/{PLACE}/permits/2025/lot-4").status != USAGE


def test_inside_its_folder_a_site_finds_the_town_one_folder_up(
    run: Run, packet: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    inner = tmp_path / "towns" / PLACE / "lot-4"
    inner.mkdir()
    shutil.copy(packet / "site.yaml", inner / "site.yaml")
    monkeypatch.chdir(inner)
    assert run("review", "site.yaml").status != USAGE


@pytest.mark.usefixtures("packet")
def test_heads_name_the_layers_of_the_town(run: Run) -> None:
    for command in ("review", "submittal", "labels", "field-sheet", "schedule"):
        told = " ".join(run(command, "packet", "--folder", f"towns/{PLACE}").out.split())
        assert "Rules in force at Osprey Point: Harbor Model Code 2020" in told, command
        assert "On them: Sound State Rule 12 (Sound State, building board" in told, command


@pytest.mark.usefixtures("packet")
def test_another_date_is_not_told_as_that_of_the_application(run: Run) -> None:
    words = ("--folder", f"towns/{PLACE}", "--date", "2025-07-02")
    said = "as of 2025-07-02 (the date of permit application in the file is 2025-06-30)"
    for command in ("review", "submittal", "labels", "field-sheet", "schedule"):
        told = " ".join(run(command, "packet", *words).out.split())
        assert said in told, command
        assert "permit application 2025-07-02" not in told, command


def test_a_rule_of_the_town_is_explained_without_a_date(run: Run, tmp_path: Path) -> None:
    copy_town(tmp_path)
    ran = run("rules", "explain", "osprey-point-switched-neutral", "--folder", PLACE)
    assert (ran.status, ran.err) == (0, "")
    assert "The transfer switch opens the neutral." in ran.out
    assert "As it is in force in Osprey Point Town Code on 2025-07-01." in ran.out
    wrong = run("rules", "explain", "osprey-point-switchd-neutral", "--folder", PLACE)
    assert wrong.status == USAGE
    assert "Nearest valid name: osprey-point-switched-neutral" in wrong.err


def test_an_error_in_a_profile_brings_no_second_remark(run: Run, tmp_path: Path) -> None:
    town = copy_town(tmp_path)
    text = (TOWN / PLACE / PROFILE).read_text(encoding="utf-8")
    (town / PROFILE).write_text(text.replace("event: permit_application", "event: permit_aplication"), encoding="utf-8")
    told = run("rules", "lint", PLACE).out
    assert "permit_aplication" in told
    assert "No profile beside it names the layer" not in told
    (town / PROFILE).unlink()
    assert "No profile beside it names the layer" in run("rules", "lint", PLACE).out


def test_a_companion_that_is_no_rule_is_wrong(run: Run, tmp_path: Path) -> None:
    town = copy_town(tmp_path)
    text = (town / CODE).read_text(encoding="utf-8")
    for name, wrong in (("set-clear-of-opening", True), ("set-clear-of-openings", False)):
        added = f"      title: The transfer switch opens the neutral\n      companions: [{name}]\n"
        told = text.replace("      title: The transfer switch opens the neutral\n", added)
        (town / CODE).write_text(told, encoding="utf-8")
        out = run("rules", "lint", PLACE).out
        assert ("names `set-clear-of-opening`, which is no rule" in " ".join(out.split())) is wrong
        assert ("Nearest valid name: set-clear-of-openings" in out) is wrong
