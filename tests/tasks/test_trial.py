"""Rules that can never apply, be missed or be met are found by trying them; the rules of the program are not."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.rules.reading.pack import read_pack
from checker.tasks.gathering.library import Library
from checker.tasks.testing.trial import tried_packs
from tests.cli.small_pack import RULES, changed, write_pack

MORE = """
  another-rating:
    title: another rating
    type: load_current
    stricter: higher
    value: 200 A
    cites: [{document: Heron Point Code, section: "14-31"}]
    checked: {sure: high, against: the code, on: "2025-01-01", by: building department}
rules:"""
WHEN = "when: {operation: {is: automatic}}"
RATED = "rated_current: {at_least: {parameter: least-switch-rating}"
LEAST, OTHER = "{parameter: least-switch-rating}", "{parameter: another-rating}"


def _all(*conditions: str) -> str:
    return f"when: {{all: [{', '.join(conditions)}]}}"


@pytest.mark.parametrize(
    ("rules", "told"),
    [
        (RULES, ""),
        (changed(RULES, WHEN, _all("{operation: {is: automatic}}", "{operation: {is: manual}}")), "apply"),
        (changed(RULES, WHEN, _all("{operation: {is: automatic}}", "{not: {operation: {is: automatic}}}")), "apply"),
        (changed(RULES, WHEN, "when: {any: [{operation: {is: automatic}}, {operation: {is: manual}}]}"), ""),
        (
            changed(RULES, WHEN, f"when: {{rated_current: {{at_least: {OTHER}, at_most: {LEAST}}}}}"),
            "apply",
        ),
        (changed(RULES, WHEN, f"when: {{rated_current: {{at_least: {LEAST}, at_most: {OTHER}}}}}"), "be missed"),
        (changed(RULES, WHEN, f"when: {{rated_current: {{at_least: {OTHER}}}}}"), "be missed"),
        (changed(RULES, WHEN, f"when: {{rated_current: {{less_than: {LEAST}}}}}"), "be met"),
        (changed(RULES, WHEN, f"when: {{rated_current: {{less_than: {OTHER}}}}}"), ""),
    ],
)
def test_a_rule_that_contradicts_itself_is_found(rules: str, told: str, tmp_path: Path) -> None:
    text = rules.replace("\nrules:", MORE, 1) if "another-rating" in rules else rules
    pack = read_pack(write_pack(tmp_path, rules=text, cases=None), shipped_catalog())
    found = [str(each.sentence) for each in tried_packs((pack,), shipped_catalog())]
    assert found == ([f"`switch-large-enough` can never {told}, whatever a site shows."] if told else [])


def test_every_rule_of_the_program_can_apply_be_missed_and_be_met() -> None:
    assert list(tried_packs(Library.shipped().packs, shipped_catalog())) == []
