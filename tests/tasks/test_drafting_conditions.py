"""Drafts of every shape and under every condition, and papers that only a town knows."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from checker.catalog.load import shipped_catalog
from checker.files.yaml.strict_yaml import read_text
from checker.files.yaml.tree import plain
from checker.rules.layers.cases import full_names, read_layer_cases
from checker.tasks.drafting.shapes import SITE, conditions, shapes, subject_of
from checker.tasks.testing.layer_cases import run_layer_cases
from checker.values.problems import Unreadable
from tests.tasks.town import draft, lint, read

LAYER, CASES = "fern-point-code.yaml", "fern-point-code.cases.yaml"
ANSWERS = {
    "to_kind": "opening",
    "at_least": "10 ft",
    "subject": "meter",
    "tells": "[source_type]",
    "zone": "flood_hazard",
    "fuel": "[propane, diesel]",
    "power_from": "10 kW",
    "rated_from": "400 A",
    "not_before": "10 h",
    "not_after": "15 h",
}
OF_ITS_OWN = {
    "greatest_power": {"at_most": "20 kW"},
    "fuels": {"allowed": "[natural_gas]"},
    "sound": {"at_most": "60 dBA"},
    "yard": {"allowed": "[side, rear]"},
}
OWN = "ask_for: notice-to-neighbors, title: signed notice to the neighbors, means: Form 7., due: installation"


def _answered(name: str, only: str = "") -> str:
    shape = shapes()[name]
    known = conditions(subject_of(shape, {"subject": ("meter",)}))
    asks = (*shape.asks, *(known[only].asks if only else ()))
    given = {each.name: (OF_ITS_OWN.get(name, {}) | ANSWERS)[each.name] for each in asks}
    with_them = _with(given)
    return f"{{add: {name}, {f'only: [{only}], ' if only else ''}{with_them}section: 14-40}}"


def _with(given: Mapping[str, str]) -> str:
    return f"with: {{{', '.join(f'{key}: {value}' for key, value in given.items())}}}, " if given else ""


def _loaded(text: str) -> Any:
    return plain(read_text(text.encode(), "drafted"))


def _is_clean(folder: Path) -> None:
    found = lint(folder)
    assert (found.errors, found.warnings) == ((), ())
    (stack,) = read(folder).stacks.values()
    cases = read_layer_cases(stack, shipped_catalog())
    assert {each.rule for each in cases} == set(full_names(stack))
    assert [each for each in run_layer_cases(stack, cases, shipped_catalog()) if not each.holds] == []


def _problems(change: str) -> str:
    with pytest.raises(Unreadable) as told:
        draft(Path("/nowhere"), change)
    return "\n".join(f"{each.sentence} {each.remedy} {each.near}" for each in told.value.problems)


@pytest.mark.parametrize("name", list(shapes()))
def test_rule_of_every_shape_is_clean_and_its_cases_hold(name: str, tmp_path: Path) -> None:
    files = draft(tmp_path, _answered(name))
    _is_clean(tmp_path)
    (block,) = _loaded(files[CASES]).values()
    assert {"met", "correction", "needs_information"} <= {each["outcome"] for each in block["cases"]}


UNDER = [
    (shape, only)
    for shape, only_of in (("switched_neutral", "transfer_switch"), ("stop_outdoors", "generator"))
    for only in conditions(only_of)
]


@pytest.mark.parametrize(("name", "only"), UNDER)
def test_rule_under_every_condition_is_clean_and_applies_nowhere_else(name: str, only: str, tmp_path: Path) -> None:
    free = _loaded(draft(tmp_path / "free", _answered(name))[LAYER])["changes"][0]["add"]
    files = draft(tmp_path / "held", _answered(name, only))
    held = _loaded(files[LAYER])["changes"][0]["add"]
    _is_clean(tmp_path / "held")
    before = free["when"]["all"] if "all" in free["when"] else [free["when"]]
    assert held["when"]["all"][:-1] == before
    (block,) = _loaded(files[CASES]).values()
    turned_off = [each for each in block["cases"] if each["outcome"] == "not_applicable" and "but" in each]
    (read_by,) = held["when"]["all"][-1]
    assert any(read_by in each["but"] for each in turned_off)


@pytest.mark.parametrize("only", list(conditions(SITE)))
def test_paper_under_every_condition_is_clean(only: str, tmp_path: Path) -> None:
    asked = {each.name: ANSWERS[each.name] for each in conditions(SITE)[only].asks}
    files = draft(tmp_path, f"{{ask_for: survey, only: [{only}], {_with(asked)}section: 14-35}}")
    _is_clean(tmp_path)
    (block,) = _loaded(files[CASES]).values()
    assert {"met", "correction", "not_applicable"} <= {each["outcome"] for each in block["cases"]}


def test_two_conditions_hold_together(tmp_path: Path) -> None:
    change = "{add: switched_neutral, only: [automatic, rated_from], with: {rated_from: 400 A}, section: 14-31}"
    files = draft(tmp_path, change)
    layer = _loaded(files[LAYER])
    assert layer["parameters"]["fern-point-switched-neutral-from"]["value"] == "400 A"
    cases = _loaded(files[CASES])["fern-point-switched-neutral"]["cases"]
    outcomes = {str(each.get("but")): each["outcome"] for each in cases}
    assert outcomes["{'operation': 'manual'}"] == outcomes["{'rated_current': '360 A'}"] == "not_applicable"
    assert outcomes["{'neutral': 'solid'}"] == "correction"


def test_stop_outdoors_is_missed_by_one_on_the_enclosure_and_by_one_indoors(tmp_path: Path) -> None:
    cases = _loaded(draft(tmp_path, "{add: stop_outdoors, section: 14-41}")[CASES])["fern-point-stop-outdoors"]["cases"]
    outcomes = {each["shows"]: each["outcome"] for each in cases}
    assert outcomes["stops, place outdoors, stands outer face of enclosure, readily accessible yes"] == "correction"
    assert outcomes["stops, place indoors, stands away from set, readily accessible yes"] == "correction"
    assert outcomes["stops not listed"] == "needs_information"


def test_paper_of_its_own_is_declared_and_asked_for(tmp_path: Path) -> None:
    layer = _loaded(draft(tmp_path, f"{{{OWN}, section: 14-39}}")[LAYER])
    assert layer["papers"] == {
        "notice-to-neighbors": {
            "title": "signed notice to the neighbors",
            "means": "Form 7.",
            "due": "installation",
            "cites": [{"section": "14-39"}],
        }
    }
    assert layer["changes"][0]["ask_for"] == {"paper": "notice-to-neighbors"}
    _is_clean(tmp_path)


def test_layer_that_only_adds_tells_what_a_change_of_a_model_code_would_amend(tmp_path: Path) -> None:
    text = draft(tmp_path, "{add: switched_neutral, section: 14-31}")[LAYER]
    assert '# amends: {document: NFPA 70, written_against: "2020"}\n' in text
    # The line as it is told, without the sign before it, is one that lint takes.
    path = tmp_path / LAYER
    path.write_text(text.replace("# amends:", "amends:"), encoding="utf-8")
    assert lint(tmp_path).errors == ()


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ("{add: switched_neutral, only: [automtic], section: 1-1}", "`automtic` is none of the choices."),
        ("{add: switched_neutral, only: [automtic], section: 1-1}", "automatic"),
        ("{add: switched_neutral, only: [fuel], section: 1-1}", "`fuel` is none of the choices."),
        ("{add: switched_neutral, only: [rated_from], section: 1-1}", "also needs an answer: from which rating on?"),
        ("{add: switched_neutral, with: {rated_from: 10 A}, section: 1-1}", "is no answer that"),
        ("{ask_for: survey, only: [zone], with: {zone: moon}, section: 1-1}", "`moon` is none of the choices."),
        ("{ask_for: my-notice, section: 1-1}", "A paper that only your office knows has a name"),
        ("{ask_for: my-notice, means: Form 7., section: 1-1}", "The paper `my-notice` has no title."),
        ("{ask_for: handout, title: handout, section: 1-1}", "Write `ask_for: handout-of-the-office`"),
        ("{set: needs a remote stop, to: 10 kW, only: [new], section: 1-1}", "`only` says nothing of a change"),
    ],
)
def test_what_cannot_be_used_is_told(change: str, told: str) -> None:
    assert told in _problems(change)


def test_guide_names_every_shape_and_every_condition() -> None:
    guide = (Path(__file__).parents[2] / "MAINTAINERS.md").read_text(encoding="utf-8")
    conditions_of_all = {name for subject in (SITE, "generator", "transfer_switch") for name in conditions(subject)}
    assert [name for name in (*shapes(), *sorted(conditions_of_all)) if f"`{name}`" not in guide] == []
