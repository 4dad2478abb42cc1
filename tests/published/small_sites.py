"""Small sites through the whole program: what is possible for a fact, and what a rule says, as a user gets it."""

from __future__ import annotations

import tempfile
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.findings.judging.outcomes import Outcome
from checker.findings.review import view_of
from checker.rules.in_force.rules import rules_in_force
from checker.rules.model.in_force import NumbersInForce
from checker.rules.model.profile import Adoption
from checker.site.model import Subject
from checker.site.read import read_site
from checker.tasks.gathering.library import Library
from checker.tasks.gathering.standing import standing
from checker.tasks.reviewing import Overrides, review_file
from checker.values.possible import Possible

PROFILE, DAY = "nec-2020", date(2026, 3, 14)


@cache
def library() -> Library:
    """The packs of the program."""
    return Library.shipped()


@cache
def numbers(document: str = "NFPA 70", edition: str = "2020") -> NumbersInForce:
    """The numbers in force where this is the one document that is adopted."""
    found = standing(PROFILE, library().profiles, library())
    adopted: Adoption = replace(found.profile.documents[0], document=document, edition=edition)
    profile = replace(found.profile, documents=(adopted,))
    return rules_in_force(profile, DAY, library().packs).numbers


def fact(text: str, subject: str, name: str, in_force: NumbersInForce | None = None) -> Possible:
    """What is possible for a fact of a piece, or of a load by its place in the list (``load 1``)."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "site.yaml"
        path.write_text(text, encoding="utf-8")
        view = view_of(read_site(path, shipped_catalog()), shipped_catalog(), in_force or numbers())
    pieces = view.ground.drawing.pieces
    return view.read(pieces[subject] if subject in pieces else Subject("load", subject), name)


def outcome(text: str, rule: str, subject: str) -> Outcome:
    """What a rule of the model code says of a piece."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "site.yaml"
        path.write_text(text, encoding="utf-8")
        review = review_file(path, library(), Overrides(PROFILE, DAY, None))
    return next(each.outcome for each in review.findings if each.rule == rule and each.subject.id == subject)
