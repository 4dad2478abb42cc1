"""The folder in which the program keeps what it has worked out from its files, so that it need not do so again.

It is a help and never a source: what is not there, not ours, or not what was kept is worked out again, and nobody is
told.
"""

from __future__ import annotations

import hashlib
import os
import stat
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

SWITCH = "STANDBY_CHECKER_NO_CACHE"
"""Set to anything, it switches the cache off."""

_HOME = "XDG_CACHE_HOME"
_NAME = "standby-checker"
_ENDING = ".kept"
_MOST_BYTES = 50_000_000
_MOST_ENTRIES = 200
_OWNER_ONLY = 0o700
_OTHERS_MAY_WRITE = stat.S_IWGRP | stat.S_IWOTH
# A link or a device in the place of an entry is not opened; systems without these flags have neither.
_READ = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
_WRITE = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)


@dataclass(frozen=True, slots=True)
class Cache:
    """Texts by name, each with the key under which it was kept. Without a folder it keeps nothing."""

    folder: Path | None

    def get(self, name: str, key: str) -> str | None:
        """The text that was kept under this name, if it was kept under this key and is whole."""
        if self.folder is None or not _is_ours(self.folder):
            return None
        content = _content(self.folder / f"{name}{_ENDING}")
        head, _, text = (content or b"").partition(b"\n")
        if content is None or head != _head(key, text):
            return None
        return text.decode("utf-8")

    def put(self, name: str, key: str, text: str) -> None:
        """Keep a text in the place of what was kept under this name; nothing happens where that cannot be done."""
        if self.folder is None:
            return
        with suppress(OSError):
            self.folder.mkdir(_OWNER_ONLY, parents=True, exist_ok=True)
            if _is_ours(self.folder):
                content = text.encode("utf-8")
                _write(self.folder / f"{name}{_ENDING}", _head(key, content) + b"\n" + content)
                _drop_oldest(self.folder)


NO_CACHE = Cache(None)


def user_cache(environment: Mapping[str, str] = os.environ) -> Cache:
    """The cache of the person who runs the program: ``standby-checker`` in ``XDG_CACHE_HOME``, else in ``.cache`` at
    home.

    A relative ``XDG_CACHE_HOME`` is passed over, as the XDG Base Directory Specification asks.
    """
    if environment.get(SWITCH):
        return NO_CACHE
    named = Path(environment.get(_HOME, ""))
    if named.is_absolute():
        return Cache(named / _NAME)
    try:
        return Cache(Path.home() / ".cache" / _NAME)
    except RuntimeError:  # nobody has a home here
        return NO_CACHE


def digest(*parts: str | bytes) -> str:
    """One digest of several texts: it changes with any of them and with where one ends and the next begins."""
    whole = hashlib.sha256()
    for part in parts:
        content = part.encode("utf-8", "surrogateescape") if isinstance(part, str) else part
        whole.update(b"%d:" % len(content) + content)
    return whole.hexdigest()


def _head(key: str, content: bytes) -> bytes:
    """The first line of an entry: what it was made from, and its own digest, by which half an entry is found out."""
    return f"{key} {hashlib.sha256(content).hexdigest()}".encode()


def _is_ours(folder: Path) -> bool:
    """Whether only the person who runs the program can have put something there."""
    try:
        found = folder.lstat()
    except OSError:
        return False
    return stat.S_ISDIR(found.st_mode) and _is_private(found)


def _is_private(found: os.stat_result) -> bool:
    if not hasattr(os, "geteuid"):  # a system that says this in other words
        return True
    return found.st_uid == os.geteuid() and not found.st_mode & _OTHERS_MAY_WRITE


def _content(path: Path) -> bytes | None:
    """The bytes of an entry; None where there is none, where it is not ours, or is larger than any that is kept."""
    try:
        with os.fdopen(os.open(path, _READ), "rb") as stream:
            found = os.fstat(stream.fileno())
            if not stat.S_ISREG(found.st_mode) or not _is_private(found) or found.st_size > _MOST_BYTES:
                return None
            return stream.read(_MOST_BYTES + 1)
    except OSError:
        return None


def _write(path: Path, content: bytes) -> None:
    """Put a whole file in place at once, so that nobody reads half of it."""
    half = path.with_name(f"{path.name}.{os.getpid()}")
    try:
        with os.fdopen(os.open(half, _WRITE, 0o600), "wb") as stream:
            stream.write(content)
        half.replace(path)
    except OSError:
        half.unlink(missing_ok=True)
        raise


def _drop_oldest(folder: Path) -> None:
    """Keep the folder small: packs that nobody reads any more would stay for ever."""
    entries = sorted(folder.glob(f"*{_ENDING}*"), key=lambda each: each.stat().st_mtime)
    for path in entries[:-_MOST_ENTRIES]:
        path.unlink(missing_ok=True)
