"""What follows from each role that a disconnect could have: the same site reviewed once for each, side by side."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from checker.catalog.model import Catalog
from checker.findings.finding import Finding, Review
from checker.findings.judging.outcomes import Outcome
from checker.findings.review import Job, review, view_of, view_of_job
from checker.site.model import Site, Stated, Subject, Thing
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of
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
    """Review the site once for each role that the rest of the drawing leaves to a piece, as it is drawn first."""
    job = job_of(path, library, overrides)
    subject = job.site.pieces.get(piece)
    if subject is None or job.catalog.fact(ROLE, subject.type) is None:
        raise Unreadable([Problem(f"{piece} is no piece on this drawing that can have a role.")])
    drawn = view_of_job(job).read(subject, ROLE)
    others = [role for role in _possible_roles(job.site, job.catalog, subject) if role != drawn]
    speaking = frozenset(each.rule.id for each in job.rules.rules if each.rule.subject == EMERGENCY)
    ways = [_as_drawn(job, drawn), *(_as(job, subject, role) for role in others)]
    return RolesCompared(piece, tuple(way for way in ways if way.as_drawn or _is_known_here(way, piece, speaking)))


def _as_drawn(job: Job, drawn: Possible) -> Way:
    """The report itself, so that its numbers are those of the report."""
    name = _name(drawn) if drawn.is_exact else ""
    title = _title(job.catalog, name) if drawn.is_exact else "role not shown"
    return Way(name, title, as_drawn=True, review=review(job))


def _as(job: Job, subject: Subject, role: Possible) -> Way:
    site = _with_role(job.site, job.catalog, subject, role)
    return Way(_name(role), _title(job.catalog, _name(role)), as_drawn=False, review=review(replace(job, site=site)))


def _name(role: Possible) -> str:
    return str(role.atom) if role.atom is not None else "none"


def _title(catalog: Catalog, name: str) -> str:
    return catalog.facts[ROLE].choices.get(name, "no role")


EMERGENCY = "emergency_disconnect"
"""A role that only some editions know, and only for some occupancies: those in which a rule speaks of it."""


def _is_known_here(way: Way, piece: str, speaking: frozenset[str]) -> bool:
    """Whether the edition in force and the occupancy know such a role."""
    if way.role != EMERGENCY:
        return True
    findings = (each for each in way.review.findings if each.subject.id == piece and each.rule in speaking)
    return any(each.outcome is not Outcome.NOT_APPLICABLE for each in findings)


def _possible_roles(site: Site, catalog: Catalog, subject: Subject) -> tuple[Possible, ...]:
    """The roles that are left when this piece and those on its line state none."""
    view = view_of(_without_roles_on_line(site, catalog, subject), catalog)
    return view.read(subject, ROLE).alternatives() or ()


def _without_roles_on_line(site: Site, catalog: Catalog, subject: Subject) -> Site:
    """The same drawing without what it says of roles of this piece and of those ahead of it and past it, which would
    settle it; what stands on other lines keeps its role.
    """
    drawing = view_of(site, catalog).ground.drawing
    line = {subject.id, *drawing.ahead(subject.id), *drawing.below(subject.id)}
    things = {
        each: Thing(each, thing.at, _facts_but(thing, ROLE)) if each.id in line and ROLE in thing.facts else thing
        for each, thing in site.things.items()
    }
    return replace(site, things=things)


def _facts_but(thing: Thing, name: str) -> dict[str, Stated]:
    return {fact: stated for fact, stated in thing.facts.items() if fact != name}


def _with_role(site: Site, catalog: Catalog, subject: Subject, role: Possible) -> Site:
    """The same drawing with this role for the piece, and nothing said of the roles of pieces that depend on it."""
    bare = _without_roles_on_line(site, catalog, subject)
    thing = bare.things[subject]
    facts = {**thing.facts, ROLE: Stated(role, _name(role), thing.at)}
    return replace(bare, things={**bare.things, subject: Thing(subject, thing.at, facts)})


def found(result: Review, wanted: str) -> Finding | None:
    """A finding by its number or its id."""
    return next((each for each in result.findings if wanted in (str(each.number), each.id)), None)
