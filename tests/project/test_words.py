"""None of the words of words.txt stands in what a person reads, but where exempt_words.yaml says so."""

from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import pytest

from tests.project.project_tree import ROOT
from tests.project.words import (
    CATALOG_TEXTS,
    PACK_TEXTS,
    Exemption,
    Hit,
    Text,
    hits,
    read_exemptions,
    read_words,
    texts_of_messages,
    texts_of_module,
    texts_of_page,
    texts_of_yaml,
)

HERE = Path(__file__).parent
WORDS = read_words(HERE / "words.txt")
EXEMPT = read_exemptions(HERE / "exempt_words.yaml")

Reader = Callable[[str, str], Iterator[Text]]
# Where people read from: pattern of the files, and how their texts are found. What a later line would read again is
# read by the first that names it.
PLACES: dict[str, Reader] = {
    "checker/report/**/*.py": texts_of_module,
    "checker/cli/**/*.py": texts_of_module,
    "checker/**/*.py": texts_of_messages,
    "rulesets/**/*.yaml": partial(texts_of_yaml, keys=PACK_TEXTS),
    "schemas/**/*.yaml": partial(texts_of_yaml, keys=CATALOG_TEXTS),
    "README.md": texts_of_page,
    "MAINTAINERS.md": texts_of_page,
    "schemas/words.yaml": texts_of_page,
    "shared/shapes.yaml": texts_of_page,
}


def _texts(pattern: str) -> list[Text]:
    read = PLACES[pattern]
    return [
        text
        for path in sorted(ROOT.glob(pattern))
        for text in read(path.relative_to(ROOT).as_posix(), path.read_text(encoding="utf-8"))
    ]


def _exempt(hit: Hit) -> bool:
    return any(exemption.covers(hit) for exemption in EXEMPT)


@pytest.mark.parametrize("pattern", PLACES)
def test_no_such_word_is_read_in(pattern: str) -> None:
    texts = _texts(pattern)
    assert texts, f"nothing to read in {pattern}"
    found = [str(hit) for hit in hits(texts, WORDS) if not _exempt(hit)]
    assert not found, "\n".join(found)


def test_every_exemption_is_needed_and_says_why() -> None:
    found = [hit for pattern in PLACES for hit in hits(_texts(pattern), WORDS)]
    assert all(exemption.reason for exemption in EXEMPT)
    assert not [exemption for exemption in EXEMPT if not any(exemption.covers(hit) for hit in found)]


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("Approved.", "approved"),
        ("accepted_by", "accepted"),
        ("--fail-on-severity", "severity"),
        ("non-compliant", "compliant"),
        ("this passes\n  code", "passes code"),
        ("12 % better than the code", "% better"),
        ("an over-dutied breaker", "over-dutied"),
    ],
)
def test_word_is_found(text: str, word: str) -> None:
    assert word in {hit.word for hit in hits([Text("a file", "line 1", text)], WORDS)}


@pytest.mark.parametrize(
    "text", ["unapproved", "the AHJ approves", "scored", "compliance", "rulesets_folder2x".upper()]
)
def test_part_of_a_word_is_not(text: str) -> None:
    assert not hits([Text("a file", "line 1", text)], [word for word in WORDS if word != "rulesets"])


def test_literals_and_names_of_a_module_are_read() -> None:
    source = (
        '"""Help."""\nclass Row:\n    score: int\ndef passes(alert):\n    return dict(waiver=f"{alert} marginal")\n'
    )
    found = hits(texts_of_module("a.py", source), WORDS)
    assert {(hit.word, hit.text.place) for hit in found} == {
        ("score", "line 3"),
        ("passes", "line 4"),
        ("alert", "line 4"),
        ("waiver", "line 5"),
        ("marginal", "line 5"),
    }


def test_messages_are_read_without_docstrings() -> None:
    source = '"""Says approved."""\ndef score():\n    """A waiver."""\n    return "no violation"\n'
    assert [text.text for text in texts_of_messages("a.py", source)] == ["no violation"]


def test_texts_of_a_pack_are_read_at_any_depth() -> None:
    rule = "{id: score, says: it passes, cautions: [an alert], unless: [{because: a waiver}]}"
    source = f"rules: [{rule}]\n---\ntitle: approved\n"
    found = hits(texts_of_yaml("a.yaml", source, PACK_TEXTS), WORDS)
    assert {(hit.word, hit.text.place) for hit in found} == {
        ("passes", "rules.0.says"),
        ("alert", "rules.0.cautions.0"),
        ("waiver", "rules.0.unless.0.because"),
        ("approved", "title"),
    }


@pytest.mark.parametrize(
    ("text", "covered"),
    [("critical operations power systems", True), ("critical operations, and critical", False), ("critical", False)],
)
def test_exemption_holds_only_where_its_surroundings_stand(text: str, covered: bool) -> None:
    exemption = Exemption("a.yaml", "critical", "critical operations", "NFPA 70 708")
    (hit,) = hits([Text("a.yaml", "title", text)], ["critical"])
    assert exemption.covers(hit) is covered
    assert not exemption.covers(Hit(Text("b.yaml", "title", text), "critical"))
