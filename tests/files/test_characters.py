"""Encodings, tabs, and characters that no screen shows."""

import pytest

from tests.files.read_twice import place, problem, problems, value


@pytest.mark.parametrize(
    ("content", "line", "column"),
    [
        (b"\xff", 1, 1),
        (b"a: 1\nb: caf\xe9\n", 2, 7),
        (b"\xef\xbb\xbfa: \xe9", 1, 4),
        ("é: é\r\nü: ".encode() + b"\xa0", 2, 4),
        (b"a: \xed\xa0\x80\n", 1, 4),
        (b"a: \xc3", 1, 4),
    ],
)
def test_not_utf_8(content: bytes, line: int, column: int) -> None:
    told = problem(content)
    assert "not UTF-8" in told.sentence
    assert place(told) == (line, column)
    assert "encoding UTF-8" in told.remedy


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be"])
def test_utf_16(encoding: str) -> None:
    told = problem("a: 1\n".encode(encoding))
    assert ("UTF-16" in told.sentence) == (encoding == "utf-16")
    assert ("not a text file" in told.sentence) == (encoding != "utf-16")
    assert place(told)[0] == 1


@pytest.mark.parametrize("content", [b"a: 1\nb: \0\n", "a: 1\nb: \0\n", b"a: 1\nb: \0\n\xff"])
def test_binary(content: str | bytes) -> None:
    told = problem(content)
    assert "not a text file" in told.sentence
    assert place(told) == (2, 4)
    assert "PDF" in told.remedy


def test_a_line_indented_with_a_tab() -> None:
    told = problem("a:\n\tb: 1\n")
    assert told.sentence == "This line is indented with a tab."
    assert place(told) == (2, 1)
    assert "Indent with spaces" in told.remedy


def test_many_lines_indented_with_tabs_are_told_once() -> None:
    told = problem("a:\n  \tb: 1\n\t\tc: 2\n  d: 3\n\t\n-\te: f\n")
    assert told.sentence == "This line and 3 more are indented with a tab."
    assert place(told) == (2, 3)


@pytest.mark.parametrize(
    ("text", "line", "column"),
    [
        ("a: b\tc\n", 1, 5),
        ("a: 'b\tc'\n", 1, 6),
        ("a\tb: c\n", 1, 2),
        ("a: [b\tc]\n", 1, 6),
        ("a: |\t# d\te\n  b\n  c\tf\n", 3, 4),
    ],
)
def test_a_tab_in_a_text(text: str, line: int, column: int) -> None:
    told = problem(text)
    assert told.sentence == "This text holds a tab."
    assert place(told) == (line, column)
    assert "space" in told.remedy


@pytest.mark.parametrize(
    ("char", "name"),
    [
        ("\x07", "a control character (U+0007)"),
        ("\x1b", "a control character (U+001B)"),
        ("\x0c", "a control character (U+000C)"),
        ("\x7f", "a control character (U+007F)"),
        ("\x9b", "a control character (U+009B)"),
        ("\r", "a bare carriage return (U+000D)"),
        ("\x85", "an invisible line break (U+0085)"),
        ("\u2028", "an invisible line separator (U+2028)"),
        ("\u2029", "an invisible paragraph separator (U+2029)"),
        ("\ufeff", "an invisible byte order mark (U+FEFF)"),
        ("\u202e", "an invisible mark for the direction of writing (U+202E)"),
        ("\u2066", "an invisible mark for the direction of writing (U+2066)"),
        ("\uffff", "a control character (U+FFFF)"),
        ("\ud800", "a control character (U+D800)"),
    ],
)
@pytest.mark.parametrize(
    "text", ["a: 1\nb: x{}y\n", "a: 1 #\nb: 'x{}y'\n", "a: |\n  x{}y\n", "a: 1\n# x{}y\n", "a: 1\nx{}y: 1\n"]
)
def test_hidden_characters_in_the_file(text: str, char: str, name: str) -> None:
    told = problem(text.format(char))
    assert told.sentence == f"Here stands {name}."
    assert place(told) == (2, text.split("\n")[1].index("{") + 1)
    assert "Delete it" in told.remedy


def test_hidden_characters_do_not_hide_other_problems() -> None:
    told = problems("a: #3\nb: x\u2028y\nc: 9\x07\nd: {e: 9,600 A}\n")
    assert [place(each) for each in told] == [(1, 4), (2, 5), (3, 5), (4, 8)]


@pytest.mark.parametrize(
    ("typed", "name", "remedy"),
    [
        ('"\\e[31m"', "a control character (U+001B)", "Take it out"),
        ('"\\x07"', "a control character (U+0007)", "Take it out"),
        ('"\\u0000"', "a control character (U+0000)", "Take it out"),
        ('"\\N"', "an invisible line break (U+0085)", "Take it out"),
        ('"\\L"', "an invisible line separator (U+2028)", "Take it out"),
        ('"\\uFEFF"', "an invisible byte order mark (U+FEFF)", "Take it out"),
        ('"\\u202e"', "an invisible mark for the direction of writing (U+202E)", "Take it out"),
        ('"\\t"', "a tab", "Take it out"),
        ('"\\r"', "a bare carriage return (U+000D)", "Take it out"),
        ('"a\\nb"', "a line break", "below |"),
        ('"a\n\n  b"', "a line break", "below |"),
        ("a\n\n  b", "a line break", "below |"),
    ],
)
@pytest.mark.parametrize("place_of_text", ["a: {}\n", "a: [{}]\n"])
def test_hidden_characters_in_what_was_read(place_of_text: str, typed: str, name: str, remedy: str) -> None:
    told = problem(place_of_text.format(typed))
    assert told.sentence == f"This text holds {name}."
    assert place(told) == (1, place_of_text.index("{") + 1)
    assert remedy in told.remedy


def test_hidden_characters_in_a_key() -> None:
    told = problem('"a\\e": 1\n')
    assert told.sentence == "This text holds a control character (U+001B)."
    assert place(told) == (1, 1)


def test_each_kind_of_hidden_character_is_told_once() -> None:
    told = problems('a: "\\e \\e \\t"\n')
    assert [each.sentence for each in told] == [
        "This text holds a control character (U+001B).",
        "This text holds a tab.",
    ]


def test_line_breaks_belong_to_a_block_of_text() -> None:
    assert value("a: |\n  b\n\n  c\n", "a").text == "b\n\nc\n"


def test_a_space_that_does_not_break_is_an_ordinary_character() -> None:
    assert value("a: 200\u00a0A\n", "a").text == "200\u00a0A"


def test_messages_show_no_hidden_character() -> None:
    told = problems("a: #3\x1b[31m Cu\nb\x1b: c: d\nP1:\n  e\x1b:f\n  g: h\n")
    assert all("\x1b" not in str(each) for each in told)
    assert any('"#3 [31m Cu"' in each.remedy for each in told)
