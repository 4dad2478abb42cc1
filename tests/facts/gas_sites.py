"""Small sites with a gas line, and the facts of one."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.facts.view import View
from checker.findings.review import view_of
from checker.site.model import Subject
from checker.site.read import read_site
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of
from checker.values.possible import Possible

PROFILE = """
profile: gas-town
title: Gas Town
event: permit_application
documents:
  - {{document: NFPA 70, edition: "2020", from: "2020-01-01", adopted_by: town code}}
  - {{document: {document}, edition: "{edition}", from: "{starts}", adopted_by: town code}}
"""
SITE = """
site: {{name: Gas House, stage: plan_review, other_sources: none{of_site}}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1}}
  GEN1: {{kind: generator, {of_set}}}
  GM1: {{kind: gas_meter{of_meter}}}
{more}gas_pipes: {{complete: {all_pipes}, list: [{pipes}]}}
gas_appliances: {{complete: {all_appliances}, list: [{appliances}]}}
"""
PIPE = (
    "{starts_at: GM1, ends_at: GEN1, pipe_size: 1 in, pipe_material: steel, pipe_length: 80 ft, fittings_length: none}"
)
BASE = {
    "document": "International Fuel Gas Code",
    "edition": "2021",
    "starts": "2020-01-01",
    "of_site": "",
    "of_set": "fuel: natural_gas, full_load_gas: {natural_gas: 327 cfh}",
    "of_meter": ", gas_pressure: 7 in wc, design_pressure_loss: 0.5 in wc",
    "more": "",
    "all_pipes": "yes",
    "pipes": PIPE,
    "all_appliances": "yes",
    "appliances": "",
}


@dataclass(frozen=True, slots=True)
class Facts:
    """The facts of one site."""

    view: View

    def of(self, thing: str, name: str) -> Possible:
        """What is possible for a fact of a piece (its tag) or of the member of a list (``pipe 1``)."""
        pieces = self.view.ground.site.pieces
        kind = {"pipe": "gas_pipe", "appliance": "gas_appliance"}.get(thing.partition(" ")[0], "")
        return self.view.read(pieces[thing] if thing in pieces else Subject(kind, thing), name)


Site = Callable[..., Facts]


def read(folder: Path, library: Library, but: Mapping[str, str]) -> Facts:
    """The facts of the site with some of it written in another way."""
    words = {**BASE, **but}
    (folder / "profile.yaml").write_text(PROFILE.format(**words), encoding="utf-8")
    path = folder / "site.yaml"
    path.write_text(SITE.format(**words), encoding="utf-8")
    job = job_of(path, library, Overrides("gas-town", date(2026, 3, 14), None))
    return Facts(view_of(read_site(path, shipped_catalog()), shipped_catalog(), job.rules.numbers))


def ends(value: Possible, unit: Fraction | int = 1) -> tuple[float | None, float | None]:
    """Both ends, in a unit."""
    hull = value.hull
    assert hull is not None
    low, high = (None if end is None else round(float(end / unit), 3) for end in (hull.low, hull.high))
    return low, high
