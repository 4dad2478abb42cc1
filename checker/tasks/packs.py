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
        inside = packs_inside(path)
        if not inside:
            raise Unreadable(
                [Problem(f"There is no pack in {path}.", remedy=f"A pack is a folder with a {HEAD_FILE}.")]
            )
        yield from inside


def packs_inside(path: Path) -> tuple[Path, ...]:
    """The pack folders among a path: the folder itself, or every such folder inside it; none where there is none."""
    if (path / HEAD_FILE).is_file():
        return (path,)
    return tuple(sorted(each.parent for each in path.glob(f"*/{HEAD_FILE}")))


def packs_beside(site_file: Path, catalog: Catalog, cache: Cache, shipped: Iterable[Pack]) -> tuple[Pack, ...]:
    """The packs in folders beside a site file, which are in force for it; one that takes the id of a shipped pack is
    refused.
    """
    packs = _read(sorted(head.parent for head in site_file.parent.glob(f"*/{HEAD_FILE}")), catalog, cache)
    taken = {pack.id for pack in shipped}
    twice = [pack.id for pack in packs if pack.id in taken]
    if twice:
        raise Unreadable(
            Problem(
                f"The pack {name} beside the site has the id of a pack of the program.",
                remedy="Give it an id of its own.",
            )
            for name in twice
        )
    return packs


def read_packs(folder: Path, catalog: Catalog, cache: Cache) -> tuple[Pack, ...]:
    """Every pack inside a folder; raises Unreadable with the problems of all of them."""
    return _read(pack_folders([folder]), catalog, cache)


def _read(folders: Iterable[Path], catalog: Catalog, cache: Cache) -> tuple[Pack, ...]:
    compiled = CompiledRules(cache)
    packs: list[Pack] = []
    found: list[Problem] = []
    for each in folders:
        try:
            packs.append(compiled.pack(each, catalog))
        except Unreadable as error:
            found += error.problems
    if found:
        raise Unreadable(found)
    return tuple(packs)
