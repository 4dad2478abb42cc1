"""On a drawing of which nothing is open the program says what the oracle says, which has its own walk and its own
logic.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Set

from hypothesis import assume, given

from checker.facts.collections import collection_names
from checker.facts.registry import registry
from checker.site.model import Subject
from tests.generators.cases import CATALOG, Case, cases, seeded_case
from tests.generators.choosing import seeded
from tests.soundness.budget import examples, seeds
from tests.soundness.completions import completed
from tests.soundness.engine import verdicts
from tests.soundness.exact_facts import STATE_BY_STATE, ExactFacts
from tests.soundness.oracle import Outcomes, expected
from tests.soundness.sweep import sweep

Expected = Mapping[tuple[str, Subject], Outcomes]

_LEAST_SHARE = 100
"""An outcome is tried if one finding of so many has it."""


def _differences(case: Case) -> list[str] | None:
    """Where program and oracle differ; the oracle may leave more open where something has no answer."""
    filled_in = completed(case.site, CATALOG, seeded(case.seed))
    if filled_in is None:
        return None
    found = verdicts(filled_in.site, CATALOG, case.rules)
    wanted = _of_what_is_planned(expected(filled_in.site, CATALOG, case.rules), found.keys())
    told = [f"{rule} at {subject} is planned by one alone" for rule, subject in found.keys() ^ wanted.keys()]
    for key in found.keys() & wanted.keys():
        outcomes = {outcome.value for outcome in found[key].could_be}
        if not outcomes <= wanted[key]:
            told.append(f"{key[0]} at {key[1]}: {sorted(outcomes)}, by the oracle {sorted(wanted[key])}")
    return told


def test_the_program_says_what_the_oracle_says() -> None:
    sweep(100, _differences)


def _of_what_is_planned(wanted: Expected, planned: Set[tuple[str, Subject]]) -> Expected:
    """Without stated figures that the program holds against nothing, as it works out a span and not one value."""
    return {key: each for key, each in wanted.items() if key in planned or key[1].type != "figure"}


@examples(20)
@given(cases())
def test_the_program_says_what_the_oracle_says_of_drawn_cases(case: Case) -> None:
    found = _differences(case)
    assume(found is not None)
    assert not found


def test_the_oracle_knows_every_derived_fact_and_every_collection() -> None:
    facts = ExactFacts(seeded_case(1).site, CATALOG)
    assert {fact for fact, _ in registry()} == facts.derived | STATE_BY_STATE
    assert collection_names() == facts.collected


def test_every_outcome_is_tried() -> None:
    counted: Counter[str] = Counter()
    for seed in seeds(80):
        case = seeded_case(seed)
        filled_in = completed(case.site, CATALOG, seeded(seed))
        if filled_in is not None:
            wanted = expected(filled_in.site, CATALOG, case.rules)
            counted.update("open" if len(each) > 1 else next(iter(each)) for each in wanted.values())
    everything = {
        "met", "correction", "recommendation", "note", "not_applicable", "verify_in_field", "ahj_to_decide", "open"
    }  # fmt: skip
    assert counted.keys() == everything
    assert min(counted.values()) * _LEAST_SHARE >= counted.total()
    assert counted["open"] * 4 < counted.total(), "too much has no answer"
