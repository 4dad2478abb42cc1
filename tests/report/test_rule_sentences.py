"""Every sentence of every shipped rule, filled in by every case of the rule, reads like a sentence."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from checker.catalog.load import shipped_catalog
from checker.tasks.gathering.library import Library
from tests.report.rule_sentences import MISSES, Sentence, complaints, sentences_of


@pytest.fixture(scope="module")
def sentences(library: Library) -> Mapping[str, tuple[Sentence, ...]]:
    return {pack.id: tuple(sentences_of(pack, shipped_catalog())) for pack in library.packs}


def test_every_sentence_reads_like_one(sentences: Mapping[str, tuple[Sentence, ...]]) -> None:
    found = [
        f"{wrong}: {each}"
        for each in (each for pack in sentences.values() for each in pack)
        for wrong in complaints(each)
    ]
    assert not found, "\n".join(found)


def test_every_rule_prints_something_for_every_outcome_it_has(
    sentences: Mapping[str, tuple[Sentence, ...]], library: Library
) -> None:
    """The kinds of sentence that are there at all: a miss for every rule but those that look, a reason for every
    `when`.
    """
    for pack in library.packs:
        for rule in pack.rules:
            kinds = {each.kind for each in sentences[pack.id] if each.rule == rule.id}
            outcomes = {each.outcome for each in sentences[pack.id] if each.rule == rule.id}
            assert ("look" if rule.look is not None else "says") in kinds or not outcomes & MISSES, rule.id
            assert "because" in kinds or (rule.when is None and not rule.unless), rule.id


@pytest.mark.parametrize(
    ("kind", "text", "complaint"),
    [
        ("says", "ATS1 is rated {found}.", "holds a brace or a value of the program"),
        ("says", "ATS1 is rated None.", "holds a brace or a value of the program"),
        ("says", "ATS1 is rated  100 A.", "holds two spaces or a line break"),
        ("says", "ATS1 is rated .", "holds an empty place"),
        ("says", "ATS1, , and P1.", "holds an empty place"),
        ("says", "ATS1 is a service_disconnect.", "holds a word of code"),
        ("says", "the switch is rated 100 A.", "begins with a small letter"),
        ("remedy", "Choose the next larger frame", "does not end like a sentence"),
        ("look", "", "is empty, or begins or ends with a space"),
        ("because", "", "is empty, or begins or ends with a space"),
    ],
)
def test_what_is_wrong_is_found(kind: str, text: str, complaint: str) -> None:
    assert complaint in complaints(Sentence(kind, text, "rule", "case", "correction"))


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("says", "ATS1 is rated 100 A."),
        ("says", "9.6 kA can flow (both sources closed)."),
        ("remedy", 'Put a plate with "EMERGENCY DISCONNECT" at P1.'),
        ("look", "Is ATS1.role as the drawing says?"),
        ("because", "occupancy is shop and status is existing"),
        ("why", ""),
    ],
)
def test_what_is_right_is_left_alone(kind: str, text: str) -> None:
    assert complaints(Sentence(kind, text, "rule", "case", "correction")) == []
