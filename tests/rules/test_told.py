"""A long condition is told on lines below lines, a short one on one line."""

from __future__ import annotations

from checker.catalog.load import shipped_catalog
from checker.rules.model.conditions import Condition
from checker.rules.vocabulary import Around, Vocabulary
from checker.rules.words.condition_words import LONGEST_LINE, ConditionWords
from checker.tasks.gathering.library import Library


def _said(rule: str, part: str, edition: str) -> tuple[str, str]:
    """The requirement of a shipped rule as one line, and as it is told."""
    (found,) = (
        each for pack in Library.shipped().packs for each in pack.rules if each.id == rule and edition in each.sections
    )
    asked = [each for each in (found.requires, *(reading.requires for reading in found.readings)) if each is not None]
    condition: Condition = next(each.parts[part] for each in asked if part in each.parts)
    vocabulary = Vocabulary(shipped_catalog())
    words = ConditionWords(vocabulary, {})
    around = Around(vocabulary.types_of(found.subject))
    return words.line(condition, around), words.told(condition, around)


def test_brackets_within_brackets_become_lines() -> None:
    line, told = _said("dwelling-disconnect-marked-for-its-role", "marked", "2023")
    assert len(line) > LONGEST_LINE
    assert "(role of the subject itself" in line
    lines = told.splitlines()
    assert len(lines) > 10
    assert not any("(role" in each for each in lines)
    assert lines[0].startswith("for at least one of the labels")
    assert all(each.startswith("  ") for each in lines[1:])


def test_a_short_condition_stays_on_one_line() -> None:
    line, told = _said("outdoor-engine-away-from-openings", "away", "2021")
    assert told == line
