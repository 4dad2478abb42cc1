"""The facts of a site that a test writes, under the model code of a year."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from checker.facts.view import View
from checker.findings.review import view_of_job
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of
from checker.values.possible import Possible


def view_under(profile: str, text: str, folder: Path, library: Library) -> View:
    """The facts of the site, written into the folder, where this profile is in force."""
    path = folder / "site.yaml"
    path.write_text(text, encoding="utf-8")
    return view_of_job(job_of(path, library, Overrides(profile, date(2026, 3, 14), None)))


def fact_of(view: View, tag: str, name: str) -> Possible:
    """What is possible for a fact of a piece."""
    return view.read(view.ground.drawing.pieces[tag], name)
