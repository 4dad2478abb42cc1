"""The command ``schedule``: what each piece must be."""

from __future__ import annotations

from pathlib import Path

from checker.cli import console
from checker.cli.outputs import terminal
from checker.cli.site_files import site_file
from checker.tasks.reviewing import Library, Overrides
from checker.tasks.scheduling.schedule import schedule_of
from checker.values.problems import Unreadable

SHOWN, COULD_NOT_RUN = 0, 2


def print_schedule(path: Path, overrides: Overrides, *, as_json: bool) -> int:
    """Print what each piece of a site must be."""
    progress = console.Progress()
    try:
        found = schedule_of(
            site_file(path),
            Library.shipped(),
            overrides,
            lambda done, of: progress.tell(f"{done} of {of} facts tried"),
        )
    except Unreadable as error:
        progress.clear()
        console.problems(error.problems)
        return COULD_NOT_RUN
    progress.clear()
    if as_json:
        from checker.report.schedule_data import schedule_json

        console.result(schedule_json(found))
    else:
        from checker.report.schedule_text import schedule_text

        console.result(schedule_text(found, terminal()))
    return SHOWN
