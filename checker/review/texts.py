"""Sentences of a rule with their places filled in: {subject}, {FACT}, {PART.found}, {PART.wanted}."""

from __future__ import annotations

import re
from collections.abc import Mapping

from checker.review.evidence import Evidence
from checker.review.finding import Check
from checker.review.naming import known_text
from checker.review.paths import Place
from checker.rules.model import FactPath

_PLACE = re.compile(r"\{([^{}]+)\}")
NOTHING = "none"
LINKS = frozenset({"normal", "alternate", "fed_from", "from", "to", "a", "b", "site", "service", "subject"})


def filled(text: str, words: str, place: Place, evidence: Evidence, checks: tuple[Check, ...]) -> str:
    """The text with every place filled in. A place that the rules room let through always has a value."""
    by_part = _by_part(checks)

    def value(match: re.Match[str]) -> str:
        name = match.group(1)
        if name == "subject":
            return words
        part, _, side = name.rpartition(".")
        if side in ("found", "wanted"):
            return _of_part(by_part.get(part), side)
        return _fact_text(name, place, evidence)

    return _PLACE.sub(value, text)


def _of_part(check: Check | None, side: str) -> str:
    """One side of the first comparison of a part; a part inside a collection without members has none."""
    if check is None:
        return NOTHING
    figure = check.found if side == "found" else check.wanted
    return NOTHING if figure is None else figure.text


def _by_part(checks: tuple[Check, ...]) -> Mapping[str, Check]:
    first: dict[str, Check] = {}
    for check in checks:
        if check.part is not None:
            first.setdefault(check.part, check)
    return first


def path_of(name: str) -> FactPath:
    """A fact as it stands in a text: links first, then the fact with its part."""
    pieces = name.split(".")
    count = 0
    while count < len(pieces) - 1 and pieces[count] in LINKS:
        count += 1
    return FactPath(tuple(pieces[:count]), ".".join(pieces[count:]))


def _fact_text(name: str, place: Place, evidence: Evidence) -> str:
    path = path_of(name)
    _, known = evidence.fact(place, path)
    return known_text(evidence.catalog.facts.get(path.name), known)
