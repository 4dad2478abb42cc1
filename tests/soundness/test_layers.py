"""What a layer can and cannot do to the outcomes of a review, over all fixtures, shipped layers and layers made up.

A layer that may only tighten never turns a correction into met or not applicable; neutral changes leave every outcome;
the order of changes of different rules does not matter.
"""

from __future__ import annotations

import os
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.catalog.load import shipped_catalog
from checker.findings.judging.outcomes import Outcome
from checker.rules.layers.apply import amended
from checker.rules.layers.at_work import AtWork
from checker.rules.layers.model import Layer, Redirect
from checker.rules.model.profile import May
from checker.tasks.gathering.layers import layers_of
from checker.tasks.gathering.library import Library
from checker.tasks.gathering.packs import packs_beside
from tests.soundness.budget import examples
from tests.soundness.layered import FIXTURES, SITES, change, changes, eased, job, laid, layer, neutral

ROOT = Path(__file__).parents[2]
TOWNS = sorted(path.parent.name for path in FIXTURES.glob("*/dates.yaml"))
SETTLED = {Outcome.MET, Outcome.NOT_APPLICABLE, Outcome.VERIFY_IN_FIELD}


@cache
def _shipped(town: str) -> tuple[Layer, ...]:
    """The layers of a town, each read on top of those below it."""
    library, catalog = Library.shipped(), shipped_catalog()
    beside = packs_beside(FIXTURES / town / "site.yaml", catalog, library.cache, library.packs)
    profile = job(town).rules.profile
    return layers_of(profile, (FIXTURES / town,), (*library.packs, *beside), catalog, library.cache)


@pytest.mark.parametrize("site", SITES)
@pytest.mark.parametrize("town", TOWNS)
def test_a_shipped_layer_that_may_only_tighten_eases_no_correction(town: str, site: str) -> None:
    if town == site:
        return
    for each in _shipped(town):
        assert eased(laid(site, each, May.TIGHTEN)) == [], each.id


@examples(25)
@given(st.data())
def test_a_made_up_layer_that_may_only_tighten_eases_no_correction(data: st.DataObject) -> None:
    site = data.draw(st.sampled_from(SITES))
    drawn = data.draw(changes(site))
    assert eased(laid(site, layer(drawn, site), May.TIGHTEN)) == []


@examples(25)
@given(st.data())
def test_who_may_do_nothing_brings_at_most_a_decision(data: st.DataObject) -> None:
    site = data.draw(st.sampled_from(SITES))
    found = laid(site, layer(data.draw(changes(site)), site), May.NOTHING)
    assert found.before.keys() == found.after.keys()
    for name, old in found.before.items():
        new = found.after[name]
        assert (
            new.outcome is old.outcome
            or Outcome.AHJ_TO_DECIDE in new.evaluation.possible
            or new.outcome is Outcome.VERIFY_IN_FIELD
            or {new.outcome, old.outcome} == {Outcome.MET, Outcome.NOT_APPLICABLE}
        )


@pytest.mark.parametrize("site", SITES)
def test_neutral_changes_leave_every_outcome(site: str) -> None:
    drawn = [
        change(rule, number, "neutral", what)
        for number, rule in enumerate(job(site).rules.rules, start=1)
        for what in neutral(rule)
    ]
    for may in (May.NOTHING, May.ANYTHING):
        allowed = drawn if may is May.ANYTHING else [each for each in drawn if type(each.what).__name__ != "PreEmpt"]
        found = laid(site, layer(allowed, site), may)
        assert len(found.after) > 20
        assert {name: each.outcome for name, each in found.after.items()} == {
            name: each.outcome for name, each in found.before.items()
        }


@examples(25)
@given(st.data())
def test_the_order_of_changes_of_different_rules_does_not_matter(data: st.DataObject) -> None:
    site = data.draw(st.sampled_from(SITES))
    # A reference that is redirected is a target of its own, the same for every rule.
    drawn = [each for each in data.draw(changes(site)) if not isinstance(each.what, Redirect)]
    may = data.draw(st.sampled_from(list(May)))
    turned = data.draw(st.permutations(drawn))
    rules, on = job(site).rules.rules, job(site).rules.date
    one, other = (amended(rules, [AtWork(layer(each, site), may, 1, on)]) for each in (drawn, turned))
    assert {each.id: repr(each) for each in one.rules} == {each.id: repr(each) for each in other.rules}
    assert sorted(map(repr, one.deleted)) == sorted(map(repr, other.deleted))
    assert sorted(map(repr, one.notices)) == sorted(map(repr, other.notices))


@pytest.mark.parametrize("town", ["gull-strand", "rook-ferry"])
def test_the_same_input_gives_the_same_bytes(town: str) -> None:
    said = set()
    for seed in ("1", "2"):
        command = [sys.executable, "-m", "checker", "review", f"fixtures/{town}/site.yaml", "--format", "json"]
        environment = {**os.environ, "PYTHONHASHSEED": seed, "STANDBY_CHECKER_NO_CACHE": "1", "PYTHONPATH": str(ROOT)}
        done = subprocess.run(command, capture_output=True, cwd=ROOT, env=environment, check=False)
        said.add(done.stdout)
    (only,) = said
    assert len(only) > 1000
