"""No number that a code sets stands in the program: the numbers there are few, named, and say what they are."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.project.project_tree import ROOT

ROOMS = ("facts", "findings", "tasks")
"""Where facts are worked out and judged: a limit of a code would do its harm here."""

ORDINARY = frozenset({0, 1, 2, 5, 10})
"""Counting, halves, and the primes of decimals."""

MODULES = sorted(path for room in ROOMS for path in (ROOT / "checker" / room).glob("**/*.py"))


def unnamed_numbers(source: str) -> Iterator[str]:
    """Every number of a module that is neither ordinary nor part of a constant with a name in capitals."""
    tree = ast.parse(source)
    named = {id(each) for node in tree.body if _is_constant(node) for each in ast.walk(node)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and id(node) not in named and _is_telling(node.value):
            yield f"line {node.lineno}: {node.value!r}"


def _is_telling(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and value not in ORDINARY


def _is_constant(node: ast.stmt) -> bool:
    targets = node.targets if isinstance(node, ast.Assign) else [node.target] if isinstance(node, ast.AnnAssign) else []
    names = [each.id for target in targets for each in ast.walk(target) if isinstance(each, ast.Name)]
    return bool(names) and all(name.isupper() for name in names)


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_numbers_have_names(path: Path) -> None:
    assert list(unnamed_numbers(path.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("def f(x):\n    return x >= 1000", ["line 2: 1000"]),
        ("limit = 1.25", ["line 1: 1.25"]),
        ("def f(x, most=150):\n    return x", ["line 1: 150"]),
        ("BRANCH_LIMIT = 64", []),
        ("LOW, HIGH = 3, 4", []),
        ("def f(x):\n    return x[1] / 2", []),
        ("flag = True", []),
    ],
)
def test_what_a_number_is(source: str, found: list[str]) -> None:
    assert list(unnamed_numbers(source)) == found
