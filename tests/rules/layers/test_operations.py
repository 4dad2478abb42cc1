"""Every operation of a layer, read and applied: the day before it begins, its first and last day, the day after."""

# ruff: noqa: E501  changes of a layer stand on one line, as in a layer
from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest

from checker.rules.model.conditions import Compare, Group
from checker.rules.model.force import Harm
from checker.rules.model.in_force import RulesInForce
from tests.rules.layers.shelves import ids, layer_text, notices, rule, town

FIRST, LAST = date(2026, 3, 1), date(2026, 3, 31)
DAY = timedelta(days=1)
DATES = 'from: "2026-03-01", until: "2026-03-31", cites: [{section: "9"}], reason: because'

ADD = """{id: set-is-listed-here, title: Listed, subject: generator, requires: {listed: {listed: {is: yes}}}, says: "{subject} is not."}"""
WITH = """{title: Otherwise, subject: generator, requires: {known: {place: {known: yes}}}, says: "{subject} is nowhere."}"""


def _parts(found: RulesInForce, name: str) -> list[str]:
    requires = rule(found, name).rule.requires
    assert requires is not None
    return [*requires.parts, "any" if requires.any_way else "all"]


def _when(found: RulesInForce, name: str) -> str:
    when = rule(found, name).rule.when
    if isinstance(when, Group):
        return f"{when.how} {len(when.conditions)}"
    return "one" if isinstance(when, Compare) else "always"


CASES: dict[str, tuple[str, Callable[[RulesInForce], bool]]] = {
    "add": (f"add: {ADD}", lambda found: "town:set-is-listed-here" in ids(found)),
    "replace": (
        f"replace: set-is-outdoors, with: {WITH}",
        lambda found: _parts(found, "set-is-outdoors")[0] == "known",
    ),
    "set": (
        "set: least-rating, to: 150 A, exceptions: apply",
        lambda found: rule(found, "switch-is-listed").parameters["least-rating"].text == "150 A",
    ),
    "add_exception": (
        "add_exception: {to: set-is-listed, id: old-set, if: {status: {is: existing}}, because: it is old}",
        lambda found: [each.id for each in rule(found, "set-is-listed").rule.unless] == ["old-set"],
    ),
    "end_exception": (
        "end_exception: {of: switch-is-listed, id: judged-there}",
        lambda found: rule(found, "switch-is-listed").rule.unless == (),
    ),
    "end_exception of a replacement": (
        "end_exception: {of: set-is-outdoors, id: made-for-a-room}",
        lambda found: rule(found, "set-is-outdoors").rule.instead == (),
    ),
    "add_way": (
        "add_way: {to: set-is-outdoors, name: vented, if: {place: {is: garage}}}",
        lambda found: _parts(found, "set-is-outdoors") == ["outdoors", "vented", "any"],
    ),
    "add_way to several parts": (
        "add_way: {to: switch-is-listed, name: tested, if: {field_evaluated: {is: yes}}}",
        lambda found: _parts(found, "switch-is-listed") == ["as-the-model-code-has-it", "tested", "any"],
    ),
    "widen": (
        "widen: set-is-outdoors, when: {generator_form: {is: portable}}",
        lambda found: _when(found, "set-is-outdoors") == "any 2",
    ),
    "narrow": (
        "narrow: set-is-outdoors, when: {status: {is: new}}",
        lambda found: _when(found, "set-is-outdoors") == "all 2",
    ),
    "narrow where it applied always": (
        "narrow: set-is-listed, when: {status: {is: new}}",
        lambda found: _when(found, "set-is-listed") == "one",
    ),
    "delete": ("delete: set-is-listed", lambda found: "fern-code-1:set-is-listed" not in ids(found)),
    "renumber": (
        "renumber: set-is-listed",
        lambda found: [each.section for each in rule(found, "set-is-listed").cites] == ["9", "671"],
    ),
    "confirm": (
        'confirm: set-is-listed, checked: {sure: high, against: the book, on: "2026-01-01", by: clerk}',
        lambda found: not rule(found, "set-is-listed").cites[0].verify,
    ),
    "redirect": (
        "redirect: {document: Fern Code}, to: {document: Moss Code, edition: '3'}",
        lambda found: {each.document for each in rule(found, "set-is-listed").cites} == {"Moss Code"},
    ),
    "redirect of a section": (
        "redirect: {document: Fern Code, section: '67'}, to: {document: Moss Code, section: '5'}",
        lambda found: (
            [each.section for each in rule(found, "switch-is-listed").cites] == ["5"]
            and rule(found, "set-is-listed").cites[0].document == "Fern Code"
        ),
    ),
    "ask_for": (
        "ask_for: {paper: survey, must_show: [lot_lines], when: {occupancy: {is: hotel}}}",
        lambda found: "town:packet-holds-survey" in ids(found),
    ),
}


@pytest.mark.parametrize("name", sorted(CASES))
def test_operation_in_its_days(name: str, tmp_path: Path) -> None:
    written, holds = CASES[name]
    here = town(layer_text(f"  - {{{written}, {DATES}}}\n"))
    days = (FIRST - DAY, FIRST, LAST, LAST + DAY)
    found = [here.in_force(tmp_path, day) for day in days]
    assert [bool(holds(each)) for each in found] == [False, True, True, False]
    assert [each.layers[0].changes for each in found] == [0, 1, 1, 0]
    assert not any(each.notices for each in found)


def test_limit_counts_in_its_days_alone(tmp_path: Path) -> None:
    here = town(layer_text(f"  - {{limit: set-is-listed, {DATES}}}\n"))
    days = (FIRST - DAY, FIRST, LAST, LAST + DAY)
    found = [here.in_force(tmp_path, day) for day in days]
    assert ["fern-code-1:set-is-listed" in ids(each) for each in found] == [False, True, True, False]
    assert [len(each.deleted) for each in found] == [1, 0, 0, 1]
    assert (
        found[0].deleted[0].history.sentence == "counts only for permit applications from 2026-03-01 until 2026-03-31"
    )


def test_pre_emption_from_its_day(tmp_path: Path) -> None:
    state = layer_text(f"  - {{pre_empt: set-is-listed, {DATES}}}\n", "state")
    lower = layer_text("  - {delete: set-is-listed, cites: [{section: '1'}]}\n", "village")
    here = town(state, lower)
    found = [here.in_force(tmp_path, day) for day in (FIRST - DAY, FIRST, LAST, LAST + DAY)]
    assert ["fern-code-1:set-is-listed" in ids(each) for each in found] == [False, True, True, False]
    (told,) = notices(found[1], "pre_empted")
    assert "Council of state leaves fern-code:set-is-listed to no lower authority" in told.sentence
    assert not found[1].deleted


def test_pre_emption_names_the_layers_that_it_holds_off(tmp_path: Path) -> None:
    state = layer_text("  - {pre_empt: set-is-listed, layers: [other], cites: [{section: '1'}]}\n", "state")
    lower = layer_text("  - {delete: set-is-listed, cites: [{section: '1'}]}\n", "village")
    assert "fern-code-1:set-is-listed" not in ids(town(state, lower).in_force(tmp_path))


def test_pre_emption_does_not_bind_those_below_it(tmp_path: Path) -> None:
    lower = layer_text("  - {delete: set-is-listed, cites: [{section: '1'}]}\n", "village")
    state = layer_text("  - {pre_empt: set-is-outdoors, cites: [{section: '1'}]}\n", "state")
    assert "fern-code-1:set-is-listed" not in ids(town(lower, state).in_force(tmp_path))


def test_what_is_deleted_is_told_with_its_reason(tmp_path: Path) -> None:
    found = town(layer_text(f"  - {{delete: set-is-listed, {DATES}}}\n")).in_force(tmp_path)
    (gone,) = found.deleted
    assert gone.rule.name == "fern-code:set-is-listed"
    assert (gone.history.authority, gone.history.since, gone.history.reason) == ("Council of town", FIRST, "because")
    assert [str(each.section) for each in gone.history.cites] == ["9"]


def test_set_without_its_exceptions(tmp_path: Path) -> None:
    found = town(layer_text(f"  - {{set: least-rating, to: 150 A, exceptions: do_not_apply, {DATES}}}\n")).in_force(
        tmp_path
    )
    changed = rule(found, "switch-is-listed")
    assert changed.rule.unless == ()
    assert changed.history[0].sentence == "least rating: 150 A instead of 100 A; exceptions do not apply"
    assert changed.parameters["least-rating"].cites[0].section == "9"


def test_numbers_of_a_layer_go_with_its_words(tmp_path: Path) -> None:
    own = 'parameters:\n  least-power: {title: least power, type: active_power, stricter: higher, value: 5 kW, cites: [{section: "2"}]}\n'
    change = "  - {narrow: set-is-outdoors, when: {greatest_power: {at_least: {parameter: least-power}}}, cites: [{section: '2'}]}\n"
    found = rule(town(layer_text(change, more=own)).in_force(tmp_path), "set-is-outdoors")
    assert found.parameters["least-power"].text == "5 kW"
    assert found.parameter_titles["least-power"] == "least power"


def test_a_replaced_rule_reads_the_numbers_of_its_layer(tmp_path: Path) -> None:
    """The layer's number of the same name as the pack's is the one that its own text means."""
    own = 'parameters:\n  least-rating: {title: rating, type: load_current, stricter: higher, value: 60 A, cites: [{section: "2"}]}\n'
    body = '{title: Rated, subject: transfer_switch, requires: {rated: {rated_current: {at_least: {parameter: least-rating}}}}, says: "{subject} is small."}'
    change = f"  - {{replace: switch-is-listed, with: {body}, cites: [{{section: '2'}}]}}\n"
    found = rule(town(layer_text(change, more=own)).in_force(tmp_path), "switch-is-listed")
    assert found.parameters["least-rating"].text == "60 A"
    assert (found.rule.pack, found.authority) == ("fern-code", "Council of town")


def test_a_replaced_rule_keeps_its_harm_unless_the_layer_says_another(tmp_path: Path) -> None:
    """What a town replaces is of the same gravity, and nobody has to write it again."""
    change = "  - {{replace: set-is-outdoors, with: {body}, cites: [{{section: '2'}}]}}\n"
    for more, harm in (("", Harm.LIFE), ("harm: fire, ", Harm.FIRE)):
        body = WITH.replace("{title", f"{{{more}title", 1)
        found = town(layer_text(change.format(body=body))).in_force(tmp_path)
        assert rule(found, "set-is-outdoors").rule.harm is harm


def test_exceptions_of_one_name_do_not_hide_one_another(tmp_path: Path) -> None:
    change = "  - {{add_exception: {{to: set-is-listed, id: let-off, if: {{status: {{is: {status}}}}}, because: so}}, cites: [{{section: '1'}}]}}\n"
    found = town(layer_text(change.format(status="existing"), "one"), layer_text(change.format(status="future"), "two"))
    assert [each.id for each in rule(found.in_force(tmp_path), "set-is-listed").rule.unless] == [
        "let-off",
        "let-off-two",
    ]


def test_ways_of_one_name_do_not_hide_one_another(tmp_path: Path) -> None:
    change = "  - {{add_way: {{to: set-is-outdoors, name: vented, if: {{place: {{is: {place}}}}}}}, cites: [{{section: '1'}}]}}\n"
    found = town(layer_text(change.format(place="garage"), "one"), layer_text(change.format(place="basement"), "two"))
    assert _parts(found.in_force(tmp_path), "set-is-outdoors") == ["outdoors", "vented", "vented-two", "any"]


def test_history_tells_every_change_in_order(tmp_path: Path) -> None:
    one = layer_text("  - {narrow: set-is-outdoors, when: {status: {is: new}}, cites: [{section: '1'}]}\n", "state")
    two = layer_text(
        "  - {set: least-rating, to: 90 A, exceptions: apply, cites: [{section: '2'}]}\n"
        "  - {widen: set-is-outdoors, when: {status: {is: altered}}, cites: [{section: '3'}]}\n",
        "village",
    )
    found = rule(town(one, two).in_force(tmp_path), "set-is-outdoors")
    assert [(each.layer, each.sentence) for each in found.history] == [
        ("state", "applies to less than in the model code"),
        ("village", "applies to more than in the model code"),
    ]
