"""Texts with places to fill in: ``{subject}``, ``{FACT}``, ``{PART.found}``, ``{PART.wanted}``, ``{PART.missing}``."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping

from checker.rules.model.conditions import Compare, Condition, Count
from checker.rules.problem_list import ProblemList
from checker.rules.vocabulary import Around, NotFound, Vocabulary
from checker.values.positions import Position

SUBJECT = "subject"
FOUND, WANTED, MISSING = "found", "wanted", "missing"
SIDES = (FOUND, WANTED, MISSING)
PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
_BRACE = re.compile(r"[{}]")


def placeholders(text: str) -> tuple[str, ...]:
    """The names in braces, in the order of the text."""
    return tuple(match[1] for match in PLACEHOLDER.finditer(text))


class TextCheck:
    """Checks the texts of one rule. ``unread`` names parts that could not be read, which is told there."""

    def __init__(
        self,
        vocabulary: Vocabulary,
        around: Around,
        parts: Mapping[str, Condition],
        problems: ProblemList,
        unread: Collection[str] = (),
    ) -> None:
        self._unread = unread
        self._vocabulary = vocabulary
        self._around = around
        self._parts = parts
        self._problems = problems

    def check(self, text: str, at: Position) -> None:
        """Tell every placeholder that names nothing, and every brace that belongs to none."""
        if _BRACE.search(PLACEHOLDER.sub("", text)):
            self._problems.add(
                "A brace { } in this text belongs to no placeholder.", at, "Write {subject}, or no brace."
            )
        # What was found and what is wanted of one part are one mistake, where the part is misspelt.
        for name in {_part_of(each): each for each in reversed(placeholders(text))}.values():
            self._check_name(name, at)

    def _check_name(self, name: str, at: Position) -> None:
        part, _, way = name.rpartition(".")
        if name == SUBJECT or (way in SIDES and part in self._unread):
            return
        if way in SIDES and part in self._parts:
            self._check_part(part, at, is_missing=way == MISSING)
        elif isinstance(self._vocabulary.fact(name, self._around), NotFound):
            near = self._problems.near(name, self._names())
            self._problems.add(
                f"{{{name}}} names nothing that this rule knows.", at, "Write {subject}, a fact or a part.", near
            )

    def _check_part(self, part: str, at: Position, *, is_missing: bool) -> None:
        if is_missing and not _asks_for_several(self._parts[part]):
            self._problems.add(
                f"`{part}` does not ask for several choices at once, so none of them is missing.",
                at,
                "Name a part that compares by `includes_all`.",
            )
        elif not isinstance(self._parts[part], Compare | Count):
            self._problems.add(
                f"`{part}` compares no single fact, so it has nothing found or wanted.",
                at,
                "Name a part that compares one.",
            )

    def _names(self) -> Iterator[str]:
        yield SUBJECT
        yield from (f"{part}.{way}" for part in self._parts for way in (FOUND, WANTED))
        yield from self._vocabulary.fact_names(self._around.types)


def _part_of(name: str) -> str:
    """The part of which a placeholder tells what was found or is wanted; any other name itself."""
    part, _, way = name.rpartition(".")
    return part if part and way in (FOUND, WANTED) else name


def _asks_for_several(part: Condition) -> bool:
    return isinstance(part, Compare) and any(test.relation == "includes_all" for test in part.tests)


def refuse_placeholders(text: str, at: Position, problems: ProblemList) -> None:
    """Tell a brace in a text that is printed as it stands."""
    if _BRACE.search(text):
        problems.add("This text is printed without a subject, so nothing can be filled in.", at, "Take the { } out.")
