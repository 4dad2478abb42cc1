"""The packs in one folder or several."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from checker.catalog.model import Catalog
from checker.files.cache import Cache
from checker.rules.compiled import CompiledRules
from checker.rules.model.pack import Pack
from checker.rules.reading.pack_paths import HEAD_FILE
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
    return packs_in((site_file.parent,), catalog, cache, shipped)


def packs_in(folders: Iterable[Path], catalog: Catalog, cache: Cache, shipped: Iterable[Pack]) -> tuple[Pack, ...]:
    """The same of several folders, a folder that is named twice read once: that of a site, and that of its town."""
    places = {each.resolve(): each for each in reversed(tuple(folders))}
    heads = (head for folder in places.values() for head in folder.glob(f"*/{HEAD_FILE}"))
    packs = _read(sorted(head.parent for head in heads), catalog, cache)
    _refuse_two_of_one_id(packs)
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


def _refuse_two_of_one_id(packs: Sequence[Pack]) -> None:
    ids = [pack.id for pack in packs]
    twice = sorted({each for each in ids if ids.count(each) > 1})
    if twice:
        raise Unreadable(
            Problem(
                f"Two packs that count here have the id {name}: one beside the site, one beside its town.",
                remedy="Take one of them away, or give it an id of its own.",
            )
            for name in twice
        )


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
