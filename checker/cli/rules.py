"""The commands ``rules list``, ``rules compare`` and ``rules explain``."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.cli import console
from checker.cli.reviewing import site_file, terminal
from checker.rules.vocabulary import Vocabulary
from checker.tasks.comparing import SideAsked, compared_editions, compared_places
from checker.tasks.reviewing import Library
from checker.tasks.rule_list import Wanted, rules_of_packs, rules_of_place
from checker.tasks.standing import all_packs, dated, standing
from checker.values.problems import Problem, Unreadable

SHOWN, COULD_NOT_RUN = 0, 2


@dataclass(frozen=True, slots=True)
class Where:
    """Where rules are looked for: a folder, and perhaps a place with its date."""

    folder: Path
    jurisdiction: str | None = None
    on: date | None = None


def list_rules(wanted: Wanted, where: Where) -> int:
    """Print the rules that are looked for: 0 some are found, 2 none is, or the rules cannot be read."""
    from checker.report.rule_list import rule_table

    vocabulary = Vocabulary(shipped_catalog())
    try:
        _check_folder(where.folder)
        library = Library.shipped()
        if where.jurisdiction is None:
            _refuse_date_alone(where.on)
            found = rules_of_packs(all_packs(where.folder, library), wanted, vocabulary)
        else:
            place = standing(where.jurisdiction, where.folder, library)
            rules = place.on(dated(place, where.on))
            found = rules_of_place(rules, wanted, vocabulary)
            console.result(f"Rules in force in {rules.profile.title} on {rules.date}\n\n")
        console.result(rule_table(found, terminal()))
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    return SHOWN


@dataclass(frozen=True, slots=True)
class ComparisonAsked:
    """What the command line asks to compare: two places or dates, or two editions of a document."""

    before: SideAsked
    after: SideAsked
    document: str | None
    folder: Path
    sites: tuple[Path, ...]
    as_json: bool


def compare_rules(asked: ComparisonAsked) -> int:
    """Print how the rules of two sides differ, and what it does to sites: 0 compared, 2 could not run."""
    try:
        _check_folder(asked.folder)
        sites = [site_file(each) for each in asked.sites]
        library = Library.shipped()
        if asked.document is not None:
            _refuse_place(asked)
            compared = compared_editions(asked.document, asked.before, asked.after, asked.folder, sites, library)
        else:
            _check_places(asked)
            compared = compared_places(asked.before, asked.after, asked.folder, sites, library)
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    if asked.as_json:
        from checker.report.compared_data import compared_json

        console.result(compared_json(compared))
    else:
        from checker.report.compared import compared_text

        console.result(compared_text(compared, terminal()))
    return SHOWN


def _check_folder(folder: Path) -> None:
    if not folder.is_dir():
        sentence = f"There is no folder {folder.as_posix()}."
        raise Unreadable([Problem(sentence, remedy="Name the folder with the profile and the layers of the place.")])


def _refuse_date_alone(on: date | None) -> None:
    if on is not None:
        sentence = "A date alone does not tell which rules are in force."
        raise Unreadable([Problem(sentence, remedy="Give --jurisdiction too.")])


def _refuse_place(asked: ComparisonAsked) -> None:
    for side in (asked.before, asked.after):
        if side.jurisdiction is not None or side.on is not None:
            sentence = "Editions of a document are compared as they are printed, whatever place adopts them."
            remedy = "Leave out --jurisdiction and the dates, or leave out --document."
            raise Unreadable([Problem(sentence, remedy=remedy)])


def _check_places(asked: ComparisonAsked) -> None:
    if asked.before.edition is not None or asked.after.edition is not None:
        raise Unreadable([Problem("An edition needs its document.", remedy="Give --document too.")])
    if asked.before.jurisdiction is None:
        sentence = "Nothing is named that could be compared."
        remedy = "Give --jurisdiction and two dates, or --document and two editions."
        raise Unreadable([Problem(sentence, remedy=remedy)])
