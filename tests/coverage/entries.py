"""What is asked of standby power, by codes and by offices: the two lists in ``shared/``, held to their form."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import yaml

from checker.files.folders import data_folder

ASKED = ("yes", "partly", "no")
"""Of a requirement: whether it can touch a dwelling. Of a demand: whether a site description can answer it."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One requirement of a code, or one demand of an office."""

    id: str
    title: str
    asked: str
    why: str
    without_rule: str
    office: str = ""
    about: str = ""


def requirements() -> tuple[Entry, ...]:
    """Every requirement of a code. Raises ValueError where the file says what it cannot say."""
    written = _file("requirements.yaml")["requirements"]
    return tuple(_checked(each) for each in _requirements(written))


def office_items() -> tuple[Entry, ...]:
    """Every demand of an office. Raises ValueError where the file says what it cannot say."""
    file = _file("office-items.yaml")
    return tuple(_checked(each) for each in _items(file["items"], file["offices"]))


def _file(name: str) -> dict[str, Any]:
    content: dict[str, Any] = yaml.safe_load((data_folder("shared") / name).read_text(encoding="utf-8"))
    return content


def _requirements(written: Mapping[str, Any]) -> Iterator[Entry]:
    for name, each in written.items():
        _only(name, each, {"title", "dwelling", "why", "without_rule"})
        yield Entry(name, each["title"], _word(each["dwelling"]), each.get("why", ""), each.get("without_rule", ""))


def _items(written: Mapping[str, Any], offices: Mapping[str, str]) -> Iterator[Entry]:
    for name, each in written.items():
        _only(name, each, {"title", "office", "about", "from_design", "without_rule"})
        asked = _word(each["from_design"])
        yield Entry(
            name, each["title"], asked, "", each.get("without_rule", ""), offices[each["office"]], each["about"]
        )


def _word(written: object) -> str:
    return {True: "yes", False: "no"}.get(written, str(written)) if isinstance(written, bool) else str(written)


def _only(name: str, each: Mapping[str, Any], known: set[str]) -> None:
    if set(each) - known:
        raise ValueError(f"{name} has what nobody reads: {', '.join(sorted(set(each) - known))}.")


def _checked(entry: Entry) -> Entry:
    if not re.fullmatch(r"[A-Z]{2}-[0-9]{2,3}", entry.id):
        raise ValueError(f"{entry.id} is no id of a requirement.")
    if entry.asked not in ASKED or not entry.title.strip():
        raise ValueError(f"{entry.id} does not say what is asked.")
    if bool(entry.why) is not (not entry.office and entry.asked == "no"):
        raise ValueError(f"{entry.id} says why it touches no dwelling where it does, or does not say it.")
    return entry
