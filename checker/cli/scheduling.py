"""The command ``schedule``: what each piece must be."""

from __future__ import annotations

from pathlib import Path

from checker.cli import console
from checker.cli.outputs import terminal
from checker.cli.schedule_format import ScheduleFormat
from checker.cli.site_files import site_file
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides
from checker.tasks.scheduling.model import Schedule
from checker.tasks.scheduling.schedule import schedule_of
from checker.values.problems import Unreadable

SHOWN, COULD_NOT_RUN = 0, 2


def print_schedule(path: Path, form: ScheduleFormat, overrides: Overrides) -> int:
    """Print what each piece of a site must be."""
    progress = console.Progress()
    try:
        found = schedule_of(
            site_file(path),
            Library.shipped(),
            overrides,
            lambda done, of: progress.tell(f"{done} of {of} facts and groups of facts tried"),
        )
    except Unreadable as error:
        progress.clear()
        console.problems(error.problems)
        return COULD_NOT_RUN
    progress.clear()
    console.result(_printed(found, form))
    return SHOWN


def _printed(schedule: Schedule, form: ScheduleFormat) -> str:
    match form:
        case ScheduleFormat.TEXT:
            from checker.report.schedule.text import schedule_text

            return schedule_text(schedule, terminal())
        case ScheduleFormat.JSON:
            from checker.report.schedule.data import schedule_json

            return schedule_json(schedule)
        case ScheduleFormat.HTML:
            from checker.report.schedule.page import schedule_html

            return schedule_html(schedule)
