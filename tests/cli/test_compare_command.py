"""The command ``compare`` as a user runs it: two revisions, or one site under several sets of rules."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.cli.running import USAGE
from tests.cli.test_review_command import BONDED

Site = Callable[..., Path]

FLOATING = ("fed_from: ATS1", "neutral_bond: floating, fed_from: ATS1")
SEVERAL = "Two revisions are compared under one set of rules, or one site under several."


def test_what_a_revision_cured_and_brought(run: Run, site: Site) -> None:
    site(*BONDED, name="was/site.yaml")
    site(*FLOATING, name="now/site.yaml")
    ran = run("compare", "was", "now")
    assert (ran.status, ran.err) == (0, "")
    assert "\nCured: 1\n" in ran.out
    assert "was correction, is meets as shown" in ran.out
    assert "because: P1.neutral_bond was bonded, is floating" in ran.out
    back = run("compare", "now", "was", "--format", "json")
    (bond,) = (each for each in json.loads(back.out)["findings"] if each["standing"] == "new")
    assert (bond["was"], bond["is"]) == ("met", "correction")
    assert bond["facts"] == [{"fact": "P1.neutral_bond", "was": "floating", "is": "bonded"}]


def test_the_same_site_twice_changes_nothing(run: Run, site: Site) -> None:
    site(name="a.yaml")
    site(name="b.yaml")
    ran = run("compare", "a.yaml", "b.yaml")
    assert "\n0 new, 0 changed, 0 cured, " in ran.out


def test_one_site_under_several_rules_side_by_side(run: Run, site: Site) -> None:
    site()
    ran = run("compare", "site.yaml", "--jurisdiction", "nec-2017", "--jurisdiction", "nec-2023")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith("Tern Cove under 2 sets of rules\n")
    sides = json.loads(
        run("compare", "site.yaml", "--jurisdiction", "nec-2017", "--jurisdiction", "nec-2023", "--format", "json").out
    )
    assert [each["profile"] for each in sides["sides"]] == ["nec-2017", "nec-2023"]
    assert sides["differ"]
    assert all(len(set(each["outcomes"])) > 1 for each in sides["differ"])


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("a.yaml",), "One site under one set of rules has nothing to be compared with."),
        (
            ("a.yaml", "a.yaml", "a.yaml"),
            SEVERAL,
        ),
        (
            ("a.yaml", "a.yaml", "--date", "2020-01-01", "--date", "2024-01-01"),
            SEVERAL,
        ),
        (("a.yaml", "missing.yaml"), "There is no file missing.yaml."),
    ],
)
def test_sides_that_cannot_be_told(words: tuple[str, ...], sentence: str, run: Run, site: Site) -> None:
    site(name="a.yaml")
    ran = run("compare", *words)
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err.startswith(sentence)


@pytest.mark.parametrize("command", [("compare",), ("rules", "compare")], ids=" ".join)
def test_a_comparison_has_no_other_formats_than_its_own(command: tuple[str, ...], run: Run, site: Site) -> None:
    site(name="a.yaml")
    ran = run(*command, "a.yaml", "--format", "sarif")
    assert (ran.status, ran.out) == (USAGE, "")
    assert "'sarif'" in ran.err
