"""Whatever stands in a pack: it is read, or refused in our own words; and the published schema accepts what the
reader does.
"""

from __future__ import annotations

import copy
import random
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from checker.catalog.load import shipped_catalog
from checker.files.yaml.strict_yaml import read_file, read_text
from checker.files.yaml.tree import plain
from checker.rules.cases.read import read_cases
from checker.rules.profile import read_profile
from checker.rules.schemas.published import pack_schema
from checker.values.problems import Problem, Unreadable
from tests.rules.packs import DATA, EXAMPLE, SMALL, read

WORDS = [
    "all", "any", "not", "some", "every", "none", "count", "part", "in",
    "any_way", "is", "one_of", "at_least", "between", "includes", "known", "present", "before",
    "if_absent", "if_empty", "of", "where", "that", "fact", "parameter", "largest_of", "scaled",
    "next_size", "table", "keys", "skip_absent", "neutral", "alternate.kind", "subject.kind", "labels",
    "service_marking",     "a.b.c.d", "same as 2020", "no_limit", "2020", "", "{", "100 A", "id", "if",
    "because", "requires", "readings", "look", "when", "sections", "cites", "checked", "rows",
    "columns", "values", "value",
]  # fmt: skip
VALUES: list[Any] = [*WORDS, True, False, 7, [], {}, [[]], [{}], {"is": True}, ["2020"], {"2020": "1"}]


def _places(node: Any) -> list[tuple[Any, Any]]:
    """Every place in a tree at which something can be put: the container and the key."""
    found: list[tuple[Any, Any]] = []
    items = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, value in items:
        found.append((node, key))
        found.extend(_places(value))
    return found


def _mutated(tree: Any, seed: int, count: int) -> Any:
    source = random.Random(seed)
    tree = copy.deepcopy(tree)
    for _ in range(count):
        places = _places(tree)
        container, key = source.choice(places)
        way = source.randrange(4)
        if way == 0:
            container[key] = copy.deepcopy(source.choice(VALUES))
        elif way == 1 and isinstance(container, dict):
            container[source.choice(WORDS)] = container.pop(key)
        elif way == 2 and len(container) > 1:
            del container[key]
        else:
            other, other_key = source.choice(places)
            container[key] = copy.deepcopy(other[other_key]) if other_key in _keys(other) else 7
    return tree


def _keys(container: Any) -> Any:
    return container if isinstance(container, dict) else range(len(container))


@cache
def _schema() -> Draft202012Validator:
    return Draft202012Validator(pack_schema(shipped_catalog()))


@cache
def _small() -> Any:
    return plain(read_text(SMALL, "pack.yaml"))


def _whole_example() -> Any:
    """The example in one file."""
    whole: dict[str, Any] = {}
    for name in ("pack", "switches", "sets", "numbers"):
        for key, value in dict(plain(read_file(EXAMPLE / f"{name}.yaml", name))).items():  # type: ignore[arg-type]
            if isinstance(value, dict) and key in whole:
                whole[key].update(value)
            else:
                whole[key] = value
    return whole


EXAMPLE_TREE = _whole_example()


def _problems(read_it: Callable[[], object]) -> tuple[Problem, ...] | None:
    """What is told, of which there is always something, or None where it was read."""
    try:
        read_it()
    except Unreadable as error:
        return error.problems or (Problem(""),)
    return None


def _is_read(folder: Path, tree: Any) -> bool:
    (folder / "pack.yaml").write_text(yaml.safe_dump(tree, sort_keys=False, width=1000), encoding="utf-8")
    return _problems(lambda: read(folder)) is None


@pytest.mark.parametrize("tree", [_small(), EXAMPLE_TREE], ids=["small", "example"])
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(seed=st.integers(0, 2**32), count=st.integers(1, 3))
def test_changed_pack_is_read_or_refused(tree: Any, seed: int, count: int, tmp_path: Path) -> None:
    changed = _mutated(tree, seed, count)
    if _is_read(tmp_path, changed):
        found = plain(read_file(tmp_path / "pack.yaml", "pack.yaml"))
        assert _schema().is_valid(found), [error.message for error in _schema().iter_errors(found)]


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(seed=st.integers(0, 2**32), count=st.integers(1, 3), name=st.sampled_from(["switches", "sets"]))
def test_changed_cases_are_read_or_refused(seed: int, count: int, name: str, tmp_path: Path) -> None:
    for path in EXAMPLE.glob("*.yaml"):
        (tmp_path / path.name).write_text(path.read_text(encoding="utf-8"), encoding="utf-8")
    tree = plain(read_file(EXAMPLE / f"{name}.cases.yaml", name))
    changed = yaml.safe_dump(_mutated(tree, seed, count), sort_keys=False, width=1000)
    (tmp_path / f"{name}.cases.yaml").write_text(changed, encoding="utf-8")
    problems = _problems(lambda: read_cases(read(tmp_path), shipped_catalog()))
    assert problems is None or all(problem.sentence for problem in problems)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(seed=st.integers(0, 2**32), count=st.integers(1, 3))
def test_changed_profile_is_read_or_refused(seed: int, count: int, tmp_path: Path) -> None:
    tree = plain(read_file(DATA / "profile.yaml", "profile.yaml"))
    changed = yaml.safe_dump(_mutated(tree, seed, count), sort_keys=False)
    (tmp_path / "profile.yaml").write_text(changed, encoding="utf-8")
    problems = _problems(lambda: read_profile(tmp_path / "profile.yaml"))
    assert problems is None or all(problem.sentence for problem in problems)
