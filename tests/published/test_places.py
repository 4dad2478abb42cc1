"""Sound, working space and enclosures against printed figures; ``places.yaml`` names each source."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from checker.engineering.sites.sound import SOUND_AT_DISTANCE, SOUND_FROM_POWER, sum_of_levels
from checker.findings.judging.operands import cell
from checker.values.possible import exactly, number
from tests.published import rules_used as asked
from tests.published import shared_tables as shared
from tests.published.checks import Check, Found, agrees, checks, name_of, repeats_the_print

CHECKS = checks(Path(__file__).parent / "places.yaml")
exact = shared.exact


def added(check: Check) -> Found:
    return sum_of_levels([exact(level) for level in check["inputs"]["levels_db"]])


def farther(check: Check) -> Found:
    told = check["inputs"]
    return SOUND_AT_DISTANCE.at(
        {
            "level": exact(told["level_db"]),
            "measured_at": exact(told["d1_ft"]),
            "distance": exact(told["d2_ft"]),
            "correction": Fraction(0),
        }
    )


def on_hard_ground(check: Check) -> Found:
    told = check["inputs"]
    return SOUND_FROM_POWER.at(
        {
            "power_level": exact(told["lw_dba"]),
            "directivity": Fraction(2),
            "distance": exact(told["distance_m"]) / Fraction("0.3048"),
        }
    )


def depth(check: Check) -> Found:
    """The depth that the rule of the pack wants: the table of the edition."""
    told = check["inputs"]
    table = asked.pack(asked.NFPA_70).tables["working-space-depth"].values[asked.EDITION]
    keys = {
        "to_ground": number(exact(told["volts_to_ground"])),
        "condition": exactly(str(told.get("condition", NOTHING_OPPOSITE))),
    }
    found = cell(table, keys).number
    assert found is not None
    facts = (
        f"status: new, system: {{connection: wye, voltage: 480 V, to_neutral: {told['volts_to_ground']} V}}, "
        f"working_space: {{condition: '{keys['condition'].atom}', depth: {{}}}}"
    )
    ends = (f"{float(found)} ft", f"{float(found) - 0.01} ft")
    met, missed = (asked.outcome("working-space-depth", facts.replace("{}", each)) for each in ends)
    assert (met, missed) == ("met", "correction")
    return found


NOTHING_OPPOSITE = "1"
"""Drywall and the like are no grounded parts: the first condition of the table."""


def least_code(check: Check) -> Found:
    return str(shared.enclosure_codes("older").least(check["inputs"]["nema_type"]))


BY_TOPIC: dict[str, Callable[[Check], Found]] = {
    "sound/sum": added,
    "sound/distance": farther,
    "known-bad/sound": on_hard_ground,
    "working-space/110.26": depth,
    "enclosure/NEMA-IP": least_code,
}


@pytest.mark.parametrize("check", CHECKS, ids=name_of)
def test_published_place(check: Check) -> None:
    found = BY_TOPIC[check["topic"]](check)
    assert agrees(check, found), found
    if check["kind"] == "published-wrong":
        assert not repeats_the_print(check, found)
