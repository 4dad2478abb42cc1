"""One value changed in a YAML text, every other character as it was."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.files.editing import CannotEdit, at, tree_of, with_complete_list, with_item, with_value
from checker.files.yaml.placed import Placed, PlacedMapping, PlacedScalar, PlacedSequence
from checker.files.yaml.strict_yaml import read_text
from tests.project.project_tree import ROOT

SITES = tuple(sorted((ROOT / "fixtures").glob("*/site.yaml")))

TEXT = b"""\
# The job.
site: {name: Tern Cove}   # as on the permit

equipment:
  GEN1: {kind: generator, ways: {1: {overcurrent: 60 A}}}   # by the fence
  P1:
    kind: panelboard   # in the basement
    rated_current: unknown  # ask

    place: basement
  # nothing stands here
loads:
  - {name: pump}
"""


@pytest.mark.parametrize(
    ("path", "value", "old", "new"),
    [
        (["equipment", "P1", "rated_current"], "200 A", b"unknown  # ask", b"200 A  # ask"),
        (["equipment", "P1", "status"], "new", b"    place: basement\n", b"    place: basement\n    status: new\n"),
        (["equipment", "GEN1", "fuel"], "diesel", b"60 A}}}", b"60 A}}, fuel: diesel}"),
        (["equipment", "GEN1", "ways", "2", "overcurrent"], "20 A", b"60 A}}}", b"60 A}, 2: {overcurrent: 20 A}}}"),
        (["site", "name"], '"a: b, c"', b"{name: Tern Cove}", b'{name: "a: b, c"}'),
        (["loads", 0, "name"], "well", b"{name: pump}", b"{name: well}"),
        (["loads", 0, "at"], "P1", b"{name: pump}", b"{name: pump, at: P1}"),
        (["runs", "A>B", "length"], "5 ft", b"{name: pump}\n", b"{name: pump}\nruns:\n  A>B: {length: 5 ft}\n"),
    ],
)
def test_a_value_goes_where_a_person_would_write_it(path: list[str | int], value: str, old: bytes, new: bytes) -> None:
    assert TEXT.count(old) == 1
    assert with_value(TEXT, path, value) == TEXT.replace(old, new)


def test_line_ends_and_the_mark_at_the_beginning_stay() -> None:
    typed = b"\xef\xbb\xbf" + TEXT.replace(b"\n", b"\r\n")
    after = with_value(typed, ["equipment", "P1", "status"], "new")
    place = b"    place: basement\r\n"
    assert after == typed.replace(place, place + b"    status: new\r\n")


def test_signs_of_two_bytes_and_mixed_line_ends_stay() -> None:
    typed = "site: {name: Überweg}\r\n# größer\nequipment:\r\n  Ü1: {kind: meter}".encode()
    after = with_value(typed, ["equipment", "Ü1", "place"], "outdoors")
    assert after == typed.replace(b"kind: meter", b"kind: meter, place: outdoors")


def test_a_file_without_a_line_end_at_its_end_gets_a_new_line() -> None:
    assert with_value(b"a:\n  b: c", ["a", "d"], "e") == b"a:\n  b: c\n  d: e"


def test_a_line_in_braces_that_grows_too_long_goes_on_below() -> None:
    typed = b"a:\n  b: {" + b"name: " + b"x" * 150 + b"}\n"
    assert with_value(typed, ["a", "b", "d"], "e").endswith(b"x,\n      d: e}\n")


@pytest.mark.parametrize(
    ("typed", "after"),
    [
        (b"site: {name: a}\n", b"site: {name: a, complete: [stop]}\n"),
        (b"site: {complete: []}\n", b"site: {complete: [stop]}\n"),
        (b"site: {complete: [inlet]} # all\n", b"site: {complete: [inlet, stop]} # all\n"),
        (b"site:\n  complete:\n    - inlet # one\n", b"site:\n  complete:\n    - inlet # one\n    - stop\n"),
    ],
)
def test_an_item_goes_to_the_end_of_its_list(typed: bytes, after: bytes) -> None:
    assert with_item(typed, ["site", "complete"], "stop") == after


@pytest.mark.parametrize(
    ("typed", "after"),
    [
        (b"a: b\n", b"a: b\nloads: {complete: yes, list: []}\n"),
        (b"loads: [{name: a}] # two\n", b"loads: {complete: yes, list: [{name: a}]} # two\n"),
        (b"loads:\n  - {name: a} # one\n", b"loads:\n  complete: yes\n  list:\n  - {name: a} # one\n"),
        (b"loads: {complete: no, list: []}\n", b"loads: {complete: yes, list: []}\n"),
        (b"loads:\n  list:\n    - {name: a}\n", b"loads:\n  list:\n    - {name: a}\n  complete: yes\n"),
    ],
)
def test_word_that_a_list_is_complete_keeps_the_list(typed: bytes, after: bytes) -> None:
    assert with_complete_list(typed, ["loads"]) == after


@pytest.mark.parametrize(
    ("typed", "path"),
    [
        (b"a: b\n", ["a", "c"]),
        (b"a: [b]\n", ["a", 1]),
        (b"a: |\n  long\n", ["b"]),
        (b"a:\n  b: c\n", ["a"]),
        (b"a: {b: c}\n", ["a", "x: y"]),
    ],
)
def test_what_would_change_more_than_one_value_is_refused(typed: bytes, path: list[str | int]) -> None:
    with pytest.raises(CannotEdit):
        with_value(typed, path, "d")


def test_a_value_that_is_no_single_value_is_refused() -> None:
    with pytest.raises((CannotEdit, ValueError)):
        with_value(b"a: {b: c}\n", ["a", "d"], "e, f: g")


# --- on any site -----------------------------------------------------------------------------------------------------


def _mappings(node: Placed, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    if isinstance(node, PlacedMapping):
        yield path
        for entry in node.entries:
            yield from _mappings(entry.value, (*path, entry.key))
    elif isinstance(node, PlacedSequence):
        for place, item in enumerate(node.items):
            yield from _mappings(item, (*path, place))


@given(st.sampled_from(SITES), st.data())
def test_a_new_key_anywhere_only_adds_characters(site: Path, data: st.DataObject) -> None:
    typed = site.read_bytes()
    path = data.draw(st.sampled_from(tuple(_mappings(tree_of(typed)))))
    after = with_value(typed, [*path, "new_key"], "a value")
    read_text(after, "site.yaml")
    before = next(
        (place for place, pair in enumerate(zip(typed, after, strict=False)) if len({*pair}) == 2), len(typed)
    )
    assert after.endswith(typed[before:])
    found = at(tree_of(after), [*path, "new_key"])
    assert isinstance(found, PlacedScalar)
    assert found.text == "a value"
