"""The program's own data, and the files that a file may name."""

import os
from pathlib import Path

import pytest

import checker.files
from checker.files.folders import DataFolder, data_folder, inside
from checker.files.limits import Limits
from checker.files.yaml.strict_yaml import read_file
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable

AT = Position("site.yaml", 7, 9)


def _refused_inside(root: Path, wanted: str) -> Problem:
    with pytest.raises(Unreadable) as refused:
        inside(root, wanted, AT)
    (problem,) = refused.value.problems
    assert problem.at == AT
    assert problem.remedy
    return problem


@pytest.fixture
def root(tmp_path: Path) -> Path:
    folder = tmp_path / "tern-cove"
    (folder / "sheets").mkdir(parents=True)
    (folder / ".hidden").mkdir()
    for name in ("site.yaml", "sheets/set-22kw.yaml", "sheets/set-26kw.yaml", ".hidden/set-22kv.yaml"):
        (folder / name).write_text("a: 1\n", encoding="utf-8")
    (tmp_path / "outside.yaml").write_text("b: 2\n", encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        ("sheets/set-22kw.yaml", "sheets/set-22kw.yaml"),
        ("./site.yaml", "site.yaml"),
        ("sheets/../site.yaml", "site.yaml"),
        ("sheets//set-22kw.yaml", "sheets/set-22kw.yaml"),
    ],
)
def test_a_file_inside(root: Path, wanted: str, found: str) -> None:
    assert inside(root, wanted) == (root / found).resolve()


@pytest.mark.parametrize("wanted", ["../outside.yaml", "sheets/../../outside.yaml", "..", "../tern-cove-2/x.yaml"])
def test_a_path_out_of_the_folder(root: Path, wanted: str) -> None:
    problem = _refused_inside(root, wanted)
    assert problem.sentence == f"`{wanted}` leads out of the folder of the file."
    assert "Put a copy into the folder" in problem.remedy


def test_a_path_that_leaves_and_comes_back_is_inside(root: Path) -> None:
    assert inside(root, "../tern-cove/site.yaml") == (root / "site.yaml").resolve()


@pytest.mark.parametrize("wanted", ["/etc/hostname", "//x/y", "C:/x.yaml", "c:x.yaml"])
def test_an_absolute_path(root: Path, wanted: str) -> None:
    problem = _refused_inside(root, wanted)
    assert problem.sentence == f"`{wanted}` names a place on one computer."
    assert "from the folder of the file" in problem.remedy


def test_an_absolute_path_into_the_folder(root: Path) -> None:
    assert "names a place on one computer" in _refused_inside(root, str(root / "site.yaml")).sentence


def test_backslashes(root: Path) -> None:
    problem = _refused_inside(root, "sheets\\set-22kw.yaml")
    assert "has a backslash" in problem.sentence
    assert problem.remedy.endswith("sheets/set-22kw.yaml")


@pytest.mark.parametrize("wanted", ["", "  ", "a\0b", "a\nb", "a\x1bb", "a\ud800"])
def test_no_name(root: Path, wanted: str) -> None:
    assert "name of a file is missing or holds signs" in _refused_inside(root, wanted).sentence


@pytest.mark.parametrize("link", ["link.yaml", "sheets/deep.yaml"])
def test_a_link_out_of_the_folder(root: Path, link: str) -> None:
    (root / link).symlink_to(root.parent / "outside.yaml")
    assert "leads out of the folder" in _refused_inside(root, link).sentence


def test_a_linked_folder_out_of_the_folder(root: Path) -> None:
    (root / "linked").symlink_to(root.parent)
    assert "leads out of the folder" in _refused_inside(root, "linked/outside.yaml").sentence


def test_a_link_within_the_folder(root: Path) -> None:
    (root / "link.yaml").symlink_to("sheets/set-22kw.yaml")
    assert inside(root, "link.yaml") == (root / "sheets/set-22kw.yaml").resolve()


def test_a_folder_reached_by_a_link_is_a_root_like_any_other(root: Path) -> None:
    link = root.parent / "link"
    link.symlink_to(root)
    assert inside(link, "site.yaml") == (root / "site.yaml").resolve()


def test_a_link_to_itself(root: Path) -> None:
    (root / "loop.yaml").symlink_to("loop.yaml")
    assert "cannot be followed" in _refused_inside(root, "loop.yaml").sentence


@pytest.mark.parametrize(
    ("wanted", "near"),
    [
        ("sheets/set-22kv.yaml", "sheets/set-22kw.yaml"),
        ("sheet/set-26kw.yaml", "sheets/set-26kw.yaml"),
        ("sites.yaml", "site.yaml"),
        ("something/quite/different", None),
    ],
)
def test_a_missing_file(root: Path, wanted: str, near: str | None) -> None:
    problem = _refused_inside(root, wanted)
    assert problem.sentence == f"There is no file `{wanted}` in the folder."
    assert problem.near == near


@pytest.mark.parametrize("wanted", ["x" * 5000, "x/" * 5000 + "x"], ids=["one", "many"])
def test_a_name_longer_than_any(root: Path, wanted: str) -> None:
    assert _refused_inside(root, wanted).sentence.endswith(("cannot be followed to a file.", "in the folder."))


@pytest.mark.parametrize("wanted", ["sheets", "sheets/", "."])
def test_a_folder_instead_of_a_file(root: Path, wanted: str) -> None:
    assert "is a folder, not a file" in _refused_inside(root, wanted).sentence


def test_neither_file_nor_folder(root: Path) -> None:
    os.mkfifo(root / "pipe.yaml")
    assert "is not a regular file" in _refused_inside(root, "pipe.yaml").sentence


def test_a_root_that_is_missing(tmp_path: Path) -> None:
    assert "There is no file" in _refused_inside(tmp_path / "nowhere", "x.yaml").sentence


def test_the_place_may_be_added_later(root: Path) -> None:
    with pytest.raises(Unreadable) as refused:
        inside(root, "../x")
    assert refused.value.problems[0].at is None


# Reading a file by its path


def _refused_file(path: Path, shown_as: str, limits: Limits | None = None) -> Problem:
    with pytest.raises(Unreadable) as refused:
        read_file(path, shown_as, limits or Limits())
    (problem,) = refused.value.problems
    assert problem.remedy
    return problem


def test_reading_a_missing_file(root: Path) -> None:
    problem = _refused_file(root / "sheets/set-22.yaml", "sheets/set-22.yaml")
    assert problem == Problem("There is no file sheets/set-22.yaml.", None, "Check the name.", "sheets/set-22kw.yaml")


def test_reading_from_a_missing_folder(tmp_path: Path) -> None:
    assert _refused_file(tmp_path / "a" / "b.yaml", "a/b.yaml").near is None


def test_reading_a_folder(root: Path) -> None:
    assert _refused_file(root, "tern-cove").sentence == "tern-cove is a folder, not a file."


def test_reading_a_pipe_does_not_wait(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    assert _refused_file(tmp_path / "pipe", "pipe").sentence == "pipe is not a regular file."


def test_reading_a_file_that_may_not_be_read(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise PermissionError

    monkeypatch.setattr(Path, "open", refuse)
    problem = _refused_file(root / "site.yaml", "site.yaml")
    assert problem.sentence == "The file site.yaml cannot be opened."
    assert "may read it" in problem.remedy


def test_reading_no_more_than_the_limit(root: Path) -> None:
    assert "too large: more than 4 bytes" in _refused_file(root / "site.yaml", "site.yaml", Limits(bytes=4)).sentence


def test_a_name_with_a_zero_byte(root: Path) -> None:
    assert "There is no file" in _refused_file(root / "a\0b", "a").sentence


# The program's own data


def test_data_inside_the_installed_package(tmp_path: Path) -> None:
    package = tmp_path / "checker"
    (package / "_data" / "schemas").mkdir(parents=True)
    (tmp_path / "schemas").mkdir()
    assert data_folder("schemas", package) == package / "_data" / "schemas"


def test_data_at_the_top_of_a_checkout(tmp_path: Path) -> None:
    (tmp_path / "schemas").mkdir()
    assert data_folder("schemas", tmp_path / "checker") == tmp_path / "schemas"


def test_data_of_others_is_not_taken_for_that_of_an_installed_package(tmp_path: Path) -> None:
    (tmp_path / "checker" / "_data" / "schemas").mkdir(parents=True)
    (tmp_path / "shared").mkdir()
    with pytest.raises(Unreadable):
        data_folder("shared", tmp_path / "checker")


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("rulesets", "rule packs"),
        ("schemas", "fact catalog"),
        ("shared", "reference tables"),
        ("fixtures", "example sites"),
    ],
)
def test_missing_data(tmp_path: Path, name: DataFolder, words: str) -> None:
    with pytest.raises(Unreadable) as refused:
        data_folder(name, tmp_path / "checker")
    (problem,) = refused.value.problems
    assert words in problem.sentence
    assert "Install the program again" in problem.remedy
    assert problem.at is None


def test_this_checkout_has_its_schemas() -> None:
    top = Path(checker.files.__file__).parents[2]
    assert data_folder("schemas") == top / "schemas"
