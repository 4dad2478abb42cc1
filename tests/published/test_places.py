"""Sound, working space and enclosures against printed figures; ``places.yaml`` names each source."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest
import yaml

from checker.engineering.sites.sound import SOUND_AT_DISTANCE, SOUND_FROM_POWER, sum_of_levels
from checker.engineering.sites.working_space import DepthRow, Opposite, SpaceNumbers, working_space
from tests.published import shared_tables as shared
from tests.published.checks import Check, Found, agrees, checks, name_of, repeats_the_print

CHECKS = checks(Path(__file__).parent / "places.yaml")
exact = shared.exact


def space_numbers() -> SpaceNumbers:
    """The depths of the second copy; width and height of 110.26(A)(2) and (3) from memory."""
    copy = yaml.safe_load((Path(__file__).parent / "tables.yaml").read_text(encoding="utf-8"))
    depths = []
    for row in copy["working-space-depth"]["feet"]:
        one, two, three = (exact(each) for each in row[2:])
        depths.append(DepthRow(exact(row[1]), (one, two, three)))
    return SpaceNumbers(tuple(depths), Fraction(30, 12), Fraction(13, 2), "Table 110.26(A)(1)")


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
    told = check["inputs"]
    condition = Opposite(told["condition"]) if "condition" in told else Opposite.NOTHING_LIVE_OR_GROUNDED
    return working_space(exact(told["volts_to_ground"]), condition, Fraction(1), Fraction(1), space_numbers()).depth


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
