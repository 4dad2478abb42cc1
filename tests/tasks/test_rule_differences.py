"""What differs between two editions of one rule, each thing once, in words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Stage
from checker.rules.edition import pack_in_edition
from checker.rules.model.force import Basis, Force
from checker.rules.model.in_force import RuleInForce, Version
from checker.rules.model.pack import Pack
from checker.rules.model.profile import Interpretation
from checker.rules.reading.pack import read_pack
from checker.rules.vocabulary import Vocabulary
from checker.tasks.comparing.rule_differences import Difference, RulesCompared, RuleSide, rules_compared
from checker.values.positions import Position

HEAD = 'pack: small\ntitle: Small\ndocument: Small Code\neditions: ["2020", "2023"]\nbasis: law\n'
CHECKED = 'checked: {sure: high, against: the book, on: "2025-01-01", by: project}'
SURE = CHECKED.removeprefix("checked: ")
RULE = """
rules:
  switch-fits:
    title: The switch fits
    subject: transfer_switch
    WHEN
    requires:
      rated: {rated_current: {at_least: {parameter: least}}}
      MORE
    says: "{subject} does not fit."
    sections: {"2020": "1.1", "2023": "1.1"}
    checked: {sure: high, against: the book, on: "2025-01-01", by: project}
parameters:
  least:
    title: least rating
    type: load_current
    stricter: higher
    values: {"2020": 100 A, "2023": same as 2020}
    sections: {"2020": "1.1", "2023": "1.1"}
    checked: {sure: high, against: the book, on: "2025-01-01", by: project}
"""


def compared(folder: Path, rules: str) -> RulesCompared:
    """The two editions of a pack that holds these rules."""
    (folder / "pack.yaml").write_text(HEAD, encoding="utf-8")
    (folder / "rules.yaml").write_text(rules, encoding="utf-8")
    pack: Pack = read_pack(folder, shipped_catalog())
    old, new = (RuleSide(pack_in_edition(pack, edition, "")) for edition in pack.editions)
    return rules_compared(old, new, Vocabulary(shipped_catalog()), (pack,))


def with_parts(when: str = "", more: str = "", *changes: tuple[str, str]) -> str:
    """The rule with a `when`, with more parts, and with pieces of text in the place of others."""
    text = RULE.replace("    WHEN\n", f"    {when}\n" if when else "").replace(
        "      MORE\n", f"      {more}\n" if more else ""
    )
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return text


MANUAL, AUTOMATIC = "{operation: {is: manual}}", "{operation: {is: automatic}}"


def only(condition: str, edition: str) -> str:
    """The condition in one edition only."""
    return f'{condition[:-1]}, in: ["{edition}"]}}'


@pytest.mark.parametrize(
    ("rules", "differences"),
    [
        (
            with_parts("", "", ('"2023": same as 2020', '"2023": 125 A')),
            [Difference("number", "least rating", "100 A", "125 A")],
        ),
        (
            with_parts("", "", ('"2023": same as 2020', '"2023": no_limit')),
            [Difference("number", "least rating", "100 A", "no limit")],
        ),
        (
            with_parts("", "", ('"2023": "1.1"}', '"2023": ["1.1", "1.2"]}')),
            [Difference("section", "Small Code", "1.1", "1.1 and 1.2")],
        ),
        (
            with_parts(f"when: {{all: [{AUTOMATIC}, {only('{listed: {is: yes}}', '2023')}]}}"),
            [Difference("when", "applies only where", None, "listed: yes")],
        ),
        (
            with_parts(f"when: {{all: [{AUTOMATIC}, {only('{listed: {is: yes}}', '2020')}]}}"),
            [Difference("when", "applies only where", "listed: yes", None)],
        ),
        (
            with_parts(f"when: {{any: [{AUTOMATIC}, {only(MANUAL, '2023')}]}}"),
            [Difference("when", "applies also where", None, "operation is by hand")],
        ),
        (
            with_parts(
                f"when: {{all: [{AUTOMATIC}, {{any: [{{listed: {{is: yes}}}}, {{field_evaluated: {{is: yes}}}}, "
                f"{only('{neutral: {is: solid}}', '2023')}]}}]}}"
            ),
            [Difference("when", "applies also where", None, "neutral in the switch is carried solid")],
        ),
        (
            with_parts(f"when: {{all: [{only(AUTOMATIC, '2020')}, {only(MANUAL, '2023')}]}}"),
            [Difference("when", "applies only where", "operation is automatic", "operation is by hand")],
        ),
        (
            with_parts(
                f"when: {AUTOMATIC}\n    unless: [{{id: by-hand, if: {MANUAL}, because: somebody stands there, "
                'sections: {"2023": "1.1"}}]'
            ),
            [Difference("exception", "somebody stands there", None, "operation is by hand")],
        ),
        (
            with_parts("", only("listed: {listed: {is: yes}}", "2023")),
            [Difference("requirement", "listed", None, "listed: yes")],
        ),
        (
            with_parts(
                f'instead: [{{id: by-hand, if: {MANUAL}, requires: {{listed: {{listed: {{is: yes}}}}}}, in: ["2023"]}}]'
            ),
            [Difference("instead", "by hand", None, "where operation is by hand: listed: yes")],
        ),
        (
            with_parts(
                f"unless: [{{id: by-hand, if: {{any: [{MANUAL}, {only('{listed: {is: yes}}', '2023')}]}}, "
                'because: "somebody knows {subject}", sections: {"2020": "1.1", "2023": "1.1"}}]'
            ),
            [
                Difference(
                    "exception",
                    "somebody knows the transfer switch",
                    "operation is by hand",
                    "operation is by hand or listed: yes",
                )
            ],
        ),
        (
            with_parts("", "", (CHECKED, f'checked: {{"2020": {SURE}, "2023": {{sure: low, against: memory}}}}')),
            [Difference("citation", "citation of 1.1", "confirmed", "to be verified")],
        ),
        (with_parts(f"when: {{all: [{AUTOMATIC}]}}"), []),
        (with_parts(f"when: {{any: [{only(AUTOMATIC, '2020')}, {only(AUTOMATIC, '2023')}]}}"), []),
    ],
)
def test_one_thing_differs_and_is_told_once(rules: str, differences: list[Difference], tmp_path: Path) -> None:
    found = compared(tmp_path, rules)
    assert [each for rule in found.differences for each in rule.differences] == differences
    assert found.same == (0 if differences else 1)


def test_a_way_more(tmp_path: Path) -> None:
    ways = "any_way:\n        rated: {rated_current: {at_least: {parameter: least}}}\n        " + only(
        "listed: {listed: {is: yes}}", "2023"
    )
    rules = with_parts("", "", ("rated: {rated_current: {at_least: {parameter: least}}}", ways))
    (rule,) = compared(tmp_path, rules).differences
    (way,) = rule.differences
    assert way.aspect == "way"
    assert way.after is not None
    assert way.after.endswith("or listed: yes")


def test_one_of_three_ways_goes(tmp_path: Path) -> None:
    ways = (
        "any_way:\n        rated: {rated_current: {at_least: {parameter: least}}}\n        "
        "by_hand: {operation: {is: manual}}\n        " + only("listed: {listed: {is: yes}}", "2020")
    )
    rules = with_parts("", "", ("rated: {rated_current: {at_least: {parameter: least}}}", ways))
    (rule,) = compared(tmp_path, rules).differences
    assert rule.differences == (Difference("way", "listed", "listed: yes", None),)


def test_rows_of_a_table_are_told_one_by_one(tmp_path: Path) -> None:
    rows = '"2020": [[60, 10 AWG], [100, 8 AWG]]\n      "2023": [[60, 10 AWG], [100, 6 AWG]]'
    table = (
        "tables:\n  jumpers:\n    title: jumpers\n    keys: {over: {match: at_or_above, type: load_current, unit: A}}\n"
        f"    gives: wire_size\n    beyond: the engineer chooses\n    rows:\n      {rows}\n"
        f'    sections: {{"2020": "1.2", "2023": "1.2"}}\n    {CHECKED}\n'
    )
    part = "incoming: {incoming.rated_current: {present: yes}}"
    rules = (
        with_parts("", part, ("subject: transfer_switch", "subject: connection"))
        .replace(
            "{rated_current: {at_least: {parameter: least}}}",
            "{phase.size: {at_least: {table: jumpers, keys: {over: {fact: from.rated_current}}}, if_absent: no}}",
        )
        .replace(f"      {part}\n", "")
        .partition("parameters:")[0]
        + table
    )
    (rule,) = compared(tmp_path, rules).differences
    (row,) = rule.differences
    assert (row.aspect, row.what) == ("table", "table jumpers, over 100 A")
    assert (row.before, row.after) == ("8 AWG", "6 AWG")


def test_rules_appear_and_go(tmp_path: Path) -> None:
    only_2020 = with_parts().replace('sections: {"2020": "1.1", "2023": "1.1"}', 'sections: {"2020": "1.1"}', 1)
    found = compared(tmp_path, only_2020)
    assert [(each.kind, each.id) for each in found.differences] == [("goes", "switch-fits")]
    found = compared(tmp_path, only_2020.replace('sections: {"2020": "1.1"}', 'sections: {"2023": "1.1"}', 1))
    assert [(each.kind, each.id) for each in found.differences] == [("appears", "switch-fits")]


def test_a_reading_more(tmp_path: Path) -> None:
    readings = (
        "readings:\n      plain: {held_by: most, requires: {listed: {listed: {is: yes}}}}\n"
        "      strict: {held_by: some, "
        'requires: {rated: {rated_current: {at_least: {parameter: least}}}}, in: ["2023"]}\n    says: "{subject}'
    )
    rules = with_parts().replace("    requires:\n      rated: {rated_current: {at_least: {parameter: least}}}\n", "")
    rules = rules.replace('says: "{subject}', readings, 1)
    (rule,) = compared(tmp_path, rules).differences
    told = [each for each in rule.differences if each.aspect == "reading"]
    assert told == [Difference("reading", "some", None, "rated current is at least 100 A (least rating)")]


RECORD = Interpretation(
    "switch-fits", "answered", "It counts.", "the board", date(2025, 1, 1), None, Position("a", 1, 1)
)


@pytest.mark.parametrize(
    ("change", "aspect", "words"),
    [
        (lambda rule: replace(rule, rule=replace(rule.rule, force=Force.RECOMMENDED)), "outcome", "recommended"),
        (lambda rule: replace(rule, rule=replace(rule.rule, basis=Basis.WRITTEN_POLICY)), "outcome", "written policy"),
        (lambda rule: replace(rule, rule=replace(rule.rule, due=Stage.ACCEPTANCE)), "due", "acceptance"),
        (lambda rule: replace(rule, rule=replace(rule.rule, says="{subject}!")), "wording", "The transfer switch!"),
        (
            lambda rule: replace(rule, rule=replace(rule.rule, look="Look at {subject}.", requires=None)),
            "look",
            "Look at",
        ),
        (
            lambda rule: replace(rule, interpretations=(RECORD,)),
            "interpretation",
            "It counts. (the board, 2025-01-01",
        ),
        (
            lambda rule: replace(rule, versions=(Version("A", rule), Version("B", None))),
            "versions",
            "by B: no such rule",
        ),
    ],
)
def test_what_only_layers_and_records_can_change(
    change: Callable[[RuleInForce], RuleInForce], aspect: str, words: str, tmp_path: Path
) -> None:
    rule = _first(tmp_path, with_parts())
    found = rules_compared(RuleSide((rule,)), RuleSide((change(rule),)), Vocabulary(shipped_catalog()))
    (told,) = (each for each in found.differences[0].differences if each.aspect == aspect)
    assert words in str(told.after)


def _first(folder: Path, rules: str) -> RuleInForce:
    (folder / "pack.yaml").write_text(HEAD, encoding="utf-8")
    (folder / "rules.yaml").write_text(rules, encoding="utf-8")
    return pack_in_edition(read_pack(folder, shipped_catalog()), "2020", "")[0]
