"""Reviews of a small site under a small pack, so that one rule is looked at alone."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Stage
from checker.findings.finding import Finding
from checker.findings.review import Job, review
from checker.rules.edition import pack_in_edition
from checker.rules.model.in_force import PackInForce, RulesInForce
from checker.rules.model.profile import Profile
from checker.rules.reading.pack import read_pack
from checker.site.read import read_site

DAY = date(2026, 3, 14)

HEAD = """\
pack: heron-point
title: Heron Point Code
document: Heron Point Code
basis: law
"""

SITE = """\
site: {{name: Tern Cove, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1, {switch}}}
  GEN1: {{kind: generator{generator}}}
"""

_CITED = 'cites: [{document: Heron Point Code, section: "1"}], checked: {sure: low, against: memory}'


def parameter(name: str, kind: str, value: str) -> str:
    """One number of the small pack, as YAML."""
    return f"  {name}: {{title: a number, type: {kind}, stricter: higher, value: {value}, {_CITED}}}\n"


def finding(
    folder: Path,
    condition: str,
    switch: str,
    parameters: str = "",
    when: str = "",
    generator: str = "",
    other_way: str = "",
    texts: str = "",
) -> Finding:
    """What a rule about transfer switches that requires this condition says of a switch with these facts."""
    pack = folder / "heron-point"
    pack.mkdir()
    requires = f"{{wanted: {condition}}}"
    if other_way:
        requires = f"{{any_way: {{wanted: {condition}, other: {other_way}}}}}"
    rule = (
        "rules:\n  switch-as-wanted:\n    title: The switch is as wanted\n    subject: transfer_switch\n"
        f"{f'    when: {when}' if when else ''}\n    requires: {requires}\n"
        '    says: "{subject} is not as wanted."\n'
        f'{texts}    cites: [{{document: Heron Point Code, section: "1"}}]\n'
        "    checked: {sure: low, against: memory}\n"
    )
    numbers = f"parameters:\n{parameters}" if parameters else ""
    (pack / "pack.yaml").write_text(HEAD + numbers + rule, encoding="utf-8")
    (folder / "site.yaml").write_text(SITE.format(switch=switch, generator=generator), encoding="utf-8")
    catalog = shipped_catalog()
    read = read_pack(pack, catalog)
    profile = Profile("small", "Heron Point", "permit_application", (), "profile.yaml", read.digest)
    used = PackInForce(read.id, read.title, None, read.digest, "", None)
    rules = RulesInForce(profile, DAY, pack_in_edition(read, None, ""), (used,))
    (found,) = review(Job(read_site(folder / "site.yaml", catalog), catalog, rules, Stage.PLAN_REVIEW)).findings
    return found
