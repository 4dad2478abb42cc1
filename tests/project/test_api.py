"""What ``from checker import ...`` gives: its examples, its names, and nothing before it is asked for."""

from __future__ import annotations

import doctest
import subprocess
import sys
from datetime import date

import pytest

import checker
from checker import Outcome, Stage, Unreadable, api, review
from checker.tasks.gathering.library import Library
from tests.project.project_tree import ROOT

SITE = ROOT / "fixtures" / "wren-cottage" / "site.yaml"


def test_the_examples_in_its_text() -> None:
    tried = doctest.testmod(api)
    assert tried.attempted > 4
    assert tried.failed == 0


def test_every_name_is_there_and_no_other() -> None:
    assert all(hasattr(checker, name) for name in checker.__all__)
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        _ = checker.nothing


def test_what_is_given_takes_the_place_of_the_file() -> None:
    library = Library.shipped()
    told: list[tuple[int, int]] = []
    found = review(
        str(SITE),
        jurisdiction="nec-2017",
        on=date(2019, 5, 1),
        stage=Stage.ACCEPTANCE,
        library=library,
        progress=lambda done, planned: told.append((done, planned)),
    )
    assert (found.in_force.profile, found.in_force.date, found.stage) == (
        "nec-2017",
        date(2019, 5, 1),
        Stage.ACCEPTANCE,
    )
    assert sum(each.kind == "override" for each in found.notices) == 3
    assert [done for done, _ in told] == sorted({done for done, _ in told})
    assert all(done <= planned and planned >= len(found.findings) for done, planned in told)
    assert any(each.outcome is Outcome.MET for each in found.findings)


def test_what_cannot_be_read_says_so() -> None:
    with pytest.raises(Unreadable, match="is a folder, not a file"):
        review(SITE.parent)


def test_nothing_is_imported_before_it_is_asked_for() -> None:
    code = "import sys, checker; print([each for each in sys.modules if each.startswith('checker.')])"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "['checker.version']"
