"""What follows from each role that a disconnect could have: the same site reviewed once for each, side by side."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from checker.catalog.model import Catalog
from checker.review.finding import Finding, Review
from checker.review.review import Job, review, view_of
from checker.site.model import Site, Stated, Subject, Thing
from checker.tasks.reviewing import Library, Overrides, job_of
from checker.values.possible import Possible
from checker.values.problems import Problem, Unreadable

ROLE = "role"


@dataclass(frozen=True, slots=True)
class Way:
    """One role, in words and as it stands in a site file, with the review of the site on which the piece has it."""

    role: str
    title: str
    as_drawn: bool
    review: Review


@dataclass(frozen=True, slots=True)
class RolesCompared:
    """A piece and what follows from each of its possible roles."""

    piece: str
    ways: tuple[Way, ...]


def roles_compared(path: Path, library: Library, overrides: Overrides, piece: str) -> RolesCompared:
    """Review the site once for each role that the rest of the drawing leaves to a piece."""
    job = job_of(path, library, overrides)
    subject = job.site.pieces.get(piece)
    if subject is None or job.catalog.fact(ROLE, subject.type) is None:
        raise Unreadable([Problem(f"{piece} is no piece on this drawing that can have a role.")])
    return RolesCompared(piece, tuple(_ways(job, subject)))


def _ways(job: Job, subject: Subject) -> Iterator[Way]:
    stated = job.site.stated(subject, ROLE)
    titles = job.catalog.facts[ROLE].choices
    for role in _possible_roles(job.site, job.catalog, subject):
        site = _with_role(job.site, subject, role)
        name = str(role.atom) if role.atom is not None else "none"
        as_drawn = stated is not None and stated.value == role
        yield Way(name, titles.get(name, "no role"), as_drawn, review(replace(job, site=site)))


def _possible_roles(site: Site, catalog: Catalog, subject: Subject) -> tuple[Possible, ...]:
    """The roles that are left when this piece and those past it on its line state none, the stated one first."""
    view = view_of(_without_roles(site), catalog)
    left = view.read(subject, ROLE).alternatives() or ()
    stated = site.stated(subject, ROLE)
    return tuple(sorted(left, key=lambda role: stated is None or role != stated.value))


def _without_roles(site: Site) -> Site:
    """The same drawing without what it says of roles; a role further down would otherwise settle this one."""
    things = {
        each: thing if ROLE not in thing.facts else Thing(each, thing.at, _facts_but(thing, ROLE))
        for each, thing in site.things.items()
    }
    return replace(site, things=things)


def _facts_but(thing: Thing, name: str) -> dict[str, Stated]:
    return {fact: stated for fact, stated in thing.facts.items() if fact != name}


def _with_role(site: Site, subject: Subject, role: Possible) -> Site:
    """The same drawing with this role for the piece, and nothing said of the roles of pieces that depend on it."""
    bare = _without_roles(site)
    thing = bare.things[subject]
    facts = {**thing.facts, ROLE: Stated(role, str(role.atom or "none"), thing.at)}
    return replace(bare, things={**bare.things, subject: Thing(subject, thing.at, facts)})


def found(result: Review, wanted: str) -> Finding | None:
    """A finding by its number or its id."""
    return next((each for each in result.findings if wanted in (str(each.number), each.id)), None)
