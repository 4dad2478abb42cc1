"""What the sides of a switch and the pieces past it see, on small drawings with figures, worked out by hand."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from checker.facts.view import View
from checker.site.model import Subject
from checker.site.read import read_site
from checker.values.possible import Possible
from tests.one_line.sheet import CATALOG, view

_HEAD = "site: {other_sources: none, motor_fault_current: none}\ninterlocks: {complete: yes, list: []}\nequipment:\n"
_WYE = "480Y/277 V 3-phase 4-wire"
_NONE = "{overcurrent: none}"
_200_A, _800_A = "{overcurrent: 200 A}", "{overcurrent: 800 A}"
_BARE = "ways: {normal: {overcurrent: none}, alternate: {overcurrent: none}}"
_UTIL = f"UTIL: {{kind: utility_supply, system: {_WYE}, available_fault_current: 18 kA}}"
_D1 = "D1: {kind: disconnect, fed_from: UTIL, role: service_disconnect, ways: {main: {overcurrent: 400 A}}}"


def _set(tag: str, current: str, fault: str, device: str) -> str:
    return (
        f"{tag}: {{kind: generator, system: {_WYE}, greatest_current: {current}, greatest_fault_current: {fault}, "
        f"least_fault_current: 900 A, ways: {{1: {{overcurrent: {device}}}}}}}"
    )


CHAIN = (
    _UTIL,
    _D1,
    f"ATS1: {{kind: transfer_switch, normal: D1, alternate: GEN1/1, transition: open, {_BARE}}}",
    f"ATS2: {{kind: transfer_switch, normal: ATS1, alternate: INLET1, transition: open, {_BARE}}}",
    "SB1: {kind: switchboard, fed_from: ATS2, ways: {main: {overcurrent: none}}}",
    "INLET1: {kind: inlet, fed_from: GEN2/1}",
    _set("GEN1", "300 A", "3 kA", "500 A"),
    _set("GEN2", "450 A", "4 kA", "600 A"),
)
"""Utility behind 400 A, then a set of 300 A behind 500 A, then a set of 450 A behind 600 A at an inlet."""

BUS = (
    _UTIL,
    _D1,
    f"SB2: {{kind: switchboard, fed_from: {{1: GEN1/1, 2: GEN2/1}}, ways: {{1: {_NONE}, 2: {_NONE}, 3: {_800_A}}}}}",
    f"ATS1: {{kind: transfer_switch, normal: D1, alternate: SB2/3, transition: open, {_BARE}}}",
    _set("GEN1", "300 A", "3 kA", "350 A"),
    _set("GEN2", "300 A", "3 kA", "350 A"),
)
"""Two sets of 300 A, each behind 350 A, on one bus; 800 A from the bus to the switch."""

OVERLAP = (*(each.replace("transition: open", "transition: closed") for each in CHAIN[:3]), CHAIN[6])
"""One switch that goes over closed."""

TRANSFORMER = (
    _UTIL,
    _D1,
    f"T1: {{kind: transformer, fed_from: D1, system: {_WYE}, ways: {{1: {_200_A}, 2: {_NONE}}}}}",
    "P1: {kind: panelboard, fed_from: T1/1, ways: {main: {overcurrent: none}}}",
    "P2: {kind: panelboard, fed_from: T1/2, ways: {main: {overcurrent: none}}}",
)

AT_MOST = "at most "
BY_HAND: Mapping[str, tuple[tuple[str, ...], Mapping[str, str]]] = {
    "three sources in a chain": (
        CHAIN,
        {
            "ATS1.normal current_to_carry": "400",
            "ATS1.alternate current_to_carry": "300",
            "ATS1.alternate overcurrent_limit": "500",
            # Through ATS1 either the utility behind 400 A, or the set, which gives 300 A whatever its breaker.
            "ATS2.normal current_to_carry": "400",
            "ATS2.normal overcurrent_limit": "500",
            "ATS2.normal greatest_current": "none",
            "ATS2.alternate greatest_current": "450",
            "ATS2.alternate current_to_carry": "450",
            "SB1 current_to_carry": "450",
            "SB1 overcurrent_limit": "600",
            "ATS2.normal capacity": "no answer",
            "SB1~UTIL available_fault_current": "at most 18000",
            "SB1 greatest_fault_current": "at most 18000",
            "ATS2 normal_fault_current": "at most 18000",
            "SB1 least_fault_current": "at most 900",
            "SB1 fault_sources_together": "no",
        },
    ),
    "two sets on one bus": (
        BUS,
        {
            "ATS1.alternate greatest_current": "600",
            "ATS1.alternate overcurrent_limit": "700",
            "ATS1.alternate current_to_carry": "600",
            "SB2 current_to_carry": "600",
            "SB2 greatest_fault_current": "at most 6000",
            "SB2 fault_sources_together": "yes",
            # 18 kA of the utility, or 6 kA of both sets together.
            "ATS1 greatest_fault_current": "at most 18000",
            "ATS1 fault_sources_together": "yes",
            "D1 fault_sources_together": "no",
        },
    ),
    "an overlap": (
        OVERLAP,
        {
            # While both are closed a fault sees both, ahead of the switch and past it; nothing of it lasts.
            "ATS1 greatest_fault_current": "at most 21000",
            "D1 greatest_fault_current": "at most 21000",
            "D1 fault_sources_together": "yes",
            "ATS1.normal current_to_carry": "400",
        },
    ),
    "a transformer": (
        TRANSFORMER,
        {
            "P1 current_to_carry": "200",
            "P2 current_to_carry": "no answer",
            "P2 overcurrent_limit": "none",
            "P1~UTIL available_fault_current": "anything",
            "P1 greatest_fault_current": "anything",
        },
    ),
}


def _in_words(value: Possible) -> str:
    if value.undefined:
        return "no answer"
    if value.only_absent:
        return "none"
    if isinstance(value.atom, bool):
        return "yes" if value.atom else "no"
    hull = value.hull
    assert hull is not None
    if hull.high is None:
        return "anything"
    return str(hull.high) if hull.is_point else f"{AT_MOST}{hull.high}"


def _view(folder: Path, pieces: tuple[str, ...], head: str = _HEAD) -> View:
    path = folder / "site.yaml"
    path.write_text(head + "".join(f"  {piece}\n" for piece in pieces), encoding="utf-8")
    return view(read_site(path, CATALOG))


def _subject(read: View, name: str) -> Subject:
    if "~" in name:
        return Subject("fault_source", name)
    return Subject("side", name) if "." in name else read.ground.drawing.pieces[name]


@pytest.mark.parametrize("name", BY_HAND)
def test_currents_are_as_worked_out_by_hand(folder: Path, name: str) -> None:
    pieces, wanted = BY_HAND[name]
    read = _view(folder, pieces)
    found = {key: _in_words(read.read(_subject(read, key.split()[0]), key.split()[1])) for key in wanted}
    assert found == dict(wanted)


def test_a_side_names_every_kind_of_source_that_can_feed_it(folder: Path) -> None:
    read = _view(folder, CHAIN)
    kinds = read.read(Subject("side", "ATS2.normal"), "source_kinds")
    assert kinds.sets[0].surely == kinds.sets[0].perhaps == {"utility_supply", "generator"}
    assert read.read(Subject("side", "ATS2.normal"), "kind").atom == "utility_supply"


@pytest.mark.parametrize(
    ("head", "why"),
    [
        (_HEAD.replace("motor_fault_current: none", "motor_fault_current: unknown"), "motors may add"),
        (_HEAD.replace("other_sources: none", "other_sources: unknown"), "another source may add"),
    ],
)
def test_nothing_bounds_a_fault_current_to_which_something_unknown_may_add(folder: Path, head: str, why: str) -> None:
    read = _view(folder, CHAIN, head)
    hull = read.read(_subject(read, "SB1"), "greatest_fault_current").hull
    assert hull is not None
    assert hull.high is None, why


def test_motors_add_to_what_the_source_gives(folder: Path) -> None:
    read = _view(folder, CHAIN, _HEAD.replace("motor_fault_current: none", "motor_fault_current: 2 kA"))
    assert _in_words(read.read(_subject(read, "SB1~UTIL"), "available_fault_current")) == "at most 20000"


def test_a_stated_figure_stands_while_it_does_not_exceed_what_the_source_gives(folder: Path) -> None:
    stated = "pairs: {SB1~UTIL: {available_fault_current: 9 kA}}\n"
    read = _view(folder, CHAIN, stated + _HEAD)
    assert read.read(_subject(read, "SB1~UTIL"), "available_fault_current").number == 9000
    conflict = _view(folder, CHAIN, stated.replace("9 kA", "30 kA") + _HEAD)
    assert not conflict.read(_subject(conflict, "SB1~UTIL"), "available_fault_current").is_exact
    figure = Subject("figure", "SB1~UTIL.available_fault_current")
    assert conflict.read(figure, "agree").atoms == {True, False}
