"""The checker for other programs: one call reviews one site, with the rules in force for it, as the command line does.

>>> from checker import review
>>> from checker.files.folders import data_folder
>>> found = review(data_folder("fixtures") / "heron-cottage" / "site.yaml")
>>> found.in_force.date.isoformat()
'2023-05-02'
>>> [finding.rule for finding in found.findings if finding.outcome is Outcome.CORRECTION]
[]
>>> review("no-such-site.yaml")
Traceback (most recent call last):
    ...
checker.values.problems.Unreadable: There is no file no-such-site.yaml. Check the name.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

from checker.catalog.model import Stage
from checker.files.folders import regular_file
from checker.findings.finding import Finding, Review
from checker.findings.judging.outcomes import Outcome
from checker.findings.review import Progress
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, review_file
from checker.values.problems import Problem, Unreadable

__all__ = ["Finding", "Library", "Outcome", "Problem", "Review", "Stage", "Unreadable", "review"]


def review(
    site: str | Path,
    *,
    jurisdiction: str | None = None,
    on: date | None = None,
    stage: Stage | None = None,
    folder: str | Path | None = None,
    library: Library | None = None,
    progress: Progress | None = None,
) -> Review:
    """Review one site file under the rules in force for it.

    ``jurisdiction`` (id of a profile), ``on`` (the date that fixes the rules) and ``stage`` take the place of what the
    file says, and the review tells so. ``folder`` is that of the town, where its profile, layers and packs are looked
    for first; without it they are looked for in the folder of the site and those above. ``library`` holds the packs and
    profiles of the program, read once for any number of sites with ``Library.shipped()``; without it they are read
    anew. ``progress`` is called with how many findings are judged and how many there will be.

    Positions are told from the folder in which the program runs, where the file lies below it and is named so.
    Nothing is printed and nothing is asked of the network. Raises Unreadable with every problem that stands in the way.
    """
    path = Path(site)
    town = None if folder is None else Path(folder)
    regular_file(path, path.as_posix())
    return review_file(path, library or Library.shipped(), Overrides(jurisdiction, on, stage, folder=town), progress)
