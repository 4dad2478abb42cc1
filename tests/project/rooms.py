"""What the source of the package says about who prints and what it imports."""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

# The streams of a process, and what writes to them by itself.
STREAMS = frozenset({"stdout", "stderr", "stdin", "__stdout__", "__stderr__", "__stdin__"})
BUILT_IN = frozenset({"print", "input", "breakpoint"})
TERMINAL_LIBRARIES = frozenset({"typer", "click", "rich", "logging", "warnings", "getpass", "curses"})


def modules(package: Path) -> Iterator[Path]:
    """The source files of `package`, in order of their path."""
    return iter(sorted(package.rglob("*.py")))


def speaking(source: str) -> list[str]:
    """Where `source` speaks to a person or has the means to: `line: what`, in order of the lines."""
    found = [(getattr(node, "lineno", 0), what) for node in ast.walk(ast.parse(source)) for what in _speaks(node)]
    return [f"{line}: {what}" for line, what in sorted(found)]


def imported(source: str) -> set[str]:
    """Top-level names of the modules that `source` imports, wherever in it."""
    return {name.partition(".")[0] for node in ast.walk(ast.parse(source)) for name in _imports(node)}


def from_elsewhere(names: set[str]) -> set[str]:
    """Those of `names` that are neither ours nor Python's own."""
    return names - {"checker"} - set(sys.stdlib_module_names)


def _speaks(node: ast.AST) -> Iterator[str]:
    match node:
        case ast.Name(id=name, ctx=ast.Load()) if name in BUILT_IN:
            yield name
        case ast.Attribute(value=ast.Name(id="sys"), attr=name) if name in STREAMS:
            yield f"sys.{name}"
        case ast.ImportFrom(module="sys", names=names):
            yield from (f"sys.{alias.name}" for alias in names if alias.name in STREAMS)
        case _:
            yield from (name for name in _imports(node) if name.partition(".")[0] in TERMINAL_LIBRARIES)


def _imports(node: ast.AST) -> Iterator[str]:
    match node:
        case ast.Import(names=names):
            yield from (alias.name for alias in names)
        case ast.ImportFrom(module=str(module), level=0):
            yield module
        case _:
            pass
