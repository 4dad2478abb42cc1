"""Files put in place whole, so that a stop in between leaves either the old file or the new one."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from checker.values.problems import Problem, Unreadable


def put_in_place(path: Path, content: bytes, check: Callable[[Path], object]) -> None:
    """Let a file that is there hold this from now on; its permissions, and a link to it, stay.

    ``check`` reads the new file, beside the old one, before it takes its place; what it raises leaves the old one as it
    is. Raises Unreadable where the file cannot be written.
    """
    target = path.resolve()
    half: Path | None = None
    try:
        handle, name = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
        half = Path(name)
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        half.chmod(target.stat().st_mode & 0o7777)
        check(half)
        half.replace(target)
    except OSError as error:
        sentence = f"{path.name} cannot be written: {error.strerror}."
        raise Unreadable([Problem(sentence, None, "Check the permissions of the file and its folder.")]) from error
    finally:
        if half is not None:
            with suppress(OSError):
                half.unlink(missing_ok=True)


def put_new(path: Path, text: str, check: Callable[[Path], object]) -> None:
    """Write a file that is not there yet, with the folders above it.

    ``check`` reads it, beside its place, before it is there; what it raises leaves nothing behind but empty folders.
    Raises Unreadable, also where the file is there already.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile("w", encoding="utf-8", newline="\n", dir=path.parent, suffix=".yaml") as half:
            half.write(text)
            half.flush()
            check(Path(half.name))
        with path.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
    except FileExistsError:
        raise Unreadable([there_already(path)]) from None
    except OSError as error:
        sentence = f"{path.as_posix()} cannot be written: {error.strerror}."
        raise Unreadable([Problem(sentence, None, "Name another folder.")]) from error


def there_already(path: Path) -> Problem:
    """The file is there, and nothing is ever written over it."""
    return Problem(f"{path.as_posix()} is there already, and is not written over.", None, "Name another folder.")
