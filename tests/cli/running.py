"""Running the command line as a user does, in a process of its own, or in this one for speed."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from tests.project.project_tree import ROOT

USAGE, LINT_WRONG = 2, 1
EXAMPLE = "fixtures/harrow-lane/site.yaml"


@dataclass(frozen=True, slots=True)
class Ran:
    """What came of one command."""

    status: int
    out: str
    err: str


def run_command(
    *arguments: str,
    folder: Path = ROOT,
    environment: Mapping[str, str] | None = None,
    out: int | IO[bytes] = subprocess.PIPE,
) -> Ran:
    """One command in a process of its own; its output is read as UTF-8 whatever the environment says."""
    done = subprocess.run(
        [sys.executable, "-m", "checker", *arguments],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), **(environment or {})},
        stdin=subprocess.DEVNULL,
        stdout=out,
        stderr=subprocess.PIPE,
        timeout=120,
        check=False,
    )
    return Ran(done.returncode, (done.stdout or b"").decode("utf-8"), done.stderr.decode("utf-8"))
