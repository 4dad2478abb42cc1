"""Environments that hold the project and what it declares that it needs, and nothing else.

Made without a registry: the distributions the project declares are linked from the environment the tests run in.
"""

import os
import subprocess
import sys
import venv
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from importlib.metadata import Distribution, distribution
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name


@dataclass(frozen=True, slots=True)
class EmptyEnvironment:
    """A virtual environment below `home`, and an empty folder to run it in."""

    home: Path

    @property
    def programs(self) -> Path:
        return self.home / "venv" / "bin"

    @property
    def folder(self) -> Path:
        return self.home / "empty"

    def run(self, program: str, *arguments: str) -> subprocess.CompletedProcess[str]:
        """Run a program of the environment in the empty folder, with nothing of this process's surroundings."""
        surroundings = {
            "HOME": str(self.home),
            "LANG": "C.UTF-8",
            "PATH": os.defpath,
            "PYTHONDONTWRITEBYTECODE": "1",
        }
        return subprocess.run(
            [self.programs / program, *arguments],
            cwd=self.folder,
            env=surroundings,
            capture_output=True,
            encoding="utf-8",
            stdin=subprocess.DEVNULL,
            timeout=120,
            check=False,
        )

    def python(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        return self.run("python", *arguments)


def make_environment(home: Path, wheel: Path, requirements: Iterable[str]) -> EmptyEnvironment:
    """A fresh environment below `home` with `wheel` installed and `requirements` at hand."""
    made = EmptyEnvironment(home)
    made.folder.mkdir(parents=True)
    venv.create(home / "venv", with_pip=False, symlinks=True)
    needed = home / "needed"
    needed.mkdir()
    for found in needed_distributions(requirements):
        _link(found, needed)
    (_site_packages(made) / "zz_needed.pth").write_text(f"{needed}\n", encoding="utf-8")
    _install(made, wheel)
    return made


def needed_distributions(requirements: Iterable[str]) -> list[Distribution]:
    """The distributions that `requirements` lead to, each once, as installed here."""
    waiting = [Requirement(text) for text in requirements]
    found: dict[str, Distribution] = {}
    while waiting:
        requirement = waiting.pop()
        name = canonicalize_name(requirement.name)
        if name not in found:
            found[name] = distribution(name)
            waiting.extend(_needs(found[name], requirement.extras))
    return list(found.values())


def _needs(found: Distribution, extras: Iterable[str]) -> Iterator[Requirement]:
    for text in found.requires or []:
        requirement = Requirement(text)
        marker = requirement.marker
        if marker is None or any(marker.evaluate({"extra": extra}) for extra in ("", *extras)):
            yield requirement


def _link(found: Distribution, folder: Path) -> None:
    assert found.files is not None, f"{found.name} does not say which files it has"
    for name in {file.parts[0] for file in found.files} - {"..", "__pycache__"}:
        (folder / name).symlink_to(Path(str(found.locate_file(name))))


def _site_packages(environment: EmptyEnvironment) -> Path:
    asked = environment.python("-c", "import sysconfig; print(sysconfig.get_path('purelib'))")
    assert asked.returncode == 0, asked.stderr
    return Path(asked.stdout.strip())


def _install(environment: EmptyEnvironment, wheel: Path) -> None:
    pip = [sys.executable, "-m", "pip", "--python", str(environment.programs / "python")]
    subprocess.run(
        [*pip, "install", "--quiet", "--no-deps", "--no-index", "--no-compile", str(wheel)],
        stdin=subprocess.DEVNULL,
        timeout=120,
        check=True,
    )
