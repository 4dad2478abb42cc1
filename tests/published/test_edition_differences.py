"""One and the same small site under four editions of NFPA 70, against what was published on the changes of each.

The verdicts stand in ``edition_differences.yaml`` with their sources and how sure each row is; the sites in the folder
of the same name. What is not surely known of an edition has to say so: it prints "verify the citation".
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from checker.findings.finding import Finding, Review
from checker.findings.judging.outcomes import Outcome
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, review_file

HERE = Path(__file__).parent
SITES = HERE / "edition_differences"
ROWS: list[dict[str, Any]] = yaml.safe_load((HERE / "edition_differences.yaml").read_text(encoding="utf-8"))["rows"]
EDITIONS = ("2017", "2020", "2023", "2026")
NONE = "none"
VERIFY = ", verify"

# The rows of the table of differences of which the packs have rules.
WANTED_ROWS = {*range(1, 9), *range(11, 18), 20, 27, 29, 30, 31}


def expectations() -> Iterator[Any]:
    """Site, edition, rule with its subject, and the verdict, for every cell of the table."""
    for row in ROWS:
        for rule, verdicts in row["verdicts"].items():
            for edition, verdict in verdicts.items():
                yield pytest.param(
                    row["site"], edition, rule, verdict, id=f"row {row['row']}, {row['site']}, {edition}, {rule}"
                )


@cache
def library() -> Library:
    """What is shipped, with the rules of the table alone: a finding does not depend on the other rules."""
    whole = Library.shipped()
    named = {rule.partition("@")[0] for row in ROWS for rule in row["verdicts"]}
    packs = (replace(pack, rules=tuple(rule for rule in pack.rules if rule.id in named)) for pack in whole.packs)
    return replace(whole, packs=tuple(packs))


@cache
def review(site: str, edition: str, on: date | None = None) -> Review:
    return review_file(SITES / f"{site}.yaml", library(), Overrides(jurisdiction=f"nec-{edition}", date=on))


def found(site: str, edition: str, rule: str, on: date | None = None) -> list[Finding]:
    """The findings of a rule on a subject; without a subject, of the rule on any."""
    name, _, subject = rule.partition("@")
    return [
        each for each in review(site, edition, on).findings if each.rule == name and subject in ("", each.subject.id)
    ]


def verdict_on(findings: list[Finding]) -> str:
    """A verdict as the table writes it. Where a rule does not apply there is nothing to verify."""
    if not findings:
        return NONE
    (finding,) = findings
    verify = finding.outcome is not Outcome.NOT_APPLICABLE and any(cite.verify for cite in finding.cites)
    return finding.outcome.value + (VERIFY if verify else "")


@pytest.mark.parametrize(("site", "edition", "rule", "verdict"), list(expectations()))
def test_verdict_by_edition(site: str, edition: str, rule: str, verdict: str) -> None:
    assert verdict_on(found(site, edition, rule)) == verdict


def test_every_row_has_a_site_and_every_site_a_row() -> None:
    assert {row["row"] for row in ROWS} == WANTED_ROWS
    assert sorted(row["site"] for row in ROWS) == sorted(path.stem for path in SITES.glob("*.yaml"))
    assert all(tuple(verdicts) == EDITIONS for row in ROWS for verdicts in row["verdicts"].values())


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"row {row['row']}, {row['site']}")
def test_a_row_that_is_not_quite_sure_says_where_and_prints_it(row: dict[str, Any]) -> None:
    printed = [verdict for verdicts in row["verdicts"].values() for verdict in verdicts.values() if VERIFY in verdict]
    if row["sure"] != "H":
        assert row["less_sure"]
        assert printed


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"row {row['row']}, {row['site']}")
def test_no_two_editions_that_differ_come_out_alike(row: dict[str, Any]) -> None:
    """Each row is here because some edition differs; row 20 differs by the interim amendment alone."""
    verdicts = {
        tuple(verdict.removesuffix(VERIFY) for verdict in by_edition.values())
        for by_edition in row["verdicts"].values()
    }
    assert row["site"] in ("row-20", "row-29") or any(len(set(each)) > 1 for each in verdicts)


@pytest.mark.parametrize(("on", "verdict"), [("2018-09-02", NONE), ("2018-09-03", "correction, verify")])
def test_the_interim_amendment_counts_from_its_day_on(on: str, verdict: str) -> None:
    """Log 1357 to the edition of 2017, effective 2018-09-03; see the article that row 20 names."""
    rule = "emergency-start-wiring-monitored@GEN1"
    assert verdict_on(found("row-20", "2017", rule, date.fromisoformat(on))) == verdict


@pytest.mark.parametrize(("adoption", "verdict"), [("", NONE), (', interim: ["1357"]', "correction, verify")])
def test_an_interim_amendment_counts_where_it_is_adopted(tmp_path: Path, adoption: str, verdict: str) -> None:
    site = (SITES / "row-20.yaml").read_text(encoding="utf-8")
    (tmp_path / "site.yaml").write_text(site.replace("nec-2023", "ember-bay"), encoding="utf-8")
    (tmp_path / "profile.yaml").write_text(
        "profile: ember-bay\ntitle: Ember Bay\nevent: permit_application\n"
        f'documents: [{{document: NFPA 70, edition: "2017", from: "2018-01-01", adopted_by: order 2{adoption}}}]\n',
        encoding="utf-8",
    )
    findings = review_file(tmp_path / "site.yaml", library(), Overrides()).findings
    assert verdict_on([each for each in findings if each.rule == "emergency-start-wiring-monitored"]) == verdict
