"""Documents and layers that hold only somewhere: rules stand in two forms, each with an id of its own."""

# ruff: noqa: E501  changes of a layer stand on one line, as in a layer
from __future__ import annotations

from pathlib import Path

from checker.rules.model.in_force import RuleInForce, RulesInForce
from tests.rules.layers.shelves import PROFILE, ids, layer_text, notices, town

CITES = "cites: [{section: '1'}]"
OLD = "where: {zones: {includes: historic, if_absent: no}}, where_words: it is old"
WET = "where: {zones: {includes: flood_hazard, if_absent: no}}, where_words: it is wet"
SET = "  - {{set: least-rating, to: {to}, exceptions: apply, cites: [{{section: '1'}}]}}\n"
NARROW = "  - {narrow: switch-is-listed, when: {status: {is: new}}, " + CITES + "}\n"


def _forms(found: RulesInForce) -> dict[str, RuleInForce]:
    return {each.id.partition(":")[2]: each for each in found.rules if each.rule.id == "switch-is-listed"}


def _ratings(found: RulesInForce) -> dict[str, str]:
    return {name: each.parameters["least-rating"].text for name, each in _forms(found).items()}


def test_a_layer_that_holds_somewhere_splits_a_rule(tmp_path: Path) -> None:
    found = town((layer_text(SET.format(to="80 A")), f"may: anything, {OLD}")).in_force(tmp_path)
    assert _ratings(found) == {"switch-is-listed": "100 A", "switch-is-listed+town": "80 A"}
    assert [len(each.scopes) for each in _forms(found).values()] == [1, 1]
    (history,) = _forms(found)["switch-is-listed+town"].history
    assert history.sentence.endswith(", where it is old")


def test_several_changes_of_one_layer_split_it_once(tmp_path: Path) -> None:
    found = town((layer_text(SET.format(to="80 A") + NARROW), f"may: anything, {OLD}")).in_force(tmp_path)
    assert _ratings(found) == {"switch-is-listed": "100 A", "switch-is-listed+town": "80 A"}
    assert [len(each.history) for each in _forms(found).values()] == [0, 2]


def test_two_scoped_layers_make_four_forms(tmp_path: Path) -> None:
    layers = [
        (layer_text(SET.format(to=to), name), f"may: anything, {where}")
        for name, to, where in (("one", "80 A", OLD), ("two", "60 A", WET))
    ]
    found = town(*layers).in_force(tmp_path)
    assert _ratings(found) == {
        "switch-is-listed": "100 A",
        "switch-is-listed+one": "80 A",
        "switch-is-listed+two": "60 A",
        "switch-is-listed+one+two": "60 A",
    }
    assert len(set(ids(found))) == len(ids(found))


def test_layers_of_one_rank_collide_only_where_both_hold(tmp_path: Path) -> None:
    one = (layer_text(SET.format(to="80 A"), "one"), f"may: anything, {OLD}")
    two = (layer_text(SET.format(to="60 A"), "two"), f"may: anything, same_rank: yes, {WET}")
    found = town(one, two).in_force(tmp_path)
    forms = _forms(found)
    assert {name: len(each.versions) for name, each in forms.items()} == {
        "switch-is-listed": 0,
        "switch-is-listed+one": 0,
        "switch-is-listed+two": 0,
        "switch-is-listed+one+two": 2,
    }
    assert forms["switch-is-listed+two"].parameters["least-rating"].text == "60 A"
    assert len(notices(found, "collision")) == 1


def test_a_scoped_deletion_leaves_the_rule_elsewhere(tmp_path: Path) -> None:
    text = layer_text(f"  - {{delete: switch-is-listed, {CITES}}}\n" + SET.format(to="80 A"))
    found = town((text, f"may: anything, {OLD}")).in_force(tmp_path)
    assert _ratings(found) == {"switch-is-listed": "100 A"}
    (gone,) = found.deleted
    assert gone.history.sentence == "not adopted, where it is old"
    assert len(gone.rule.scopes) == 1


def test_a_scoped_rule_of_its_own(tmp_path: Path) -> None:
    body = '{id: set-is-far, title: Far, subject: generator, requires: {far: {place: {is: outdoors}}}, says: "{subject} is near."}'
    found = town((layer_text(f"  - {{add: {body}, {CITES}}}\n"), f"may: anything, {OLD}")).in_force(tmp_path)
    (added,) = [each for each in found.rules if each.rule.id == "set-is-far"]
    assert added.rule.when is not None
    assert (added.id, added.history[0].sentence) == ("town:set-is-far", "where it is old")


def test_a_scope_outlasts_a_replacement_and_a_widening(tmp_path: Path) -> None:
    """What a layer changes of a rule does not make it hold where its edition is not adopted."""
    profile = PROFILE.replace("adopted_by: order 1", f"adopted_by: order 1, {OLD}")
    body = '{title: Otherwise, subject: transfer_switch, requires: {known: {place: {known: yes}}}, says: "{subject} is nowhere."}'
    change = f"  - {{replace: switch-is-listed, with: {body}, {CITES}}}\n  - {{widen: set-is-outdoors, when: {{status: {{is: new}}}}, {CITES}}}\n"
    plain = town(layer_text(change)).in_force(tmp_path)
    found = town(layer_text(change), profile=profile).in_force(tmp_path)
    for name in ("switch-is-listed", "set-is-outdoors"):
        (held,) = [each for each in found.rules if each.rule.id == name]
        (open_,) = [each for each in plain.rules if each.rule.id == name]
        assert len(held.scopes) == 1
        assert repr(held.rule.when) != repr(open_.rule.when)


def test_an_edition_for_one_place_takes_the_place_of_the_general_one_there(tmp_path: Path) -> None:
    there = f'  - {{document: Fern Code, edition: "2", from: "2021-01-01", adopted_by: order 2, {OLD}}}\n'
    found = town(profile=PROFILE + there).in_force(tmp_path)
    assert [each.edition for each in found.packs] == ["1", "2"]
    assert all(len(each.scopes) == 1 for each in found.rules)
    general, special = (next(each for each in found.rules if each.edition == edition) for edition in ("1", "2"))
    assert repr(special.scopes[0]) in repr(general.scopes[0])
    assert repr(general.scopes[0]).startswith("Not(")


def test_pre_emption_that_holds_somewhere(tmp_path: Path) -> None:
    state = (layer_text(f"  - {{pre_empt: switch-is-listed, {CITES}}}\n", "state"), f"may: anything, {OLD}")
    found = town(state, layer_text(SET.format(to="60 A"), "village")).in_force(tmp_path)
    assert sorted(_ratings(found).values()) == ["100 A", "60 A"]
    assert "where it is old" in notices(found, "pre_empted")[0].sentence
