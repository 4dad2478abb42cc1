"""A review put together from files: the site, its profile, the packs in force on its date."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Catalog, Stage
from checker.findings.finding import DateTaken, Notice, Review
from checker.findings.review import Job, Progress, review
from checker.rules.compiled import CompiledRules
from checker.rules.in_force.rules import rules_in_force
from checker.rules.layers.own_papers import knowing, papers_of
from checker.rules.model.in_force import RulesInForce
from checker.rules.model.profile import Adoption, Profile
from checker.rules.named_files import find_profile
from checker.rules.wording import EVENT_WORDS
from checker.site.model import SITE, Site
from checker.site.read import jurisdiction_written, site_of
from checker.site.sheets import open_site
from checker.tasks.gathering.events import EVENTS, elected_in, event_date, event_dates, how_to_give, place_of_date
from checker.tasks.gathering.layers import layers_of
from checker.tasks.gathering.library import Library, check_town, folders_of_rules, places_of_packs
from checker.tasks.gathering.packs import packs_in
from checker.tasks.gathering.standing import Standing
from checker.tasks.gathering.topics import read_topics
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable


@dataclass(frozen=True, slots=True)
class Overrides:
    """What the command line says in place of the file; each is told in the report."""

    jurisdiction: str | None = None
    date: date | None = None
    stage: Stage | None = None
    edition: tuple[str, str] | None = None
    """A document and the edition of it that counts whatever the profile adopts."""
    folder: Path | None = None
    """The folder of the town, where its profile, layers and packs are looked for first."""


def review_file(path: Path, library: Library, overrides: Overrides, progress: Progress | None = None) -> Review:
    """Review one site file; raises Unreadable with every problem that stands in the way."""
    return review(job_of(path, library, overrides), progress)


def job_of(path: Path, library: Library, overrides: Overrides) -> Job:
    """Everything that a review of one site file is made of. Of which town the site is tells in whose words it is
    written, also where it is held against the rules of another one: a town may have papers of its own.
    """
    text = open_site(path, _root(path))
    written = jurisdiction_written(text)
    asked = written if overrides.jurisdiction is None else overrides.jurisdiction
    town = _town_named(asked, path.parent, library, overrides)
    own = town if asked == written else _own_town(written, path.parent, library, overrides)
    catalog = _words_of(town, own)
    site = site_of(text, catalog)
    if town is None:
        town = _town_of(site, path.parent, library, overrides)
    rules = _rules(site, town, overrides)
    stage, stage_notices = _stage(site, overrides)
    notices = (*_override_notices(site, overrides), *stage_notices)
    dated = DateTaken(overrides.date is not None, event_date(site, town.profile.event))
    return Job(site, catalog, rules, stage, read_topics(), notices, dated)


def _words_of(*towns: Standing | None) -> Catalog:
    """The fact catalog, with the papers of each town's own."""
    return knowing(shipped_catalog(), (each for town in towns if town is not None for each in papers_of(town.layers)))


def _own_town(written: str | None, folder: Path, library: Library, overrides: Overrides) -> Standing | None:
    """The town that the site names, where it is held against another one. Whatever is wrong with its rules is no
    matter then: they are not asked.
    """
    try:
        return _town_named(written, folder, library, overrides)
    except Unreadable:
        return None


def _town_named(wanted: str | None, folder: Path, library: Library, overrides: Overrides) -> Standing | None:
    """The town of this name; None where none is found so."""
    if not wanted:
        return None
    try:
        check_town(overrides.folder)
        file = find_profile(wanted, folders_of_rules(folder, library, overrides.folder))
    except Unreadable:
        return None  # what is wrong in the site file is told first, and then this
    return _town_in(file, folder, library, overrides)


def _town_of(site: Site, folder: Path, library: Library, overrides: Overrides) -> Standing:
    """The town that the site names. Raises Unreadable with the nearest name."""
    check_town(overrides.folder)
    file = _profile_file(site, folders_of_rules(folder, library, overrides.folder), overrides)
    return _town_in(file, folder, library, overrides)


def _town_in(file: Path, folder: Path, library: Library, overrides: Overrides) -> Standing:
    catalog, folders = shipped_catalog(), folders_of_rules(folder, library, overrides.folder)
    profile = _with_edition(CompiledRules(library.cache).profile(file, catalog), overrides.edition)
    local = packs_in(places_of_packs(folder, file, library), catalog, library.cache, library.packs)
    packs = (*library.packs, *local)
    return Standing(profile, packs, layers_of(profile, folders, packs, catalog, library.cache))


def _rules(site: Site, town: Standing, overrides: Overrides) -> RulesInForce:
    """The rules in force: packs, layers, the dates of all events, and what the applicant elected."""
    on = _date(site, town.profile, overrides)
    dates = dict.fromkeys(EVENTS, on) if overrides.date is not None else dict(event_dates(site))
    return rules_in_force(town.profile, on, town.packs, town.layers, dates, elected_in(site))


def _root(path: Path) -> Path | None:
    """Where positions are told from: the folder in which the command runs, where the file lies below it."""
    return None if path.is_absolute() or ".." in path.parts else Path()


def _profile_file(site: Site, folders: tuple[Path, ...], overrides: Overrides) -> Path:
    wanted = _text(site, "jurisdiction") if overrides.jurisdiction is None else overrides.jurisdiction
    if wanted is None:
        raise Unreadable(
            [
                Problem(
                    "The site file names no jurisdiction, so nobody can say which rules are in force.",
                    _site_position(site),
                    "Write jurisdiction: and the id of a profile under site:, or give --jurisdiction.",
                )
            ]
        )
    if not wanted:
        raise Unreadable([Problem("--jurisdiction names no profile.", remedy="Give the id of a profile.")])
    try:
        return find_profile(wanted, folders)
    except Unreadable as error:
        at = None if overrides.jurisdiction is not None else _at(site, "jurisdiction")
        raise Unreadable(replace(problem, at=problem.at or at) for problem in error.problems) from error


def _with_edition(profile: Profile, edition: tuple[str, str] | None) -> Profile:
    """The profile with one edition of one document, from the first day on."""
    if edition is None:
        return profile
    document, year = edition
    others = tuple(each for each in profile.documents if each.document != document)
    asked = Adoption(document, year, date.min, "as asked for", Position(profile.file, 1, 1))
    grace = tuple(each for each in profile.grace if each.of != document)
    return replace(profile, documents=(asked, *others), grace=grace)


def _date(site: Site, profile: Profile, overrides: Overrides) -> date:
    if overrides.date is not None:
        return overrides.date
    found = event_date(site, profile.event)
    if found is None:
        raise Unreadable([_no_date(site, profile)])
    return found


def _no_date(site: Site, profile: Profile) -> Problem:
    """No clock is read: without the date that the profile looks at, the review stops and says which it accepts."""
    event = EVENT_WORDS[profile.event]
    adopted = "; ".join(f"{each.document} {each.edition} from {each.start.isoformat()}" for each in profile.documents)
    return Problem(
        f"{profile.title} fixes its rules by the date of {event}, and the site file does not give that date.",
        place_of_date(site, profile.event) or _site_position(site),
        f"{how_to_give(profile.event)}, or give --date. Adopted there: {adopted}.",
    )


def _stage(site: Site, overrides: Overrides) -> tuple[Stage, tuple[Notice, ...]]:
    if overrides.stage is not None:
        return overrides.stage, ()
    stated = site.stated(SITE, "stage")
    atom = None if stated is None else stated.value.atom
    if atom is not None:
        return Stage(str(atom)), ()
    sentence = "The site file does not say at which stage the job is; it was read for plan review."
    return Stage.PLAN_REVIEW, (Notice("default", sentence, remedy="Write stage: under site:, or give --stage."),)


def _override_notices(site: Site, overrides: Overrides) -> Iterator[Notice]:
    """Each option that took the place of the file, so that a report never hides it."""
    if overrides.jurisdiction is not None:
        yield Notice(
            "override", f"--jurisdiction {overrides.jurisdiction} was used, not {_in_file(site, 'jurisdiction')}."
        )
    if overrides.date is not None:
        yield Notice(
            "override", f"--date {overrides.date.isoformat()} was used, not the date of the permit in the file."
        )
    if overrides.edition is not None:
        yield Notice("override", f"{' '.join(overrides.edition)} was used, whatever the profile adopts.")
    if overrides.stage is not None:
        yield Notice("override", f"--stage {overrides.stage.value} was used, not {_in_file(site, 'stage')}.")


def _in_file(site: Site, name: str) -> str:
    text = _text(site, name)
    return f"the file's {text}" if text is not None else "the file, which says nothing of it"


def _text(site: Site, name: str) -> str | None:
    stated = site.stated(SITE, name)
    atom = None if stated is None else stated.value.atom
    return None if atom is None else str(atom)


def _at(site: Site, name: str) -> Position | None:
    stated = site.stated(SITE, name)
    return None if stated is None else stated.at


def _site_position(site: Site) -> Position | None:
    thing = site.things.get(SITE)
    return None if thing is None else thing.at
