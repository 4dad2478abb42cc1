"""Values worked out from files, read back from the cache while neither the files nor the program have changed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TypeVar

from checker.files.cache import Cache, digest
from checker.files.frozen_json import Broken, FrozenCodec
from checker.files.yaml.strict_yaml import read_bytes
from checker.values.problems import Unreadable
from checker.version import __version__

_Value = TypeVar("_Value")
_PACKAGE = Path(__file__).parent.parent


@dataclass(frozen=True, slots=True)
class Source:
    """What a value is worked out from: files, each with the name under which it is shown, and further texts."""

    files: tuple[tuple[Path, str], ...]
    further: tuple[str, ...] = ()

    @property
    def key(self) -> str | None:
        """A digest of all that; None where a file cannot be read."""
        try:
            contents = [(shown, read_bytes(path, shown)) for path, shown in self.files]
        except Unreadable:
            return None
        return digest(*self.further, *(part for each in contents for part in each))


@dataclass(frozen=True, slots=True)
class Compiler:
    """Keeps values of some types in a cache. ``rooms`` are the parts of the program that work them out."""

    cache: Cache
    codec: FrozenCodec
    rooms: tuple[str, ...]

    def value(
        self, kind: type[_Value], place: str, find_source: Callable[[], Source | None], work: Callable[[], _Value]
    ) -> _Value:
        """The value that was kept for this place, if this program worked it out from what is there now; otherwise
        worked out and kept. Raises what ``work`` raises.
        """
        if self.cache.folder is None:
            return work()
        name = f"{kind.__name__.lower()}-{digest(place)}"
        key = self._key(find_source())
        kept = None if key is None else self._kept(kind, name, key)
        if kept is not None:
            return kept
        value = work()
        # A file may have changed while it was being read.
        if key is not None and key == self._key(find_source()):
            self.cache.put(name, key, self.codec.written(value))
        return value

    def _key(self, source: Source | None) -> str | None:
        own = None if source is None else source.key
        return None if own is None else digest(own, _program(self.rooms))

    def _kept(self, kind: type[_Value], name: str, key: str) -> _Value | None:
        text = self.cache.get(name, key)
        if text is None:
            return None
        try:
            value = self.codec.read(text)
        except Broken:
            return None
        return value if isinstance(value, kind) else None


@cache
def _program(rooms: tuple[str, ...]) -> str:
    """What tells this program from another: its version, and for whoever changes it between versions its files."""
    files = sorted(path for room in rooms for path in (_PACKAGE / room).rglob("*.py"))
    states = ((path, path.stat()) for path in files)
    lines = (f"{path.relative_to(_PACKAGE)} {state.st_size} {state.st_mtime_ns}" for path, state in states)
    return digest(__version__, *lines)
