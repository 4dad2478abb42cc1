"""The packs in one folder or several."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from checker.catalog.model import Catalog
from checker.files.cache import Cache
from checker.rules.compiled import CompiledRules
from checker.rules.model import Pack
from checker.rules.pack_paths import HEAD_FILE
from checker.values.problems import Problem, Unreadable


def pack_folders(paths: Iterable[Path]) -> Iterator[Path]:
    """Each pack folder among these paths: a folder with a ``pack.yaml``, or every such folder inside one."""
    for path in paths:
        if (path / HEAD_FILE).is_file():
            yield path
            continue
        inside = sorted(each.parent for each in path.glob(f"*/{HEAD_FILE}"))
        if not inside:
            raise Unreadable([Problem(f"There is no pack in {path}.", remedy=f"A pack is a folder with a {HEAD_FILE}.")])
        yield from inside


def read_packs(folder: Path, catalog: Catalog, cache: Cache) -> tuple[Pack, ...]:
    """Every pack inside a folder; raises Unreadable with the problems of all of them."""
    compiled = CompiledRules(cache)
    packs: list[Pack] = []
    found: list[Problem] = []
    for each in pack_folders([folder]):
        try:
            packs.append(compiled.pack(each, catalog))
        except Unreadable as error:
            found += error.problems
    if found:
        raise Unreadable(found)
    return tuple(packs)
