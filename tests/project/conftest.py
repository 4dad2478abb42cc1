"""What is built once for all tests of the project as a whole."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.project.empty_environment import make_environment
from tests.project.installations import Built, Installed
from tests.project.project_tree import EXAMPLE, ROOT, project_table


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    folder = tmp_path_factory.mktemp("built")
    _run_here("-m", "build", "--quiet", "--no-isolation", "--outdir", str(folder))
    return Built(sdist=_only(folder, "*.tar.gz"), wheel=_only(folder, "*.whl"))


@pytest.fixture(scope="session")
def from_wheel(built: Built, tmp_path_factory: pytest.TempPathFactory) -> Installed:
    home = tmp_path_factory.mktemp("wheel")
    environment = make_environment(home, built.wheel, project_table()["project"]["dependencies"])
    package = _only(home, "venv/lib/python*/site-packages/checker")
    return Installed(environment, package, package / "_data" / EXAMPLE)


@pytest.fixture(scope="session")
def from_tree(tmp_path_factory: pytest.TempPathFactory) -> Installed:
    """The editable installation, by the same hook that pip calls for `pip install -e`."""
    folder = tmp_path_factory.mktemp("editable")
    _run_here("-c", f"from hatchling.build import build_editable; build_editable({str(folder)!r})")
    environment = make_environment(folder / "home", _only(folder, "*.whl"), project_table()["project"]["dependencies"])
    return Installed(environment, ROOT / "checker", ROOT / EXAMPLE)


@pytest.fixture(params=["from_wheel", "from_tree"])
def installed(request: pytest.FixtureRequest) -> Installed:
    found = request.getfixturevalue(request.param)
    assert isinstance(found, Installed)
    return found


def _run_here(*arguments: str) -> None:
    subprocess.run(
        [sys.executable, *arguments],
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        timeout=300,
        check=True,
    )


def _only(folder: Path, pattern: str) -> Path:
    (found,) = folder.glob(pattern)
    return found
