"""A profile on a date: which edition of which document is in force, from which day, by whom."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from checker.files.folders import data_folder
from checker.rules.in_force.rules import rules_in_force
from checker.rules.model.pack import Pack
from checker.rules.model.profile import Profile
from checker.rules.named_files import find_profile
from checker.rules.profile import read_profile
from checker.values.problems import Unreadable
from tests.rules.packs import DATA, EXAMPLE, PRACTICE, read

TERN_COVE = DATA / "profile.yaml"


@pytest.fixture(scope="module")
def profile() -> Profile:
    return read_profile(TERN_COVE, "profile.yaml")


@pytest.fixture(scope="module")
def packs() -> tuple[Pack, ...]:
    return (read(PRACTICE), read(EXAMPLE))


def test_profile_as_written(profile: Profile) -> None:
    assert (profile.id, profile.event, profile.file) == ("tern-cove", "permit_application", "profile.yaml")
    assert [(each.edition, each.start) for each in profile.documents] == [
        ("2017", date(2019, 7, 1)),
        ("2020", date(2022, 7, 1)),
    ]


@pytest.mark.parametrize(
    ("on", "edition"),
    [
        (date(2019, 7, 1), "2017"),
        (date(2022, 6, 30), "2017"),
        (date(2022, 7, 1), "2020"),
        (date(2040, 1, 1), "2020"),
    ],
)
def test_edition_changes_on_its_day(profile: Profile, packs: tuple[Pack, ...], on: date, edition: str) -> None:
    found = rules_in_force(profile, on, packs)
    assert [(each.pack, each.edition) for each in found.packs] == [
        ("example-code", edition),
        ("example-practice", None),
    ]
    assert {each.edition for each in found.rules} == {edition, None}
    assert found.date == on


def test_authority_is_who_adopted_it(profile: Profile, packs: tuple[Pack, ...]) -> None:
    found = rules_in_force(profile, date(2026, 3, 14), packs)
    code, practice = found.packs
    assert (code.adopted_by, code.since) == ("order 9 of Tern Cove", date(2022, 7, 1))
    assert (practice.adopted_by, practice.since) == ("", None)
    assert {each.authority for each in found.rules if each.edition} == {"order 9 of Tern Cove"}


def test_order_of_the_lines_does_not_matter(profile: Profile, packs: tuple[Pack, ...]) -> None:
    turned = replace(profile, documents=profile.documents[::-1])
    assert (
        rules_in_force(turned, date(2023, 1, 1), packs).packs == rules_in_force(profile, date(2023, 1, 1), packs).packs
    )


def test_before_every_adoption(profile: Profile, packs: tuple[Pack, ...]) -> None:
    with pytest.raises(Unreadable) as caught:
        rules_in_force(profile, date(2019, 6, 30), packs)
    (problem,) = caught.value.problems
    assert problem.sentence == "On 2019-06-30 nothing was adopted yet in Tern Cove."
    assert "2019-07-01" in problem.remedy
    assert "2022-07-01" in problem.remedy
    assert str(problem.at) == "profile.yaml:6:5"


def test_document_without_a_pack(profile: Profile, packs: tuple[Pack, ...]) -> None:
    with pytest.raises(Unreadable) as caught:
        rules_in_force(profile, date(2026, 3, 14), packs[:1])
    (problem,) = caught.value.problems
    assert problem.sentence == "There is no rule pack of Example Code."
    assert str(problem.at) == "profile.yaml:7:5"


def test_edition_that_the_pack_does_not_have(tmp_path: Path, packs: tuple[Pack, ...]) -> None:
    text = TERN_COVE.read_text(encoding="utf-8").replace('"2020", from', '"2021", from')
    (tmp_path / "profile.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(Unreadable) as caught:
        rules_in_force(read_profile(tmp_path / "profile.yaml"), date(2026, 3, 14), packs)
    (problem,) = caught.value.problems
    assert problem.sentence == "There is no edition 2021 of Example Code."
    assert problem.near == "2020"
    assert "2017, 2020 and 2023" in problem.remedy


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("event: permit_application", "event: permit_aplication", "`permit_aplication` is no word for `event`."),
        ('"2022-07-01"', '"2022-07-32"', "from: 2022-07-32 is no day of the calendar."),
        ('"2022-07-01"', '"2019-07-01"', "Example Code is adopted twice from 2019-07-01."),
        ("title: Tern Cove\n", "", "There is no `title` in this profile."),
        ("adopted_by: order 9 of Tern Cove", "adoptd_by: order 9", "`adoptd_by` is no word of an adoption."),
        ("profile: tern-cove", "profile: Tern Cove", "`Tern Cove` cannot be used as a name."),
    ],
)
def test_bad_profile(old: str, new: str, told: str, tmp_path: Path) -> None:
    text = TERN_COVE.read_text(encoding="utf-8")
    assert text.count(old) == 1
    (tmp_path / "profile.yaml").write_text(text.replace(old, new), encoding="utf-8")
    with pytest.raises(Unreadable) as caught:
        read_profile(tmp_path / "profile.yaml")
    (problem,) = caught.value.problems
    assert problem.sentence == told
    assert problem.at is not None


def test_profile_is_found_by_its_name_in_the_first_folder_that_has_it(tmp_path: Path) -> None:
    near, far = tmp_path / "near", tmp_path / "far"
    for folder, name in ((near, "site-profile.yaml"), (far, "tern-cove.yaml")):
        folder.mkdir()
        (folder / name).write_text(TERN_COVE.read_text(encoding="utf-8"), encoding="utf-8")
    (near / "site.yaml").write_text("site: {name: not a profile}\n", encoding="utf-8")
    assert find_profile("tern-cove", [near, far]) == near / "site-profile.yaml"
    assert find_profile("tern-cove", [tmp_path, far]) == far / "tern-cove.yaml"


def test_profile_that_is_not_there(tmp_path: Path) -> None:
    (tmp_path / "profile.yaml").write_text(TERN_COVE.read_text(encoding="utf-8"), encoding="utf-8")
    with pytest.raises(Unreadable) as caught:
        find_profile("turn-cove", [tmp_path, tmp_path / "missing"])
    (problem,) = caught.value.problems
    assert problem.sentence == "There is no jurisdiction profile turn-cove."
    assert problem.near == "tern-cove"


def test_no_profile_anywhere(tmp_path: Path) -> None:
    with pytest.raises(Unreadable, match="beside the site file"):
        find_profile("tern-cove", [tmp_path])


def test_what_ships_is_called_a_place_wherever_reports_say_in_or_at_it() -> None:
    """An edition is no place: sentences say what is in force at the title of a profile, and on what day nothing was
    adopted in it.
    """
    for path in sorted((data_folder("rulesets") / "profiles").glob("*.yaml")):
        assert read_profile(path).title.startswith("a place without ")
