"""A pack is read whole: every word of the grammar arrives in the model as it was written."""

from __future__ import annotations

import shutil
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Stage
from checker.files.folders import data_folder
from checker.rules.grammar import COMBINATIONS, FOLDS, GROUPS, RELATIONS
from checker.rules.model.citing import Citation
from checker.rules.model.conditions import (
    Combined,
    Compare,
    Count,
    FactOperand,
    FactPath,
    Fold,
    Group,
    Lookup,
    NextSize,
    Not,
    ParameterOperand,
    Scaled,
    Words,
)
from checker.rules.model.conditions import Test as OneTest
from checker.rules.model.force import Basis, Force
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Rule
from checker.rules.reading.pack import read_pack
from checker.rules.walk import below, conditions_of, operands_in
from checker.values.dates import CalendarSpan
from checker.values.possible import several
from checker.values.problems import Unreadable
from tests.rules.packs import EXAMPLE, PRACTICE, SHARED, SMALL, problems_of, read


@pytest.fixture(scope="module")
def example() -> Pack:
    return read(EXAMPLE)


@pytest.fixture(scope="module")
def rules(example: Pack) -> dict[str, Rule]:
    return {rule.id: rule for rule in example.rules}


def test_head(example: Pack) -> None:
    assert (example.id, example.document, example.editions) == (
        "example-code",
        "Example Code",
        ("2017", "2020", "2023"),
    )
    assert example.retired == {"stop-near-the-set": "set-can-be-stopped-from-outside"}
    assert len(example.rules) == 10


def test_every_word_of_the_grammar_stands_in_the_example(rules: dict[str, Rule]) -> None:
    conditions = [each for rule in rules.values() for top in conditions_of(rule) for each in below(top)]
    relations = {test.relation for each in conditions if isinstance(each, Compare | Count) for test in each.tests}
    assert relations == set(RELATIONS)
    assert {each.how for each in conditions if isinstance(each, Group)} == set(GROUPS)
    assert {each.how for each in conditions if isinstance(each, Fold)} == set(FOLDS)
    assert {type(each) for each in conditions} == {Compare, Group, Not, Fold, Count}
    operands = [each for rule in rules.values() for each in operands_in(rule)]
    kinds = {Words, FactOperand, ParameterOperand, Combined, Scaled, NextSize, Lookup}
    assert {type(each) for each in operands} == kinds
    assert {each.how for each in operands if isinstance(each, Combined)} <= set(COMBINATIONS)


def test_rule_as_written(rules: dict[str, Rule]) -> None:
    rule = rules["first-switch-marked-for-service"]
    assert (rule.basis, rule.force, rule.due, rule.who_acts) == (
        Basis.LAW, Force.MANDATORY, Stage.PLAN_REVIEW, "contractor",
    )  # fmt: skip
    assert rule.sections == {"2017": ("14.1",), "2020": ("14.1",), "2023": ("14.1", "14.2")}
    assert rule.checked["2020"].on == date(2026, 3, 1)
    assert (rule.checked["2020"].confirmed, rule.checked["2023"].confirmed) == (True, False)
    assert len(rule.remedy) == 2
    assert rule.before == ("switch-withstands-the-fault",)
    assert str(rule.at) == f"{EXAMPLE.name}/switches.yaml:3:3"


def test_condition_as_written(rules: dict[str, Rule]) -> None:
    when = rules["first-switch-marked-for-service"].when
    assert isinstance(when, Group)
    role, work, status = when.conditions
    assert isinstance(role, Compare)
    assert str(role.path) == "role"
    assert role.tests == (OneTest("is", (Words(("service_disconnect",), is_list=False),)),)
    assert role.if_absent is False
    assert isinstance(work, Group)
    assert work.conditions[1].editions == {"2020", "2023"}
    assert isinstance(work.conditions[0], Compare)
    assert work.conditions[0].path == FactPath(("site",), "work", work.conditions[0].path.at)
    assert isinstance(status, Not)


def test_exceptions_exist_where_they_have_a_section(rules: dict[str, Rule]) -> None:
    on_a_pole, field_work = rules["first-switch-marked-for-service"].unless
    assert on_a_pole.editions == {"2020", "2023"}
    assert on_a_pole.cites == (
        Citation("Example Code", "2020", "14.2 Exception", verify=False),
        Citation("Example Code", "2023", "14.2 Exception", verify=True),
    )
    assert field_work.editions == {"2017"}
    assert field_work.cites == ()


def test_operands_as_written(rules: dict[str, Rule]) -> None:
    rule = rules["switch-carries-both-sides"]
    assert rule.requires is not None
    behind = rule.requires.parts["behind_both"]
    assert isinstance(behind, Compare)
    (largest,) = behind.tests[0].operands
    assert isinstance(largest, Combined)
    assert (largest.how, largest.skip_absent) == ("largest_of", True)
    assert [str(each.path) for each in largest.operands if isinstance(each, FactOperand)] == [
        "normal.overcurrent_limit",
        "alternate.overcurrent_limit",
    ]
    within = rule.requires.parts["within"]
    assert isinstance(within, Compare)
    assert within.tests[0].operands == (ParameterOperand("one"), ParameterOperand("most-poles"))
    assert rule.requires.parts["agrees"].part == "by_hand"


def test_any_way_and_lookup(rules: dict[str, Rule]) -> None:
    requires = rules["conductors-have-an-equipment-ground"].requires
    assert requires is not None
    assert requires.any_way
    wire = requires.parts["wire"]
    assert isinstance(wire, Compare)
    (lookup,) = wire.tests[0].operands
    assert isinstance(lookup, Lookup)
    assert lookup.table == "ground-sizes"
    assert list(lookup.keys) == ["overcurrent", "material"]


def test_reaching_back(rules: dict[str, Rule]) -> None:
    requires = rules["switch-withstands-the-fault"].requires
    assert requires is not None
    paths = {
        str(each.path) for each in operands_in(rules["switch-withstands-the-fault"]) if isinstance(each, FactOperand)
    }
    assert "subject.protecting_device" in paths


def test_parameters(example: Pack) -> None:
    margin = example.parameters["margin"]
    assert [each.text for each in margin.values.values()] == ["110 %", "125 %", "125 %"]
    assert margin.values["2017"].value is not None
    assert margin.values["2023"].cites == (Citation("Example Code", "2023", "2", verify=True),)
    small = example.parameters["small-set"].values
    assert {edition: each.unit for edition, each in small.items()} == {"2017": "kW", "2020": "W"}
    assert small["2017"].value == small["2020"].value
    assert (small["2017"].checked.confirmed, small["2020"].checked.confirmed) == (False, True)
    assert example.parameters["most-poles"].values["2023"].no_limit
    assert example.parameters["standby-classes"].values["2020"].value == several(["optional", "legally_required"])
    assert example.parameters["oldest-record"].values["2023"].value == CalendarSpan(18, 0)
    end = example.parameters["end-of-records"].values["2023"].value
    assert not isinstance(end, CalendarSpan)
    assert end is not None
    assert end.number == Fraction(date(2027, 1, 1).toordinal())


def test_practice_cites_nothing_and_policy_must() -> None:
    larger, reached = read(PRACTICE).rules
    assert (larger.cites, larger.checked, larger.sections) == ((), {}, {})
    assert reached.cites == (Citation("House Rules of Tern Cove", None, "3", verify=False),)
    assert reached.checked[""].by == "clerk of Tern Cove"


def test_pack_without_editions_writes_values_once() -> None:
    assert list(read(PRACTICE).parameters["reserve"].values) == [""]


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("    cites: none\n  set-stands", "  set-stands",
         "`switch-larger-than-the-set` does not say what it rests on."),
        ("    cites: [{document: House Rules of Tern Cove, section: \"3\"}]", "    cites: none",
         "`set-stands-where-it-can-be-reached` cites nothing, which only trade and local practice can."),
        ("    cites: none\n  set-stands", '    sections: {"2020": "1"}\n  set-stands',
         "This pack has no editions, so what is cited stands under `cites:`."),
        ("value: 110 %", 'values: {"2020": 110 %}', "This pack has no editions: the value is written once."),
        ("when: {alternate.kind: {is: generator}}", 'when: {alternate.kind: {is: generator}, in: ["2020"]}',
         "There is no edition 2020 here."),
        ("    checked: {sure: high, against: the signed paper, on: \"2026-01-15\", by: clerk of Tern Cove}\n", "",
         "`set-stands-where-it-can-be-reached` does not say who checked it against its source."),
    ],
)  # fmt: skip
def test_bad_practice(old: str, new: str, told: str, tmp_path: Path) -> None:
    text = (PRACTICE / "pack.yaml").read_text(encoding="utf-8")
    assert text.count(old) == 1
    (tmp_path / "pack.yaml").write_text(text.replace(old, new), encoding="utf-8")
    assert told in {problem.sentence for problem in problems_of(tmp_path)}


def test_all_problems_of_all_files_are_told(tmp_path: Path) -> None:
    (tmp_path / "pack.yaml").write_text(SMALL.replace("{is: automatic}", "{is: automatc}"), encoding="utf-8")
    (tmp_path / "a.yaml").write_text("rules: {one: {}}\n", encoding="utf-8")
    (tmp_path / "b.yaml").write_text("rules: [\n", encoding="utf-8")
    (tmp_path / "c.yaml").write_text("title: Another\n", encoding="utf-8")
    files = [problem.at.file.rpartition("/")[2] for problem in problems_of(tmp_path) if problem.at]
    assert sorted(set(files)) == ["a.yaml", "b.yaml", "c.yaml", "pack.yaml"]
    assert files == sorted(files)


def test_name_that_stands_in_two_files(tmp_path: Path) -> None:
    (tmp_path / "pack.yaml").write_text(SMALL, encoding="utf-8")
    parameters = SMALL[SMALL.index("parameters:") : SMALL.index("tables:")]
    (tmp_path / "more.yaml").write_text(parameters, encoding="utf-8")
    (problem,) = problems_of(tmp_path)
    assert problem.sentence == "`least-rating` stands twice under `parameters`."
    assert str(problem.at) == f"{tmp_path.name}/more.yaml:2:3"
    assert "pack.yaml:18:3" in problem.remedy


def test_what_is_wrong_with_a_number_is_not_told_again_where_it_is_read(tmp_path: Path) -> None:
    (tmp_path / "pack.yaml").write_text(SMALL.replace('"2020": 100 A', '"2020": 100 cubits'), encoding="utf-8")
    assert len(problems_of(tmp_path)) == 1


@pytest.mark.parametrize(
    ("files", "told"),
    [
        ({}, "There is no file"),
        ({"pack.yaml": "title: A pack\n"}, "pack.yaml does not name the pack."),
        ({"pack.yaml": "- a list\n"}, "This file is no mapping of rules, parameters and tables."),
        ({"pack.yaml": ""}, "empty"),
    ],
)
def test_folder_that_is_no_pack(files: dict[str, str], told: str, tmp_path: Path) -> None:
    for name, text in files.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    assert any(told in str(problem) for problem in problems_of(tmp_path))


def test_missing_folder(tmp_path: Path) -> None:
    with pytest.raises(Unreadable, match="There is no folder nowhere"):
        read_pack(tmp_path / "nowhere", shipped_catalog(), SHARED)


def test_digest_changes_with_every_file_and_with_nothing_else(tmp_path: Path) -> None:
    first, second = tmp_path / "first", tmp_path / "second"
    shutil.copytree(EXAMPLE, first)
    shutil.copytree(EXAMPLE, second)
    assert read(first).digest == read(second).digest == read(EXAMPLE).digest
    (second / "sets.yaml").write_text(
        (second / "sets.yaml").read_text(encoding="utf-8") + "# a note\n", encoding="utf-8"
    )
    assert read(second).digest != read(first).digest


def test_digest_changes_with_shared_tables(tmp_path: Path) -> None:
    sizes = (SHARED / "sizes.yaml").read_text(encoding="utf-8")
    (tmp_path / "sizes.yaml").write_text(sizes.replace("400]", "400, 600]"), encoding="utf-8")
    assert read_pack(EXAMPLE, shipped_catalog(), tmp_path).digest != read(EXAMPLE).digest


@pytest.mark.parametrize(
    "folder", sorted(each.parent for each in data_folder("rulesets").glob("*/pack.yaml")), ids=lambda each: each.name
)
def test_pack_that_comes_with_the_program_can_be_read(folder: Path) -> None:
    assert read_pack(folder, shipped_catalog()).rules
