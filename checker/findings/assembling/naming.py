"""Subjects, facts and numbers as a reader sees them."""

from __future__ import annotations

from fractions import Fraction

from checker.catalog.model import Catalog, Fact, ValueType
from checker.catalog.wording import value_text
from checker.facts.figures import called, target
from checker.facts.known import Known, Leaf, Origin
from checker.facts.pairs import halves
from checker.facts.view import View
from checker.findings.finding import Figure, SubjectName
from checker.findings.judging.conditions import Side
from checker.site.model import Subject
from checker.values.dates import date_of
from checker.values.kinds import KINDS
from checker.values.possible import Possible

AFTER_ALL = 10**6
"""Walk place of what stands at no piece: after every piece."""


def subject_name(view: View, subject: Subject) -> SubjectName:
    """The name of a subject in words, by parts, and its place in the walk from source to load."""
    parts, words = _parts_and_words(view, subject)
    walk = (_walk(view, subject), subject.id)
    return SubjectName(parts, words, subject.id, subject.type, walk, called(view.ground.site, subject))


def _parts_and_words(view: View, subject: Subject) -> tuple[dict[str, str], str]:
    drawing, catalog = view.ground.drawing, view.ground.catalog
    if subject.type == "connection":
        feed = drawing.feed(subject)
        return {"from": feed.source, "to": feed.to, "connection": subject.id}, f"{feed.source} to {feed.to}"
    if subject.type in catalog.pairs:
        first, second = halves(subject)
        return {"piece": first, "with": second}, f"{first} with {second}"
    if subject.type == "site":
        return {"site": "site"}, "the site"
    if subject.id in drawing.pieces:
        return {"piece": subject.id}, subject.id
    name = _member_words(view, subject)
    return {subject.type: subject.id}, name


def _member_words(view: View, subject: Subject) -> str:
    """The member of a list by what it is: a paper and a load by its name, a figure by its fact, a pipe as in the ids of
    findings, anything else by where it is.
    """
    catalog = view.ground.catalog
    if subject.type == "paper":
        paper = view.read(subject, "paper").atom
        return catalog.facts["paper"].choices.get(str(paper), subject.id)
    if subject.type == "figure":
        piece, name = target(view.ground.site, subject)
        return f"{_parts_and_words(view, piece)[1]}, {catalog.facts[name].title}"
    called = _tag(view, subject, "name") if subject.type == "load" else None
    if called:
        return called
    if subject.type == "gas_pipe":
        return view.ground.site.name_of(subject)
    start, end = (_tag(view, subject, name) for name in ("of", "to"))
    if start and end:
        return f"{start} to {end}"
    at = _tag(view, subject, "at")
    return f"{subject.type.replace('_', ' ')} at {at}" if at else subject.id


def _tag(view: View, subject: Subject, name: str) -> str | None:
    if view.ground.catalog.fact(name, subject.type) is None:
        return None
    atom = view.read(subject, name).atom
    return None if atom is None else str(atom)


def _walk(view: View, subject: Subject) -> int:
    drawing = view.ground.drawing
    if subject.type == "connection":
        # A connection comes just before the piece that it feeds.
        return 2 * drawing.walk_order.get(drawing.feed(subject).to, AFTER_ALL) - 1
    tag = subject.id
    if subject.type in view.ground.catalog.pairs:
        tag = halves(subject)[0]
    elif subject.type == "figure":
        return _walk(view, target(view.ground.site, subject)[0])
    elif tag not in drawing.pieces:
        stated = (view.ground.site.stated(subject, name) for name in ("at", "of", "ends_at", "starts_at"))
        ends = (str(each.value.atom) for each in stated if each is not None)
        tag = next((end for end in ends if end in drawing.pieces), tag)
    place = drawing.walk_order.get(tag)
    return AFTER_ALL if place is None else 2 * place


def fact_name(subject: Subject | None, name: str | None) -> str | None:
    """A fact with its subject, as it is named everywhere: ``ATS1.rated_current``. Nothing where there is no such
    thing.
    """
    return None if name is None or subject is None else f"{subject.id}.{name}"


def figure(catalog: Catalog, side: Side, like: Side | None = None) -> Figure:
    """One side of a comparison as it is printed. A number that is no fact itself is printed like the fact beside it."""
    fact = catalog.facts.get(side.fact) if side.fact else None
    shape = fact or (catalog.facts.get(like.fact) if like is not None and like.fact else None)
    known = side.known
    low, high = _ends(shape, known.value)
    return Figure(
        fact=fact_name(side.subject, side.fact),
        title=fact.title if fact else side.label.translate(_SPACED),
        text=known_text(shape, known),
        unit=None if shape is None else base_unit(shape),
        low=low,
        high=high,
        at=known.at,
        per=known.per,
        worksheet=None if known.worksheet is None else known.worksheet.id,
        state=known.state,
        rests_on=frozenset(map(leaf_name, known.leaves)) if known.origin is Origin.DERIVED else frozenset(),
    )


def known_text(fact: Fact | None, known: Known) -> str:
    """What is possible for a fact, in words; as typed where it was stated as one value that is no word of the
    catalog.
    """
    if known.text is not None and (fact is None or (known.value.is_exact and not _is_in_words(fact, known.text))):
        return known.text
    if fact is not None:
        return value_text(fact, known.value, known.unit)
    hull = known.value.hull
    if hull is None:
        return "none" if known.value.absent else "not decided"
    low, high = hull.low, hull.high
    if low is not None and low == high:
        return plain_number(low)
    return f"{'any number' if low is None else plain_number(low)} to {'no end' if high is None else plain_number(high)}"


_SPACED = str.maketrans("_-.", "   ")
"""Names of parameters, tables and facts become words."""


def _is_in_words(fact: Fact, text: str) -> bool:
    """Whether the catalog has words for what was typed: for a choice, and for a structure that was typed part by
    part.
    """
    return bool(fact.choices) or text.partition(" ")[0] in fact.parts


def plain_number(number: Fraction) -> str:
    """An exact number as decimal text where it ends, otherwise as a fraction."""
    denominator = number.denominator
    for prime in (2, 5):
        while denominator % prime == 0:
            denominator //= prime
    if denominator != 1:
        return str(number)
    whole = number
    digits = 0
    while whole.denominator != 1:
        whole *= 10
        digits += 1
    text = str(abs(whole.numerator)).rjust(digits + 1, "0")
    sign = "-" if number < 0 else ""
    return sign + (text if digits == 0 else f"{text[:-digits]}.{text[-digits:]}")


CIRCULAR_MILS = "cmil"
"""Unit of the number that stands for a wire size."""


def base_unit(fact: Fact) -> str | None:
    """The unit of the exact numbers of a fact; None where they have none."""
    if fact.type is ValueType.WIRE_SIZE:
        return CIRCULAR_MILS
    return (KINDS[fact.quantity].base_unit or None) if fact.quantity is not None else None


def exact_text(fact: Fact | None, number: Fraction) -> str:
    """An exact number of a fact in its base unit; a date as year, month and day."""
    return date_of(number).isoformat() if fact is not None and fact.type is ValueType.DATE else plain_number(number)


def _ends(fact: Fact | None, value: Possible) -> tuple[str | None, str | None]:
    """The lowest and the highest number that is possible."""
    hull = value.hull
    if hull is None:
        return None, None
    return (
        None if hull.low is None else exact_text(fact, hull.low),
        None if hull.high is None else exact_text(fact, hull.high),
    )


def leaf_name(leaf: Leaf) -> str:
    """A leaf as a need names it: a fact with its subject, a list, or a kind of piece."""
    if leaf.ask.value == "fact":
        return f"{leaf.subject.id}.{leaf.name}"
    return leaf.name if leaf.subject.id == "site" else f"{leaf.subject.id}.{leaf.name}"
