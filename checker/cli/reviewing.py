"""The command ``review``: every file reported, one bad file never hides the others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from checker.api import review
from checker.cli import console
from checker.cli.outputs import Format, Output, output
from checker.cli.site_files import site_files
from checker.report.exit_status import COULD_NOT_RUN, Gate, applies_nothing, exit_status
from checker.tasks.comparing.earlier import NO_EARLIER, Earlier, read_earlier
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides
from checker.values.problems import Problem, Unreadable

if TYPE_CHECKING:
    from checker.findings.finding import Review


@dataclass(frozen=True, slots=True)
class Asked:
    """What the command line asked for."""

    sites: tuple[Path, ...]
    overrides: Overrides
    form: Format
    everything: bool
    fail_on_open: bool
    baseline: Path | None = None


def review_files(asked: Asked) -> int:
    """Review and print every site; the exit status is that of the worst."""
    try:
        library = Library.shipped()
        gate = Gate(asked.fail_on_open, _earlier(asked.baseline))
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    files, missing = _files(asked.sites)
    if asked.form is Format.HTML and len(files) > 1:
        console.problems([_ONE_PAGE])
        return COULD_NOT_RUN
    printed = output(asked.form, gate, everything=asked.everything, several=len(files) + len(missing) > 1)
    for file, problems in missing:
        printed.unread(file, problems)
    reviews = _reviewed(files, library, asked.overrides, printed)
    printed.end()
    return exit_status(reviews, unreadable=bool(missing) or len(reviews) < len(files), gate=gate)


_ONE_PAGE = Problem("A page shows one site, and several are named.", remedy="Run the command for each of them.")


def _earlier(baseline: Path | None) -> Earlier:
    return NO_EARLIER if baseline is None else read_earlier(baseline)


def _files(sites: Sequence[Path]) -> tuple[list[Path], list[tuple[str, tuple[Problem, ...]]]]:
    """Each site file once, in the order asked for, and what could not be found, told at once."""
    files: dict[Path, None] = {}
    missing: list[tuple[str, tuple[Problem, ...]]] = []
    for path in sites:
        try:
            files |= dict.fromkeys(site_files(path))
        except Unreadable as error:
            console.problems(error.problems)
            missing.append((path.as_posix(), error.problems))
    return list(files), missing


def _reviewed(files: Sequence[Path], library: Library, overrides: Overrides, printed: Output) -> list[Review]:
    reviews: list[Review] = []
    progress = console.Progress()
    for place, path in enumerate(files, start=1):
        here = path.as_posix() if len(files) == 1 else f"{place} of {len(files)}, {path.as_posix()}"

        def tell(done: int, planned: int, here: str = here) -> None:
            progress.tell(f"Reviewing {here}: {done} of {planned} findings")

        progress.tell(f"Reading {here}")
        try:
            found = review(
                path,
                jurisdiction=overrides.jurisdiction,
                on=overrides.date,
                stage=overrides.stage,
                folder=overrides.folder,
                library=library,
                progress=tell,
            )
        except Unreadable as error:
            progress.clear()
            console.problems(error.problems)
            printed.unread(path.as_posix(), error.problems)
            continue
        progress.clear()
        printed.review(found)
        if applies_nothing(found):
            console.problems([_nothing_applies(found)])
        reviews.append(found)
    return reviews


def _nothing_applies(found: Review) -> Problem:
    sentence = f"No rule in force applies to what {found.file} shows, so nothing was looked at."
    remedy = "Check that equipment: holds what is to be installed, and that the jurisdiction is the right one."
    return Problem(sentence, remedy=remedy)
