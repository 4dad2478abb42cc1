"""The commands ``rules list``, ``rules compare`` and ``rules explain``."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.cli import console
from checker.cli.outputs import terminal
from checker.cli.site_files import site_file
from checker.report.safe import harmless
from checker.rules.layers.stack import Stack
from checker.rules.model.pack import Pack
from checker.rules.named_files import find_profile, named_files
from checker.rules.problem_list import ProblemList
from checker.rules.vocabulary import Vocabulary
from checker.site.model import SITE
from checker.tasks.comparing.sides import SideAsked, compared_editions, compared_towns
from checker.tasks.gathering.library import Library, folders_of_rules
from checker.tasks.gathering.standing import all_packs, dated, standing
from checker.tasks.gathering.town import read_town
from checker.tasks.reviewing import Overrides, job_of
from checker.tasks.telling.rule_explained import (
    Explanation,
    explained_in_town,
    names_added,
    of_layers,
    of_pack,
    on_site,
    rule_of_packs,
    rules_meant,
)
from checker.tasks.telling.rule_list import Wanted, rules_of_packs, rules_of_town
from checker.tasks.testing.case_counts import cases_of
from checker.values.problems import Problem, Unreadable

SHOWN, COULD_NOT_RUN = 0, 2


@dataclass(frozen=True, slots=True)
class Where:
    """Where rules are looked for: a folder, and perhaps a town with its date."""

    folder: Path
    jurisdiction: str | None = None
    on: date | None = None


def list_rules(wanted: Wanted, where: Where) -> int:
    """Print the rules that are looked for: 0 some are found, 2 none is, or the rules cannot be read."""
    from checker.report.rules.list import rule_table

    try:
        _check_folder(where.folder)
        library = Library.shipped()
        if where.jurisdiction is None:
            _refuse_date_alone(where.on)
            towns = [name for name, _ in named_files("profile", where.folder)]
            packs = all_packs(where.folder, library)
            found = rules_of_packs(packs, wanted, Vocabulary(shipped_catalog()), towns)
        else:
            town = standing(where.jurisdiction, where.folder, library)
            rules = town.on(dated(town, where.on))
            packs = all_packs(where.folder, library)
            found = rules_of_town(rules, wanted, Vocabulary(town.catalog), packs)
            console.result(harmless(f"Rules in force in {rules.profile.title} on {rules.date}\n\n"))
        console.result(rule_table(found, terminal()))
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    return SHOWN


@dataclass(frozen=True, slots=True)
class ComparisonAsked:
    """What the command line asks to compare: two towns or dates, or two editions of a document."""

    before: SideAsked
    after: SideAsked
    document: str | None
    folder: Path | None
    sites: tuple[Path, ...]
    as_json: bool


def compare_rules(asked: ComparisonAsked) -> int:
    """Print how the rules of two sides differ, and what it does to sites: 0 compared, 2 could not run."""
    try:
        sites = [site_file(each) for each in asked.sites]
        folder = asked.folder or (sites[0].parent if sites else Path())
        _check_folder(folder)
        library = Library.shipped()
        if asked.document is not None:
            _refuse_town(asked)
            compared = compared_editions(asked.document, asked.before, asked.after, folder, sites, library)
        else:
            _check_towns(asked)
            compared = compared_towns(asked.before, asked.after, folder, sites, library)
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    if asked.as_json:
        from checker.report.comparison.data import compared_json

        console.result(compared_json(compared))
    else:
        from checker.report.comparison.compared import compared_text

        console.result(compared_text(compared, terminal()))
    return SHOWN


def _check_folder(folder: Path) -> None:
    if not folder.is_dir():
        sentence = f"There is no folder {folder.as_posix()}."
        raise Unreadable([Problem(sentence, remedy="Name the folder with the profile and the layers of the town.")])


def _refuse_date_alone(on: date | None) -> None:
    if on is not None:
        sentence = "A date alone does not tell which rules are in force."
        raise Unreadable([Problem(sentence, remedy="Give --jurisdiction too.")])


def _refuse_town(asked: ComparisonAsked) -> None:
    for side in (asked.before, asked.after):
        if side.jurisdiction is not None or side.on is not None:
            sentence = "Editions of a document are compared as they are printed, whatever town adopts them."
            remedy = "Leave out --jurisdiction and the dates, or leave out --document."
            raise Unreadable([Problem(sentence, remedy=remedy)])


def _check_towns(asked: ComparisonAsked) -> None:
    if asked.before.edition is not None or asked.after.edition is not None:
        raise Unreadable([Problem("An edition needs its document.", remedy="Give --document too.")])
    if asked.before.jurisdiction is None:
        sentence = "Nothing is named that could be compared."
        remedy = "Give --jurisdiction and two dates, or --document and two editions."
        raise Unreadable([Problem(sentence, remedy=remedy)])


@dataclass(frozen=True, slots=True)
class ExplanationAsked:
    """Which rule is to be explained, where, and on which site."""

    rule: str
    where: Where
    site: Path | None
    town: Path | None = None
    """The folder of the town, where it is named."""


def explain_rule(asked: ExplanationAsked) -> int:
    """Print a rule in words: 0 told, also where it is not in force; 2 there is no such rule, or it cannot be read."""
    from checker.report.rules.explained import explanation_text

    try:
        _check_folder(asked.where.folder)
        console.result(explanation_text(_explanation(asked, Library.shipped()), terminal()))
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    return SHOWN


def _explanation(asked: ExplanationAsked, library: Library) -> Explanation:
    where, vocabulary = asked.where, Vocabulary(shipped_catalog())
    if asked.site is not None:
        return _explained_on_site(asked, asked.site, library)
    if where.jurisdiction is not None:
        town = standing(where.jurisdiction, where.folder, library)
        rules = town.on(dated(town, where.on))
        told = explained_in_town(asked.rule, rules, town.packs, Vocabulary(town.catalog))
        return replace(told, cases=cases_of(asked.rule, town.packs, _stacks(where.folder, town.packs, library)))
    _refuse_date_alone(where.on)
    packs = all_packs(where.folder, library)
    stacks = _stacks(where.folder, packs, library)
    found = of_layers(asked.rule, packs, stacks, vocabulary)
    if found is not None:
        return replace(found, cases=cases_of(asked.rule, packs, stacks))
    pack, rule = rule_of_packs(asked.rule, packs, names_added(stacks))
    return Explanation((of_pack(rule, pack, vocabulary),), cases=cases_of(asked.rule, packs, ()))


def _explained_on_site(asked: ExplanationAsked, site: Path, library: Library) -> Explanation:
    path = site_file(site)
    job = job_of(path, library, Overrides(asked.where.jurisdiction, asked.where.on, folder=asked.town))
    folder = _folder_of_town(job.rules.profile.id, path, asked.town, library)
    packs = all_packs(folder, library)
    told = explained_in_town(asked.rule, job.rules, packs, Vocabulary(job.catalog))
    subjects = on_site(job, rules_meant(asked.rule, job.rules))
    name = job.site.stated(SITE, "name")
    return replace(
        told,
        subjects=subjects,
        site=job.site.file if name is None else name.text,
        cases=cases_of(asked.rule, packs, _stacks(folder, packs, library)),
    )


def _folder_of_town(profile: str, site: Path, named: Path | None, library: Library) -> Path:
    """The folder in which the profile of a site lies, and its layers and cases with it."""
    file = find_profile(profile, folders_of_rules(site.parent, library, named))
    return site.parent if library.profiles.resolve() == file.parent.resolve() else file.parent


def _stacks(folder: Path, packs: tuple[Pack, ...], library: Library) -> tuple[Stack, ...]:
    """The layers of a folder that can be read, with their files."""
    town = read_town(folder, folders_of_rules(folder, library), packs, shipped_catalog(), ProblemList())
    return tuple(town.stacks.values())


def list_installed(folders: tuple[Path, ...]) -> int:
    """Print the packs, layers and profiles that are found: 0 all could be read, 2 some could not."""
    from checker.report.rules.installed import installed_text
    from checker.tasks.gathering.installed import installed

    try:
        for each in folders:
            _check_folder(each)
        found = installed(folders or (Path(),), Library.shipped())
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    console.result(installed_text(found, terminal()))
    console.problems(found.problems)
    return COULD_NOT_RUN if found.problems else SHOWN
