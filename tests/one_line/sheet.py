"""The drawings that were worked out by hand: their text as a site file, and what stands beside them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from string import Template
from typing import Any

import yaml

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Catalog
from checker.facts.view import View
from checker.findings.review import view_of
from checker.site.model import Site
from checker.site.read import read_site

DRAWINGS = Path(__file__).with_name("drawings.yaml")
CATALOG: Catalog = shipped_catalog()
WITH_NEUTRAL = "{neutral_conductor: 2 AWG copper, grounding: 4 AWG copper}"
FROM_UTILITY = "{neutral_conductor: 2 AWG copper, grounding: none, raceway_grounds: no}"


@dataclass(frozen=True, slots=True)
class Drawn:
    """One drawing: its name, the text of its equipment, and the table beside it."""

    name: str
    equipment: str
    table: Mapping[str, Any]

    def site(self, folder: Path) -> Site:
        """The drawing as it is read, with what the general notes say of it."""
        runs: Mapping[str, str] = self.table.get("runs", {})
        without = _read(self._text({}), folder)
        all_runs = {
            feed.subject.id: FROM_UTILITY if without.pieces[feed.source].type == "utility_supply" else WITH_NEUTRAL
            for feed in without.feeds
        }
        return _read(self._text(all_runs | dict(runs)), folder)

    def _text(self, runs: Mapping[str, str]) -> str:
        bonds = [f"{{bond: neutral_to_enclosure, at: {tag}, bond_status: existing}}" for tag in self.table["bonds"]]
        interlocks = [
            f"{{first: {first}, second: {second}, interlock: {kind}}}"
            for first, second, kind in self.table.get("interlocks", [])
        ]
        complete = "yes" if self.table.get("interlocks_complete", True) else "no"
        lines = (f"  {json.dumps(connection)}: {facts}\n" for connection, facts in runs.items())
        return (
            f"site: {{other_sources: {self.table.get('other_sources', 'none')}}}\n"
            f"equipment:\n{''.join(f'  {line}' for line in self.equipment.splitlines(keepends=True))}"
            f"{'runs:' if runs else ''}\n{''.join(lines)}"
            f"bonds: {{complete: yes, list: [{', '.join(bonds)}]}}\n"
            f"interlocks: {{complete: {complete}, list: [{', '.join(interlocks)}]}}\n"
        )


def _read(text: str, folder: Path) -> Site:
    path = folder / "site.yaml"
    path.write_text(text, encoding="utf-8", newline="")
    return read_site(path, CATALOG)


def drawings() -> tuple[Drawn, ...]:
    """Every drawing of the file."""
    written = yaml.safe_load(DRAWINGS.read_text(encoding="utf-8"))
    return tuple(
        Drawn(each["name"], Template(each["equipment"]).substitute(written["words"]), each)
        for each in written["drawings"]
    )


def view(site: Site) -> View:
    """The facts of a site."""
    return view_of(site, CATALOG)
