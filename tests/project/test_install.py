"""What is built holds all that a review needs, and works in an empty environment in an empty folder."""

import re
import tarfile
import zipfile

import pytest

from tests.project.installations import Built, Installed
from tests.project.project_tree import DATA, ROOT, files_below

# A review that ran; 2 and 4 say that it could not, or that a rule broke.
RAN = (0, 1, 3)
# In the wheel's table of contents.
CARRIED = "checker/_data/"
# The two ways to start the program.
BEGINNINGS = (("python", "-m", "checker"), ("standby-checker",))


@pytest.fixture(scope="session")
def wheel_names(built: Built) -> frozenset[str]:
    with zipfile.ZipFile(built.wheel) as archive:
        return frozenset(name for name in archive.namelist() if not name.endswith("/"))


@pytest.fixture(scope="session")
def sdist_names(built: Built) -> frozenset[str]:
    with tarfile.open(built.sdist) as archive:
        return frozenset(_without_first(member.name) for member in archive.getmembers() if member.isfile())


def _without_first(name: str) -> str:
    return name.partition("/")[2]


@pytest.mark.parametrize("folder", DATA)
def test_wheel_carries_every_file_of(folder: str, wheel_names: frozenset[str]) -> None:
    wanted = {CARRIED + name for name in files_below(ROOT / folder)}
    assert wanted, f"{folder}/ is empty"
    assert wanted <= wheel_names, sorted(wanted - wheel_names)


def test_wheel_carries_no_other_data(wheel_names: frozenset[str]) -> None:
    allowed = tuple(f"{CARRIED}{folder}/" for folder in DATA)
    assert not [name for name in wheel_names if name.startswith(CARRIED) and not name.startswith(allowed)]


def test_wheel_carries_the_package_its_licence_and_nothing_else(wheel_names: frozenset[str]) -> None:
    wanted = {name for name in files_below(ROOT / "checker") if not name.startswith(CARRIED)}
    others = {name for name in wheel_names - wanted if not name.startswith(CARRIED)}
    assert wanted <= wheel_names, sorted(wanted - wheel_names)
    assert "checker/py.typed" in wheel_names
    assert {re.sub(r"^[^/]*\.dist-info/", "", name) for name in others} == {
        "METADATA",
        "RECORD",
        "WHEEL",
        "entry_points.txt",
        "licenses/LICENSE",
    }


@pytest.mark.parametrize("folder", [".ci", "checker", "fixtures", "rulesets", "schemas", "shared", "tests"])
def test_source_archive_carries_every_file_of(folder: str, sdist_names: frozenset[str]) -> None:
    wanted = files_below(ROOT / folder)
    assert wanted, f"{folder}/ is empty"
    assert wanted <= sdist_names, sorted(wanted - sdist_names)


def test_source_archive_carries_what_lies_beside_the_folders(sdist_names: frozenset[str]) -> None:
    wanted = {"CHANGELOG.md", "DEVELOPERS.md", "LICENSE", "MAINTAINERS.md", "README.md", "pyproject.toml"}
    assert wanted <= sdist_names, sorted(wanted - sdist_names)


def test_package_is_the_one_meant(installed: Installed) -> None:
    asked = installed.environment.python("-c", "import checker; print(*checker.__path__)")
    assert (asked.stdout.splitlines(), asked.stderr) == ([str(installed.package)], "")


def test_version_is_that_of_the_package(installed: Installed) -> None:
    question = "import checker, importlib.metadata as m; print(checker.__version__, m.version('standby-checker'))"
    asked = installed.environment.python("-c", question)
    package, metadata = asked.stdout.split()
    assert package == metadata


@pytest.mark.parametrize("beginning", BEGINNINGS, ids=" ".join)
def test_help(installed: Installed, beginning: tuple[str, ...]) -> None:
    asked = installed.environment.run(*beginning, "--help")
    assert (asked.returncode, asked.stderr) == (0, "")
    assert "review" in asked.stdout


@pytest.mark.parametrize("beginning", BEGINNINGS, ids=" ".join)
def test_review_of_the_example_runs_and_leaves_nothing_behind(installed: Installed, beginning: tuple[str, ...]) -> None:
    asked = installed.environment.run(*beginning, "review", str(installed.example))
    assert (asked.returncode in RAN, asked.stderr) == (True, "")
    assert asked.stdout.strip()
    assert not list(installed.environment.folder.iterdir())


def test_review_of_the_example_ends_alike_from_wheel_and_tree(from_wheel: Installed, from_tree: Installed) -> None:
    ends = [
        each.environment.python("-m", "checker", "review", str(each.example)).returncode
        for each in (from_wheel, from_tree)
    ]
    assert ends[0] == ends[1]
    assert ends[0] in RAN
