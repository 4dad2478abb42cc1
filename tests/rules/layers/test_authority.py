"""What an authority may do with every operation: within it the change is made, beyond it both versions stand."""

# ruff: noqa: E501  changes of a layer stand on one line, as in a layer
from __future__ import annotations

from pathlib import Path

import pytest

from checker.rules.model.in_force import RulesInForce
from tests.rules.layers.shelves import layer_text, notices, rule, town

ALL = {"anything", "tighten", "ease", "nothing"}
RULE = '{title: Otherwise, subject: generator, requires: {known: {place: {known: yes}}}, says: "{subject} is nowhere."'
OPERATIONS = {
    "replace: set-is-outdoors, with: " + RULE + "}": {"anything"},
    "set: least-rating, to: 150 A, exceptions: apply": {"anything", "tighten"},
    "set: least-rating, to: 150 A, exceptions: do_not_apply": {"anything", "tighten"},
    "set: least-rating, to: 100 A, exceptions: do_not_apply": {"anything", "tighten"},
    "set: least-rating, to: 100 A, exceptions: apply": ALL,
    "set: least-rating, to: 50 A, exceptions: apply": {"anything", "ease"},
    "set: least-rating, to: 50 A, exceptions: do_not_apply": {"anything"},
    "set: least-rating, to: no_limit, exceptions: apply": {"anything", "ease"},
    "add_exception: {to: set-is-listed, id: old-set, if: {status: {is: existing}}, because: it is old}": {
        "anything",
        "ease",
    },
    "end_exception: {of: switch-is-listed, id: judged-there}": {"anything", "tighten"},
    "end_exception: {of: set-is-outdoors, id: made-for-a-room}": {"anything"},
    "add_way: {to: set-is-outdoors, name: vented, if: {place: {is: garage}}}": {"anything", "ease"},
    "widen: set-is-outdoors, when: {generator_form: {is: portable}}": {"anything", "tighten"},
    "narrow: set-is-outdoors, when: {status: {is: new}}": {"anything", "ease"},
    "delete: set-is-listed": {"anything", "ease"},
    'limit: set-is-listed, from: "2027-01-01"': {"anything", "ease"},
    "renumber: set-is-listed": ALL,
    "confirm: set-is-listed, checked: {sure: low, against: memory}": ALL,
    "redirect: {document: Fern Code}, to: {document: Moss Code}": ALL,
    "add: {id: set-is-there, " + RULE[1:] + "}": {"anything", "tighten"},
    "add: {id: set-is-there, force: recommended, " + RULE[1:] + "}": ALL,
    "ask_for: {paper: survey}": {"anything", "tighten"},
}


def _disputed(found: RulesInForce) -> list[str]:
    return [each.rule.id for each in found.rules if each.versions]


@pytest.mark.parametrize("may", sorted(ALL))
@pytest.mark.parametrize("written", sorted(OPERATIONS))
def test_operation_within_and_beyond(written: str, may: str, tmp_path: Path) -> None:
    found = town((layer_text(f"  - {{{written}, cites: [{{section: '1'}}]}}\n"), f"may: {may}")).in_force(tmp_path)
    if may in OPERATIONS[written]:
        assert not notices(found, "beyond_authority")
        assert not _disputed(found)
        return
    (told,) = notices(found, "beyond_authority")
    assert told.sentence.startswith("Council of town may ")
    (disputed,) = _disputed(found)
    versions = rule(found, disputed).versions
    assert [each.held_by for each in versions][1:] == ["Council of town"]
    assert not found.deleted


def test_a_version_that_deletes_has_no_rule(tmp_path: Path) -> None:
    text = layer_text("  - {delete: set-is-listed, cites: [{section: '1'}]}\n")
    disputed = rule(town((text, "may: tighten")).in_force(tmp_path), "set-is-listed")
    assert [(each.held_by, each.rule is None) for each in disputed.versions] == [
        ("order 1", False),
        ("Council of town", True),
    ]
    assert disputed.history[0].applied is False


def test_pre_emption_wants_an_authority_that_may_do_anything(tmp_path: Path) -> None:
    state = layer_text("  - {pre_empt: set-is-listed, cites: [{section: '1'}]}\n", "state")
    lower = layer_text("  - {delete: set-is-listed, cites: [{section: '1'}]}\n", "village")
    found = town((state, "may: tighten"), lower).in_force(tmp_path)
    assert notices(found, "beyond_authority")
    assert [each.rule.rule.id for each in found.deleted] == ["set-is-listed"]


def test_two_changes_beyond_it_are_one_version(tmp_path: Path) -> None:
    text = layer_text(
        "  - {set: least-rating, to: 50 A, exceptions: apply, cites: [{section: '1'}]}\n"
        "  - {add_exception: {to: switch-is-listed, id: old-switch, if: {status: {is: existing}}, because: so}, cites: [{section: '2'}]}\n"
    )
    disputed = rule(town((text, "may: tighten")).in_force(tmp_path), "switch-is-listed")
    below, wanted = disputed.versions
    assert below.rule is not None
    assert wanted.rule is not None
    assert below.rule.parameters["least-rating"].text == "100 A"
    assert [each.id for each in below.rule.rule.unless] == ["judged-there"]
    assert wanted.rule.parameters["least-rating"].text == "50 A"
    assert [each.id for each in wanted.rule.rule.unless] == ["judged-there", "old-switch"]


def test_a_later_authority_changes_every_version_and_can_settle_them(tmp_path: Path) -> None:
    beyond = layer_text("  - {set: least-rating, to: 50 A, exceptions: apply, cites: [{section: '1'}]}\n", "village")
    later = layer_text("  - {set: least-rating, to: 120 A, exceptions: apply, cites: [{section: '1'}]}\n", "state")
    settled = rule(town((beyond, "may: tighten"), later).in_force(tmp_path), "switch-is-listed")
    assert settled.versions == ()
    assert settled.parameters["least-rating"].text == "120 A"
    narrow = layer_text("  - {narrow: switch-is-listed, when: {status: {is: new}}, cites: [{section: '1'}]}\n", "state")
    still = rule(town((beyond, "may: tighten"), narrow).in_force(tmp_path), "switch-is-listed")
    assert [each.rule.parameters["least-rating"].text for each in still.versions if each.rule] == ["100 A", "50 A"]
    assert all(each.rule is not None and each.rule.history[-1].layer == "state" for each in still.versions)


def test_a_disputed_rule_that_is_deleted_above_is_told(tmp_path: Path) -> None:
    beyond = layer_text("  - {set: least-rating, to: 50 A, exceptions: apply, cites: [{section: '1'}]}\n", "village")
    later = layer_text("  - {delete: switch-is-listed, cites: [{section: '1'}]}\n", "state")
    found = town((beyond, "may: tighten"), later).in_force(tmp_path)
    assert [each.rule.rule.id for each in found.deleted] == ["switch-is-listed"]
    assert "switch-is-listed" not in {each.rule.id for each in found.rules}
