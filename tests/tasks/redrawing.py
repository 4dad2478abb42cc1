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


def redrawn(view: View, site: Site, tag: str) -> Site:
    """The list of bonds without those of one piece, and every other piece with the bond that it has."""
    listed = site.members(BONDS)
    kept = tuple(each for each in listed.members if view.read(each, "at") != exactly(tag))
    found = replace(site, lists={**site.lists, (BONDS, "site"): Members(kept, complete=False, at=listed.at)})
    for other, piece in site.pieces.items():
        fact = view.ground.catalog.fact(NEUTRAL_BOND, piece.type)
        if other != tag and fact is not None and piece.type in fact.stated_for:
            found = with_fact(found, piece, NEUTRAL_BOND, view.read(piece, NEUTRAL_BOND))
    return found
