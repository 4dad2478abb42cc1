"""What to say about a key that its place does not have."""

from __future__ import annotations

from collections.abc import Collection

from checker.catalog.model import Catalog, Fact
from checker.catalog.reading.values import PER, VALUE
from checker.site.problem_list import ProblemList
from checker.values.positions import Position
from checker.values.refusals import quoted

_MOST_NAMED = 3


class UnknownFields:
    """Tells unknown keys, with the nearest name or the place where the fact belongs."""

    def __init__(self, catalog: Catalog, problems: ProblemList) -> None:
        self._catalog = catalog
        self._problems = problems

    def tell_fact(self, key: str, at: Position, subject: str, known: Collection[str]) -> None:
        """A key that subjects of this type do not have; ``known`` are the keys that can stand there."""
        here = self.one(subject)
        fact = self._catalog.facts.get(key)
        if fact is not None and subject in fact.derived_for:
            self._problems.add(f"{key} of {here} is worked out by the program.", at, "Leave it out.")
        elif "." in key and fact is not None:
            whole, _, part = key.partition(".")
            self._problems.add(f"{key} is not written with a dot.", at, f"Write {whole}: {{{part}: ...}}.")
        elif fact is not None and fact.stated_for:
            self._elsewhere(fact, at, here, known)
        else:
            self._problems.add(
                f"{quoted(key)} is not a fact of {here}.", at, "Check the spelling.", self._problems.near(key, known)
            )

    def tell_part(self, key: str, at: Position, whole: Fact) -> None:
        """A key that is no part of a structured fact."""
        known = (*whole.parts, VALUE, PER)
        remedy = f"Its parts are {', '.join(whole.parts)}."
        self._problems.add(f"{quoted(key)} is not a part of {whole.name}.", at, remedy, self._problems.near(key, known))

    def _elsewhere(self, fact: Fact, at: Position, here: str, known: Collection[str]) -> None:
        there = self._subjects_of(fact)
        near = self._problems.near(fact.name, [name for name in known if name != fact.name])
        sentence = f"{fact.name} is a fact of {there}, not of {here}."
        self._problems.add(sentence, at, "Write it there, or leave it out.", near)

    def _subjects_of(self, fact: Fact) -> str:
        """The types of subject that have a fact, by the name of their group where they are one."""
        groups = self._catalog.groups.items()
        group = next((name for name, kinds in groups if fact.stated_for == set(kinds)), None)
        if group is not None:
            return self.one(group)
        named = [self.one(name) for name in self._catalog.titles if name in fact.stated_for]
        return " or ".join(named[:_MOST_NAMED]) + (" and others" if len(named) > _MOST_NAMED else "")

    def one(self, subject: str) -> str:
        """One subject of a type, with its article."""
        return with_article(self._catalog.titles.get(subject, "a piece of equipment"))


def with_article(title: str) -> str:
    """``a panelboard``, ``an inverter``, ``the site``; a title in bulk, or with an article, stays as it is."""
    if title == "site":
        return f"the {title}"
    if title.startswith(("a ", "an ", "two ", "equipment", "load management", "enclosed")):
        return title
    return f"an {title}" if title[0] in "aeiou" and not title.startswith(("uti", "use", "uni")) else f"a {title}"
