"""Tables: rows as written or in columns, bands, and rows that serve what lies up to them."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.rules.model.numbers import Row, Table
from checker.rules.model.pack import Pack
from checker.rules.reading.written_values import read_band, read_value
from checker.values.notation import NotationError
from checker.values.possible import Span, exactly, number
from tests.rules.packs import EXAMPLE, SMALL, problems_of, read


@pytest.fixture(scope="module")
def example() -> Pack:
    return read(EXAMPLE)


def _read_table(folder: Path, text: str) -> Table:
    (folder / "pack.yaml").write_text(SMALL, encoding="utf-8")
    (folder / "table.yaml").write_text(text, encoding="utf-8")
    return read(folder).tables["working-space"]


WORKING_SPACE = """\
tables:
  working-space:
    title: depth of working space
    keys: {to_ground: {match: band, type: voltage, unit: V}, condition: {match: exact, type: choice}}
    gives: length
    unit: ft
    beyond: above 600 V the table says nothing
    rows:
      "2020":
        columns: [1, 2, "3"]
        rows:
          - [0 to 150, 3, 3, 3]
          - [over 150 V to 600 V, 3, 3 ft 6 in, none]
      "2023": same as 2020
    sections: {"2020": 9, "2023": 9}
    checked: {sure: low, against: memory}
"""


def _rows(rows: tuple[Row, ...], **keys: str) -> list[str]:
    return [row.text for row in rows if all(row.keys[name] == exactly(word) for name, word in keys.items())]


def test_columns_are_the_last_key(tmp_path: Path) -> None:
    table = _read_table(tmp_path, WORKING_SPACE)
    rows = table.values["2020"].rows
    assert len(rows) == 5
    assert _rows(rows, condition="2") == ["3 ft", "3 ft 6 in"]
    assert _rows(rows, condition="3") == ["3 ft"]
    assert table.values["2023"].rows == rows
    assert table.unit == "ft"


def test_bands_have_open_and_closed_ends(tmp_path: Path) -> None:
    low, high = (
        row.keys["to_ground"].spans[0] for row in _read_table(tmp_path, WORKING_SPACE).values["2020"].rows[::3]
    )
    assert low == Span(Fraction(0), Fraction(150))
    assert high == Span(Fraction(150), Fraction(600), low_open=True)
    assert low.holds(Fraction(150))
    assert not high.holds(Fraction(150))


@pytest.mark.parametrize(
    ("text", "span"),
    [
        ("0 V to 150 V", Span(Fraction(0), Fraction(150))),
        ("over 150 V to 600 V", Span(Fraction(150), Fraction(600), low_open=True)),
        ("up to 150 V", Span(None, Fraction(150))),
        ("over 0.6 kV", Span(Fraction(600), None, low_open=True)),
    ],
)
def test_band(text: str, span: Span) -> None:
    assert read_band(text, "voltage").value.spans == (span,)


@pytest.mark.parametrize("text", ["150 V", "600 V to 150 V", "0 A to 150 A", "over", "to 150 V", ""])
def test_text_that_is_no_band(text: str) -> None:
    with pytest.raises(NotationError):
        read_band(text, "voltage")


def test_bands_that_overlap_are_told(tmp_path: Path) -> None:
    (tmp_path / "pack.yaml").write_text(SMALL, encoding="utf-8")
    text = WORKING_SPACE.replace("over 150 V to 600 V", "150 V to 600 V")
    (tmp_path / "table.yaml").write_text(text, encoding="utf-8")
    problems = problems_of(tmp_path)
    assert {problem.sentence for problem in problems} == {
        "The rows of `working-space` do not rise: this one begins before the one above ends."
    }
    assert {problem.at.line for problem in problems if problem.at} == {13}


def test_row_at_or_above_reaches_down_to_the_row_before(example: Pack) -> None:
    rows = [
        row for row in example.tables["ground-sizes"].values["2020"].rows if row.keys["material"] == exactly("copper")
    ]
    spans = [row.keys["overcurrent"].spans[0] for row in rows]
    assert [row.text for row in rows] == ["14 AWG", "8 AWG", "6 AWG"]
    assert spans[1:] == [
        Span(Fraction(15), Fraction(100), low_open=True),
        Span(Fraction(100), None, low_open=True),
    ]
    assert spans[0].holds(Fraction(15))
    assert not spans[1].holds(Fraction(15))
    assert spans[1].holds(Fraction(16))


def test_sizes_are_rows_without_keys(example: Pack) -> None:
    sizes = example.tables["switch-sizes"]
    assert sizes.keys == ()
    assert [row.value for row in sizes.values["2017"].rows] == [number(each) for each in (100, 200, 400)]
    assert sizes.values["2017"].beyond == "above 400 A there is no size"
    assert not sizes.values["2017"].cites[0].verify


@pytest.mark.parametrize(
    ("text", "type_name", "unit", "found", "shown"),
    [
        ("14 AWG", "wire_size", None, Fraction(4110), "14 AWG"),
        ("1-1/4", "length", "in", Fraction(5, 48), "1-1/4 in"),
        ("1,200", "load_current", "A", Fraction(1200), "1,200 A"),
        ("2", "count", None, Fraction(2), "2"),
        ("125 %", "ratio", None, Fraction(5, 4), "125 %"),
        ("2026-03-14", "date", None, Fraction(739689), "2026-03-14"),
    ],
)
def test_cell(text: str, type_name: str, unit: str | None, found: Fraction, shown: str) -> None:
    """14 AWG is 4110 circular mils: NEC Chapter 9 Table 8. Day 739689 is 14 March 2026 by ``date.toordinal``."""
    read_cell = read_value(text, type_name, unit)
    assert read_cell.value.number == found
    assert read_cell.text == shown


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('      "2023": same as 2020\n    sections: {"2020": 9, "2023": 9}', '    sections: {"2020": 9, "2023": 9}',
         "`working-space` has a section for edition 2023 but no value there."),
        ("over 150 V to 600 V, 3, 3 ft 6 in, none]", "over 150 V to 600 V, 3, 3 ft 6 in]",
         "This row of `working-space` has 3 cells, not 4."),
        ("[0 to 150, 3, 3, 3]", "[0 to 150, 3, 3, three]", "working-space, value: three does not begin with a number."),
        ("match: exact", "match: at_or_above", "`working-space` has two keys that are matched by size."),
    ],
)  # fmt: skip
def test_bad_table(old: str, new: str, told: str, tmp_path: Path) -> None:
    assert WORKING_SPACE.count(old) == 1
    (tmp_path / "pack.yaml").write_text(SMALL, encoding="utf-8")
    (tmp_path / "table.yaml").write_text(WORKING_SPACE.replace(old, new), encoding="utf-8")
    assert told in {problem.sentence for problem in problems_of(tmp_path)}
