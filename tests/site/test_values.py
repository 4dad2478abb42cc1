"""What is written for one fact, and what is possible by it."""

from fractions import Fraction
from pathlib import Path

import pytest

from checker.site.model import Site, Stated
from checker.values.possible import (
    ABSENT,
    ANY_WORD,
    EITHER_FLAG,
    Possible,
    SetSpan,
    Span,
    between,
    exactly,
    number,
    numbers,
    one_of,
    several,
)
from tests.site import corpus
from tests.site.reading import CATALOG, read, refused, subject


def fact(text: str, name: str, owner: str, folder: Path) -> Stated:
    site = read(text, folder)
    found = site.stated(subject(site, owner), name)
    assert found is not None
    return found


def panel(text: str, folder: Path) -> Possible:
    """The value of the one fact written for the panel."""
    return fact(corpus.panel(text), text.partition(":")[0], "P1", folder).value


def switch(text: str, folder: Path) -> Possible:
    """The value of the one fact written for the switch."""
    return fact(corpus.switch(text), text.partition(":")[0], "ATS1", folder).value


def set_of(*words: str) -> Possible:
    return Possible(sets=(SetSpan(frozenset(words), frozenset(words)),))


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("short_circuit_rating: 10 kA", number(10_000)),
        ("short_circuit_rating: 8 kA to 12 kA", between(8_000, 12_000)),
        ("short_circuit_rating: at least 10 kA", between(10_000, None)),
        ('short_circuit_rating: ">= 10 kA"', between(10_000, None)),
        # Nothing lies below zero: an upper bound has a lower end by itself.
        ("short_circuit_rating: at most 12 kA", between(0, 12_000)),
        (
            "short_circuit_rating: less than 12 kA",
            Possible(spans=(Span(Fraction(0), Fraction(12_000), high_open=True),)),
        ),
        ("short_circuit_rating: 9 kA +/- 10 %", between(8_100, 9_900)),
        ("short_circuit_rating: 10 or 14 kA", numbers([10_000, 14_000])),
        ("short_circuit_rating: unknown", between(0, None)),
        ("interrupting_rating: none", ABSENT),
        ("interrupting_rating: none or 10 kA", number(10_000).union(ABSENT)),
        ("interrupting_rating: unknown", between(0, None).union(ABSENT)),
        ("listed: yes", exactly(True)),
        ("listed: false", exactly(False)),
        ("listed: no or yes", EITHER_FLAG),
        ("listed: unknown", EITHER_FLAG),
        ("enclosure: 3R", exactly("3R")),
        ("enclosure: 1", exactly("1")),
        ("enclosure: 3R or 4X", one_of(["3R", "4X"])),
        ("role: none or service_disconnect", exactly("service_disconnect").union(ABSENT)),
    ],
)
def test_panel(text: str, value: Possible, tmp_path: Path) -> None:
    assert panel(text, tmp_path) == value


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("poles: 2", number(2)),
        ("poles: 2 or 3", numbers([2, 3])),
        ("poles: at most 3", between(1, 3)),
        ("poles: unknown", between(1, 4)),
        ("classes: [emergency, optional]", several(["emergency", "optional"])),
        ("classes: optional", set_of("optional")),
        ("classes: emergency or optional", set_of("emergency").union(set_of("optional"))),
        ("use_listing: none or optional", set_of("optional").union(ABSENT)),
        ("operation: unknown", one_of(["automatic", "manual", "nonautomatic_electric"])),
    ],
)
def test_switch(text: str, value: Possible, tmp_path: Path) -> None:
    assert switch(text, tmp_path) == value


def test_unknown_sets_may_hold_any_choice(tmp_path: Path) -> None:
    assert switch("classes: unknown", tmp_path) == CATALOG.facts["classes"].anything()


def test_unknown_texts_and_tags_may_be_anything(tmp_path: Path) -> None:
    assert fact(corpus.site("address: unknown"), "address", "site", tmp_path).value == ANY_WORD
    text = corpus.kind_of("UTIL", "electrode_conductor_ends_at: unknown")
    assert fact(text, "electrode_conductor_ends_at", "UTIL", tmp_path).value == ANY_WORD.union(ABSENT)


def test_tags_that_are_not_exact(tmp_path: Path) -> None:
    text = corpus.kind_of("UTIL", "electrode_conductor_ends_at: P1 or ATS1")
    assert fact(text, "electrode_conductor_ends_at", "UTIL", tmp_path).value == one_of(["P1", "ATS1"])


@pytest.mark.parametrize(
    ("written", "per", "assumed"),
    [
        ("10 kA", None, False),
        ("{value: 10 kA, per: nameplate}", "nameplate", False),
        ("{value: 10 kA, per: assumed}", None, True),
        ("{value: 10 kA}", None, False),
        ("{value: 10 kA, per: 3}", "3", False),
    ],
)
def test_papers(written: str, per: str | None, assumed: bool, tmp_path: Path) -> None:
    found = fact(corpus.panel(f"short_circuit_rating: {written}"), "short_circuit_rating", "P1", tmp_path)
    assert (found.value, found.text, found.unit) == (number(10_000), "10 kA", "kA")
    assert (found.per, found.assumed) == (per, assumed)


def test_the_unit_is_the_one_in_which_it_was_given(tmp_path: Path) -> None:
    text = corpus.panel("short_circuit_rating: 9600 A to 12 kA")
    assert fact(text, "short_circuit_rating", "P1", tmp_path).unit == "A"


def test_a_value_with_its_paper_stands_where_the_value_stands(tmp_path: Path) -> None:
    text = "site:\n  altitude:\n    per: survey\n    value: 620 ft\n"
    found = fact(text, "altitude", "site", tmp_path)
    assert (found.at.line, found.at.column) == (4, 12)


# --- structures ---


def parts(text: str, whole: str, owner: str, folder: Path) -> dict[str, Possible]:
    site = read(text, folder)
    facts = site.things[subject(site, owner)].facts
    return {name.partition(".")[2]: each.value for name, each in facts.items() if name.partition(".")[0] == whole}


def overcurrent(written: str, folder: Path) -> dict[str, Possible]:
    return parts(corpus.without("overcurrent: 90 A", f"overcurrent: {written}"), "overcurrent", "GEN1/1", folder)


IS_THERE = exactly(True)
MAY_BE_THERE = IS_THERE.union(ABSENT)


def test_the_short_form_of_a_device_is_its_rating(tmp_path: Path) -> None:
    assert overcurrent("90 A", tmp_path) == {"": IS_THERE, "rated_current": number(90)}
    assert overcurrent("80 or 90 A", tmp_path) == {"": IS_THERE, "rated_current": numbers([80, 90])}
    assert overcurrent("{rated_current: 90 A}", tmp_path) == {"": IS_THERE, "rated_current": number(90)}


def test_a_device_that_may_not_be_there(tmp_path: Path) -> None:
    assert overcurrent("none or 90 A", tmp_path) == {"": MAY_BE_THERE, "rated_current": number(90).union(ABSENT)}
    assert overcurrent("unknown", tmp_path) == {"": MAY_BE_THERE}


def test_of_what_is_none_every_part_is_none(tmp_path: Path) -> None:
    named = CATALOG.facts["overcurrent"].parts
    for written in ("none", "{value: none, per: data sheet}"):
        assert overcurrent(written, tmp_path) == dict.fromkeys(["", *named], ABSENT)


def test_a_part_with_a_doubt_beside_a_short_form(tmp_path: Path) -> None:
    written = "{value: 90 A, per: data sheet, device: {value: molded_case_breaker, per: assumed}}"
    site = read(corpus.without("overcurrent: 90 A", f"overcurrent: {written}"), tmp_path)
    way = subject(site, "GEN1/1")
    rating, device = site.stated(way, "overcurrent.rated_current"), site.stated(way, "overcurrent.device")
    assert rating is not None
    assert device is not None
    assert (rating.per, rating.assumed) == ("data sheet", False)
    assert (device.per, device.assumed) == (None, True)


def test_a_fault_current_has_a_value_of_its_own(tmp_path: Path) -> None:
    def fault(written: str) -> dict[str, Possible]:
        text = corpus.kind_of("UTIL", f"available_fault_current: {written}")
        return parts(text, "available_fault_current", "UTIL", tmp_path)

    assert fault("9.6 kA") == {"": number(9600)}
    assert fault("{value: 9.6 kA, between: lines}") == {"": number(9600), "between": exactly("lines")}
    # Which fault is known, how large it is not.
    assert fault("{between: lines}") == {"between": exactly("lines")}


def phase(written: str, folder: Path) -> dict[str, Possible]:
    return parts(corpus.more(f"runs: {{ATS1>P1: {{grounding: {written}}}}}\n"), "grounding", "ATS1>P1", folder)


def test_conductors_in_one_line(tmp_path: Path) -> None:
    assert phase('"(2) 3/0 Cu XHHW-2"', tmp_path) == {
        "": IS_THERE,
        "size": number(167_800),
        "material": exactly("copper"),
        "parallel_sets": number(2),
        "insulation": exactly("XHHW-2"),
        "bare": exactly(False),
    }


def test_what_a_line_does_not_say_stays_open(tmp_path: Path) -> None:
    assert set(phase("4/0", tmp_path)) == {"", "size", "parallel_sets"}


def test_conductors_that_are_not_decided(tmp_path: Path) -> None:
    found = phase("3 AWG copper or 2 AWG aluminum THWN-2", tmp_path)
    assert found["size"] == numbers([52_620, 66_360])
    assert found["material"] == one_of(["copper", "aluminum"])
    # One of the two lines does not say it.
    assert "insulation" not in found


def test_conductors_that_may_not_be_there(tmp_path: Path) -> None:
    found = phase("none or 8 AWG copper", tmp_path)
    assert found[""] == MAY_BE_THERE
    assert found["size"] == number(16_510).union(ABSENT)
    # Where it is there, nothing is said of it.
    assert "insulation" not in found
    assert phase("none", tmp_path)["insulation"] == ABSENT


def test_a_system_without_neutral(tmp_path: Path) -> None:
    text = corpus.without("120/240 V 1-phase 3-wire", "480 V 3-phase 3-wire")
    assert parts(text, "system", "UTIL", tmp_path) == {
        "": IS_THERE,
        "voltage": number(480),
        "to_neutral": ABSENT,
        "phases": number(3),
        "wires": number(3),
        "ungrounded": number(3),
        "connection": exactly("delta"),
    }


@pytest.mark.parametrize(
    "text",
    [
        *("120/240 V 1-phase 3-wire", "208Y/120 V 3-phase 4-wire", "120/208 V 1-phase 3-wire", "480 V 3-phase 3-wire"),
        *("240/120 V 3-phase 4-wire high leg", "240 V 3-phase 3-wire corner-grounded", "120 V 1-phase 2-wire"),
    ],
)
def test_every_system_has_a_connection_that_the_catalog_names(text: str, tmp_path: Path) -> None:
    found = parts(corpus.without("120/240 V 1-phase 3-wire", text), "system", "UTIL", tmp_path)
    assert found["connection"].atoms <= set(CATALOG.facts["system.connection"].choices)


# --- bounds ---


def test_either_end_must_be_usual(tmp_path: Path) -> None:
    for written in ("500 A to 10 kA", "10 kA to 400 kA", "at most 500 A", "10 kA or 500 A"):
        (problem,) = refused(corpus.panel(f"short_circuit_rating: {written}"), tmp_path)
        assert "outside what is usual" in problem.sentence


def test_bounds_are_told_in_the_unit_of_the_person(tmp_path: Path) -> None:
    (problem,) = refused(corpus.panel("short_circuit_rating: 999 kA"), tmp_path)
    assert "1 kA to 300 kA" in problem.sentence


def test_the_ends_of_what_is_usual_are_usual(tmp_path: Path) -> None:
    for end in ("1 kA", "300 kA", "1000 A", "300,000 A"):
        assert refused(corpus.panel(f'short_circuit_rating: "{end}"'), tmp_path) == ()


def test_a_bound_that_leaves_nothing_is_told(tmp_path: Path) -> None:
    (problem,) = refused(corpus.switch("poles: less than 1"), tmp_path)
    assert "leaves no value" in problem.sentence


def test_unknown_is_never_unusual(tmp_path: Path) -> None:
    site: Site = read(corpus.panel("rated_voltage: unknown, short_circuit_rating: unknown"), tmp_path)
    assert site.stated(subject(site, "P1"), "rated_voltage") is not None


# --- how electricians write ---


@pytest.mark.parametrize(
    ("written", "feet"),
    [
        ("5'-6\"", "5.5"),
        ("5 ft 6 in", "5.5"),
        ("66 in", "5.5"),
        ("5.5 ft", "5.5"),
        ("66-1/4 in", "5.520833333333333333"),
    ],
)
def test_lengths(written: str, feet: str, tmp_path: Path) -> None:
    text = corpus.more(f"runs:\n  ATS1>P1:\n    length: {written}\n")
    found = fact(text, "length", "ATS1>P1", tmp_path).value.number
    assert found is not None
    assert abs(found - Fraction(feet)) < Fraction(1, 10**9)


@pytest.mark.parametrize("written", ["#3 Cu", "No. 3 Cu", "3 AWG Cu", "3 ga. copper", "#3 copper"])
def test_sizes(written: str, tmp_path: Path) -> None:
    assert phase(f'"{written}"', tmp_path)["size"] == number(52_620)


@pytest.mark.parametrize(
    ("written", "fact_name", "value"),
    [
        ("10k AIC", "interrupting_rating", 10_000),
        ("10 kAIC", "interrupting_rating", 10_000),
        ("200A", "rated_current", 200),
        ("200 amps", "rated_current", 200),
    ],
)
def test_ratings(written: str, fact_name: str, value: int, tmp_path: Path) -> None:
    text = corpus.without("rated_current: 200 A", f"{fact_name}: {written}")
    assert fact(text, fact_name, "P1", tmp_path).value == number(value)


def test_power(tmp_path: Path) -> None:
    assert fact(corpus.generator("power_at_site: 22KW"), "power_at_site", "GEN1", tmp_path).value == number(22_000)


def test_areas_and_temperatures(tmp_path: Path) -> None:
    assert fact(corpus.site("floor_area: 1950 sq. ft."), "floor_area", "site", tmp_path).value == number(1950)
    assert fact(corpus.site("hottest_day: 35C"), "hottest_day", "site", tmp_path).value == number(35)
