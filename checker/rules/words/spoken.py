"""Texts of rules before any site is known: words where a finding puts names and values."""

from __future__ import annotations

import re

from checker.rules.model.rule import Rule
from checker.rules.vocabulary import Around, FactFound, Vocabulary

_PLACE = re.compile(r"\{([^{}]+)\}")
_SIDES = {"found": "shown", "wanted": "wanted", "missing": "missing"}


def spoken(text: str, rule: Rule, vocabulary: Vocabulary) -> str:
    """The text with its subject by kind, and in brackets what would stand there."""
    around = Around(vocabulary.types_of(rule.subject))

    def words(match: re.Match[str]) -> str:
        name = match.group(1)
        if name == "subject":
            return f"the {vocabulary.catalog.titles.get(rule.subject, rule.subject.replace('_', ' '))}"
        part, _, side = name.rpartition(".")
        if side in _SIDES:
            return f"[{part.replace('_', ' ').replace('-', ' ')}: what is {_SIDES[side]}]"
        found = vocabulary.fact(name, around)
        return f"[{found.fact.title if isinstance(found, FactFound) else name.replace('_', ' ')}]"

    said = _PLACE.sub(words, text)
    return said[:1].upper() + said[1:] if text.startswith("{") and text[-1:] in ".?!" else said
