"""The plan of a review: every rule in force with every subject that it speaks of, drawn up before anything is
judged.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from checker.catalog.model import Catalog
from checker.facts.figures import figure_subjects
from checker.facts.pairs import pairs_of
from checker.facts.view import Ground, View
from checker.findings.judging.conditions import Judged
from checker.findings.judging.evaluation import Belonging
from checker.findings.judging.evidence import Evidence, SiteEvidence
from checker.rules.model.in_force import RuleInForce, RulesInForce
from checker.site.model import SITE, Subject
from checker.values.possible import exactly, several
from checker.values.relations import relate
from checker.values.truth import Truth, all_of


@dataclass(frozen=True, slots=True)
class Planned:
    """One rule that is to be applied to one subject."""

    rule: RuleInForce
    subject: Subject
    belongs: Belonging


def plan(rules: RulesInForce, view: View) -> tuple[Planned, ...]:
    """Every pair of rule and subject, rules in their order, subjects in the order of the drawing."""
    return tuple(
        Planned(rule, subject, belongs)
        for rule in rules.rules
        for subject, belongs in subjects_of(rule.rule.subject, view)
    )


def subjects_of(name: str, view: View) -> Iterator[tuple[Subject, Belonging]]:
    """The subjects of a rule: pieces of a kind or group, holders of a role, pairs, connections, members of a list,
    the site.
    """
    catalog = view.ground.catalog
    roles = _roles(catalog, name)
    if roles:
        yield from _role_holders(view, frozenset(roles))
    elif name in catalog.pairs:
        yield from _pairs(view, name)
    else:
        yield from ((subject, _surely) for subject in _certain_subjects(view, name))


def _roles(catalog: Catalog, name: str) -> tuple[str, ...]:
    return (name,) if name in catalog.roles else catalog.role_groups.get(name, ())


def _certain_subjects(view: View, name: str) -> Iterator[Subject]:
    ground = view.ground
    members = {each.member for each in ground.catalog.lists.values()}
    if name == "site":
        yield SITE
    elif name == "figure":
        yield from figure_subjects(view)
    elif name == "connection":
        yield from (feed.subject for feed in ground.drawing.feeds)
    elif name in members:
        yield from _members(ground, name)
    else:
        yield from (ground.drawing.pieces[tag] for tag in ground.drawing.of(name))


def _members(ground: Ground, name: str) -> Iterator[Subject]:
    """The members of lists, those on a piece that is set aside left out."""
    lists = ground.site.lists.items()
    gone = {member for (_, on), listed in lists if on in ground.drawing.set_aside for member in listed.members}
    yield from (subject for subject in ground.site.things if subject.type == name and subject not in gone)


def _surely(evidence: Evidence) -> Judged:  # noqa: ARG001  the signature of Belonging
    return Judged(Truth.YES)


def _role_holders(view: View, roles: frozenset[str]) -> Iterator[tuple[Subject, Belonging]]:
    drawing = view.ground.drawing
    for tag in drawing.of("disconnecting"):
        holder = _Holds(drawing.pieces[tag], roles)
        if holder(SiteEvidence(view)).truth is not Truth.NO:
            yield holder.piece, holder


@dataclass(frozen=True, slots=True)
class _Holds:
    """Whether a piece holds one of the roles."""

    piece: Subject
    roles: frozenset[str]

    def __call__(self, evidence: Evidence) -> Judged:
        role = evidence.known(self.piece, "role")
        return Judged(relate("one_of", role.value, several(self.roles)), reads=(role.leaves,))


def _pairs(view: View, kind: str) -> Iterator[tuple[Subject, Belonging]]:
    for found in pairs_of(view, kind):
        paired = _Paired(found.roles)
        if paired(SiteEvidence(view)).truth is not Truth.NO:
            yield found.pair, paired


@dataclass(frozen=True, slots=True)
class _Paired:
    """Whether two things hold the roles that make them a pair."""

    roles: tuple[tuple[Subject, str], ...]

    def __call__(self, evidence: Evidence) -> Judged:
        held = [(evidence.known(piece, "role"), role) for piece, role in self.roles]
        truth = all_of(relate("is", known.value, exactly(role)) for known, role in held)
        return Judged(truth, reads=tuple(known.leaves for known, _ in held))
