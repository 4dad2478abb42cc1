"""Site texts that are read and refused: by the reader, and by the JSON Schema wherever a schema can say it."""

import json
import re
from collections import Counter
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from checker.files.folders import data_folder
from checker.files.yaml.strict_yaml import read_file, read_text
from checker.files.yaml.tree import plain
from checker.site.read import read_site
from checker.values.problems import Problem, Unreadable
from tests.site.corpus import ACCEPTED, REFUSED, Refused, Schema
from tests.site.reading import CATALOG, read, refused

SCHEMA = json.loads((data_folder("schemas") / "site.schema.json").read_text(encoding="utf-8"))
LATEST, OLDER = jsonschema.Draft202012Validator(SCHEMA), jsonschema.Draft7Validator(SCHEMA)
FIXTURES = sorted(data_folder("fixtures").glob("*/site.yaml"))
LAYER = re.compile(r"^layer:", re.MULTILINE)


def content(text: str) -> Any:
    """The text as a schema sees it."""
    return plain(read_text(text, "site.yaml"))


@pytest.mark.parametrize("name", ACCEPTED)
def test_read(name: str, tmp_path: Path) -> None:
    assert [str(problem) for problem in refused(ACCEPTED[name], tmp_path)] == []


@pytest.mark.parametrize("name", ACCEPTED)
def test_what_is_read_is_valid(name: str) -> None:
    assert LATEST.is_valid(content(ACCEPTED[name]))
    assert OLDER.is_valid(content(ACCEPTED[name]))


@pytest.mark.parametrize("case", REFUSED, ids=lambda case: case.name)
def test_refused_in_the_words_of_the_trade(case: Refused, tmp_path: Path) -> None:
    problems = refused(case.text, tmp_path)
    assert problems
    told = [problem for problem in problems if case.says in problem.sentence]
    assert told, [str(problem) for problem in problems]
    assert case.help in f"{told[0].remedy} {told[0].near}", str(told[0])
    for problem in problems:
        _is_well_said(problem)


def _is_well_said(problem: Problem) -> None:
    assert problem.sentence.endswith(".")
    assert len(problem.sentence) < 300
    assert problem.remedy or problem.near
    assert problem.at is None or (problem.at.line >= 1 and problem.at.column >= 1)
    said = f"{problem.sentence} {problem.remedy}"
    assert not re.search(r"Traceback|None\b|<class|object at|Fraction\(|Possible\(|KeyError|field\b", said), said


@pytest.mark.parametrize("case", [each for each in REFUSED if each.schema is Schema.SAYS], ids=lambda case: case.name)
def test_refused_by_the_schema_too(case: Refused) -> None:
    assert not LATEST.is_valid(content(case.text))


@pytest.mark.parametrize("case", [each for each in REFUSED if each.schema is Schema.CANNOT], ids=lambda case: case.name)
def test_what_a_schema_cannot_say(case: Refused) -> None:
    """References, arithmetic, files, the words of a conductor or system: one that it can say must not stand here."""
    assert LATEST.is_valid(content(case.text))


@pytest.mark.parametrize(
    "case", [each for each in REFUSED if each.schema is Schema.UNASKED], ids=lambda case: case.name
)
def test_what_is_no_yaml_never_comes_to_the_schema(case: Refused) -> None:
    with pytest.raises(Unreadable):
        read_text(case.text, "site.yaml")


def test_the_corpus_is_as_large_as_it_claims() -> None:
    assert len(REFUSED) >= 150
    assert len(ACCEPTED) >= 50
    names = Counter(case.name for case in REFUSED)
    assert [name for name, times in names.items() if times > 1] == []


def _own_papers(folder: Path) -> dict[str, str]:
    """The papers that layers beside a site declare, by name with their titles."""
    layers = [each for each in folder.glob("*.yaml") if LAYER.search(each.read_text(encoding="utf-8"))]
    files: list[Any] = [plain(read_file(each, each.name)) for each in layers]
    return {name: said["title"] for each in files for name, said in each.get("papers", {}).items()}


@pytest.mark.parametrize("path", FIXTURES, ids=lambda path: path.parent.name)
def test_fixtures_are_read_and_valid(path: Path) -> None:
    read_site(path, CATALOG.with_choices("paper", _own_papers(path.parent)))
    assert LATEST.is_valid(plain(read_file(path, path.name)))


def test_all_problems_are_told_at_once_in_order_of_the_file(tmp_path: Path) -> None:
    text = """\
site: {stage: review}
equipment:
  P1: {kind: panelboard, fed_from: ATS9, rated_curent: 200 A, place: attic, short_circuit_rating: 10}
  Q 1: {kind: boiler}
labels: none
"""
    problems = refused(text, tmp_path)
    assert [(problem.at.line, problem.at.column) for problem in problems if problem.at] == [
        (1, 15), (3, 36), (3, 42), (3, 70), (3, 99), (4, 3), (5, 9),
    ]  # fmt: skip


def test_a_problem_in_two_places_is_told_twice_and_one_in_one_place_once(tmp_path: Path) -> None:
    text = "site: {}\nequipment:\n  P1: {kind: meter, fed_from: X}\n  P2: {kind: meter, fed_from: X}\n"
    assert len(refused(text, tmp_path)) == 2
    sheet = "kind: panelboard\nrated_curent: 200 A\n"
    two = "site: {}\nequipment:\n  P1: {kind: panelboard, use: s.yaml}\n  P2: {kind: panelboard, use: s.yaml}\n"
    (problem,) = refused(two, tmp_path, s=sheet)
    assert str(problem.at) == "s.yaml:2:1"


def test_tens_of_thousands_of_mistakes_are_told_in_good_time(tmp_path: Path) -> None:
    wrong = "".join(f"  P{number}: {{kind: boiler, fed_from: X{number}}}\n" for number in range(9_000))
    problems = refused(f"site: {{}}\nequipment:\n{wrong}", tmp_path)
    assert len(problems) == 301
    assert "more problems than these 300" in problems[-1].sentence


def test_a_piece_with_thousands_of_lines_is_told_once(tmp_path: Path) -> None:
    many = ", ".join(f"fact_{number}: 1" for number in range(5_000))
    (problem,) = refused(f"site: {{}}\nequipment: {{P1: {{kind: meter, {many}}}}}\n", tmp_path)
    assert "More than 300 lines" in problem.sentence


def test_a_large_drawing_is_read_in_good_time(tmp_path: Path) -> None:
    chain = "".join(f"  P{number}: {{kind: panelboard, fed_from: P{number - 1}}}\n" for number in range(1, 3_000))
    text = f"site: {{}}\nequipment:\n  P0: {{kind: panelboard, fed_from: P2999}}\n{chain}"
    site = read(text, tmp_path)
    assert len(site.pieces) == 3_000
    (ring,) = site.notices
    assert len(ring.touches) == 3_000
