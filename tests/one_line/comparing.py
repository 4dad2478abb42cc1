"""The program beside the second implementation: where one of the two says what the other does not."""

from __future__ import annotations

from checker.site.model import Site
from tests.one_line.enumeration import Answer, Plant, answers
from tests.one_line.reading import COLUMNS, NEVER_SURE

Answers = dict[str, set[Answer]]


def enumerated(site: Site, name: str) -> Answers:
    """What the enumeration finds. Without a word on other sources nobody can say that nothing else is live or tied."""
    found = answers(site, COLUMNS[name][1])
    if name in NEVER_SURE and not Plant(site).other_sources_excluded:
        found = {tag: {None if answer is False else answer for answer in each} for tag, each in found.items()}
    return found


def wrong(found: Answers, wanted: Answers, tied: Answers) -> list[str]:
    """Where the program rules out what the enumeration finds, or decides nothing where that is decided.

    A set that is tied for good gains nothing by an overlap; there the two need not agree.
    """
    return [
        tag
        for tag, each in wanted.items()
        if not (each <= found[tag] and (len(each) > 1 or None in each or found[tag] == each))
        and True not in tied.get(tag, ())
    ]
