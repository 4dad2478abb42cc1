"""What the members of lists are called by what the file says of them, so that a line above or below changes nothing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from string import Formatter

from checker.catalog.model import Catalog, Listing
from checker.catalog.names import SITE_SECTION
from checker.site.model import Members, Subject, Thing

_NOTHING = "none"


def names_of_members(
    lists: Mapping[tuple[str, str], Members], things: Mapping[Subject, Thing], catalog: Catalog
) -> dict[Subject, str]:
    """The name of each member by the words of its list in the catalog: ``GEN1 to north bedroom window``. One of which
    the file does not say enough keeps its place in the list for a name; of those that say the same the later ones are
    counted.
    """
    found: dict[Subject, str] = {}
    for (name, on), members in lists.items():
        listing = catalog.lists[name]
        prefix = "" if on == SITE_SECTION else f"{on} "
        seen: Counter[str] = Counter()
        for member in members.members:
            said = _said(listing, things.get(member), catalog)
            if said is None:
                continue
            seen[said] += 1
            found[member] = f"{prefix}{said}" if seen[said] == 1 else f"{prefix}{said} ({seen[said]})"
    return found


def _said(listing: Listing, thing: Thing | None, catalog: Catalog) -> str | None:
    """The first part of its words, filled in, with those of the further parts of which anything is said."""
    if thing is None or not listing.known_by:
        return None
    first, *further = (_filled(part, thing, catalog) for part in listing.known_by.split(", "))
    return None if first is None else ", ".join((first, *(part for part in further if part is not None)))


def _filled(part: str, thing: Thing, catalog: Catalog) -> str | None:
    words = {name: _words(name, thing, catalog) for name in facts_in(part)}
    if any(word is None for word in words.values()):
        return None
    return part.format(**words)


def facts_in(words: str) -> Iterator[str]:
    """The facts that stand between braces."""
    yield from (name for _, name, _, _ in Formatter().parse(words) if name is not None)


def _words(name: str, thing: Thing, catalog: Catalog) -> str | None:
    """What is said of a fact, choices by their titles and in one order; None where it is none or not known."""
    stated = thing.facts.get(name)
    if stated is None or stated.value.anything or stated.text.strip() == _NOTHING:
        return None
    choices = catalog.facts[name].choices
    if not choices:
        return " ".join(stated.text.split()) or None
    return ", ".join(sorted(choices.get(word.strip(), word.strip()) for word in stated.text.split(",")))
