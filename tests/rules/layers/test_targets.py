"""What a change is about: by id, with its pack, by section with its parts; what is not clear is refused."""

# ruff: noqa: E501  changes of a layer stand on one line, as in a layer
from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.layers.shelves import ids, layer_text, problems_of, town

CITES = "cites: [{section: '1'}]"


@pytest.mark.parametrize(
    ("target", "gone"),
    [
        ("set-is-listed", {"set-is-listed"}),
        ("fern-code:set-is-listed", {"set-is-listed"}),
        ("{section: '67'}", {"switch-is-listed"}),
        ("{section: 67(A)}", {"switch-is-listed"}),
        ("{section: '671'}", {"set-is-listed"}),
        ("{document: Fern Code, edition: '2', section: '70'}", {"set-is-outdoors"}),
        ("{section: '70', every: yes}", {"set-is-outdoors", "set-is-marked"}),
    ],
)
def test_target(target: str, gone: set[str], tmp_path: Path) -> None:
    found = town(layer_text(f"  - {{delete: {target}, {CITES}}}\n")).in_force(tmp_path)
    assert {each.rule.rule.id for each in found.deleted} == gone
    assert not {f"fern-code-1:{each}" for each in gone} & set(ids(found))


@pytest.mark.parametrize(
    ("target", "told", "near"),
    [
        ("set-is-lised", "There is no rule set-is-lised.", "set-is-listed"),
        ("moss-code:set-is-listed", "There is no rule moss-code:set-is-listed.", "set-is-listed"),
        ("switch-is-good", "The rule switch-is-good is retired.", ""),
        ("'67'", "67 is no id of a rule.", ""),
        (
            "{section: '70'}",
            "Fern Code 1 70 means 2 things: fern-code:set-is-outdoors and fern-code:set-is-marked.",
            "",
        ),
        ("{section: '6'}", "No rule cites Fern Code 1 6.", ""),
        ("{section: 67(C)}", "No rule cites Fern Code 1 67(C).", ""),
        ("{document: Fern Cod, section: '67'}", "There is no rule pack of Fern Cod.", "Fern Code"),
        ("{edition: '3', section: '67'}", "There is no edition 3 of Fern Code.", ""),
    ],
)
def test_target_that_is_not_clear(target: str, told: str, near: str, tmp_path: Path) -> None:
    (problem,) = problems_of(tmp_path, layer_text(f"  - {{delete: {target}, {CITES}}}\n"))
    assert problem.sentence == told
    assert (problem.near or "") == near
    assert problem.remedy
    assert str(problem.at) == "layer.yaml:9:14"


@pytest.mark.parametrize("target", ["least-rating", "fern-code:least-rating", "{section: '68'}", "switch-is-listed"])
def test_parameter_as_target(target: str, tmp_path: Path) -> None:
    found = town(layer_text(f"  - {{set: {target}, to: 90 A, exceptions: apply, {CITES}}}\n")).in_force(tmp_path)
    (rule,) = [each for each in found.rules if each.rule.id == "switch-is-listed"]
    assert rule.parameters["least-rating"].text == "90 A"


def test_a_layer_can_name_rules_of_those_below_it(tmp_path: Path) -> None:
    body = '{id: set-is-far, title: Far, subject: generator, requires: {far: {place: {is: outdoors}}}, says: "{subject} is near."}'
    state = layer_text(f"  - {{add: {body}, {CITES}}}\n", "state")
    lower = layer_text(f"  - {{delete: state:set-is-far, {CITES}}}\n", "village")
    assert "state:set-is-far" in ids(town(state).in_force(tmp_path))
    assert "state:set-is-far" not in ids(town(state, lower).in_force(tmp_path))
