"""The program against what was worked out by hand for each small drawing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest
import yaml

from checker.facts.line.states import State, fed_in, only_following
from checker.facts.view import View
from checker.site.model import Subject
from checker.values.possible import Possible
from tests.one_line.reading import sensed
from tests.one_line.sheet import Drawn, drawings

NONE = "none"


def flag(value: Possible) -> bool | str:
    """A flag as the tables write it."""
    return value.atom if isinstance(value.atom, bool) else "unknown"


def count(value: Possible) -> int | list[int] | str:
    """A count as the tables write it."""
    if value.undefined:
        return "unknown"
    (span,) = value.spans
    assert span.low is not None
    assert span.high is not None
    return int(span.low) if span.is_point else [int(span.low), int(span.high)]


def amperes(value: Possible) -> str:
    """An overcurrent device as the tables write it."""
    if value.only_absent:
        return NONE
    return f"{value.number} A" if value.number is not None else "not shown"


def piece(seen: View, tag: str) -> Subject:
    return seen.ground.drawing.pieces[tag]


def test_there_are_enough_drawings_and_each_has_a_name_of_its_own() -> None:
    names = [drawn.name for drawn in drawings()]
    assert len(set(names)) == len(names) >= 25


def test_every_table_is_whole(drawn: Drawn, seen: View) -> None:
    drawing, table = seen.ground.drawing, drawn.table
    assert table["sketch"]
    assert set(table["reach"]) == set(drawing.pieces) - set(drawing.of("source"))
    assert set(table["roles"]) == set(table["opened"]) == set(drawing.of("disconnecting"))
    assert set(table.get("sets", {})) == set(drawing.of("generator"))
    assert set(table.get("sensors", {})) == set(sensed(seen))
    assert set(table.get("inverters", {})) == set(drawing.of("inverter"))
    sides = {f"{tag}.{side}" for tag in drawing.of("transfer_switch") for side in ("normal", "alternate")}
    assert set(table.get("sides", {})) == sides


def test_sources_that_reach_each_piece(drawn: Drawn, seen: View) -> None:
    found = {tag: set(seen.ground.drawing.sources_reaching(tag)) for tag in drawn.table["reach"]}
    assert found == {tag: set(sources) for tag, sources in drawn.table["reach"].items()}


def test_what_each_side_of_a_switch_sees(drawn: Drawn, seen: View) -> None:
    for name, sees in drawn.table.get("sides", {}).items():
        side = Subject("side", name)
        kind = seen.read(side, "kind")
        device = amperes(seen.read(side, "overcurrent.rated_current"))
        if sees == "nothing":
            assert kind.undefined, name
        else:
            source, wanted = sees
            assert (kind.atom, device) == (piece(seen, source).type, wanted), name
            assert seen.ground.drawing.source_of(*name.split(".")) == source


def test_roles(drawn: Drawn, seen: View) -> None:
    for tag, roles in drawn.table["roles"].items():
        value = seen.read(piece(seen, tag), "role")
        assert {*value.atoms, *([NONE] if value.absent else [])} == set(roles), tag


def set_rows(drawn: Drawn) -> dict[str, dict[str, Any]]:
    return dict(drawn.table.get("sets", {}))


def test_ties_to_the_utility(drawn: Drawn, seen: View) -> None:
    for tag, row in set_rows(drawn).items():
        known = seen.known(piece(seen, tag), "ties_to_utility")
        assert flag(known.value) == row["tie"], tag
        if row["tie"] is True:
            closed = set((known.state or "").partition(" closed on both sides")[0].split(" and "))
            assert closed in _through(row["through"]), tag


def _through(written: list[str] | str) -> list[set[str]]:
    """The pieces that have to be closed on both sides: all of a list, or one of several."""
    return [set(written)] if isinstance(written, list) else [{tag} for tag in written.split(" or ")]


@pytest.mark.parametrize(("fact", "column"), [("overlaps_with_utility", "overlap"), ("neutral_ring", "ring")])
def test_overlaps_and_rings(drawn: Drawn, seen: View, fact: str, column: str) -> None:
    found = {tag: flag(seen.read(piece(seen, tag), fact)) for tag in set_rows(drawn)}
    assert found == {tag: row[column] for tag, row in set_rows(drawn).items()}


def test_rings_of_equipment_ground(drawn: Drawn, seen: View) -> None:
    found = {tag: flag(seen.read(piece(seen, tag), "ground_ring")) for tag in set_rows(drawn)}
    assert found == {tag: row.get("ground", False) for tag, row in set_rows(drawn).items()}


@pytest.mark.parametrize(("fact", "column"), [("joins_a_set", "set"), ("ties_to_utility", "tied")])
def test_what_inverters_can_be_joined_to(drawn: Drawn, seen: View, fact: str, column: str) -> None:
    rows = dict(drawn.table.get("inverters", {}))
    assert {tag: flag(seen.read(piece(seen, tag), fact)) for tag in rows} == {
        tag: row[column] for tag, row in rows.items()
    }


@pytest.mark.parametrize(
    ("name", "fed"),
    [
        ("house with solar only", {}),
        ("house with storage", {"INV1": ("P1",)}),
        ("two inverters", {"INV2": ("P1", "P2")}),
    ],
)
def test_an_inverter_that_only_follows_feeds_nothing_by_itself(
    views: Mapping[str, View], name: str, fed: dict[str, tuple[str, ...]]
) -> None:
    """With the panel off its main, on the way of the inverter that feeds alone, where there is one."""
    seen = views[name]
    way = "22" if "INV2" in fed else "20"
    found = fed_in(seen.ground.drawing, State("main open", {"P1": way}), only_following(seen))
    assert found == {"UTIL": ("D1",), **fed}


def test_boards_fed_in_more_than_one_way(drawn: Drawn, seen: View) -> None:
    pieces = yaml.safe_load(drawn.equipment)
    for tag in seen.ground.drawing.of("board"):
        feeds = pieces[tag].get("fed_from")
        sources = list(feeds.values()) if isinstance(feeds, dict) else []
        drawn_there = [each for each in sources if str(each).partition("/")[0] in seen.ground.drawing.pieces]
        assert flag(seen.read(piece(seen, tag), "fed_several_ways")) is (len(drawn_there) > 1), tag


def test_what_the_neutral_does_at_the_transfer_equipment(drawn: Drawn, seen: View) -> None:
    sets = {tag: row["at_transfer"] for tag, row in set_rows(drawn).items() if "at_transfer" in row}
    for tag, wanted in {**drawn.table.get("inlets", {}), **sets}.items():
        value = seen.read(piece(seen, tag), "neutral_at_transfer")
        found = {*value.atoms, *(["nothing"] if value.absent else [])}
        assert found == set([wanted] if isinstance(wanted, str) else wanted), tag


def test_places_at_which_the_neutral_of_a_set_is_bonded(drawn: Drawn, seen: View) -> None:
    found = {tag: count(seen.read(piece(seen, tag), "bonds_on_neutral")) for tag in set_rows(drawn)}
    assert found == {tag: row["bonds"] for tag, row in set_rows(drawn).items()}


@pytest.mark.parametrize(
    ("fact", "column"), [("live_again_when_opened", "again"), ("starts_a_set_when_opened", "starts")]
)
def test_what_opening_a_disconnect_does(drawn: Drawn, seen: View, fact: str, column: str) -> None:
    found = {tag: flag(seen.read(piece(seen, tag), fact)) for tag in drawn.table["opened"]}
    assert found == {tag: row[column] for tag, row in drawn.table["opened"].items()}


@pytest.mark.parametrize(
    ("fact", "column", "told_in"),
    [("ground_fault_sensing_defeated", "defeated", "by"), ("trips_for_fault_of_set", "trips", "back")],
)
def test_what_the_neutral_does_to_sensors_of_ground_fault_protection(
    drawn: Drawn, seen: View, fact: str, column: str, told_in: str
) -> None:
    rows = drawn.table.get("sensors", {})
    known = {tag: seen.known(piece(seen, tag), fact) for tag in rows}
    assert {tag: flag(each.value) for tag, each in known.items()} == {tag: row[column] for tag, row in rows.items()}
    told = {tag: row[told_in] for tag, row in rows.items() if told_in in row}
    assert told.items() <= {tag: (each.state or "").partition(": ")[2] for tag, each in known.items()}.items()


def test_enough_drawings_have_a_sensor() -> None:
    assert sum("sensors" in drawn.table for drawn in drawings()) >= 8
