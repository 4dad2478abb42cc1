"""Packs for tests: the example, and small ones that are changed in one place."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.rules.model.pack import Pack
from checker.rules.reading.pack import read_pack
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable

DATA = Path(__file__).parent / "data"
SHARED = DATA / "shared"
EXAMPLE = DATA / "example"
PRACTICE = DATA / "practice"
MARK = "«"
"""Stands in the text of a changed pack where the problem is expected, and is taken out before the pack is read."""

SMALL = """\
pack: small
title: Small Code
document: Small Code
editions: ["2020", "2023"]
basis: law
rules:
  switch-is-listed:
    title: The switch is listed
    subject: transfer_switch
    when: {operation: {is: automatic}}
    requires:
      listed: {listed: {is: yes}}
      rated: {rated_current: {at_least: {parameter: least-rating}}}
    says: "{subject} is rated {rated.found}."
    sections: {"2020": 1.1, "2023": 1.1}
    checked: {sure: low, against: memory}
parameters:
  least-rating:
    title: least rating
    type: load_current
    stricter: higher
    values: {"2020": 100 A, "2023": 200 A}
    sections: {"2020": 1.2, "2023": 1.2}
    checked: {sure: low, against: memory}
tables:
  sizes:
    title: sizes
    gives: load_current
    beyond: there is none above
    rows: {"2020": [100 A, 200 A], "2023": same as 2020}
    sections: {"2020": 1.3, "2023": 1.3}
    checked: {sure: low, against: memory}
  limits:
    title: limits
    keys: {rating: {match: at_or_above, type: load_current}, metal: {match: exact, type: choice}}
    gives: load_current
    beyond: there is none above
    rows: {"2020": [[100 A, copper, 80 A], [200 A, copper, 160 A]], "2023": same as 2020}
    sections: {"2020": 1.4, "2023": 1.4}
    checked: {sure: low, against: memory}
"""
"""A sound pack in one file."""


@dataclass(frozen=True, slots=True)
class Changed:
    """A pack in which one piece of text was put in the place of another, and where a problem is expected."""

    folder: Path
    at: Position | None


def change(folder: Path, old: str, new: str, text: str = SMALL) -> Changed:
    """Write the pack with ``new`` instead of ``old``, which must stand in it once."""
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the pack"
    marked = text.replace(old, new)
    at = None
    if MARK in marked:
        before = marked[: marked.index(MARK)]
        at = Position(f"{folder.name}/pack.yaml", before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1)
    (folder / "pack.yaml").write_text(marked.replace(MARK, ""), encoding="utf-8")
    return Changed(folder, at)


def read(folder: Path) -> Pack:
    """A pack, with the shared tables of the tests."""
    return read_pack(folder, shipped_catalog(), SHARED)


def problems_of(folder: Path) -> tuple[Problem, ...]:
    """What is told of a pack that cannot be read; nothing for a sound one."""
    try:
        read(folder)
    except Unreadable as error:
        return error.problems
    return ()
