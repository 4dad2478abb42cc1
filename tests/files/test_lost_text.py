"""Text that YAML drops or splits in silence."""

import pytest

from tests.files.read_twice import place, problem, problems

# What is typed, line and column told, words of the sentence, words of the remedy.
EMPTIED = [
    ("conductors: #3 Cu THWN-2\n", 1, 13, "`conductors: #3 Cu THWN-2`", 'in quotes: conductors: "#3 Cu THWN-2"'),
    ("a: 1\nb:   #3 Cu   # seen on site\nc: 1\n", 2, 6, "Nothing is left of the value", 'b: "#3 Cu"'),
    ("a: #1/0", 1, 4, "`a: #1/0`", 'a: "#1/0"'),
    ("a:\n  - #3 Cu\n  - x\n", 2, 5, "`- #3 Cu`", 'quotes: "#3 Cu"'),
    ("a: {b: #3 Cu\n  }\n", 1, 8, "Nothing is left", 'b: "#3 Cu"'),
    ('a: #3" pipe\n', 1, 4, "Nothing is left", "a: '#3\" pipe'"),
    ("a: {b: #3 Cu}\nc: d\n", 1, 8, "The closing bracket in `a: {b: #3 Cu}` is lost", 'b: "#3 Cu"'),
    ("a: {b: #3 Cu, c: 4 ft}\nd: e\n", 1, 8, "closing bracket", 'b: "#3 Cu"'),
    ("a: [#3 Cu, 4 Cu]\nc: d\n", 1, 5, "closing bracket", '"#3 Cu"'),
    ("a: [1/0 Cu, #3 Cu]\nc: d\n", 1, 13, "closing bracket", '"#3 Cu"'),
    ("a: {b: {c: [#3]}}\nd: e\n", 1, 13, "closing bracket", '"#3"'),
    ("a: {b: 3 x #3 Cu}\nd: e\n", 1, 8, "closing bracket", 'b: "3 x #3 Cu"'),
    ("a: {b: #3 Cu,\n  c: 4 ft}\n", 1, 8, "is lost", 'b: "#3 Cu"'),
    ("a: {b: #3 Cu,\n  4 ft}\n", 1, 8, "is lost", '"#3 Cu". If it is a comment'),
    ("a: [#3 Cu,\n  4 Cu]\n", 1, 5, "is lost", '"#3 Cu". If it is a comment'),
    ("a: [1/0 Cu, #3 Cu,\n  4 Cu]\n", 1, 13, "is lost", '"#3 Cu"'),
    ("a: [1/0 Cu,#x\n  4 Cu]\n", 1, 12, "is lost", '"#x"'),
    ("a: [b,\n  # one\n  #3 Cu]\nc: d\n", 3, 3, "closing bracket", '"#3 Cu"'),
    ('a: "3"#4\n', 1, 7, "from # on", "write a space before #"),
    ("a: [3]#4\n", 1, 7, "from # on", "write a space before #"),
    ("a: >-#4\n  x\n", 1, 4, "cannot begin with >", '">-#4"'),
    ("a: 3 x #3 Cu\n", 1, 4, "is cut: from # on", 'a: "3 x #3 Cu"'),
    ("a: 2 sets of #3 Cu   # S\n", 1, 4, "is cut", 'a: "2 sets of #3 Cu"'),
    ("a: No. #3\n", 1, 4, "is cut", 'a: "No. #3"'),
    ("a: copper (2 of #3) THWN\n", 1, 4, "is cut", 'a: "copper (2 of #3) THWN"'),
    ("a: 1\nsill #3: 36 in\nb: 2\n", 2, 1, "No colon is left in `sill #3: 36 in`", "quotes"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line", "column", "sentence", "remedy"), EMPTIED)
def test_what_a_hash_takes_away(text: str, line: int, column: int, sentence: str, remedy: str) -> None:
    told = problem(text)
    assert place(told) == (line, column)
    assert sentence in told.sentence
    assert "#" in told.sentence
    assert remedy in told.remedy


@pytest.mark.parametrize("text", ["loads: # see the schedule\nb: 1\n", "b: 1\nloads: #\n", "loads: # 3 Cu\n"])
def test_a_comment_where_the_value_belongs(text: str) -> None:
    told = problem(text)
    assert "The key `loads` has no value" in told.sentence
    assert "comment" in told.sentence
    assert "write unknown" in told.remedy
    assert "put it in quotes" in told.remedy
    assert place(told) == (text.count("\n", 0, text.index("#")) + 1, 8)


CUT = [
    ("a: {afc: 9,600 A}\n", 1, 10, "`a: {afc: 9,600 A}` is cut at the comma", 'afc: "9,600 A"'),
    ("a: {system: 120/240 V, 1-phase}\n", 1, 13, "cut at the comma", 'system: "120/240 V, 1-phase"'),
    ("a: {s: 120/240 V, 1-phase, 3-wire, b: c}\n", 1, 8, "cut at the comma", 's: "120/240 V, 1-phase, 3-wire"'),
    ("{value: 9,600 A, per: letter}\n", 1, 9, "cut at the comma", 'value: "9,600 A"'),
    ("a: {b: c,\n    d: e, purpose}\n", 2, 8, "cut at the comma", "If purpose is a key"),
    ("a: [9,600 A, 5 A]\n", 1, 5, "cut at the comma", '"9,600 A". If two are meant, write a space'),
    ("a: [110,210]\n", 1, 5, "cut at the comma", "write a space after the comma"),
]


@pytest.mark.parametrize(("text", "line", "column", "sentence", "remedy"), CUT)
def test_what_a_comma_cuts(text: str, line: int, column: int, sentence: str, remedy: str) -> None:
    told = problem(text)
    assert place(told) == (line, column)
    assert sentence in told.sentence
    assert "quotes" in told.remedy
    assert remedy in told.remedy


def test_two_cut_values_in_one_pair_of_braces() -> None:
    first, second = problems("{a: 9,600 A, b: 9,600 A}\n")
    assert (place(first), place(second)) == ((1, 5), (1, 17))


ALONE = [
    ("a: {5 kW}\n", 1, 5, "`5 kW` stands in braces without a value", "use [ ]"),
    ("a: {b:1}\n", 1, 5, "`b:1` stands in braces", "space after the colon: b: 1"),
    ('a: {b: "x", c}\n', 1, 13, "`c` stands in braces", "use [ ]"),
    ('a: {b: x, "c"}\n', 1, 11, '`"c"` stands in braces', "use [ ]"),
    ("a: {b: [x], c}\n", 1, 13, "`c` stands in braces", "use [ ]"),
    ("a: {b: 9, c: [x], d}\n", 1, 19, "`d` stands in braces", "use [ ]"),
]


@pytest.mark.parametrize(("text", "line", "column", "sentence", "remedy"), ALONE)
def test_a_text_alone_in_braces(text: str, line: int, column: int, sentence: str, remedy: str) -> None:
    told = problem(text)
    assert place(told) == (line, column)
    assert sentence in told.sentence
    assert remedy in told.remedy


MISSING = [
    ("a:\nb: 1\n", 1, 1, "The key `a` has no value", "write unknown"),
    ("a: 1\nb:", 2, 1, "The key `b` has no value", "write unknown"),
    ("a: {b: , c: 1}\n", 1, 5, "The key `b` has no value", "write unknown"),
    ("a: {c: 1, b: }\n", 1, 11, "The key `b` has no value", "write unknown"),
    ("a: {c: 1, b:}\n", 1, 11, "The key `b` has no value", "write unknown"),
    ("a: {b:, c: 1}\n", 1, 5, "The key `b` has no value", "write unknown"),
    ("a: |\nb: 1\n", 1, 1, "The key `a` has no value", "write unknown"),
    ("a:\n  -\n  - x\n", 2, 4, "This item of a list has no value", "take the line out"),
    ("a: [b, , c]\n", 1, 8, "A value is missing before the comma", "take the comma out"),
]


@pytest.mark.parametrize(("text", "line", "column", "sentence", "remedy"), MISSING)
def test_no_value(text: str, line: int, column: int, sentence: str, remedy: str) -> None:
    told = problem(text)
    assert place(told) == (line, column)
    assert sentence in told.sentence
    assert remedy in told.remedy


def test_all_lost_texts_of_a_file_are_told_in_its_order() -> None:
    text = "a: #3\nb: {c: 9,600 A}\nd:\n  - #4\n  -\nb: 2\na: 1\ne: {f: #5}\ng: [#6]\nh: 3 x #7\n"
    assert [place(told) for told in problems(text)] == [
        (1, 4), (2, 8), (4, 5), (5, 4), (6, 1), (7, 1), (8, 8), (9, 5), (10, 4),
    ]  # fmt: skip
