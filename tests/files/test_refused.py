"""What YAML allows and this reader refuses."""

import pytest

from checker.values.problems import Problem
from tests.files.read_twice import FILE, place, problem, problems

# What is typed, line and column told, words of the sentence, words of the remedy.
REFUSED = [
    ("a: *note\n", 1, 4, "*note (a reference to another place)", 'if "*note" is a text, put it in quotes'),
    ("a: [b, *c, d]\n", 1, 8, "*c (a reference", "quotes"),
    ("*a : b\n", 1, 1, "*a (a reference", "Write the lines out"),
    ("a: &note x\n", 1, 4, "&note (a name to refer to)", '"&note"'),
    ("a: &n\n  b: c\n", 1, 4, "&n (a name", "take it out"),
    ("&n a: b\n", 1, 1, "&n (a name", "take it out"),
    ("a: &n\nb: c\n", 1, 4, "&n (a name", "take it out"),
    ("<<: x\n", 1, 1, "<< (take over from another place)", "Write the lines out"),
    ("a: !note x\n", 1, 4, "!note (a YAML type)", '"!note"'),
    ("a: !!python/object:x.y {b: c}\n", 1, 4, "!!python/object:x.y (a YAML type)", "take it out"),
    ("a: !!str 12\n", 1, 4, "!!str (a YAML type)", "take it out"),
    ("a: !<tag:x> [b]\n", 1, 4, "!<tag:x> (a YAML type)", "take it out"),
    ("!t a: b\n", 1, 1, "!t (a YAML type)", "take it out"),
    ("a: ! note\n", 1, 4, "A text cannot begin with ! here: `! note`", '"! note"'),
    ("a: !n!x y\n", 1, 4, "cannot begin with !", "quotes"),
    ("? x\n", 1, 1, "A text cannot begin with ? here: `? x`", '"? x"'),
    ("a: 1\n? x # c\n: y\n", 2, 1, "cannot begin with ?", "quotes"),
    ("a: {b: 1, ? c}\n", 1, 11, "cannot begin with ?", "quotes"),
    ("{[a]: b}\n", 1, 2, "This key is a list or braces", "quotes"),
    ("{{a: b}: c}\n", 1, 2, "This key is a list or braces", "quotes"),
    ("a: [b]: c\n", 1, 6, "This key is a list or braces", "quotes"),
    (": x\n", 1, 1, "A key is missing", "before the colon"),
    ("a: {: x}\n", 1, 5, "A key is missing", "before the colon"),
    ('"": x\n', 1, 1, "A key is missing", "before the colon"),
    ("a: 1\n' ': x\n", 2, 1, "A key is missing", "before the colon"),
    ("%YAML 1.2\n---\na: 1\n", 1, 1, "A line cannot begin with %: `%YAML 1.2`", "Take the line out"),
    ("%TAG ! tag:x:\n---\na: 1\n", 1, 1, "A line cannot begin with %", "Take the line out"),
    ("a: 1\n---\nb: 2\n", 2, 1, "A second document begins here", "a file of its own"),
    ("a: 1\n...\nb: 2\n", 3, 1, "`b: 2` follows the end of the document (...)", "Take the line with ... out"),
    ("---\n# c\n", 1, 1, "Nothing but comments follows", "take the line out"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line", "column", "sentence", "remedy"), REFUSED)
def test_refused(text: str, line: int, column: int, sentence: str, remedy: str) -> None:
    told = problem(text)
    assert place(told) == (line, column)
    assert sentence in told.sentence
    assert remedy in told.remedy


def test_a_key_that_stands_twice_names_both_lines() -> None:
    told = problem("P1: {}\nb:\n  c: 1\n  d: 2\nP1: {}\n")
    assert told.sentence == "The key `P1` stands twice here, on line 1 and on line 5."
    assert place(told) == (5, 1)
    assert "Keep one of the two" in told.remedy


def test_a_reference_ends_what_a_comma_may_have_cut() -> None:
    reference, alone = problems("{a: 9, b: *x , c}\n")
    assert (place(reference), place(alone)) == ((1, 11), (1, 16))
    assert "`c` stands in braces without a value" in alone.sentence


@pytest.mark.parametrize("text", ["{a: 1, a: 2}\n", "{a: 1, 'a': 2}\n", "{a: {}, a: []}\n"])
def test_a_key_that_stands_twice_in_braces(text: str) -> None:
    told = problem(text)
    assert "on line 1 and on line 1" in told.sentence
    assert place(told) == (1, text.index(",") + 3)


def test_all_keys_that_stand_twice_are_told() -> None:
    told = problems("a: 1\nb: {c: 1, c: 2}\na: 2\na: 3\n")
    assert [(place(each), each.sentence) for each in told] == [
        ((2, 11), "The key `c` stands twice here, on line 2 and on line 2."),
        ((3, 1), "The key `a` stands twice here, on line 1 and on line 3."),
        ((4, 1), "The key `a` stands twice here, on line 1 and on line 4."),
    ]


def test_the_same_key_in_two_mappings_is_no_problem_beside_one_that_is() -> None:
    assert place(problem("a: {c: 1}\nb: {c: 1}\na: 2\n")) == (3, 1)


@pytest.mark.parametrize("content", ["", b"", "\n \n", "\ufeff", b"\xef\xbb\xbf\r\n"])
def test_an_empty_file(content: str | bytes) -> None:
    told = problem(content)
    assert told.sentence == "This file is empty."
    assert place(told) == (1, 1)
    assert "name another file" in told.remedy


def test_a_file_of_comments() -> None:
    told = problem("# one\n\n  # two\n")
    assert told.sentence == "This file holds nothing but comments."
    assert place(told) == (1, 1)


def test_documents_without_content_among_others() -> None:
    told = problems("---\n---\na: 1\n---\n", single=False)
    assert [place(each) for each in told] == [(1, 1), (4, 1)]
    assert all("Nothing but comments follows" in each.sentence for each in told)


def test_a_second_document_does_not_hide_what_it_holds() -> None:
    told = problems("a: #3\n---\nb: #4\n")
    assert [place(each) for each in told] == [(1, 4), (2, 1), (3, 4)]


def test_problems_name_the_file_that_was_given() -> None:
    told: Problem = problem("a: *b\n")
    assert str(told).count(f"({FILE}:1:4)") == 1
