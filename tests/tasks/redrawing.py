"""A site with something else written into it, as whoever changes the drawing would."""

from __future__ import annotations

from dataclasses import replace

from checker.facts.view import View
from checker.site.model import Members, Site, Stated, Subject, Thing
from checker.values.possible import Possible, exactly

NEUTRAL_BOND, BONDS = "neutral_bond", "bonds"
"""The bond is said by the piece and by the list of bonds: whoever changes it draws both anew."""


def with_fact(site: Site, owner: Subject, fact: str, value: Possible) -> Site:
    thing = site.things[owner]
    facts = {**thing.facts, fact: Stated(value, "written", thing.at)}
    return replace(site, things={**site.things, owner: Thing(owner, thing.at, facts)})


def redrawn(view: View, site: Site, tag: str, value: Possible) -> Site:
    """The list of bonds with one at a piece where it is to be bonded, and with none there otherwise."""
    listed = site.members(BONDS)
    kept = tuple(each for each in listed.members if view.read(each, "at") != exactly(tag))
    things = dict(site.things)
    if value == exactly("bonded"):
        bond, at = Subject("bond", f"new bond at {tag}"), site.things[site.pieces[tag]].at
        said = {"at": tag, "bond": "neutral_to_enclosure", "bond_status": "new"}
        things[bond] = Thing(bond, at, {name: Stated(exactly(word), word, at) for name, word in said.items()})
        kept = (*kept, bond)
    members = Members(kept, complete=listed.complete, at=listed.at)
    return replace(site, things=things, lists={**site.lists, (BONDS, "site"): members})
