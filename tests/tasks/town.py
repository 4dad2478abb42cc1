"""Answers for an invented town, its files, and what is said of them."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.files.yaml.strict_yaml import read_text
from checker.rules.problem_list import ProblemList
from checker.tasks.drafting.answers import Answers, answers_from
from checker.tasks.drafting.draft import drafted, write
from checker.tasks.gathering.library import Library, folders_of_rules
from checker.tasks.gathering.standing import all_packs
from checker.tasks.gathering.town import Town, read_town, read_town_noting
from checker.tasks.testing.town_lint import TownLint, lint_town

HEAD = """
place: Fern Point
event: permit_application
adopts: [{document: NFPA 70, edition: "2020", from: "2022-07-01", adopted_by: state rule 12-4}]
authority: Fern Point, building department
document: Fern Point Town Code
"""
SET = (
    "{set: needs a remote stop, to: 10 kW, exceptions: do_not_apply, section: 14-32(b), "
    'from: "2025-07-01", reason: fires}'
)
SWITCHED = '{add: switched_neutral, section: 14-31, from: "2025-07-01"}'
DELETE = '{delete: "230.67", section: 14-33, from: "2025-07-01"}'
DISTANCE = '{add: distance, with: {to_kind: opening, at_least: 10 ft}, section: 14-36, from: "2025-07-01"}'
LABEL = "{add: label, with: {subject: meter, tells: [source_type, source_place]}, section: 14-37}"
PAPER = '{ask_for: survey, must_show: [lot_lines, openings], section: 14-35, from: "2025-07-01"}'
LIMIT = '{limit: set-disconnect-in-sight, until: "2026-12-31", section: 14-38}'


@cache
def library() -> Library:
    """The packs of the program."""
    return Library.shipped()


def read(folder: Path) -> Town:
    """The layers and profiles of a folder, all of which can be read."""
    errors = ProblemList()
    town = read_town(
        folder, folders_of_rules(folder, library()), all_packs(folder, library()), shipped_catalog(), errors
    )
    errors.raise_if_any()
    return town


def lint(folder: Path) -> TownLint:
    """What lint says of a folder, of what cannot be read too."""
    errors, notes = ProblemList(), ProblemList()
    folders = folders_of_rules(folder, library())
    town = read_town_noting(folder, folders, all_packs(folder, library()), shipped_catalog(), errors, notes)
    found = lint_town(town, shipped_catalog())
    return TownLint((*errors.in_order(), *found.errors), (*notes.in_order(), *found.warnings), found.hits)


def answers(*changes: str, head: str = HEAD, more: str = "") -> Answers:
    """Answers with these changes."""
    listed = "".join(f"  - {each}\n" for each in changes)
    text = head + (f"changes:\n{listed}" if listed else "") + more
    return answers_from(read_text(text.encode(), "answers.yaml"))


def draft(folder: Path, *changes: str, more: str = "") -> dict[str, str]:
    """The files that are drafted and written into a folder, by name."""
    files = drafted(answers(*changes, more=more), folder, library(), shipped_catalog())
    write(files)
    return {each.path.name: each.text for each in files}
