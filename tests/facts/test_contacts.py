"""What the drawing says of contacts and transformers past a transfer switch, and of lines that share a device."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.values.possible import ABSENT, Possible, exactly
from tests.facts.set_sites import ends, site_view

SITE = """
site: {{name: Sedge Yard, stage: plan_review, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 480Y/277 V 3-phase 4-wire}}
  GEN1: {{kind: generator}}
  P1: {{kind: switchboard, fed_from: UTIL}}
  ATS1: {{kind: transfer_switch, normal: P1/1, alternate: {one}{first}}}
  ATS2: {{kind: transfer_switch, normal: P1/2, alternate: {two}{second}}}
  P2: {{kind: panelboard, fed_from: ATS1}}
  T1: {{kind: transformer, fed_from: P2/1, transformer_rating: {t1}}}
  T2: {{kind: transformer, fed_from: P2/2, transformer_rating: {t2}}}
  P3: {{kind: panelboard, fed_from: T1}}
  T3: {{kind: transformer, fed_from: P1/3, transformer_rating: 500 kVA}}
loads:
  list: [{{name: chiller{at}}}]
"""
BASE = {"one": "GEN1/1", "two": "GEN1/2", "first": "", "second": "", "t1": "45 kVA", "t2": "75 kVA", "at": ", at: P3"}


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def read(folder: Path, library: Library, subject: Subject, name: str, **but: str) -> Possible:
    return site_view(folder, library, SITE.format(**{**BASE, **but})).read(subject, name)


LOAD = Subject("load", "load 1")


@pytest.mark.parametrize(
    ("but", "sheds", "tells"),
    [
        ({}, False, False),
        ({"first": ", contacts: [sheds_loads]"}, True, False),
        ({"first": ", contacts: [before_transfer, tells_the_supply]"}, False, True),
        ({"second": ", contacts: [sheds_loads, before_transfer]"}, False, False),
        ({"second": ", contacts: [sheds_loads]", "at": ", at: ATS2"}, True, False),
        ({"first": ", contacts: [sheds_loads]", "at": ", at: T3"}, False, False),
    ],
)
def test_a_contact_counts_at_a_switch_that_feeds_the_load(
    but: dict[str, str], sheds: bool, tells: bool, tmp_path: Path, library: Library
) -> None:
    """The load hangs on P3, past a transformer and P2, which ATS1 feeds and ATS2 does not."""
    assert read(tmp_path, library, LOAD, "has_shedding_contact", **but) == exactly(sheds)
    assert read(tmp_path, library, LOAD, "has_signal_before_transfer", **but) == exactly(tells)


@pytest.mark.parametrize(
    ("t1", "t2", "low", "high"),
    [
        ("45 kVA", "75 kVA", "75", "75"),
        ("112.5 kVA", "75 kVA", "112.5", "112.5"),
        ("30 kVA to 100 kVA", "75 kVA", "75", "100"),
        ("unknown", "75 kVA", "75", None),
    ],
)
def test_the_largest_transformer_past_a_switch(
    t1: str, t2: str, low: str, high: str | None, tmp_path: Path, library: Library
) -> None:
    """T1 and T2 are fed through ATS1; T3 of 500 kVA is not."""
    found = read(tmp_path, library, Subject("transfer_switch", "ATS1"), "largest_transformer", t1=t1, t2=t2)
    assert ends(found) == (1000 * Fraction(low), None if high is None else 1000 * Fraction(high))


def test_a_switch_that_feeds_no_transformer_has_none(tmp_path: Path, library: Library) -> None:
    assert read(tmp_path, library, Subject("transfer_switch", "ATS2"), "largest_transformer") == ABSENT


@pytest.mark.parametrize(
    ("one", "two", "shares"),
    [("GEN1/1", "GEN1/2", False), ("GEN1/1", "GEN1/1", True), ("GEN1/1", "GEN1", False), ("GEN1", "GEN1", None)],
)
def test_two_lines_on_one_device_of_the_set(
    one: str, two: str, shares: bool | None, tmp_path: Path, library: Library
) -> None:
    """Two lines of which no device is named may share one."""
    found = read(tmp_path, library, Subject("generator", "GEN1"), "lines_share_a_device", one=one, two=two)
    assert found.undefined if shares is None else found == exactly(shares)
