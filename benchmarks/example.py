"""The example site with everything that a review of it needs."""

from __future__ import annotations

from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Stage
from checker.files.cache import NO_CACHE
from checker.files.folders import data_folder
from checker.findings.review import Job
from checker.rules.in_force.rules import rules_in_force
from checker.rules.named_files import find_profile
from checker.rules.profile import read_profile
from checker.site.model import SITE
from checker.site.read import read_site
from checker.tasks.gathering.packs import read_packs
from checker.tasks.reviewing import EVENT_DATES
from checker.values.dates import date_of

ROOT = Path(__file__).resolve().parents[1]
SITE_FILE = ROOT / "fixtures" / "harrow-lane" / "site.yaml"


def example_job() -> Job:
    """The review of the example, ready to be run: in the edition that its own profile has in force."""
    catalog, rulesets = shipped_catalog(), data_folder("rulesets")
    site = read_site(SITE_FILE, catalog)
    stated = site.things[SITE].facts
    profile = read_profile(
        find_profile(str(stated["jurisdiction"].value.atom), (SITE_FILE.parent, rulesets / "profiles"))
    )
    day = stated[f"permit.{EVENT_DATES[profile.event]}"].value.number
    if day is None:
        raise LookupError("the example does not say on which date its rules are fixed")
    rules = rules_in_force(profile, date_of(day), read_packs(rulesets, catalog, NO_CACHE))
    return Job(site, catalog, rules, Stage.PLAN_REVIEW)
