"""The example site with everything that a review of it needs."""

from __future__ import annotations

from pathlib import Path

from checker.findings.review import Job
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of

ROOT = Path(__file__).resolve().parents[1]
SITE_FILE = ROOT / "fixtures" / "harrow-lane" / "site.yaml"


def example_job() -> Job:
    """The review of the example, ready to be run: in the edition that its own profile has in force."""
    return job_of(SITE_FILE, Library.shipped(), Overrides())
