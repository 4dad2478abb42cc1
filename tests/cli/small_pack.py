"""A small pack of an invented town, as its staff would write it, for the commands that look after packs."""

from __future__ import annotations

from pathlib import Path

HEAD = """\
pack: heron-point
title: Heron Point Code
document: Heron Point Code
basis: law
"""

RULES = """\
parameters:
  least-switch-rating:
    title: least rating of a transfer switch
    type: load_current
    stricter: higher
    value: 100 A
    cites: [{document: Heron Point Code, section: "14-31"}]
    checked: {sure: high, against: the code, on: "2025-01-01", by: building department}
rules:
  switch-large-enough:
    title: The transfer switch is large enough
    subject: transfer_switch
    when: {operation: {is: automatic}}
    requires:
      rated: {rated_current: {at_least: {parameter: least-switch-rating}}}
    says: "{subject} is rated {rated.found}, and {rated.wanted} is the least."
    cites: [{document: Heron Point Code, section: "14-31"}]
    checked: {sure: high, against: the code, on: "2025-01-01", by: building department}
    covers: [HP-01]
  switch-listed:
    title: The transfer switch is listed
    subject: transfer_switch
    requires:
      listed: {listed: {is: yes}}
    says: "{subject} is not listed."
    cites: [{document: Heron Point Code, section: "14-32"}]
    checked: {sure: high, against: the code, on: "2025-01-01", by: building department}
    covers: [HP-02]
"""

CASES = """\
switch-large-enough:
  base: {operation: automatic, rated_current: 200 A}
  cases:
    - {shows: large enough, outcome: met}
    - {shows: too small, but: {rated_current: 60 A}, outcome: correction,
       says: "X1 is rated 60 A, and 100 A is the least."}
    - {shows: rating not shown, but: {rated_current: unknown}, outcome: needs_information,
       needs: [rated_current], could_be: [correction, met]}
    - {shows: manual switch, but: {operation: manual}, outcome: not_applicable}
switch-listed:
  base: {listed: yes}
  cases:
    - {shows: listed, outcome: met}
    - {shows: not listed, but: {listed: no}, outcome: correction}
    - {shows: listing not shown, but: {listed: unknown}, outcome: needs_information,
       needs: [listed], could_be: [correction, met]}
"""


def write_pack(folder: Path, *, rules: str = RULES, cases: str | None = CASES, head: str = HEAD) -> Path:
    """The pack in a folder of its own, or one that is changed."""
    pack = folder / "heron-point"
    pack.mkdir(parents=True, exist_ok=True)
    (pack / "pack.yaml").write_text(head, encoding="utf-8")
    (pack / "rules.yaml").write_text(rules, encoding="utf-8")
    if cases is not None:
        (pack / "rules.cases.yaml").write_text(cases, encoding="utf-8")
    return pack


def changed(text: str, old: str, new: str) -> str:
    """A text with one piece in the place of another, which must stand in it."""
    assert text.count(old) >= 1, old
    return text.replace(old, new, 1)
