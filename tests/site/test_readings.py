"""A table of readings of demand: what it says of its paper, and what is refused."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.catalog.load import shipped_catalog
from checker.site.read import read_site
from checker.site.readings import readings_of
from checker.values.problems import Unreadable

SITE = "site: {}\npapers:\n  list:\n    - {paper: demand_record, readings: records/demand.csv%s}\n"
TWO = "time,kVA\n2025-01-31 18:00,12.4\n2025-01-31 18:15,9.75\n"


def stated(folder: Path, table: str | bytes, more: str = "") -> dict[str, str]:
    """The facts of the paper with the place of each."""
    (folder / "records").mkdir(exist_ok=True)
    content = table if isinstance(table, bytes) else table.encode()
    (folder / "records" / "demand.csv").write_bytes(content)
    path = folder / "site.yaml"
    path.write_text(SITE % more, encoding="utf-8")
    site = read_site(path, shipped_catalog())
    thing = next(thing for subject, thing in site.things.items() if subject.type == "paper")
    return {name: f"{each.text} {each.at}" for name, each in thing.facts.items() if name != "paper"}


def test_the_greatest_demand_and_the_time_stand_where_the_table_has_them(tmp_path: Path) -> None:
    assert stated(tmp_path, TWO) == {
        "greatest_demand": "12.4 kVA records/demand.csv:2:1",
        "record_length": "30 min records/demand.csv:2:1",
        "record_interval": "15 min records/demand.csv:2:1",
    }


def test_kilowatts_are_counted_as_kilovoltamperes_and_it_is_said(tmp_path: Path) -> None:
    (tmp_path / "records").mkdir()
    entries = readings_of(TWO.replace("kVA", "kW").encode(), "records/demand.csv")
    assert "counted as kVA" in str(entries[0].value)
    assert stated(tmp_path, TWO.replace("kVA", "kW"))["greatest_demand"].startswith("12.4 kVA")


def test_other_columns_a_mark_at_the_beginning_and_empty_lines_do_no_harm(tmp_path: Path) -> None:
    table = "\ufeffmeter,time,kVA\n7,2025-01-31 18:00,1\n\n7,2025-01-31 18:15,3\n7,2025-01-31 19:00,2\n"
    found = stated(tmp_path, table)
    assert found["greatest_demand"] == "3 kVA records/demand.csv:4:1"
    # A gap is let stand: three readings cover three intervals.
    assert found["record_length"].startswith("45 min")


@pytest.mark.parametrize(
    ("table", "sentence", "place"),
    [
        ("", "demand.csv is empty", "1:1"),
        ("time,kVA\n2025-01-31 18:00,1\n", "has one reading", "1:1"),
        ("time,kVA\n", "has a heading and no reading", "1:1"),
        ("time,amps\n1,2\n", "No column of the record is headed kVA or kW", "1:1"),
        ("when,kVA\n1,2\n", "No column of the record is headed time; its first line reads: when, kVA.", "1:1"),
        (TWO + "2025-01-31 18:30\n", "no value under time or under the demand", "4:1"),
        (TWO + "31.1.2025 18:30,3\n", "The time of this reading, 31.1.2025 18:30, cannot be read", "4:1"),
        (TWO + "2025-01-31 18:30,three\n", "The demand of this reading, three, is not one number", "4:1"),
        (TWO + "2025-01-31 18:30,NaN\n", "NaN, is not one number", "4:1"),
        (TWO + "2025-01-31 18:30,1e999999999\n", "1e999999999, is not one number", "4:1"),
        (
            TWO + "2025-01-31 18:30," + "1" * 140_000 + "\n",
            "cannot be read as a table of comma-separated values",
            "1:1",
        ),
        (TWO + "2025-01-31 18:30,-1\n", "is below zero", "4:1"),
        (TWO + "2025-01-31 18:15,3\n", "is not later than the one before", "4:1"),
        (
            TWO + "2025-01-31 18:40,3\n",
            "comes 25 min after the one before; the interval of the record is 15 min",
            "4:1",
        ),
        (TWO + "2025-01-31T18:30-05:00,3\n", "one of them names its offset", "4:1"),
        (TWO.encode("utf-16"), "is not plain text in UTF-8", "1:1"),
    ],
)
def test_what_is_no_record_is_refused_with_its_place(
    table: str | bytes, sentence: str, place: str, tmp_path: Path
) -> None:
    with pytest.raises(Unreadable) as caught:
        stated(tmp_path, table)
    (problem,) = caught.value.problems
    assert sentence in problem.sentence
    assert str(problem.at).endswith(place)
    assert problem.remedy


@pytest.mark.parametrize(("heading", "near"), [("Times,kVA", "time"), ("time,kva", "kVA"), ("time,kWs", "kW")])
def test_a_heading_that_is_nearly_right_is_told_the_right_one(heading: str, near: str, tmp_path: Path) -> None:
    with pytest.raises(Unreadable) as caught:
        stated(tmp_path, TWO.replace("time,kVA", heading))
    (problem,) = caught.value.problems
    assert problem.near == near


def test_a_missing_table_and_a_fact_that_stands_twice_are_told(tmp_path: Path) -> None:
    with pytest.raises(Unreadable, match="record_length is written, and follows from the readings"):
        stated(tmp_path, TWO, ", record_length: 365 d")
    (tmp_path / "records" / "demand.csv").unlink()
    with pytest.raises(Unreadable, match=r"demand\.csv"):
        read_site(tmp_path / "site.yaml", shipped_catalog())


@given(st.lists(st.integers(0, 10**6), min_size=2, max_size=60), st.sampled_from((1, 5, 15, 30)))
def test_the_greatest_of_all_readings_is_found(demands: list[int], minutes: int) -> None:
    times = (datetime(2025, 3, 1, tzinfo=UTC) + timedelta(minutes=minutes * place) for place in range(len(demands)))
    lines = [f"{time.isoformat()},{demand / 1000}" for time, demand in zip(times, demands, strict=True)]
    entries = readings_of("\n".join(["time,kVA", *lines]).encode(), "demand.csv")
    texts = [entry.value.get("value").text for entry in entries]  # type: ignore[union-attr]
    assert Fraction(texts[0].removesuffix(" kVA")) == Fraction(str(max(demands) / 1000))
    assert texts[1:] == [f"{minutes * len(demands)} min", f"{minutes} min"]
