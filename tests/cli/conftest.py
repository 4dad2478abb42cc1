"""What the tests of the command line share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from checker.cli.main import main
from checker.tasks.gathering.library import Library
from tests.cli.bad_sites import BASE
from tests.cli.running import Ran

Run = Callable[..., Ran]


@pytest.fixture(scope="session")
def library() -> Library:
    return Library.shipped()


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path, library: Library) -> Run:
    """Runs one command in this process and in an empty folder; the packs of the program are read once for all tests."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(Library, "shipped", staticmethod(lambda: library))

    def one(*arguments: str) -> Ran:
        capsys.readouterr()
        status = main(list(arguments))
        printed = capsys.readouterr()
        return Ran(status, printed.out, printed.err)

    return one


@pytest.fixture
def site(tmp_path: Path) -> Callable[..., Path]:
    """Writes a site file into the empty folder: the small one, or with one piece of text in the place of another."""

    def write(old: str = "", new: str = "", name: str = "site.yaml") -> Path:
        assert old in BASE
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(BASE.replace(old, new, 1) if old else BASE, encoding="utf-8")
        return path

    return write
