"""Where YAML itself breaks off: told in our words, and read on past the place where that can be done."""

import pytest

from checker.files.limits import USUAL_LIMITS
from checker.files.yaml.builder import TreeBuilder
from checker.files.yaml.events import fastest
from checker.files.yaml.source import Source
from tests.files.read_twice import place, problem, problems

# What is typed, line and column told, words of the sentence, words of the remedy.
BROKEN = [
    ("afc: >= 10 kA\n", 1, 6, "A text cannot begin with > here: `>= 10 kA`", '">= 10 kA", or write: at least 10 kA'),
    ("a: {afc: >= 10 kA, b: c}\n", 1, 10, "cannot begin with >", '">= 10 kA"'),
    ("afc: > 10 kA\n", 1, 6, "cannot begin with >", '"> 10 kA"'),
    ("a: | note\n", 1, 4, "cannot begin with |", '"| note"'),
    ("a: {b: | note}\n", 1, 8, "cannot begin with |", '"| note"'),
    ("a: |0\n  x\n", 1, 4, "cannot begin with |", '"|0"'),
    ("window: 4 ft: north wall\n", 1, 9, "`window: 4 ft: north wall` holds a second", 'window: "4 ft: north wall"'),
    ("- a: b: c # d\n", 1, 6, "second colon", 'a: "b: c"'),
    ("a: {b: 4 ft: north, c: d}\n", 1, 8, "second colon", 'b: "4 ft: north"'),
    ("a: {b: c d: e}\n", 1, 8, "second colon", "write a comma before it"),
    ("a: 'b': c\n", 1, 4, "second colon", "\"'b': c\""),
    ("z: %Z 1.6\n", 1, 4, "cannot begin with % here: `%Z 1.6`", '"%Z 1.6"'),
    ("%Z 1.6\n", 1, 1, "A line cannot begin with %: `%Z 1.6`", "quotes"),
    ("a: 1\n%Z 1.6\n", 2, 1, "A line cannot begin with %", "quotes"),
    ("a: * see note\n", 1, 4, "cannot begin with * here: `* see note`", '"* see note"'),
    ("a: [* x, b]\n", 1, 5, "cannot begin with *", '"* x"'),
    ("place: @ basement\n", 1, 8, "cannot begin with @ here: `@ basement`", '"@ basement"'),
    ("@ basement: x\n", 1, 1, "cannot begin with @ here: `@ basement`", '"@ basement"'),
    ("a: {@b: c}\n", 1, 5, "cannot begin with @ here: `@b`", '"@b"'),
    ("- @ basement # c\n", 1, 3, "cannot begin with @", '"@ basement"'),
    ("a: `x`\n", 1, 4, "cannot begin with ` here", '"`x`"'),
    ("a: & note\n", 1, 4, "cannot begin with & here: `& note`", '"& note"'),
    ("a: ? x\n", 1, 4, "cannot begin with ? here: `? x`", '"? x"'),
    ("a: !<x\n", 1, 4, "cannot begin with !", '"!<x"'),
    ("a: ,x\n", 1, 4, "cannot begin with , here", '",x"'),
    ("a: ]\n", 1, 4, "cannot begin with ] here", '"]"'),
    ("a: - b\n", 1, 4, "A list cannot begin on the line of its key: `a: - b`", "line of its own"),
    ("a: [b, c\n", 1, 4, "The bracket [ that opens in `a: [b, c` is not closed", "Close it with ]"),
    ("a: [b, c\nd: e\n", 1, 4, "The bracket [ that opens", "Close it with ]"),
    ("a: {b: c\nd: e\n", 1, 4, "The bracket { that opens", "Close it with }"),
    ("a: {b: [c, d}\n", 1, 13, "The [ that opens on line 1 cannot be closed by }", "Close it with ]"),
    ("a: {b: # note\n  c, d: [e}\n", 2, 11, "The [ that opens on line 2", "Close it with ]"),
    ("a: {b: c #old\n  , d: [e}\n", 2, 10, "The [ that opens on line 2", "Close it with ]"),
    ("a: [}\n", 1, 5, "The [ that opens on line 1 cannot be closed by }", "Close it with ]"),
    ("a: {b: {c: 1}\nd: 2\n", 1, 4, "The { of line 1 is not closed: `a: {b: {c: 1}`.", "Close it with } before line 2"),
    ("a:\n  - [1, [2]\n  - 3\n", 2, 5, "The [ of line 2 is not closed", "Close it with ] before line 3"),
    ('a: ["b" c]\n', 1, 9, "A comma is missing in `a: [\"b\" c]`", "Write a comma"),
    ("a: {b: 1}}\n", 1, 10, "a closing } too many", "Take it out"),
    ("a: [b] c\n", 1, 8, "Text follows the closing bracket", "quotes"),
    ('a: "x" y\n', 1, 8, "Text follows the closing quote in `a: \"x\" y`", "a: '\"x\" y'"),
    ("a: 'it's'\n", 1, 8, "Text follows the closing quote", "a: \"'it's'\""),
    ('a: "x\nb: c\n', 1, 4, 'The quote " that opens in `a: "x` is not closed', "in single quotes"),
    ("a: '5\nb: c\n", 1, 4, "The quote ' that opens in `a: '5` is not closed", "in double quotes"),
    ('a: "x\nb: "y"\n', 1, 4, 'The quote " that opens in `a: "x`', 'Close the text with "'),
    ('a: "x\nb": y\n', 1, 4, 'The quote " that opens in `a: "x`', 'Close the text with "'),
    ('a: {b: "x, c: d}\ne: "y"\n', 1, 8, 'The quote " that opens', 'Close the text with "'),
    ('a: "C:\\docs"\n', 1, 7, "a backslash begins a special sign", "single quotes"),
    ('a: "\\x1"\n', 1, 5, "a backslash begins a special sign", "single quotes"),
    ("a: 1\nfoo bar\nb: 2\n", 2, 1, "There is no colon in `foo bar`", "key, colon, space and value"),
    ("a: 1\nfoo bar # note\n", 2, 1, "There is no colon in `foo bar # note`", "key, colon"),
    ("a: 1\nb:2\n", 2, 1, "The space after the colon is missing in `b:2`", "Write: b: 2"),
    ("a:1\nb: 2\n", 1, 1, "The space after the colon is missing in `a:1`", "Write: a: 1"),
    ("P1:\n  kind:meter\n  b: c\n", 2, 3, "The space after the colon is missing", "Write: kind: meter"),
    ("- kind:meter\n  b: c\n", 1, 3, "The space after the colon is missing", "Write: kind: meter"),
    ("P1:\n  kind meter\n  b: c\n", 2, 3, "There is no colon in `kind meter`", "key, colon"),
    ("a:\n    b: 1\n  c: 2\n", 3, 3, "The indentation of `c: 2` fits no line above", "same column"),
    ("  a: 1\nb: 2\n", 2, 1, "The indentation of `b: 2` fits no line above", "same column"),
    ("a:\n  b: c\n   d: e\n", 3, 4, "`d: e` is indented as if it belonged", "same column"),
    ("a:\n  - b\n    c: d\n", 3, 5, "`c: d` is indented as if it belonged", "same column"),
    ("a: b\n- c\n", 2, 1, "`- c` is an item of a list", "Indent it"),
    ("- a\nb: 1\n", 2, 1, "`b: 1` does not begin with -", "Begin it with -"),
    ("{" + "k" * 1100 + ": 1}\n", 1, 2, "longer than 1,024 characters", "Shorten it"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line", "column", "sentence", "remedy"), BROKEN)
def test_broken(text: str, line: int, column: int, sentence: str, remedy: str) -> None:
    told = problem(text)
    assert place(told) == (line, column)
    assert sentence in told.sentence
    assert remedy in told.remedy


def test_reading_goes_on_past_what_can_be_covered() -> None:
    text = (
        'a: `x`\nb: @ y # c\nc: * z\nd: >= 10 kA\ne: 4 ft: n\nf: %Z\n%g\nh 1\ni: - j\nk: \'tis\nl: "x" y\n'
        'm: [#3, #4]\nn: "\\d"\no: {p: @q, r: s:}\nt: #3\n'
    )
    assert [place(told)[0] for told in problems(text)] == list(range(1, 16))


def test_what_stops_for_good_comes_last() -> None:
    told = problems("a: [b,\nc: #3\nc: 1\nd: @ x\n")
    assert place(told[-1]) == (1, 4)
    assert "is not closed" in told[-1].sentence
    assert [place(each) for each in told[:-1]] == sorted(place(each) for each in told[:-1])


def test_problems_before_a_stop_are_told_in_order_before_it() -> None:
    told = problems("b: #3\na: *x\nb: 1\nc:\n    d: 1\n  e: 2\n")
    assert [place(each) for each in told] == [(1, 4), (2, 4), (3, 1), (6, 3)]


def test_a_line_is_shown_as_typed_also_after_another_stop_on_it() -> None:
    (told,) = problems("a: {b: @x, c: `y}\n")
    assert told.sentence == "A text cannot begin with @ here: `@x`."


def test_what_is_looked_at_again_begins_at_the_key_read_last() -> None:
    source = Source.of("f", "a: b\nc:\n  - d: [e,\n      f]\n    g: {h: i}\n")
    builder = TreeBuilder(source, USUAL_LIMITS, single=True)
    stream = fastest()(source.text)
    while (event := stream.get_event()) is not None:
        builder.feed(event)
    assert source.text[builder.resume_at :] == "    g: {h: i}\n"


def test_a_long_line_is_cut_where_it_is_shown() -> None:
    told = problem("a: " + "x" * 500 + ": y\n")
    assert "..." in told.sentence
    assert len(told.sentence) < 200


def test_a_message_is_one_line() -> None:
    assert "\n" not in str(problem("a: {b: 1,\n  c: 9,\n  600 A}\n"))
