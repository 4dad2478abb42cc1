"""One question about several things of a list at once, as all motors, so that nobody is asked for each in turn."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from checker.catalog.model import Catalog
from checker.facts.known import Ask
from checker.tasks.questions.asked import Question, sentence_of
from checker.tasks.questions.waiting import Waiting
from checker.values.problems import Problem, Unreadable

FEWEST = 2
"""Of so many things the same is asked at once."""

ALL = "all"
_HOW = "Type the number and the answer of each, as 1: yes; 2, 3: no, or all: and one answer."
_NUMBERS = re.compile(r"[0-9]+(?:(?:\s*,\s*(?:and\s+)?|\s+(?:and\s+)?)[0-9]+)*").fullmatch


@dataclass(frozen=True, slots=True)
class Together:
    """The same asked of several things: the question about them all, that about each, in their order, and how many
    findings wait for any of them.
    """

    sentence: str
    each: tuple[Question, ...]
    waits: int


def together(
    question: Question, open_now: Iterable[tuple[Question, tuple[Waiting, ...]]], catalog: Catalog
) -> Together | None:
    """What can be asked at once with a question: the same fact of other members of its list. None where it is alone."""
    listing = next((each for each in catalog.lists.values() if each.member == question.leaf.subject.type), None)
    if listing is None or question.fact is None:
        return None
    alike = [(each, waits) for each, waits in open_now if _is_alike(each, question)]
    if len(alike) < FEWEST:
        return None
    alike.sort(key=lambda each: each[0].leaf.order)
    waits = {id(waiting) for _, each in alike for waiting in each}
    sentence = sentence_of(f"these {listing.title}", question.fact, catalog)
    return Together(sentence, tuple(each for each, _ in alike), len(waits))


def _is_alike(one: Question, other: Question) -> bool:
    same_fact = one.leaf.ask is other.leaf.ask is Ask.FACT and one.leaf.name == other.leaf.name
    return same_fact and one.leaf.subject.type == other.leaf.subject.type


def assigned(typed: str, number: int) -> dict[int, str]:
    """The answer to each of so many things, by its place from 0; what is not named has none. Raises Unreadable."""
    found: dict[int, str] = {}
    for part in filter(None, (each.strip() for each in typed.split(";"))):
        head, colon, answer = part.partition(":")
        if not colon or not answer.strip():
            raise Unreadable([Problem(f"{part} does not say for which of them it holds.", None, _HOW)])
        for place in _places(head.strip(), number):
            if place in found:
                raise Unreadable([Problem(f"Number {place + 1} has two answers.", None, _HOW)])
            found[place] = answer.strip()
    return found


def _places(head: str, number: int) -> Iterator[int]:
    if head.casefold() == ALL:
        yield from range(number)
        return
    if not _NUMBERS(head):
        raise Unreadable([Problem(f"{head} is no number of the list.", None, _HOW)])
    for each in re.findall(r"[0-9]+", head):
        if not 1 <= int(each) <= number:
            raise Unreadable([Problem(f"The list has no number {each}.", None, _HOW)])
        yield int(each) - 1
