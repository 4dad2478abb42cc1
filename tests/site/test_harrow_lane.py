"""The example that comes with the program, read whole."""

import hashlib
from fractions import Fraction
from pathlib import Path

import pytest

from checker.files.folders import data_folder
from checker.site.model import SITE, Feed, Members, Stated, Subject
from checker.site.read import read_site
from checker.values.dates import date_of
from checker.values.positions import Position
from checker.values.possible import ABSENT, Possible, exactly, number, several
from tests.site.reading import CATALOG, subject

FOLDER = data_folder("fixtures") / "harrow-lane"
PROJECT = FOLDER.parent.parent
READ = read_site(FOLDER / "site.yaml", CATALOG, PROJECT)
FILE = "fixtures/harrow-lane/site.yaml"
SHEET = "fixtures/harrow-lane/sheets/set-22kw.yaml"


def line_of(text: str, file: str = FILE) -> int:
    """The number of the one line that holds the text."""
    lines = (PROJECT / file).read_text(encoding="utf-8").splitlines()
    (number_of_line,) = [place for place, line in enumerate(lines, start=1) if text in line]
    return number_of_line


def stated(name: str, fact: str) -> Stated:
    found = READ.stated(SITE if name == "site" else subject(READ, name), fact)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("name", "fact", "value", "text", "unit"),
    [
        ("site", "name", exactly("14 Harrow Lane"), "14 Harrow Lane", None),
        ("site", "floor_area", number(1950), "1950 ft2", "ft2"),
        ("site", "other_sources", ABSENT, "none", None),
        ("site", "work", several(["service_equipment_replaced", "generator_new", "transfer_switch_new"]), None, None),
        ("site", "hottest_day", number(35), "95 F", "°F"),
        ("UTIL", "available_fault_current", number(9600), "9.6 kA", "kA"),
        ("UTIL", "available_fault_current.between", exactly("lines"), "lines", None),
        ("UTIL", "system", exactly(True), "120/240 V 1-phase 3-wire", None),
        ("UTIL", "system.voltage", number(240), "240 V", "V"),
        ("UTIL", "system.to_neutral", number(120), "120 V", "V"),
        ("UTIL", "system.connection", exactly("split"), "split", None),
        ("ATS1", "neutral", exactly("solid"), "solid", None),
        ("ATS1", "classes", several(["optional"]), "optional", None),
        ("ATS1", "listed", exactly(True), "yes", None),
        ("ATS1/normal", "overcurrent.interrupting_rating", number(22_000), "22 kA", "kA"),
        ("GEN1/1", "overcurrent", exactly(True), "90 A", None),
        ("GEN1/1", "overcurrent.rated_current", number(90), "90 A", "A"),
        ("GEN1", "power_factor", number(1), "1.0", ""),
        ("GEN1", "rated_power.propane", number(22_000), "22 kW", "kW"),
        ("GEN1/1>ATS1.alternate", "phase.size", number(52_620), "3 AWG", None),
        ("GEN1/1>ATS1.alternate", "phase.insulation", exactly("THWN-2"), "THWN-2", None),
        ("GEN1/1>ATS1.alternate", "length", number(22), "22 ft", "ft"),
        ("ATS1>P1", "neutral_conductor.bare", exactly(True), "yes", None),
        ("ATS1>P1", "grounding", ABSENT, "none", None),
        ("ATS1>P1", "grounding.size", ABSENT, "none", None),
        ("P1~GEN1", "available_fault_current", number(850), "850 A", "A"),
        ("STOP1", "of", exactly("GEN1"), "GEN1", None),
        ("distance 1", "distance", number(4), "4.0 ft", "ft"),
        ("distance 1", "to", exactly("north bedroom window"), "north bedroom window", None),
        ("load 8", "load_kind", exactly("cooling"), "cooling", None),
        ("load 8", "load_power", number(3600), "3600 VA", "VA"),
        ("paper 8", "paper", exactly("utility_letter"), "utility_letter", None),
    ],
)
def test_facts(name: str, fact: str, value: Possible, text: str | None, unit: str | None) -> None:
    found = stated(name, fact)
    assert (found.value, found.unit) == (value, unit)
    assert text is None or found.text == text


def test_dates() -> None:
    issued = stated("site", "permit.application_date").value.number
    assert issued is not None
    assert str(date_of(issued)) == "2024-03-11"


def test_papers_and_assumptions() -> None:
    assert stated("UTIL", "available_fault_current").per == "utility letter 2024-02-20"
    assert stated("UTIL", "available_fault_current.between").per == "utility letter 2024-02-20"
    assert stated("ATS1", "neutral").per is None
    assert not any(each.assumed for thing in READ.things.values() for each in thing.facts.values())


def test_positions() -> None:
    assert stated("ATS1", "neutral").at == Position(FILE, line_of("neutral: solid"), 14)
    assert stated("GEN1", "generator_form").at == Position(SHEET, line_of("stationary", SHEET), 17)
    assert stated("GEN1/1", "overcurrent").at.line == line_of("ways: {1:")
    assert READ.things[subject(READ, "ATS1>P1")].at == Position(FILE, line_of("  ATS1>P1:"), 3)
    assert READ.things[subject(READ, "UTIL>M1")].at.line == line_of("  M1: {kind: meter")


def test_pieces_and_connections() -> None:
    assert {tag: piece.type for tag, piece in READ.pieces.items()} == {
        "UTIL": "utility_supply",
        "M1": "meter",
        "ATS1": "transfer_switch",
        "P1": "panelboard",
        "GEN1": "generator",
        "STOP1": "stop",
        "GM1": "gas_meter",
    }
    assert [feed.subject.id for feed in READ.feeds] == [
        "UTIL>M1",
        "M1>ATS1.normal",
        "GEN1/1>ATS1.alternate",
        "ATS1>P1",
    ]
    assert all(feed.subject in READ.things for feed in READ.feeds)
    assert Feed("GEN1", "1", "ATS1", "alternate", READ.feeds[2].at) in READ.feeds
    assert READ.notices == ()


def test_lists() -> None:
    bonds = READ.members("bonds")
    assert bonds.complete
    assert bonds.members == (Subject("bond", "bond 1"), Subject("bond", "bond 2"))
    assert READ.members("labels").members == ()
    assert READ.members("labels").complete
    assert not READ.members("controls").complete
    assert READ.members("withstand_rows", "ATS1").complete
    assert len(READ.members("loads").members) == 8
    assert READ.members("loads").complete
    assert READ.members("interlocks") == Members((), complete=False)
    assert READ.complete_kinds == {"stop", "surge_protective_device", "inlet", "load_manager"}


def test_file_and_digest() -> None:
    assert READ.file == FILE
    summed = hashlib.sha256()
    for name in sorted((FILE, SHEET)):
        summed.update((PROJECT / name).read_bytes().replace(b"\r\n", b"\n") + b"\0")
    assert READ.digest == summed.hexdigest()


def test_line_ends_do_not_change_what_is_read(tmp_path: Path) -> None:
    (tmp_path / "sheets").mkdir()
    for name in ("site.yaml", "sheets/set-22kw.yaml"):
        text = (FOLDER / name).read_text(encoding="utf-8")
        (tmp_path / name).write_text(text, encoding="utf-8", newline="\r\n")
    site = read_site(tmp_path / "site.yaml", CATALOG)
    assert site.file == "site.yaml"
    alone = read_site(FOLDER / "site.yaml", CATALOG)
    assert site.digest == alone.digest
    assert site.things == alone.things


def test_nothing_is_lost() -> None:
    """Every figure of the file stands in some stated fact."""
    figures = {each.value.number for thing in READ.things.values() for each in thing.facts.values()} - {None}
    assert {Fraction(1840), Fraction(200), Fraction(9600), Fraction(7700), Fraction(19_500)} <= figures
