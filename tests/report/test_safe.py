"""Texts of strangers steer nothing: no terminal, no page, no direction of writing."""

from __future__ import annotations

import json
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.report.safe import escaped, harmless
from tests.report.generated import NASTY

STEERING = {"Cc", "Cf", "Cs", "Co", "Zl", "Zp"}
any_text = st.one_of(st.sampled_from(NASTY), st.text(st.characters(exclude_categories=[])))


def steers(text: str) -> bool:
    return any(unicodedata.category(char) in STEERING for char in text if char != "\n")


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("ATS1", "ATS1"),
        ("café, 5 ft × 3 ft, 1½ in, “north” – 90 °C ■", "café, 5 ft × 3 ft, 1½ in, “north” – 90 °C ■"),
        ("two\nlines", "two\nlines"),
        ("a\ttab", "a?tab"),
        ("\x1b[2Jgone", "?[2Jgone"),
        ("\x9b31mred", "?31mred"),
        ("\x07\x00\x7f\r", "????"),
        ("a\u202eb\u2066c\u200fd\ufeff", "a?b?c?d?"),
        ("line\u2028separator\u2029", "line?separator?"),
        ("half \ud83d", "half ?"),
        ("<b>bold</b> & co", "<b>bold</b> & co"),
    ],
)
def test_harmless(text: str, shown: str) -> None:
    assert harmless(text) == shown


@given(any_text)
def test_what_is_printed_steers_nothing_and_keeps_its_length(text: str) -> None:
    shown = harmless(text)
    assert not steers(shown)
    assert len(shown) == len(text)
    assert harmless(shown) == shown


@given(any_text)
def test_what_is_harmless_already_stays(text: str) -> None:
    assert steers(text) or harmless(text) == text


@given(any_text)
def test_json_holds_the_same_and_steers_nothing(text: str) -> None:
    written = escaped(json.dumps({text: [text]}, ensure_ascii=False))
    assert not steers(written)
    assert "<" not in written
    written.encode("utf-8")
    assert json.loads(written) == {_whole(text): [_whole(text)]}


def _whole(text: str) -> str:
    """Half of a pair is no text; the sign for what could not be read stands for it."""
    return "".join("\ufffd" if unicodedata.category(char) == "Cs" else char for char in text)


def test_json_stays_as_it_is_where_nothing_steers() -> None:
    text = '{"id": "M1>ATS1.normal", "says": "5 ft & more, café ■"}\n'
    assert escaped(text) == text


def test_json_signs_outside_the_first_plane_are_two_units() -> None:
    assert escaped('"\U000e0001"') == '"\\udb40\\udc01"'
