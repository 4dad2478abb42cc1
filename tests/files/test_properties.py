"""Whatever is typed: read as other readers do, or refused in our words; never anything else."""

import re
from contextlib import suppress
from typing import Any

import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.files.forbidden import FORBIDDEN
from checker.files.limits import USUAL_LIMITS
from checker.files.yaml.events import PythonEvents, fastest
from checker.files.yaml.reading import parsed
from checker.values.problems import Problem, Unreadable
from tests.files.read_twice import FILE, as_pyyaml_reads, node, texts

# Every character a text may hold: hidden ones are refused.
VISIBLE = st.characters(exclude_categories=["Cc", "Cs"], exclude_characters="\u2028\u2029").filter(
    lambda char: not FORBIDDEN.match(char)
)
TEXT = st.text(VISIBLE, max_size=30)
KEY = st.text(VISIBLE, min_size=1, max_size=20).filter(lambda key: bool(key.strip()))
DATA = st.recursive(
    TEXT,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEY, inner, max_size=4),
    max_leaves=20,
)

PIECES = [
    "a", "kind", "9,600 A", "12", "é", "😀", "#", "#3", " # c", ": ", ":", "- ", "-", "\n", "\n", "\n  ", "\n    ", " ",
    "[", "]", "{", "}", ", ", ",", '"', "'", "|", ">-", "\n", "&x", "*x", "!t", "%", "@", "`", "? ", "?", "\\", "\t",
    "---\n", "...\n", "\r\n", "<<", "key: ", "x: y\n", "- z\n", "=", '"q"', "'s'", "\x07", "\u2028", "\ufeff", "\x85",
    "\r",
]  # fmt: skip
TYPED = st.lists(st.sampled_from(PIECES), max_size=30).map("".join) | st.text(max_size=60)

# Words of PyYAML's messages that ours do not use.
NOT_OURS = re.compile(r"expected|found|token|while |scalar|stream|indicator|directive|anchor|alias|mapping")


@given(
    data=DATA, unicode=st.booleans(), flow=st.sampled_from([True, False, None]), width=st.sampled_from([20, 80, 10_000])
)
@settings(max_examples=200, deadline=None)
def test_quoted_texts_come_back(data: Any, unicode: bool, flow: bool | None, width: int) -> None:
    dumped = yaml.safe_dump(data, default_style='"', allow_unicode=unicode, default_flow_style=flow, width=width)
    assert texts(node(dumped)) == data


@given(typed=TYPED)
@settings(max_examples=800, deadline=None)
def test_any_text_is_read_as_others_read_it_or_refused(typed: str) -> None:
    told = _read_or_refused(typed)
    assert told is None or _is_well_told(told, typed)


@given(content=st.binary(max_size=60))
@settings(max_examples=200, deadline=None)
def test_any_bytes_are_read_or_refused(content: bytes) -> None:
    with suppress(Unreadable):
        parsed(content, FILE, USUAL_LIMITS, single=True)


def _read_or_refused(typed: str) -> tuple[Problem, ...] | None:
    """The problems, or None where the text was read; by libyaml as by its twin."""
    try:
        read = [texts(document) for document in parsed(typed, FILE, USUAL_LIMITS, single=False, events=fastest())]
    except Unreadable as unreadable:
        return unreadable.problems
    # PyYAML's own scanner takes no tab between texts; libyaml does.
    assert read == as_pyyaml_reads(typed.replace("\t", " "))
    assert read == [
        texts(document) for document in parsed(typed, FILE, USUAL_LIMITS, single=False, events=PythonEvents)
    ]
    return None


def _is_well_told(told: tuple[Problem, ...], typed: str) -> bool:
    lines = typed.removeprefix("\ufeff").replace("\r\n", "\n").split("\n")
    for problem in told:
        assert problem.at is not None
        assert 1 <= problem.at.line <= len(lines)
        assert 1 <= problem.at.column <= len(lines[problem.at.line - 1]) + 1
        assert problem.sentence.endswith(".")
        assert problem.remedy
        # What stands between ` ` and in quotes was typed.
        assert not NOT_OURS.search(re.sub(r"`.*`|\".*\"|'.*'", "", f"{problem.sentence} {problem.remedy}"))
        assert "\ue000" not in str(problem) or "\ue000" in typed
        assert not FORBIDDEN.search(str(problem))
    return bool(told)
