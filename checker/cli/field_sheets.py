"""The command ``field-sheet``."""

from __future__ import annotations

from pathlib import Path

from checker.cli import console
from checker.cli.site_files import site_file
from checker.report.exit_status import COULD_NOT_RUN, SETTLED
from checker.report.field_sheet import field_sheet_html, field_sheet_text
from checker.tasks.gathering.library import Library
from checker.tasks.questions.sheet import field_sheet
from checker.tasks.reviewing import Overrides, job_of
from checker.values.problems import Unreadable


def print_field_sheet(site: Path, overrides: Overrides, *, as_page: bool) -> int:
    """Print the sheet of one site: 0, or 2 where the site cannot be read."""
    try:
        sheet = field_sheet(job_of(site_file(site), Library.shipped(), overrides))
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    console.result(field_sheet_html(sheet) if as_page else field_sheet_text(sheet))
    return SETTLED
