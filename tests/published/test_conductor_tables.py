"""Tables of ``shared/`` cell by cell against second typed copies from published sources (``tables/`` beside this file),
and against what nature and the printed sums say of them.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
import yaml

from checker.engineering.powers import square_root
from checker.values.possible import exactly
from tests.published import conductor_tables as shared
from tests.published.conductor_tables import asked, look_up, sized

FOLDER = Path(__file__).parent / "tables"
COPY: dict[str, Any] = {
    name: table
    for file in ("conductors.yaml", "motors.yaml")
    for name, table in yaml.safe_load((FOLDER / file).read_text(encoding="utf-8")).items()
}
METALS = {"cu": "copper", "al": "aluminum"}
Keys = dict[str, Any]
each_edition = pytest.mark.parametrize("edition", shared.EDITIONS)


def cells(name: str) -> Iterator[tuple[list[Any], str, Any]]:
    """Each cell of a second copy: the row it stands in, the head of its column, the cell."""
    table = COPY[name]
    for row in table["rows"]:
        for head, value in zip(table["columns"], row, strict=True):
            yield row, head, value


def number(cell: Any) -> Fraction | None:
    return None if cell is None else Fraction(str(cell))


def number_of_entries(name: str, edition: str) -> int:
    return len(shared.rows(name, edition))


@pytest.mark.parametrize("file", shared.FILES)
def test_a_file_reads_without_a_problem(file: str) -> None:
    assert shared.tables(file)


@each_edition
def test_ampacities(edition: str) -> None:
    compared = 0
    for row, head, value in cells("ampacities"):
        if head == "size":
            continue
        metal, column = METALS[head[:2]], asked(head[2:])
        keys = {"size": asked(sized(row[0]).circular_mils), "material": exactly(metal), "column": column}
        small = row[0] in ("12", "10", "8") and metal == "aluminum"
        table = "small-aluminum-ampacities" if small else "conductor-ampacities"
        assert look_up(table, edition, **keys) == number(value), (row[0], head)
        if metal == "aluminum":
            keys["material"] = exactly("copper_clad_aluminum")
            assert look_up(table, edition, **keys) == number(value)
        compared += value is not None
    assert compared == 141
    # Copper once, aluminum for two metals: nothing stands in the table that was not compared.
    count = number_of_entries("conductor-ampacities", edition) + number_of_entries("small-aluminum-ampacities", edition)
    assert count == 72 + 2 * 69


@each_edition
def test_ampacities_have_the_sums_of_the_table_of_2011(edition: str) -> None:
    """Sums of the columns of 14 AWG to 1000 kcmil: cells of the older table would rise too, but not add up to these."""
    table = shared.ampacities(edition)
    copper = [sum(table.column("copper", Fraction(heat)).ampacities.values()) for heat in (60, 75, 90)]
    aluminum = [sum(table.column("aluminum", Fraction(heat)).ampacities.values()) for heat in (60, 75, 90)]
    assert copper == [4900, 5855, 6615]
    assert aluminum == [3930, 4690, 5295]


@each_edition
def test_factors_by_temperature(edition: str) -> None:
    for row, head, value in cells("ambient-factors"):
        if head == "band_C":
            continue
        ends = [int(end) for end in str(row[0]).lstrip("<=").split("-")]
        for ambient in ends:
            keys = {"ambient": asked(ambient), "insulation": asked(head[3:])}
            assert look_up("ambient-temperature-factors", edition, **keys) == number(value), (row[0], head)
    assert number_of_entries("ambient-temperature-factors", edition) == 10 + 13 + 16


@pytest.mark.parametrize("insulation", [60, 75, 90])
@pytest.mark.parametrize("ambient", range(10, 90, 5))
def test_factors_by_temperature_follow_from_heat(ambient: int, insulation: int) -> None:
    """Equation of 310.15(B): the square root of (Tc - Ta) / (Tc - 30), at the hot end of each band."""
    keys = {"ambient": asked(ambient), "insulation": asked(insulation)}
    found = look_up("ambient-temperature-factors", "2020", **keys)
    if ambient >= insulation:
        assert found is None
    else:
        assert found is not None
        assert abs(found - square_root(Fraction(insulation - ambient, insulation - 30))) <= Fraction(1, 200)


@each_edition
def test_factors_by_count(edition: str) -> None:
    for row in COPY["count-factors"]["rows"]:
        band, percent = row
        for count in [int(end) for end in band.lstrip(">=").split("-")]:
            assert look_up("conductor-count-factors", edition, count=asked(count)) == Fraction(percent, 100)
    assert look_up("conductor-count-factors", edition, count=asked(3)) == 1
    assert number_of_entries("conductor-count-factors", edition) == 7


@each_edition
def test_conductors_of_a_dwelling(edition: str) -> None:
    for rating, copper, aluminum in COPY["dwelling-service-conductors"]["rows"]:
        for metal, size in (("copper", copper), ("aluminum", aluminum), ("copper_clad_aluminum", aluminum)):
            found = look_up("dwelling-service-conductors", edition, rating=asked(rating), material=exactly(metal))
            assert found == sized(size).circular_mils
    assert number_of_entries("dwelling-service-conductors", edition) == 33


@each_edition
def test_conductors_of_a_dwelling_carry_83_percent_of_the_rating(edition: str) -> None:
    """Each size of the table has 83 % of the rating in the column of 75 °C."""
    ampacities = shared.ampacities(edition)
    for rating, copper, aluminum in COPY["dwelling-service-conductors"]["rows"]:
        for metal, size in (("copper", copper), ("aluminum", aluminum)):
            assert ampacities.of(sized(size), metal, Fraction(75)) >= Fraction(83, 100) * rating


def rows_by_phase(name: str) -> Iterator[tuple[str, list[Fraction], str, str]]:
    """Metal of the phase conductors, areas that the row covers, and the sizes of copper and of aluminum."""
    for copper_phase, aluminum_phase, copper, aluminum in COPY[name]["rows"]:
        for metal, band in (("copper", copper_phase), ("aluminum", aluminum_phase)):
            yield metal, _areas(band), copper, aluminum


def _areas(band: str) -> list[Fraction]:
    """Areas in kcmil at the ends of a band as printed: ``<=2``, ``1..1/0``, ``>3/0..350``, ``>1100``."""
    open_below = band.startswith(">")
    first, _, last = band.lstrip("<=>").partition("..")
    low = sized_area(first)
    if not last:
        return [low + Fraction(1, 100)] if open_below else [Fraction(1), low]
    return [low + Fraction(1, 100) if open_below else low, sized_area(last)]


def sized_area(text: str) -> Fraction:
    return Fraction(text) if text in ("1100", "1750") else sized(text).area_kcmil


@each_edition
@pytest.mark.parametrize("name", ["electrode-conductors", "bonding-jumpers"])
def test_sizes_by_phase_conductors(edition: str, name: str) -> None:
    entries = 0
    for phase, areas, copper, aluminum in rows_by_phase(name):
        for metal, size in (("copper", copper), ("aluminum", aluminum)):
            wanted = None if "12.5" in size else sized(size).circular_mils
            entries += wanted is not None
            for area in areas:
                keys = {"phase": asked(area), "phase_material": exactly(phase), "material": exactly(metal)}
                assert look_up(name, edition, **keys) == wanted, (phase, area, metal)
    clad = [
        row
        for row in shared.rows(name, edition)
        if "copper_clad_aluminum" in (shared.word(row, "phase_material"), shared.word(row, "material"))
    ]
    assert number_of_entries(name, edition) - len(clad) == entries


@each_edition
def test_limits_of_electrode_conductors(edition: str) -> None:
    """6 AWG copper to a rod, pipe or plate and 4 AWG to a concrete-encased electrode,
    https://expertce.com/learn-articles/nec-250-66-grounding-electrode-conductor; 4 AWG aluminum from memory.
    """
    wanted = {"rod": ("6", "4"), "pipe": ("6", "4"), "plate": ("6", "4"), "concrete_encased": ("4", None)}
    for electrode, sizes in wanted.items():
        for metal, size in zip(("copper", "aluminum"), sizes, strict=True):
            keys = {"electrode": exactly(electrode), "material": exactly(metal)}
            found = look_up("electrode-conductor-limits", edition, **keys)
            assert found == (None if size is None else sized(size).circular_mils)
    assert number_of_entries("electrode-conductor-limits", edition) == 7


@each_edition
def test_resistances_to_direct_current(edition: str) -> None:
    for row in COPY["dc-resistances"]["rows"]:
        size, stranding, area, copper, _, aluminum = row
        assert sized(size).circular_mils == area
        keys = {
            "size": asked(area),
            "stranding": exactly("solid" if stranding == "solid" else "stranded"),
        }
        for metal, value in (("copper", copper), ("aluminum", aluminum)):
            assert look_up("dc-resistances", edition, **keys, material=exactly(metal)) == number(value), row
    assert number_of_entries("dc-resistances", edition) == 56


@each_edition
def test_resistance_to_direct_current_is_that_of_the_metal(edition: str) -> None:
    """R = rho L / A: 12.9 ohm circular mils per foot of copper and 21.2 of aluminum at 75 °C (common practice)."""
    for row in shared.rows("dc-resistances", edition):
        constant = shared.value(row) / 1000 * shared.exact(row, "size")
        wanted = Fraction("12.75") if shared.word(row, "material") == "copper" else Fraction("21.1")
        assert abs(constant / wanted - 1) <= Fraction(3, 100), row


@each_edition
def test_resistances_and_reactances(edition: str) -> None:
    raceways = {"pvc": "pvc", "al": "aluminum", "steel": "steel"}
    entries = {"ac-resistances": 0, "ac-reactances": 0}
    for row, head, value in cells("ac-impedances"):
        if head == "size":
            continue
        kind, *rest = head.split("_")
        size = asked(sized(row[0]).circular_mils)
        if kind == "x":
            for raceway in {"pvc_al": ("pvc", "aluminum"), "steel": ("steel",)}["_".join(rest)]:
                assert look_up("ac-reactances", edition, size=size, raceway=exactly(raceway)) == number(value)
                entries["ac-reactances"] += value is not None
        else:
            metal, raceway = rest
            keys = {"size": size, "material": exactly(METALS[metal]), "raceway": exactly(raceways[raceway])}
            assert look_up("ac-resistances", edition, **keys) == number(value), (row[0], head)
            entries["ac-resistances"] += value is not None
    for name, count in entries.items():
        assert number_of_entries(name, edition) == count > 60


@each_edition
def test_fill_of_raceways(edition: str) -> None:
    wanted = {case: Fraction(percent, 100) for case, percent in COPY["raceway-fill"]["rows"]}
    by_count = {1: "1 conductor", 2: "2 conductors", 3: "over 2 conductors", 40: "over 2 conductors"}
    for count, case in by_count.items():
        found = look_up("raceway-fill", edition, conductors=asked(count), nipple=exactly(False))
        assert found == wanted[case]
        found = look_up("raceway-fill", edition, conductors=asked(count), nipple=exactly(True))
        assert found == wanted["nipple up to 24 in."]
    assert number_of_entries("raceway-fill", edition) == 6


def horsepower(text: str) -> Fraction:
    """``7-1/2`` as a number."""
    return sum((Fraction(part) for part in str(text).split("-")), Fraction(0))


@each_edition
@pytest.mark.parametrize(
    ("name", "left_out", "entries"),
    [
        ("single-phase-motor-currents", (), 48),
        ("three-phase-motor-currents", ("v115", "v2300", "syn230", "syn460", "syn575", "syn2300"), 105),
    ],
)
def test_full_load_currents_of_motors(edition: str, name: str, left_out: tuple[str, ...], entries: int) -> None:
    compared = 0
    for row, head, value in cells(name):
        if head in ("hp", *left_out) or horsepower(row[0]) > 200:
            continue
        keys = {"power": asked(horsepower(row[0])), "voltage": asked(head[1:])}
        assert look_up(name, edition, **keys) == number(value), (row[0], head)
        compared += 1
    assert compared == number_of_entries(name, edition) == entries
