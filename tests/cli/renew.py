"""Writes the golden outputs of the commands: ``python -m tests.cli.renew``; read the difference."""

from __future__ import annotations

import contextlib
import io
import os
import tempfile
from collections.abc import Sequence
from pathlib import Path

from checker.cli.main import main
from checker.tasks.gathering.library import Library
from tests.cli.sheets_runs import KEPT
from tests.cli.town_runs import GOLDEN, RUNS, copy_town, small_library


def renew() -> None:
    """Run every command line and keep what it prints: sheets of what is shipped, rules of a town."""
    for name, arguments in KEPT.items():
        _keep(name, arguments)
    library = small_library()
    Library.shipped = staticmethod(lambda: library)  # type: ignore[method-assign]
    with tempfile.TemporaryDirectory() as folder:
        copy_town(Path(folder))
        os.chdir(folder)
        for name, arguments in RUNS.items():
            _keep(f"{name}.txt", arguments)


def _keep(name: str, arguments: Sequence[str]) -> None:
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        main(list(arguments))
    (GOLDEN / name).write_text(printed.getvalue(), encoding="utf-8", newline="\n")


def renew_sheets() -> None:
    """The same of the sheets of two fixtures, with the packs of the program."""
    for name, arguments in KEPT.items():
        printed = io.StringIO()
        with contextlib.redirect_stdout(printed):
            main(list(arguments))
        (GOLDEN / name).write_text(printed.getvalue(), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    renew_sheets()
    renew()
