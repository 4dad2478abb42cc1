"""Times, cranking and batteries against printed figures; ``timing.yaml`` names each source."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from checker.findings.judging.outcomes import Outcome
from tests.published import small_sites
from tests.published.checks import Check, Found, agrees, checks, name_of

CHECKS = checks(Path(__file__).parent / "timing.yaml")
SITE = """
site: {{name: Sedge Hall, stage: acceptance, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 480Y/277 V 3-phase 4-wire}}
  GEN1: {{kind: generator, time_to_ready: {ready}}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1, classes: [{class_}],
         sensing_delay: {sensing}, transfer_delay: 0 s{more}}}
"""
RULES = {
    "emergency": "emergency-load-fed-in-time",
    "legally_required": "legally-required-load-fed-in-time",
}
CLASSES = {"emergency (700)": "emergency", "legally required (701)": "legally_required", "optional (702)": "optional"}
WORDS = {Outcome.MET: "pass", Outcome.CORRECTION: "fail"}


def verdict(text: str, class_: str) -> str:
    """What the program says of the time: fail where one of the rules of the classes of load corrects it."""
    told = {name: small_sites.outcome(text, rule, "ATS1") for name, rule in RULES.items()}
    assert all(outcome is Outcome.NOT_APPLICABLE for name, outcome in told.items() if name != class_)
    return WORDS[told.get(class_, Outcome.MET)]


def measured(check: Check) -> Found:
    told = check["inputs"]
    class_ = CLASSES[told["system"]]
    stated = f", time_to_load: {told['measured_s']} s"
    return verdict(SITE.format(ready="unknown", sensing="unknown", class_=class_, more=stated), class_)


def residential(check: Check) -> Found:
    """5 s of sensing and 6 s to 10 s until the transfer: 11 s to 15 s, for emergency loads too late in any case."""
    told = check["inputs"]
    shortest, longest = told["start_to_transfer_s"]
    given = {"ready": f"{shortest} s to {longest} s", "sensing": f"{told['outage_sensing_s']} s", "more": ""}
    text = SITE.format(**given, class_="emergency")
    hull = small_sites.fact(text, "ATS1", "time_to_load").hull
    assert hull is not None
    assert (hull.low, hull.high) == (Fraction(11), Fraction(15))
    return verdict(text, "emergency")


def transfer(check: Check) -> Found:
    return measured(check) if "measured_s" in check["inputs"] else residential(check)


BATTERY = """
site: {{name: Sedge Hall, stage: acceptance, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 480Y/277 V 3-phase 4-wire}}
  GEN1: {{kind: generator, start_battery: {{{battery}}}}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1}}
"""


def of_the_battery(name: str, **battery: str) -> Fraction:
    written = ", ".join(f"{part}: {value}" for part, value in battery.items())
    found = small_sites.fact(BATTERY.format(battery=written), "GEN1", name).number
    assert found is not None
    return found


def cycle(check: Check) -> Found:
    told = check["inputs"]
    given = {"cranks": f"{told['cranks']}", "crank": f"{told['crank_s']} s", "rest": f"{told['rest_s']} s"}
    return of_the_battery("cranking_cycle", **given)


def charge(check: Check) -> Found:
    told = check["inputs"]
    given = {"current": f"{told['crank_a']} A", "crank": f"{told['crank_s']} s"}
    return of_the_battery("cranking_charge", **given, cranks="1", cycles="1")


def test_continuous_cranking_has_no_rest() -> None:
    """45 s without a rest (NFPA 110, 5.6.4.2, from memory)."""
    assert of_the_battery("cranking_cycle", cranks="1", crank="45 s", rest="none") == 45


BY_TOPIC: dict[str, Callable[[Check], Found]] = {
    "timing/transfer": transfer,
    "timing/crank": cycle,
    "battery/crank-ah": charge,
}


@pytest.mark.parametrize("check", CHECKS, ids=name_of)
def test_published_time(check: Check) -> None:
    found = BY_TOPIC[check["topic"]](check)
    assert agrees(check, found), found
