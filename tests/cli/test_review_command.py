"""The command ``review`` as a user runs it: several files, folders, options in place of the file, exit status."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.bad_sites import BASE
from tests.cli.conftest import Run
from tests.cli.running import EXAMPLE, USAGE, run_command
from tests.project.project_tree import ROOT

Site = Callable[..., Path]

BONDED = ("fed_from: ATS1", "neutral_bond: bonded, fed_from: ATS1")
"""What makes a correction: a bond of the neutral past the service disconnect."""

NOTHING_THERE = "\n".join([*BASE.splitlines()[:2], "equipment: {}"]) + "\n"


def test_the_example_in_a_process_of_its_own() -> None:
    """The example has corrections by design, so its status is 1."""
    ran = run_command("review", EXAMPLE)
    assert (ran.status, ran.err) == (1, "")
    assert ran.out.startswith("14 Harrow Lane, permit application 2024-03-11, read for plan review\n")
    assert "\x1b" not in ran.out


# --- files and folders -----------------------------------------------------------------------------------------------


def test_one_bad_file_never_hides_the_others(run: Run, site: Site) -> None:
    site(name="a.yaml")
    site("kind: panelboard", "kind: panelbord", name="b.yaml")
    site("Tern Cove", "Heron Point", name="c.yaml")
    ran = run("review", "a.yaml", "b.yaml", "missing.yaml", "c.yaml")
    assert ran.status == USAGE
    assert ran.out.startswith("Tern Cove, ")
    assert "\n\nHeron Point, " in ran.out
    assert "panelbord is not a kind of equipment." in ran.err
    assert "There is no file missing.yaml." in ran.err


def test_a_bad_file_first_leaves_no_gap(run: Run, site: Site) -> None:
    site(name="c.yaml")
    assert run("review", "missing.yaml", "c.yaml").out.startswith("Tern Cove, ")


def test_the_worst_status_counts(run: Run, site: Site) -> None:
    site(name="open.yaml")
    site(*BONDED, name="wrong.yaml")
    assert run("review", "open.yaml").status == 3
    assert run("review", "wrong.yaml").status == 1
    assert run("review", "open.yaml", "wrong.yaml").status == 1


def test_a_folder_stands_for_its_site_file(run: Run, site: Site) -> None:
    site(name="job/site.yaml")
    by_folder, by_file = run("review", "job"), run("review", "job/site.yaml")
    assert by_folder == by_file
    assert by_folder.err == ""


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("nowhere.yaml", "There is no file nowhere.yaml."),
        ("sheets", "There is no site.yaml in the folder sheets."),
        ("", "There is no site.yaml in the folder ."),
        ("/dev/null", "/dev/null is not a regular file."),
        ("a\x1b[31m.yaml", "There is no file a"),
    ],
)
def test_what_is_not_there_is_named_as_it_was_typed(name: str, sentence: str, run: Run, tmp_path: Path) -> None:
    (tmp_path / "sheets").mkdir()
    ran = run("review", name)
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err.startswith(sentence)
    assert "\x1b" not in ran.err
    assert len(ran.err.splitlines()) >= 2


def test_a_file_that_may_not_be_read_is_told(run: Run, site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    path = site()
    real = Path.open

    def locked(self: Path, *arguments: object, **options: object) -> object:
        if self.name == path.name:
            raise PermissionError("Permission denied")
        return real(self, *arguments, **options)  # type: ignore[call-overload]

    monkeypatch.setattr(Path, "open", locked)
    ran = run("review", "site.yaml")
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err == "The file site.yaml cannot be opened.\n  Check that you may read it.\n"


def test_places_are_told_from_the_folder_of_the_command(run: Run, site: Site) -> None:
    site(name="jobs/cove/site.yaml")
    assert "jobs/cove/site.yaml:" in run("review", "jobs/cove").out


def test_sheets_beside_the_site_are_read_also_from_another_folder(run: Run) -> None:
    ran = run("review", str(ROOT / EXAMPLE), "--format", "json")
    assert ran.status == 1
    assert json.loads(ran.out)["site"]["file"] == "site.yaml"
    assert "sheets/set-22kw.yaml:" in ran.out


# --- options in place of the file ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("options", "told", "shown"),
    [
        (("--jurisdiction", "nec-2023"), "--jurisdiction nec-2023 was used, not the file's nec-2020.", "Code 2023"),
        (("--date", "2025-06-30"), "--date 2025-06-30 was used, not the date of the permit in the file.", "2025-06-30"),
        (("--stage", "acceptance"), "--stage acceptance was used, not the file's plan_review.", "read for acceptance"),
    ],
)
def test_options_take_the_place_of_the_file_and_say_so(
    options: tuple[str, ...], told: str, shown: str, run: Run, site: Site
) -> None:
    site()
    text = " ".join(run("review", "site.yaml", *options).out.split())
    assert told in text
    assert shown in text
    data = json.loads(run("review", "site.yaml", *options, "--format", "json").out)
    assert [each["sentence"] for each in data["notices"] if each["kind"] == "override"] == [told]


def test_options_can_stand_for_what_the_file_leaves_out(run: Run, site: Site) -> None:
    site("stage: plan_review, ", "", name="a.yaml")
    text = (
        BASE.replace("jurisdiction: nec-2020, ", "").replace('permit: {application_date: "2024-03-14"}\n', "")
    ).replace("stage: plan_review, ", "")
    site(name="b.yaml").write_text(text, encoding="utf-8")
    assert "it was read for plan review" in " ".join(run("review", "a.yaml").out.split())
    ran = run("review", "b.yaml", "--jurisdiction", "nec-2020", "--date", "2024-03-14", "--stage", "plan_review")
    assert (ran.status, ran.err) == (3, "")
    assert "not the file, which says nothing of it." in " ".join(ran.out.split())


def test_no_option_no_notice_about_one(run: Run, site: Site) -> None:
    site()
    assert "was used" not in run("review", "site.yaml").out


@pytest.mark.parametrize(
    ("options", "sentence", "remedy"),
    [
        (("--jurisdiction", "nec-2022"), "There is no jurisdiction profile nec-2022.", "Nearest valid name: nec-20"),
        (("--jurisdiction", ""), "--jurisdiction names no profile.", "Give the id of a profile."),
        (("--date", "1999-01-01"), "On 1999-01-01 nothing was adopted yet", "Give a date from 2020-01-01 on"),
    ],
)
def test_options_that_lead_nowhere(options: tuple[str, ...], sentence: str, remedy: str, run: Run, site: Site) -> None:
    site()
    ran = run("review", "site.yaml", *options)
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err.startswith(sentence)
    assert remedy in ran.err


def test_a_document_without_a_pack_is_told_with_the_place_in_the_profile(run: Run, site: Site, tmp_path: Path) -> None:
    document = '{document: NFPA 77, edition: "2020", from: "2020-01-01", adopted_by: a rule}'
    profile = f"profile: cove\ntitle: Cove\nevent: permit_application\ndocuments: [{document}]\n"
    (tmp_path / "cove.yaml").write_text(profile, encoding="utf-8")
    site("nec-2020", "cove")
    ran = run("review", "site.yaml")
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err.startswith("There is no rule pack of NFPA 77.\n  at cove.yaml:4:13\n")
    assert "Nearest valid name: NFPA 70" in ran.err


# --- doing nothing is no success -------------------------------------------------------------------------------------


def test_nothing_to_look_at_is_2_with_a_sentence(run: Run, tmp_path: Path) -> None:
    (tmp_path / "site.yaml").write_text(NOTHING_THERE, encoding="utf-8")
    ran = run("review", "site.yaml")
    assert ran.status == USAGE
    assert ran.err.startswith(
        "No rule in force applies to what site.yaml shows, so nothing was looked at.\n  Check that"
    )
    assert "No rule in force applies to this site, so nothing was looked at." in ran.out
    assert run("review", "site.yaml", "--fail-on", "correction").status == USAGE


# --- exit status and what is listed ----------------------------------------------------------------------------------


def test_fail_on_correction_turns_3_into_0_only(run: Run, site: Site) -> None:
    site(name="open.yaml")
    site(*BONDED, name="wrong.yaml")
    assert run("review", "open.yaml", "--fail-on", "open").status == 3
    assert run("review", "open.yaml", "--fail-on", "correction").status == 0
    assert run("review", "wrong.yaml", "--fail-on", "correction").status == 1
    assert run("review", "missing.yaml", "--fail-on", "correction").status == USAGE


def test_everything_is_listed_on_request_only(run: Run, site: Site) -> None:
    site()
    assert "\nDoes not apply\n" in run("review", "site.yaml", "--all").out
    assert "\nDoes not apply\n" not in run("review", "site.yaml").out


# --- JSON ------------------------------------------------------------------------------------------------------------


def test_json_of_one_site_is_one_object_and_nothing_else(run: Run, site: Site) -> None:
    site()
    ran = run("review", "site.yaml", "--format", "json")
    assert (ran.status, ran.err) == (3, "")
    assert json.loads(ran.out)["site"]["name"] == "Tern Cove"
    assert ran.out.endswith("}\n")


def test_json_of_several_sites_is_one_list_of_those_that_could_be_read(run: Run, site: Site) -> None:
    site(name="a.yaml")
    site("Tern Cove", "Heron Point", name="b.yaml")
    ran = run("review", "a.yaml", "missing.yaml", "b.yaml", "--format", "json")
    assert [each["site"]["name"] for each in json.loads(ran.out)] == ["Tern Cove", "Heron Point"]
    assert ran.status == USAGE
    assert ran.err.startswith("There is no file missing.yaml.")


@pytest.mark.parametrize(("files", "out"), [(("missing.yaml",), ""), (("missing.yaml", "gone.yaml"), "[]\n")])
def test_json_where_nothing_could_be_read(files: tuple[str, ...], out: str, run: Run) -> None:
    ran = run("review", *files, "--format", "json")
    assert (ran.status, ran.out) == (USAGE, out)


def test_json_is_the_same_bytes_each_time() -> None:
    first, second = (run_command("review", EXAMPLE, "--format", "json") for _ in range(2))
    assert first == second
    assert json.loads(first.out)["totals"]["correction"] > 0
