"""The bus of two sources against printed figures; ``parallel.yaml`` names each source.

The greatest output is looked for with the sum of the calculation, the share of the pack and the rule of the pack.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.engineering.parallel.bus import BUS_SUM
from checker.facts.numbers import number_in_force
from checker.facts.parallel.bus import SHARE
from tests.published import rules_used as asked
from tests.published import small_sites
from tests.published.checks import Check, agrees, checks, name_of

CHECKS = checks(Path(__file__).parent / "parallel.yaml")
RULE = "bus-carries-utility-and-inverters"
HUNDREDTHS = 100


def summed(check: Check, output: Fraction) -> Fraction:
    share = number_in_force(small_sites.numbers("NFPA 70", asked.EDITION), SHARE)
    protection = Fraction(check["inputs"]["main_a"])
    return BUS_SUM.at({"protection": protection, "output": output, "share": share})


def comes_out(check: Check, output: Fraction) -> str:
    facts = (
        f"parallel_output: {asked.amperes(output)}, bus_sum: {asked.amperes(summed(check, output))}, "
        f"bus_protection: {check['inputs']['main_a']} A, "
        f"rated_current: {check['inputs']['bus_a']} A, place_of_parallel_sources: opposite_end, "
        "power_control_setting: none, sum_of_its_breakers: none, bus_studied: no, site.occupancy: one_family_dwelling"
    )
    return asked.outcome(RULE, facts)


def greatest_output(check: Check) -> Fraction:
    """Amperes to a hundredth, between an output that is met and one that is missed."""
    low, high = 1, 500 * HUNDREDTHS
    while high - low > 1:
        middle = (low + high) // 2
        if comes_out(check, Fraction(middle, HUNDREDTHS)) == "met":
            low = middle
        else:
            high = middle
    assert comes_out(check, Fraction(high, HUNDREDTHS)) == "correction"
    return Fraction(low, HUNDREDTHS)


@pytest.mark.parametrize("check", CHECKS, ids=name_of)
def test_it_agrees_with_the_print(check: Check) -> None:
    assert agrees(check, greatest_output(check))
