"""A fact as a rule names it, found from the subject: links walked, sides looked through."""

from __future__ import annotations

from dataclasses import dataclass

from checker.facts.known import Known, Origin
from checker.facts.pairs import halves
from checker.facts.view import View
from checker.rules.model.conditions import FactPath
from checker.site.model import SITE, Subject
from checker.values.possible import ABSENT


@dataclass(frozen=True, slots=True)
class Place:
    """Where a condition is judged: the subject of the rule, and inside a fold the member that is looked at."""

    root: Subject
    here: Subject

    def at(self, member: Subject) -> Place:
        """The same rule at one member of a collection."""
        return Place(self.root, member)


def linked(view: View, place: Place, links: tuple[str, ...]) -> Subject | None:
    """The subject at the end of the links, or None where the drawing has none there."""
    subject: Subject | None = place.here
    for link in links:
        if subject is None:
            return None
        subject = place.root if link == "subject" else _step(view, subject, link)
    return subject


def found(view: View, place: Place, path: FactPath) -> tuple[Subject | None, Known]:
    """The fact at the end of a path with the subject that it belongs to; absent where the links lead nowhere."""
    subject = linked(view, place, path.links)
    if subject is None:
        return None, Known(ABSENT, Origin.DERIVED, frozenset())
    return subject, view.known(subject, path.name)


def _step(view: View, subject: Subject, link: str) -> Subject | None:
    drawing = view.ground.drawing
    if link == "site":
        return SITE
    if link in ("normal", "alternate"):
        return Subject("side", f"{subject.id}.{link}") if subject.type == "transfer_switch" else None
    if link in ("a", "b"):
        tag = halves(subject)[0 if link == "a" else 1]
        return drawing.pieces.get(tag)
    if link in ("from", "to"):
        feed = drawing.feed(subject)
        return drawing.pieces.get(feed.source if link == "from" else feed.to)
    if link == "measured_from":
        return drawing.pieces.get(str(view.read(subject, "of").atom))
    if link == "fed_from":
        path = drawing.path(subject.id)
        return drawing.pieces.get(path.feeds[0].source) if path.feeds else None
    if link == "service":
        return _service(view, subject)
    raise LookupError(f"no link is called {link}")


def _service(view: View, subject: Subject) -> Subject | None:
    """The utility supply that feeds a piece, a side of a switch, a connection or one half of a pair; for the site its
    only one.
    """
    drawing = view.ground.drawing
    if subject.type == "utility_supply":
        return subject
    if subject.type == "site":
        supplies = drawing.of("utility_supply")
        return drawing.pieces[supplies[0]] if len(supplies) == 1 else None
    if subject.type == "side":
        tag, _, entry = subject.id.rpartition(".")
        source = drawing.source_of(tag, entry)
        return drawing.pieces[source] if source is not None and drawing.is_of(source, "utility_supply") else None
    tag = _piece_behind(view, subject)
    utility = drawing.utility_of(tag) if tag in drawing.pieces else None
    return None if utility is None else drawing.pieces[utility]


def _piece_behind(view: View, subject: Subject) -> str:
    if subject.type == "connection":
        return view.ground.drawing.feed(subject).to
    if subject.type in view.ground.catalog.pairs:
        return halves(subject)[0]
    return subject.id
