"""What must hold between a drawing and the same drawing changed in one respect."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.values.possible import exactly
from tests.generators.choosing import drawn
from tests.one_line.plan import SERVICE, Plan, less_known, plans
from tests.one_line.reading import Values, column, values
from tests.one_line.sheet import view
from tests.soundness.budget import examples


def found(plan: Plan, folder: Path) -> Values:
    return values(view(plan.site(folder)))


# --- names -----------------------------------------------------------------------------------------------------------


@st.composite
def with_other_names(draw: st.DrawFn) -> tuple[Plan, Mapping[str, str]]:
    """A plan and new tags, in an order that has nothing to do with the old one."""
    plan = draw(plans())
    numbers = draw(st.permutations(range(len(plan.kinds))))
    return plan, {tag: f"T{number}" for tag, number in zip(plan.kinds, numbers, strict=True)}


@examples(100)
@given(case=with_other_names())
def test_other_tags_change_only_names(folder: Path, case: tuple[Plan, Mapping[str, str]]) -> None:
    plan, names = case
    before, after = found(plan, folder), found(plan.renamed(names), folder)
    ids = {**names, **_new_ids(plan, names)}
    expected = {(ids[subject], name): value for (subject, name), value in before.items() if name != "reach"}
    assert {key: value for key, value in after.items() if key[1] != "reach"} == expected
    for tag, new in names.items():
        reach = {names.get(str(atom), atom) for atom in before[tag, "reach"].atoms}
        assert after[new, "reach"].atoms == reach


def _new_ids(plan: Plan, names: Mapping[str, str]) -> dict[str, str]:
    """Connections and sides under the new names."""
    renamed = plan.renamed(names)
    connections = {old.subject.id: new.subject.id for old, new in zip(plan.feeds, renamed.feeds, strict=True)}
    switches = plan.of("transfer_switch")
    return connections | {
        f"{tag}.{side}": f"{names[tag]}.{side}" for tag in switches for side in ("normal", "alternate")
    }


@examples(60)
@given(plan=plans())
def test_tags_in_the_same_order_leave_every_word_but_names(folder: Path, plan: Plan) -> None:
    """The state that decided is told in the same words; which of several is told may hang on the order of the tags."""
    names = {tag: f"X{tag}" for tag in plan.kinds}
    assert _states(plan.renamed(names), folder) == {
        f"X{tag}": {name: _renamed(state, names) for name, state in each.items()}
        for tag, each in _states(plan, folder).items()
    }


def _states(plan: Plan, folder: Path) -> dict[str, dict[str, str | None]]:
    seen = view(plan.site(folder))
    pieces = seen.ground.drawing.pieces
    names = [
        *("ties_to_utility", "overlaps_with_utility", "neutral_ring", "bonds_on_neutral", "live_again_when_opened")
    ]
    names += ["ground_fault_sensing_defeated", "trips_for_fault_of_set"]
    return {tag: {name: seen.known(piece, name).state for name in names} for tag, piece in pieces.items()}


def _renamed(state: str | None, names: Mapping[str, str]) -> str | None:
    if state is None:
        return None
    words = (word.partition(",")[0].partition(":")[0] for word in state.split(" "))
    return " ".join(
        whole.replace(word, names.get(word, word), 1) for whole, word in zip(state.split(" "), words, strict=True)
    )


# --- a disconnect more -----------------------------------------------------------------------------------------------


@st.composite
def with_disconnect(draw: st.DrawFn) -> tuple[Plan, Plan, str]:
    """A plan, the same with a disconnect in a line past the service disconnect, and the line; without one, as it is."""
    plan, choose = draw(plans()), drawn(draw)
    roles = {tag: facts.get("role") for tag, facts in plan.facts.items()}
    past = [
        feed
        for feed in plan.feeds
        if feed == plan.main_feed(feed.to)
        and SERVICE in (roles.get(tag) for tag in (feed.source, *plan.line_up(feed.source)))
    ]
    if not past:
        return plan, plan, ""
    line = choose.one(past)
    return plan, plan.with_disconnect_in(line, "ADDED"), line.subject.id


@examples(100)
@given(case=with_disconnect())
def test_a_closed_disconnect_past_the_service_disconnect_changes_nothing(
    folder: Path, case: tuple[Plan, Plan, str]
) -> None:
    """It has no overcurrent protection; roles, bonds, live parts, and what each switch sees stay as they were."""
    plan, more, line = case
    before, after = found(plan, folder), found(more, folder)
    assert {key: value for key, value in before.items() if key[0] != line} == {
        key: value for key, value in after.items() if "ADDED" not in key[0]
    }
    if line:
        assert after["ADDED", "role"] == exactly("feeder_disconnect")
        assert after["ADDED", "past_service_disconnect"] == exactly(True)
        assert after["ADDED", "first_after_meter"] == exactly(False)


# --- interlocks ------------------------------------------------------------------------------------------------------


@st.composite
def with_interlock(draw: st.DrawFn) -> tuple[Plan, int]:
    """A plan and the place of one of its interlocks; one is put in where it has none."""
    plan, choose = draw(plans()), drawn(draw)
    devices = plan.devices()
    if not plan.interlocks and len(devices) > 1:
        one, other = choose.some(devices, least=2, most=2)
        plan = replace(plan, interlocks=((one, other, "key"),))
    return (less_known(choose, plan) if choose.chance(30) else plan), choose.whole(0, max(0, len(plan.interlocks) - 1))


@examples(100)
@given(case=with_interlock())
@pytest.mark.parametrize("name", ["tie", "overlap", "again"])
def test_an_interlock_less_never_takes_a_tie_away(folder: Path, name: str, case: tuple[Plan, int]) -> None:
    plan, place = case
    less = replace(plan, interlocks=(*plan.interlocks[:place], *plan.interlocks[place + 1 :]))
    before, after = column(view(plan.site(folder)), name), column(view(less.site(folder)), name)
    for tag, answer in before.items():
        if True in answer:
            assert True in after[tag], tag
        if answer == {True}:
            assert after[tag] == {True}, tag


@examples(60)
@given(case=with_interlock())
def test_a_written_procedure_is_no_interlock(folder: Path, case: tuple[Plan, int]) -> None:
    plan, place = case
    without = (*plan.interlocks[:place], *plan.interlocks[place + 1 :])
    written = tuple(
        (one, other, "procedure" if at == place else kind) for at, (one, other, kind) in enumerate(plan.interlocks)
    )
    assert found(replace(plan, interlocks=written), folder) == found(replace(plan, interlocks=without), folder)


# --- less known ------------------------------------------------------------------------------------------------------


@st.composite
def with_less_known(draw: st.DrawFn) -> tuple[Plan, Plan]:
    """A plan, and the same with a few things left open."""
    plan, choose = draw(plans()), drawn(draw)
    if choose.chance(50):
        plan = less_known(choose, plan)
    return plan, less_known(choose, plan)


@examples(160)
@given(case=with_less_known())
def test_what_is_less_known_only_widens(folder: Path, case: tuple[Plan, Plan]) -> None:
    """Nothing becomes impossible by knowing less. What has no answer at all is left aside."""
    plan, open_plan = case
    before, after = found(plan, folder), found(open_plan, folder)
    assert not [key for key, value in before.items() if not value.undefined and not after[key].covers(value)]
