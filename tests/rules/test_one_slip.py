"""One letter that is missing in a file is told as one mistake, whatever follows from it."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.report.folded import folded
from checker.rules.reading.pack import read_pack
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable

DATA = Path(__file__).parent / "data"
FILES = ("numbers.yaml", "sets.yaml", "switches.yaml")
KEY = re.compile(r"(?<![\w\"-])([a-z_]{4,}):(?= |\n)")
NAME = re.compile(r"^  ([a-z][a-z-]{5,}): ?", re.MULTILINE)


def _slips(text: str) -> Iterator[tuple[int, str]]:
    """Each word that stands before a colon, once, with its place; a letter in its middle is left out."""
    seen: set[str] = set()
    for pattern in (KEY, NAME):
        for match in pattern.finditer(text):
            if match[1] not in seen:
                seen.add(match[1])
                yield match.start(1) + len(match[1]) // 2, match[1]


SLIPS = [
    (name, at, word) for name in FILES for at, word in _slips((DATA / "example" / name).read_text(encoding="utf-8"))
]


def _problems(folder: Path) -> tuple[Problem, ...]:
    try:
        read_pack(folder, shipped_catalog(), folder.parent / "shared")
    except Unreadable as error:
        return error.problems
    return ()


@pytest.fixture(scope="module")
def pack(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("slips") / "data"
    shutil.copytree(DATA, folder)
    assert _problems(folder / "example") == ()
    return folder / "example"


def test_slips_are_of_many_words() -> None:
    assert {"parameters", "tables", "values", "requires", "every", "some", "rules", "keys"} <= {
        each[2] for each in SLIPS
    }


@pytest.mark.parametrize(("name", "at"), [each[:2] for each in SLIPS], ids=[f"{each[0]} {each[2]}" for each in SLIPS])
def test_one_slip_is_one_mistake(name: str, at: int, pack: Path) -> None:
    text = (pack / name).read_text(encoding="utf-8")
    (pack / name).write_text(text[:at] + text[at + 1 :], encoding="utf-8")
    try:
        found = folded(_problems(pack))
    finally:
        (pack / name).write_text(text, encoding="utf-8")
    assert len(found) <= 1, [str(each.problem) for each in found]


def test_same_sentence_at_several_places_is_told_once_with_the_others() -> None:
    said = "There is no parameter `x` in this pack."
    places = [Position("a.yaml", line, 3) for line in range(1, 9)]
    elsewhere = Problem(said, Position("b.yaml", 1, 1))
    other = Problem("Something else.", Position("a.yaml", 4, 4))
    found = folded([*(Problem(said, at) for at in places), other, elsewhere])
    assert [each.problem.at for each in found] == [places[0], other.at, elsewhere.at]
    assert found[0].also == tuple(places[1:])
    assert found[0].also_words == (
        "The same at a.yaml:2:3, a.yaml:3:3, a.yaml:4:3, a.yaml:5:3, a.yaml:6:3 and at 2 more places."
    )
    assert found[1].also_words == ""
