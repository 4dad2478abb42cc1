"""Small packs, layers and profiles for tests of layers, written into a folder and read as the program reads them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.rules.in_force.rules import rules_in_force
from checker.rules.layers.model import Layer
from checker.rules.layers.read import read_layer
from checker.rules.layers.shelf import Shelf
from checker.rules.model.in_force import LayerNotice, RuleInForce, RulesInForce
from checker.rules.model.pack import Pack
from checker.rules.profile import read_profile
from checker.rules.reading.pack import read_pack
from checker.values.problems import Problem, Unreadable

DAY = date(2026, 3, 14)

PACK = """\
pack: fern-code
title: Fern Code
document: Fern Code
editions: ["1", "2"]
basis: law
retired: {switch-is-good: switch-is-listed}
rules:
  switch-is-listed:
    title: The switch is listed
    subject: transfer_switch
    when: {operation: {is: automatic}}
    unless:
      - id: judged-there
        if: {field_evaluated: {is: yes}}
        because: it was judged in the field
        sections: {"1": 67(B), "2": 67(B)}
    requires:
      listed: {listed: {is: yes}}
      rated: {rated_current: {at_least: {parameter: least-rating}}}
    says: "{subject} is not as it should be."
    sections: {"1": 67(A), "2": 67(A)}
    checked: {sure: low, against: memory}
  set-is-listed:
    title: The set is listed
    subject: generator
    requires: {listed: {listed: {is: yes}}}
    says: "{subject} is not listed."
    sections: {"1": "671", "2": "671"}
    checked: {sure: low, against: memory}
  set-is-outdoors:
    title: The set is outdoors
    subject: generator
    harm: life
    when: {generator_form: {is: stationary}}
    instead:
      - id: made-for-a-room
        if: {field_evaluated: {is: yes}}
        requires: {place: {place: {known: yes}}}
    requires: {outdoors: {place: {is: outdoors}}}
    says: "{subject} is indoors."
    sections: {"1": "70", "2": 70(A)}
    checked: {sure: low, against: memory}
  set-is-marked:
    title: The set is marked
    subject: generator
    look: Look for a mark at {subject}.
    sections: {"1": 70(B)}
    checked: {sure: low, against: memory}
parameters:
  least-rating:
    title: least rating
    type: load_current
    stricter: higher
    values: {"1": 100 A, "2": 200 A}
    sections: {"1": "68", "2": "68"}
    checked: {sure: low, against: memory}
"""

HEAD = """\
layer: {name}
title: Town law
document: Town law
authority: Council of {name}
basis: {basis}
amends: {{document: Fern Code, written_against: "{against}"}}
checked: {{sure: high, against: the filed copy, on: "2026-01-02", by: clerk}}
"""

PROFILE = """\
profile: fern-town
title: Fern Town
event: permit_application
documents:
  - {document: Fern Code, edition: "1", from: "2020-01-01", adopted_by: order 1}
"""


@cache
def _pack(folder: Path) -> Pack:
    return read_pack(folder, shipped_catalog())


def pack_of(folder: Path, text: str = PACK) -> Pack:
    """The small pack, written into the folder once."""
    place = folder / "fern-code"
    if not place.exists():
        place.mkdir(parents=True)
        (place / "pack.yaml").write_text(text, encoding="utf-8")
    return _pack(place)


def layer_text(changes: str, name: str = "town", basis: str = "law", against: str = "1", more: str = "") -> str:
    """A layer with these changes."""
    return f"{HEAD.format(name=name, basis=basis, against=against)}{more}changes:\n{changes}"


@dataclass(frozen=True, slots=True)
class Town:
    """A profile with its layers, the lowest first: text of the layer, and what stands beside it in the profile."""

    layers: tuple[tuple[str, str], ...]
    profile: str = PROFILE
    more: str = ""

    def in_force(
        self, folder: Path, on: date = DAY, elected: Iterable[str] = (), dates: dict[str, date] | None = None
    ) -> RulesInForce:
        """The rules in force in the town on a day."""
        pack = pack_of(folder)
        read: list[Layer] = []
        lines = []
        for place, (text, beside) in enumerate(self.layers):
            path = folder / f"layer-{place}.yaml"
            path.write_text(text, encoding="utf-8")
            read.append(read_layer(path, shipped_catalog(), Shelf((pack,), tuple(read))))
            lines.append(f"  - {{layer: {read[-1].id}, {beside}}}\n")
        named = f"layers:\n{''.join(lines)}" if lines else ""
        (folder / "profile.yaml").write_text(f"{self.profile}{named}{self.more}", encoding="utf-8")
        profile = read_profile(folder / "profile.yaml")
        unique = {each.id: each for each in read}
        return rules_in_force(profile, on, (pack,), tuple(unique.values()), dates or {}, elected)


def town(*layers: tuple[str, str] | str, more: str = "", profile: str = PROFILE) -> Town:
    """A town of these layers; one that is only a text may do anything."""
    pairs = tuple((each, "may: anything") if isinstance(each, str) else each for each in layers)
    return Town(pairs, profile, more)


def rule(found: RulesInForce, name: str) -> RuleInForce:
    """The one rule of that id."""
    (only,) = [each for each in found.rules if each.rule.id == name]
    return only


def ids(found: RulesInForce) -> list[str]:
    """The ids of the rules in force, as findings begin with them."""
    return [each.id for each in found.rules]


def notices(found: RulesInForce, kind: str) -> list[LayerNotice]:
    """The notices of one kind."""
    return [each for each in found.notices if each.kind == kind]


def problems_of(folder: Path, text: str) -> tuple[Problem, ...]:
    """What is told of a layer that cannot be read; nothing for a sound one."""
    path = folder / "layer.yaml"
    path.write_text(text, encoding="utf-8")
    try:
        read_layer(path, shipped_catalog(), Shelf((pack_of(folder),)), "layer.yaml")
    except Unreadable as error:
        return error.problems
    return ()
