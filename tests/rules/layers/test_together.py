"""Layers together: ranks, collisions of one rank, what goes over what, and changes of which nothing comes."""

# ruff: noqa: E501  changes of a layer stand on one line, as in a layer
from __future__ import annotations

import re
from itertools import permutations
from pathlib import Path

import pytest

from checker.rules.layers.model import Layer
from checker.rules.model.in_force import RuleInForce, RulesInForce
from checker.values.problems import Unreadable
from tests.rules.layers.shelves import layer_text, notices, rule, town

CITES = "cites: [{section: '1'}]"
_CITES = CITES.replace("{", "{{").replace("}", "}}")
SAME = "may: anything, same_rank: yes"
SET = "  - {{set: least-rating, to: {to}, exceptions: {exceptions}, " + _CITES + "{more}}}\n"


def _set(name: str, to: str, exceptions: str = "apply", more: str = "") -> str:
    return layer_text(SET.format(to=to, exceptions=exceptions, more=more), name)


def _rating(found: RuleInForce) -> str:
    return found.parameters["least-rating"].text


def test_the_higher_rank_goes_before(tmp_path: Path) -> None:
    found = town(_set("state", "80 A"), _set("village", "60 A")).in_force(tmp_path)
    changed = rule(found, "switch-is-listed")
    assert _rating(changed) == "60 A"
    assert [each.sentence for each in changed.history] == [
        "least rating: 80 A instead of 100 A",
        "least rating: 60 A instead of 80 A",
    ]
    assert not found.notices


def test_layers_of_one_rank_that_do_not_agree(tmp_path: Path) -> None:
    found = town(_set("north", "80 A"), (_set("south", "60 A"), SAME)).in_force(tmp_path)
    disputed = rule(found, "switch-is-listed")
    assert [(each.held_by, each.rule and _rating(each.rule)) for each in disputed.versions] == [
        ("Council of north", "80 A"),
        ("Council of south", "60 A"),
    ]
    (told,) = notices(found, "collision")
    assert "north, change 1 (Council of north) and south, change 1 (Council of south)" in told.sentence
    assert told.at is not None
    assert [each.layer for each in disputed.history] == ["north", "south"]


def test_layers_of_one_rank_that_want_the_same(tmp_path: Path) -> None:
    found = town(_set("north", "80 A"), (_set("south", "80 A"), SAME)).in_force(tmp_path)
    assert not notices(found, "collision")
    assert rule(found, "switch-is-listed").versions == ()
    assert _rating(rule(found, "switch-is-listed")) == "80 A"
    assert [each.layer for each in rule(found, "switch-is-listed").history] == ["north", "south"]


def test_both_delete(tmp_path: Path) -> None:
    text = "  - {delete: set-is-listed, " + CITES + "}\n"
    found = town(layer_text(text, "north"), (layer_text(text, "south"), SAME)).in_force(tmp_path)
    assert [each.rule.rule.id for each in found.deleted] == ["set-is-listed"]
    assert not notices(found, "collision")


@pytest.mark.parametrize("name", ["narrow", "end"])
def test_both_make_the_same_change(name: str, tmp_path: Path) -> None:
    found = town(layer_text(ONES[name], "north"), (layer_text(ONES[name], "south"), SAME)).in_force(tmp_path)
    assert not notices(found, "collision")
    assert [each.layer for each in rule(found, "switch-is-listed").history] == ["north", "south"]


def test_over_names_the_layer_that_gives_way(tmp_path: Path) -> None:
    found = town(_set("north", "80 A"), (_set("south", "60 A", more=", over: [north]"), SAME)).in_force(tmp_path)
    assert _rating(rule(found, "switch-is-listed")) == "60 A"
    assert not notices(found, "collision")
    (told,) = notices(found, "goes_over")
    assert "north, change 1" in told.sentence
    assert "gives way to south, change 1" in told.sentence


def test_two_that_both_go_over_the_other_collide(tmp_path: Path) -> None:
    north = _set("north", "80 A", more=", over: [south]")
    found = town(north, (_set("south", "60 A", more=", over: [north]"), SAME)).in_force(tmp_path)
    assert notices(found, "collision")
    assert len(rule(found, "switch-is-listed").versions) == 2


def test_over_does_not_help_who_may_not(tmp_path: Path) -> None:
    south = (_set("south", "60 A", more=", over: [north]"), "may: tighten, same_rank: yes")
    found = town(_set("north", "120 A"), south).in_force(tmp_path)
    disputed = rule(found, "switch-is-listed")
    assert [each.rule and _rating(each.rule) for each in disputed.versions] == ["120 A", "60 A"]
    assert notices(found, "beyond_authority")


EXCEPTION = (
    "  - {{add_exception: {{to: switch-is-listed, id: {id}-thing, if: {{status: {{is: existing}}}}, because: so}}, "
    + _CITES
    + "}}\n"
)
ONES = {
    "delete": "  - {delete: switch-is-listed, " + CITES + "}\n",
    "set": SET.format(to="80 A", exceptions="apply", more=""),
    "set without exceptions": SET.format(to="80 A", exceptions="do_not_apply", more=""),
    "exception": EXCEPTION.format(id="old"),
    "end": "  - {end_exception: {of: switch-is-listed, id: judged-there}, " + CITES + "}\n",
    "way": "  - {add_way: {to: switch-is-listed, name: tested, if: {status: {is: existing}}}, " + CITES + "}\n",
    "narrow": "  - {narrow: switch-is-listed, when: {status: {is: new}}, " + CITES + "}\n",
    "renumber": "  - {renumber: switch-is-listed, " + CITES + "}\n",
}
GO_TOGETHER = {
    frozenset(each)
    for each in [("exception", "way"), ("exception", "set"), ("way", "set"), ("exception", "end"), ("way", "end"),
                 ("exception", "narrow"), ("way", "narrow"), ("way", "set without exceptions"),
                 *(("renumber", other) for other in ONES if other != "renumber")]
}  # fmt: skip


@pytest.mark.parametrize("pair", [pair for pair in permutations(ONES, 2) if pair[0] < pair[1]], ids=" and ".join)
def test_which_changes_of_one_rank_go_together(pair: tuple[str, str], tmp_path: Path) -> None:
    """Those that do come to the same in either order; all others collide, so that no order decides."""
    (tmp_path / "turned").mkdir()
    one, other = (layer_text(ONES[name], f"{place}-side") for name, place in zip(pair, ("north", "south"), strict=True))
    found = town(one, (other, SAME)).in_force(tmp_path)
    turned = town(other, (one, SAME)).in_force(tmp_path / "turned")
    assert bool(notices(found, "collision")) is (frozenset(pair) not in GO_TOGETHER)
    assert _asked(found) == _asked(turned)


def _asked(found: RulesInForce) -> object:
    """What is asked of a switch, whatever the order in which it was changed."""
    rules = [each for each in found.rules if each.rule.id == "switch-is-listed"]
    if not rules:
        return None
    (only,) = rules
    if only.versions:
        return sorted((each.held_by, _text(each.rule and each.rule.rule)) for each in only.versions)
    body = only.rule
    return (only.parameters, {each.id for each in body.unless}, _text(body.when), _text(body.requires))


def _text(part: object) -> str:
    return re.sub(r"at=Position\([^)]*\)", "", repr(part))


def test_a_version_holds_all_that_its_layer_changes(tmp_path: Path) -> None:
    north = layer_text(ONES["set"] + ONES["narrow"], "north")
    found = rule(town(north, (_set("south", "60 A"), SAME)).in_force(tmp_path), "switch-is-listed")
    first, second = (each.rule for each in found.versions)
    assert first is not None
    assert second is not None
    assert first.rule.when != second.rule.when
    assert (_rating(first), _rating(second)) == ("80 A", "60 A")


BODY = '{{id: set-is-far, title: Far, subject: generator, requires: {{far: {{place: {{is: {place}}}}}}}, says: "{{subject}} is near."}}'


def test_a_rule_of_another_authority_of_the_same_rank(tmp_path: Path) -> None:
    north = layer_text(f"  - {{add: {BODY.format(place='outdoors')}, {CITES}}}\n", "north")
    with_rule = BODY.format(place="garage").replace("id: set-is-far, ", "")
    south = layer_text(f"  - {{replace: north:set-is-far, with: {with_rule}, {CITES}}}\n", "south")
    found = town(north, (south, SAME)).in_force(tmp_path)
    assert [each.held_by for each in rule(found, "set-is-far").versions] == ["Council of north", "Council of south"]
    assert notices(found, "collision")
    over = south.replace(CITES, CITES + ", over: [north]")
    assert rule(town(north, (over, SAME)).in_force(tmp_path), "set-is-far").versions == ()


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ("  - {delete: set-is-marked, " + CITES + "}\n", "no such rule is in force on this date."),
        (ONES["delete"] + ONES["set"], "the rule is not in force here (Council of town: not adopted)."),
        (ONES["end"] + ONES["end"], "the rule that is in force has nothing of the kind."),
    ],
)
def test_a_change_of_which_nothing_comes(changes: str, told: str, tmp_path: Path) -> None:
    edition_2 = '  - {document: Fern Code, edition: "2", from: "2020-01-01", adopted_by: order 2}\n'
    profile = "profile: fern-town\ntitle: Fern Town\nevent: permit_application\ndocuments:\n" + edition_2
    found = town(layer_text(changes, against="2"), profile=profile).in_force(tmp_path)
    (notice,) = notices(found, "nothing_to_change")
    assert notice.sentence.endswith(f" changes nothing: {told}")
    assert notice.remedy
    assert notice.at is not None


def test_one_change_of_several_rules_is_stale_only_if_none_is_left(tmp_path: Path) -> None:
    edition_2 = '  - {document: Fern Code, edition: "2", from: "2020-01-01", adopted_by: order 2}\n'
    profile = "profile: fern-town\ntitle: Fern Town\nevent: permit_application\ndocuments:\n" + edition_2
    text = layer_text("  - {delete: {section: '70', every: yes}, " + CITES + "}\n")
    found = town(text, profile=profile).in_force(tmp_path)
    assert [each.rule.rule.id for each in found.deleted] == ["set-is-outdoors"]
    assert not notices(found, "nothing_to_change")
    (told,) = notices(found, "other_edition")
    assert told.sentence == "Town law was written against Fern Code 1; in force here is 2."


def test_a_layer_twice(tmp_path: Path) -> None:
    with pytest.raises(Unreadable) as caught:
        town(_set("north", "80 A"), _set("north", "80 A")).in_force(tmp_path)
    (problem,) = caught.value.problems
    assert problem.sentence == "The layer north is in force twice on 2026-03-14."
    assert str(problem.at) == "profile.yaml:8:5"


def test_numbers_of_one_name_in_two_layers_that_change_one_rule(tmp_path: Path) -> None:
    own = 'parameters:\n  great: {{title: great, type: active_power, stricter: higher, value: {}, cites: [{{section: "2"}}]}}\n'
    change = "  - {narrow: set-is-outdoors, when: {greatest_power: {at_least: {parameter: great}}}, " + CITES + "}\n"
    layers = [
        layer_text(change, name, more=own.format(value)) for name, value in (("north", "5 kW"), ("south", "9 kW"))
    ]
    with pytest.raises(Unreadable) as caught:
        town(*layers).in_force(tmp_path)
    (problem,) = caught.value.problems
    assert problem.sentence == "north and south both have a number `great`, and both change fern-code:set-is-outdoors."


def test_layers_know_those_below_them_alone(tmp_path: Path) -> None:
    north = layer_text(f"  - {{add: {BODY.format(place='outdoors')}, {CITES}}}\n", "north")
    south = layer_text(f"  - {{delete: north:set-is-far, {CITES}}}\n", "south")
    with pytest.raises(Unreadable, match="There is no rule north:set-is-far"):
        town(south, north).in_force(tmp_path)


def test_layer_in_force_is_told(tmp_path: Path) -> None:
    found = town(_set("north", "80 A")).in_force(tmp_path).layers
    assert [(each.layer, each.authority, each.changes) for each in found] == [("north", "Council of north", 1)]
    assert isinstance(found[0].digest, str)
    assert Layer.__doc__
