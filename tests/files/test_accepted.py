"""What people write and must arrive as typed."""

from pathlib import Path

import pytest

from checker.files.yaml.strict_yaml import read_documents, read_file, read_text
from checker.files.yaml.tree import Entry, Mapping, Scalar, Sequence
from checker.values.positions import Position
from tests.files.read_twice import FILE, as_pyyaml_reads, documents, node, texts, value

AS_TYPED = r"""
017
0o17
1:30
190:20:30
2024-03-11
no
off
y
~
null
1e3
1_000
3R
230.85
0x1F
.5
+5
200A
22 KW
9,600 A
10 kAIC
5'-6"
5 ft 6 in
1-1/4 in
No. 3
2 x 350 kcmil
ft2
in wc
75C
75 °C
120/240 V 1-phase 3-wire
8 kA to 12 kA
9 kA +/- 10 %
solid or switched
GEN1/1>ATS1.alternate
P1~UTIL
(2) sets of 3 AWG
14-32(b)
Suite#200
a:b
http://invented.example/x
-5
=
<<
50%
36"
it's so
a & b
yes
true
1#0
naïve café
⚡ 22 kW
x, y
a [b]
a {b}
why ?
?why
:x
-x
a * b
x|
""".strip().splitlines()


@pytest.mark.parametrize("text", AS_TYPED)
def test_plain_text_stays_as_typed(text: str) -> None:
    read = value(f"key: {text}\n", "key")
    assert read == Scalar(text, Position(FILE, 1, 6), quoted=False, line_text=f"key: {text}")


TEXTS = {
    "mapping in a list": "- kind: meter\n  place: outdoors\n- kind: panelboard\n",
    "list under a key at its column": "loads:\n- a\n- b\nother: c\n",
    "braces over lines": "a: {b: 1,\n  c: [2, 3],\n  d: {}}\n",
    "comma at the end": "a: [b, c,]\nd: {e: f,}\n",
    "comments": "# first\na: 1 # one\n\n  # between\nb:   # below\n  c: 2   # two\n# last\n",
    "comments in brackets": "a: [  # which\n  b,  # note\n  # alone\n  c]\n",
    "comment with a bracket": "a: [b,  # see ]\n  c]\n",
    "folded block": "a: >-\n  one\n  two # not a comment\n\n  three\nb: x\n",
    "literal block": "a: |\n  one\n    two\nb: |+\n  x\n\nc: |2\n   y\n",
    "quoted": "a: \"#3 Cu\"\nb: '#3 Cu'\nc: \"\"\nd: 'it''s'\ne: \"caf\\u00e9 \\\"x\\\"\"\n",
    "quoted keys": "\"a: b\": 1\n'c': 2\n\"<<\": 3\n",
    "quoted over lines": "a: \"one\n  two\"\nb: 'three\n  four'\n",
    "plain over lines": "a: one\n  two\n  three\nb: x\n",
    "pair in brackets": "a: [b: 1, c]\n",
    "numbers as keys": "ways: {1: {overcurrent: 90 A}, 2: spare}\n",
    "document marks": "---\na: 1\n...\n",
    "several documents": "a: 1\n---\nb: 2\n---\n- c\n",
    "windows line ends": "a: 1\r\nb:\r\n  - c\r\n  - d # e\r\nf: |\r\n  g\r\n  h\r\n",
    "byte order mark": "\ufeffa: 1\n",
    "no line end at the end": "a: 1\nb: |\n  c",
    "tab between": "a:\t1\nb: 2\t# c\td\n",
    "tab in the comment of a block": "a: |\t# b\tc\n  d\n",
    "hash inside a word": "a: Suite#200\nb: x#\n",
    "a real comment after a value": "a: Suite 200 #third floor\nb: no #not shown\nc: x #y\nd: 9, #e\n",
    "comma in a list": "a: [2020, 2023]\nb: [2020,2023]\nc: [1, 000]\nd: [12,3456]\n",
    "colon in a word": "a: 12:30\nb: [x:y]\n",
    "question mark at the end": "a: why ?\nb: c\n",
    "root list": "- a\n- [b]\n-\n  c: d\n",
    "root text": "hello\n",
    "empty brackets": "a: []\nb: {}\n",
    "emoji of several characters": "a: 👩‍🔧\n",
}  # fmt: skip


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_other_readers_read_the_same(text: str) -> None:
    assert [texts(document) for document in documents(text)] == as_pyyaml_reads(text)


def test_places_are_those_an_editor_shows() -> None:
    text = "\ufeffcafé: ⚡ x\r\n👩‍🔧: {é: 'ü', b: [c,  d]}\r\nlast:\r\n  - e\r\n".encode()
    assert node(text) == Mapping(
        (
            Entry("café", Position(FILE, 1, 1), Scalar("⚡ x", Position(FILE, 1, 7), line_text="café: ⚡ x")),
            Entry(
                "👩‍🔧",
                Position(FILE, 2, 1),
                Mapping(
                    (
                        Entry("é", Position(FILE, 2, 7), _second_line("ü", 10, quoted=True)),
                        Entry(
                            "b",
                            Position(FILE, 2, 15),
                            Sequence((_second_line("c", 19), _second_line("d", 23)), Position(FILE, 2, 18)),
                        ),
                    ),
                    Position(FILE, 2, 6),
                ),
            ),
            Entry(
                "last",
                Position(FILE, 3, 1),
                Sequence((Scalar("e", Position(FILE, 4, 5), line_text="  - e"),), Position(FILE, 4, 3)),
            ),
        ),
        Position(FILE, 1, 1),
    )


def _second_line(text: str, column: int, *, quoted: bool = False) -> Scalar:
    return Scalar(text, Position(FILE, 2, column), quoted, "👩‍🔧: {é: 'ü', b: [c,  d]}")


@pytest.mark.parametrize(
    ("typed", "quoted", "block"),
    [
        ("x", False, False),
        ("'x'", True, False),
        ('"x"', True, False),
        ("|-\n  x", False, True),
        (">-\n  x", False, True),
    ],
)
def test_how_a_text_was_written(typed: str, quoted: bool, block: bool) -> None:
    read = value(f"a: {typed}\n", "a")
    assert (read.text, read.quoted, read.block) == ("x", quoted, block)


def test_read_text_takes_bytes_and_text() -> None:
    assert read_text(b"a: \xc3\xa9\n", FILE) == read_text("a: é\n", FILE)


def test_read_documents_keeps_the_order() -> None:
    assert [texts(document) for document in read_documents("a: 1\n---\n[b]\n", FILE)] == [{"a": "1"}, ["b"]]


def test_read_file_shows_the_name_it_was_given(tmp_path: Path) -> None:
    path = tmp_path / "real.yaml"
    path.write_bytes(b"a: 1\r\n")
    read = read_file(path, "sheets/x.yaml")
    assert texts(read) == {"a": "1"}
    assert read.at == Position("sheets/x.yaml", 1, 1)
