"""Files from strangers: large, deep, endless."""

from time import process_time

import pytest

from checker.files.limits import Limits
from checker.files.yaml.strict_yaml import read_text
from checker.values.problems import Problem, Unreadable
from tests.files.read_twice import FILE, node, place, problem, problems, texts


@pytest.mark.parametrize("content", ["a: 12345\n", b"a: 12345\n"])
def test_bytes(content: str | bytes) -> None:
    told = problem(content, Limits(bytes=8))
    assert told.sentence == "This file is too large: more than 8 bytes."
    assert place(told) == (1, 1)
    assert "Split it" in told.remedy
    assert texts(node(content, Limits(bytes=9))) == {"a": "12345"}


def test_bytes_of_a_text_are_those_of_its_encoding() -> None:
    assert "too large" in problem("a: éé\n", Limits(bytes=7)).sentence
    assert texts(node("a: éé\n", Limits(bytes=8))) == {"a": "éé"}


def test_depth() -> None:
    text = "a:\n  - {b: [c]}\n"
    told = problem(text, Limits(depth=3))
    assert told.sentence == "This file is nested more than 3 levels deep."
    assert place(told) == (2, 9)
    assert "brackets" in told.remedy
    assert texts(node(text, Limits(depth=4))) == {"a": [{"b": ["c"]}]}


def test_values() -> None:
    text = "a: [b, c]\nd: e\n"
    told = problem(text, Limits(nodes=4))
    assert told.sentence == "This file holds more than 4 values."
    assert place(told) == (2, 4)
    assert "Split it" in told.remedy
    assert texts(node(text, Limits(nodes=5))) == {"a": ["b", "c"], "d": "e"}


@pytest.mark.parametrize("text", ["a: 12345\n", "a: '12345'\n", "a: |-\n  12345\n"])
def test_length_of_a_text(text: str) -> None:
    told = problem(text, Limits(text=4))
    assert told.sentence == "This text is longer than 4 characters."
    assert place(told) == (1, 4)
    assert "Shorten it" in told.remedy
    assert texts(node(text, Limits(text=5))) == {"a": "12345"}


def test_length_of_a_key() -> None:
    assert place(problem("12345: a\n", Limits(text=4))) == (1, 1)


def test_problems_found_before_a_limit_are_told_before_it() -> None:
    told = problems("a: #3\na: 1\nb: {c: {d: e}}\n", Limits(depth=2))
    assert [place(each) for each in told] == [(1, 4), (2, 1), (3, 8)]


def test_no_more_than_about_a_hundred_problems_are_told() -> None:
    told = problems("".join(f"a{number}: #3\n" for number in range(300)))
    assert 100 <= len(told) <= 102
    assert told[-1].sentence == "There are more problems than these."
    assert told[-1].at is not None


def test_no_more_than_a_hundred_hidden_characters_are_told() -> None:
    told = problems("a: \x07\n" * 300)
    assert [each.sentence for each in told].count("Here stands a control character (U+0007).") == 100
    assert "There are more problems than these." in {each.sentence for each in told}


BOMB = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"a{level}: &a{level} [{', '.join([f'*a{level - 1}'] * 9)}]\n" for level in range(1, 13)
)
HOSTILE = {
    "brackets": "[" * 100_000,
    "braces": "{" * 100_000,
    "brackets on lines": "[\n" * 100_000,
    "braces with keys": "{a: " * 100_000,
    "lists in one line": "- " * 100_000,
    "levels of indentation": "".join(" " * level + "a:\n" for level in range(1000)),
    "question marks": "? " * 100_000,
    "aliases of aliases": BOMB,
    "a long list": "- a\n" * 300_000,
    "a long list in brackets": "[" + "a," * 500_000 + "]",
    "one long text": "a: " + "x" * 1_900_000,
    "cut values": "{a: 1," + "a," * 40_000 + "}",
    "missing values": "{" + "".join(f"a{number}: , " for number in range(40_000)) + "}",
    "numbers in one line": "[" + "1,000," * 20_000 + "]",
    "signs": "a: @ x\n" * 200_000,
    "hidden brackets": "a: [b, #3]\n" * 50_000,
    "comments in one list": "[a\n" + ", #3\n" * 300_000 + "]",
    "an open list": "a: [\n" + '"b",\n' * 40_000,
    "control characters": "\x07" * 1_900_000,
    "tabs": "\t\n" * 900_000,
    "colons": "a: b: c\n" * 100_000,
    "a long key": "a" + " " * 1_900_000 + ": b",
    "quotes": "'" * 1_900_000,
    "anchors": "&a " * 600_000,
    "documents": "---\n" * 400_000,
    "directives": "%a\n" * 600_000,
}


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_hostile_texts_are_refused_soon(text: str) -> None:
    begun = process_time()
    told = _told(text)
    # The slowest takes about a second; the limit is for what grows with the square of the length.
    assert process_time() - begun < 20
    assert 1 <= len(told) <= 210
    assert all(each.at and each.sentence and each.remedy for each in told)


@pytest.mark.parametrize("name", ["brackets", "braces", "brackets on lines", "braces with keys"])
def test_deep_brackets_are_told_as_such(name: str) -> None:
    assert _told(HOSTILE[name])[-1].sentence == "This file is nested more than 40 levels deep."


def _told(text: str) -> tuple[Problem, ...]:
    with pytest.raises(Unreadable) as refused:
        read_text(text, FILE)
    return refused.value.problems
