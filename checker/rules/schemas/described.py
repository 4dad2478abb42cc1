"""Puts beside each word of the schemas what it means, from ``schemas/words.yaml``, for editors to show."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from checker.files.folders import data_folder
from checker.files.yaml.strict_yaml import read_file
from checker.files.yaml.tree import plain

ANYWHERE = "any"

Meanings = Mapping[str, Mapping[str, str]]
"""By the title of an object, or ANYWHERE, the words of it with what they mean."""


def meanings(folder: Path | None = None) -> Meanings:
    """What ``words.yaml`` says."""
    read = plain(read_file((folder or data_folder("schemas")) / "words.yaml", "words.yaml"))
    assert isinstance(read, dict)
    return {str(title): {str(word): str(means) for word, means in _words(listed)} for title, listed in read.items()}


def _words(listed: object) -> Iterator[tuple[object, object]]:
    assert isinstance(listed, dict)
    yield from listed.items()


def described(schema: Any, means: Meanings) -> Any:
    """The schema with a description beside every word that has none of its own."""
    if isinstance(schema, list):
        return [described(each, means) for each in schema]
    if not isinstance(schema, dict):
        return schema
    found = {key: described(value, means) for key, value in schema.items()}
    if "properties" in found:
        title = str(found.get("title", ""))
        found["properties"] = {
            word: _with(value, meaning_of(title, word, means)) for word, value in found["properties"].items()
        }
    return found


def meaning_of(title: str, word: str, means: Meanings) -> str:
    """What a word means in an object of that title; nothing where that is not said."""
    return means.get(title, {}).get(word) or means.get(ANYWHERE, {}).get(word, "")


def _with(schema: Any, meaning: str) -> Any:
    known = not meaning or not isinstance(schema, dict) or "description" in schema or schema.get("not") == {}
    return schema if known else {**schema, "description": meaning}
