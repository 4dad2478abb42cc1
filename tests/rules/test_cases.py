"""Cases: facts by the names that the rule reads, values as in a site file."""

from __future__ import annotations

import shutil
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.rules.cases.model import Case
from checker.rules.cases.read import read_cases
from checker.rules.reading.names_read import names_read
from checker.values.possible import ABSENT, Span, exactly, several
from checker.values.problems import Problem, Unreadable
from tests.rules.packs import EXAMPLE, MARK, read


@pytest.fixture(scope="module")
def cases() -> dict[tuple[str, str], Case]:
    found = read_cases(read(EXAMPLE), shipped_catalog())
    return {(case.rule, case.shows): case for case in found}


FIRST = "first-switch-marked-for-service"
WITHSTANDS = "switch-withstands-the-fault"


def test_base_with_what_the_case_changes(cases: dict[tuple[str, str], Case]) -> None:
    marked, bare = cases[FIRST, "marked"], cases[FIRST, "no marking"]
    assert marked.given.values["service_marking"].value == exactly("suitable_for_use_as_service_equipment")
    assert bare.given.values["service_marking"].value == ABSENT
    assert bare.given.values["role"] == marked.given.values["role"]
    assert bare.given.values["site.work"].value == several(["transfer_switch_new"])
    assert (bare.outcome, bare.says) == ("correction", "X1 is the service disconnect")


def test_what_is_open_stays_open(cases: dict[tuple[str, str], Case]) -> None:
    given = cases[FIRST, "marking not given"].given.values["service_marking"].value
    assert given.absent
    assert len(given.atoms) == 3
    current = cases[WITHSTANDS, "row for any breaker"].given.values["normal_fault_current"]
    assert current.value.spans == (Span(Fraction(8), Fraction(12)),) or current.value.spans == (
        Span(Fraction(8000), Fraction(12000)),
    )
    assert current.text == "8 kA to 12 kA"


def test_collections_are_replaced_as_a_whole(cases: dict[tuple[str, str], Case]) -> None:
    rows = cases[WITHSTANDS, "row for any breaker"].given.lists["withstand_rows"]
    assert rows.complete
    assert [sorted(member.values) for member in rows.members] == [
        ["for_device", "for_time", "largest_device", "withstands"]
    ]
    more = cases[WITHSTANDS, "more rows may follow"].given.lists["withstand_rows"]
    assert (more.members, more.complete) == ((), False)


def test_line_of_text_gives_all_parts(cases: dict[tuple[str, str], Case]) -> None:
    values = cases["conductors-have-an-equipment-ground", "10 AWG"].given.values
    assert values["grounding.size"].value.number == Fraction(10_380)  # 10 AWG by NEC Chapter 9 Table 8
    assert values["grounding.material"].value == exactly("copper")
    none = cases["conductors-have-an-equipment-ground", "none"].given.values
    assert none["grounding"].value == none["grounding.size"].value == ABSENT


def test_whole_that_is_changed_takes_its_parts_along(tmp_path: Path) -> None:
    shutil.copytree(EXAMPLE, tmp_path / "example")
    path = tmp_path / "example/switches.cases.yaml"
    text = path.read_text(encoding="utf-8")
    for base in ("grounding: 10 AWG copper", "grounding.size: 10 AWG, grounding.material: copper"):
        path.write_text(text.replace("grounding: 10 AWG copper", base), encoding="utf-8")
        found = read_cases(read(tmp_path / "example"), shipped_catalog())
        (case,) = (case for case in found if case.shows == "not described")
        assert "grounding.size" not in case.given.values
        assert not case.given.values["grounding"].value.is_exact


def test_editions_and_dates(cases: dict[tuple[str, str], Case]) -> None:
    assert cases[FIRST, "marked"].editions == ("2017", "2020", "2023")
    assert cases[FIRST, "pole"].editions == ("2020",)
    assert cases["conductors-have-an-equipment-ground", "none"].editions == ("2020", "2023")
    assert cases["conductors-have-an-equipment-ground", "before it was written"].editions == ("2017",)
    assert cases["record-is-recent", "old"].date == date(2028, 3, 14)


def test_what_is_asked_of_the_finding(cases: dict[tuple[str, str], Case]) -> None:
    case = cases[FIRST, "marking not given"]
    assert (case.needs, case.could_be) == (("service_marking",), ("correction", "met"))
    assert cases[FIRST, "marked"].needs is None


def test_case_with_a_site(cases: dict[tuple[str, str], Case]) -> None:
    case = cases[FIRST, "drawn whole"]
    assert (case.site, case.subject) == ("sites/whole.yaml", "ATS1")
    assert not case.given.values


def test_names_of_members_and_of_the_subject_are_kept_apart() -> None:
    rule = next(rule for rule in read(EXAMPLE).rules if rule.id == WITHSTANDS)
    names = names_read(rule)
    assert set(names.facts) == {
        "protecting_device", "protecting_clearing_time", "normal_fault_current", "protecting_rating",
    }  # fmt: skip
    assert set(names.lists) == {"withstand_rows"}
    assert set(names.lists["withstand_rows"].facts) == {"for_device", "for_time", "largest_device", "withstands"}


def _problems(folder: Path, file: str, old: str, new: str) -> tuple[Problem, ...]:
    copied = folder / "example"
    shutil.copytree(EXAMPLE, copied)
    text = (copied / file).read_text(encoding="utf-8")
    assert text.count(old) == 1, text.count(old)
    changed = text.replace(old, new)
    (copied / file).write_text(changed.replace(MARK, ""), encoding="utf-8")
    with pytest.raises(Unreadable) as caught:
        read_cases(read(copied), shipped_catalog())
    if MARK in changed:
        before = changed[: changed.index(MARK)]
        line, column = before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1
        assert [str(problem.at) for problem in caught.value.problems] == [f"example/{file}:{line}:{column}"]
    return caught.value.problems


@pytest.mark.parametrize(
    ("old", "new", "told", "near"),
    [
        ("first-switch-marked-for-service:", "«first-switch-marked-for-servic:",
         "There is no rule `first-switch-marked-for-servic` in this pack.", FIRST),
        ("but: {role: feeder_disconnect}", "but: {«rol: feeder_disconnect}",
         "`first-switch-marked-for-service` does not read `rol`.", "role"),
        ("but: {role: feeder_disconnect}", "but: {«poles: 2}",
         "`first-switch-marked-for-service` does not read `poles`.", None),
        ("but: {role: feeder_disconnect}", "but: {role: «feeder_disconect}",
         "role: feeder_disconect is not one of its choices.", "feeder_disconnect"),
        ("but: {rated_current: 100 A},", "but: {rated_current: «100 kA2},", "rated_current: ", None),
        ("but: {rated_current: 100 A},", "but: {rated_current: «100},", "rated_current: 100 has no unit.", None),
        ("needs: [service_marking]", "needs: [«service_markin]",
         "`first-switch-marked-for-service` does not read `service_markin`.", "service_marking"),
        ("shows: feeder switch", "«shows: marked",
         "Two cases of `first-switch-marked-for-service` show the same: marked.", None),
        ('in: ["2020"]}', 'in: [«"2026"]}', "There is no edition 2026 here.", None),
        ("{shows: 100 A, but: {rated_current: 100 A}, outcome: correction}",
         "{shows: 100 A, but: {rated_current: 100 A}, «outcome: recommendation}",
         "recommendation cannot come out of `switch-carries-both-sides`.", None),
        ("outcome: met}\n    - {shows: no marking", "outcome: «mett}\n    - {shows: no marking",
         "`mett` is no word for `outcome`.", "met"),
        ("site: sites/whole.yaml", "site: «sites/hole.yaml", "There is no file `sites/hole.yaml` in the folder.", None),
        ("site: sites/whole.yaml", "site: «../../conftest.py", "leads out of the folder", None),
        ("subject: ATS1, ", "", "There is no `subject` in this case.", None),
        ("but: {withstand_rows: {list: []}}", "but: {«withstand_rows: []}", "`withstand_rows` is a collection.", None),
        ("but: {withstand_rows: {list: []}}", "but: {withstand_rows: {«lst: []}}",
         "`lst` is no word of a collection.", "list"),
        ("but: {role: feeder_disconnect}", "but: {role: «unkown}",
         "role: unkown is not one of its choices.", "unknown"),
        ("but: {withstand_rows: {list: []}}", "but: {withstand_rows: {list: [{«listed: yes}]}}",
         "`switch-withstands-the-fault` does not read `listed`.", None),
        ("but: {withstand_rows: {list: []}}", "but: {withstand_rows: {complete: «all, list: []}}",
         "`complete` is yes or no.", None),
        ("{shows: pole,", "{shows: pole, «colour: red,", "`colour` is no word of a case.", None),
    ],
)  # fmt: skip
def test_bad_case(old: str, new: str, told: str, near: str | None, tmp_path: Path) -> None:
    problems = _problems(tmp_path, "switches.cases.yaml", old, new)
    assert len(problems) == 1, [str(problem) for problem in problems]
    assert told in problems[0].sentence
    if near is not None:
        assert problems[0].near == near


def test_date_that_is_none(tmp_path: Path) -> None:
    problems = _problems(tmp_path, "sets.cases.yaml", 'date: "2028-03-14"', 'date: «"2028-02-30"')
    assert "no day of the calendar" in problems[0].sentence


def test_cases_beside_no_file(tmp_path: Path) -> None:
    copied = tmp_path / "example"
    shutil.copytree(EXAMPLE, copied)
    (copied / "sets.cases.yaml").rename(copied / "stes.cases.yaml")
    with pytest.raises(Unreadable, match=r"There is no stes\.yaml beside these cases\."):
        read_cases(read(copied), shipped_catalog())
