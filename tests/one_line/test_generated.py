"""The program against the second implementation, on drawings made at random."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import checker.facts.line.routes
from tests.generators.choosing import drawn, seeded
from tests.one_line.comparing import enumerated, wrong
from tests.one_line.enumeration import NOTHING_MET, Answer, Plant
from tests.one_line.plan import Plan, less_known, plans, seeded_plan
from tests.one_line.reading import COLUMNS, column
from tests.one_line.sheet import view
from tests.soundness.budget import examples, seeds


@st.composite
def half_known(draw: st.DrawFn) -> Plan:
    """Plans with a few things left open; roles are all written, since not all go together."""
    return less_known(drawn(draw), draw(plans()), roles=False)


@examples(100)
@given(plan=plans())
def test_both_find_the_same(folder: Path, plan: Plan) -> None:
    site = plan.site(folder)
    seen, wanted = view(site), {name: enumerated(site, name) for name in COLUMNS}
    for name in COLUMNS:
        tied = wanted["tie"] if name == "overlap" else {}
        assert not wrong(column(seen, name), wanted[name], tied), name


@examples(100)
@given(plan=plans())
def test_both_find_the_same_sources_for_each_piece(folder: Path, plan: Plan) -> None:
    site = plan.site(folder)
    drawing = view(site).ground.drawing
    assert {tag: set(drawing.sources_reaching(tag)) for tag in Plant(site).reach()} == Plant(site).reach()


@examples(60)
@given(plan=half_known())
def test_nothing_is_ruled_out_that_some_way_to_fill_in_the_rest_gives(folder: Path, plan: Plan) -> None:
    site = plan.site(folder)
    seen, wanted = view(site), {name: enumerated(site, name) for name in COLUMNS}
    for name in COLUMNS:
        found, tied = column(seen, name), wanted["tie"] if name == "overlap" else {}
        lost = [tag for tag, each in wanted[name].items() if not each <= found[tag] and True not in tied.get(tag, ())]
        assert not lost, name


def test_every_answer_is_tried(folder: Path) -> None:
    """The generator makes drawings for each answer of each column; else what goes before proves little."""
    seen: Counter[tuple[str, Answer]] = Counter()
    for seed in seeds(150):
        site = seeded_plan(seed).site(folder)
        for name in COLUMNS:
            seen.update((name, answer) for each in enumerated(site, name).values() for answer in each)
    flags = [name for name in COLUMNS if name not in ("bonds", "neutral", "at_transfer")]
    assert min(seen[name, answer] for name in flags for answer in (True, False)) >= 5
    assert min(seen["neutral", answer] for answer in ("solid", "switched", NOTHING_MET)) >= 5
    neutrals = ("solid", "overlapping", "switched", "not_carried", NOTHING_MET)
    assert min(seen["at_transfer", answer] for answer in neutrals) >= 5
    assert min(seen["bonds", count] for count in (0, 1, 2)) >= 5


def test_a_search_that_is_given_up_decides_nothing(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With a low limit of effort every answer stays or is not decided; never does a yes become a no."""
    given_up = 0
    for seed in seeds(60):
        site = seeded_plan(seed).site(folder)
        whole = {name: column(view(site), name) for name in COLUMNS}
        monkeypatch.setattr(checker.facts.line.routes, "MOST_LEGS", seed % 7)
        for name in COLUMNS:
            for tag, answer in column(view(site), name).items():
                assert answer >= whole[name][tag], (seed, name, tag)
                given_up += answer != whole[name][tag]
        monkeypatch.undo()
    assert given_up > 20


@pytest.mark.parametrize("seed", range(12))
def test_with_many_switches_few_positions_are_enough(folder: Path, seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Seven switches at random on two sets: bonds by the positions in which few stand apart, and by all 128."""
    monkeypatch.setattr("checker.facts.line.neutral_paths.MOST_COMBINATIONS", 1)
    site = many_switches(seed).site(folder)
    assert not wrong(column(view(site), "bonds"), enumerated(site, "bonds"), {})


def many_switches(seed: int) -> Plan:
    """A plan of seven switches, each from the switchboard to one of two sets, each with a panel."""
    choose = seeded(seed)
    kinds = {"UTIL": "utility_supply", "SB1": "switchboard", "GEN1": "generator", "GEN2": "generator"}
    facts = {tag: {"system": "480Y/277 V 3-phase 4-wire"} for tag in ("UTIL", "GEN1", "GEN2")}
    facts["SB1"] = {"role": "service_disconnect"}
    lines = [("UTIL", "SB1", "fed_from")]
    for number in range(1, 8):
        switch, panel = f"ATS{number}", f"P{number}"
        kinds |= {switch: "transfer_switch", panel: "panelboard"}
        neutral = choose.one(("solid", "switched", "switched", "overlapping", "not_carried"))
        facts[switch] = {"neutral": neutral, "transition": "open", "operation": "automatic"}
        lines += [
            ("SB1", switch, "normal"),
            (choose.one(("GEN1", "GEN2")), switch, "alternate"),
            (switch, panel, "fed_from"),
        ]
    bonds = ("SB1", *choose.some(("GEN1", "GEN2", *(f"P{number}" for number in range(1, 8))), most=3))
    return Plan.of_lines(kinds, lines, facts, bonds)
