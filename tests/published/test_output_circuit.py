"""The output circuit of an inverter against a printed plan; ``output-circuit.yaml`` names the source."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.facts.numbers import rows_in_force
from tests.published import rules_used as asked
from tests.published import small_sites
from tests.published.checks import Check, agrees, checks, name_of

CHECKS = checks(Path(__file__).parent / "output-circuit.yaml")
RULE = "output-circuit-carries-what-the-inverter-gives-for-hours"


def comes_out(check: Check, breaker: Fraction) -> str:
    output = Fraction(check["inputs"]["output_va"], check["inputs"]["voltage_v"])
    facts = (
        "from.kind: inverter, from.status: new, from.interactive: yes, "
        f"from.rated_current: {asked.amperes(output)}, end_rating: {asked.amperes(breaker)}, end_full_rated: no, "
        "overcurrent: none, ampacity: 200 A, terminal_ampacity: 200 A"
    )
    return asked.outcome(RULE, facts)


def smallest_standard_breaker(check: Check) -> Fraction:
    for row in rows_in_force(small_sites.numbers("NFPA 70", asked.EDITION), "standard-overcurrent-sizes"):
        rating = row.value.number
        assert rating is not None
        if comes_out(check, rating) == "met":
            return rating
    raise AssertionError("no standard breaker is large enough")


@pytest.mark.parametrize("check", CHECKS, ids=name_of)
def test_it_agrees_with_the_print(check: Check) -> None:
    assert agrees(check, smallest_standard_breaker(check))
