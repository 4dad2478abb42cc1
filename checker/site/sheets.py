"""The site file and the equipment sheets that its pieces use."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from checker.catalog.names import KIND, OVERRIDE, USE
from checker.catalog.reading.written import refusal
from checker.files.folders import inside
from checker.files.yaml.strict_yaml import read_bytes, read_text
from checker.files.yaml.tree import Entry, Mapping, Node, Scalar, Sequence
from checker.site.problem_list import ProblemList
from checker.values.problems import Unreadable

_FEEDING = frozenset({"fed_from", "normal", "alternate"})
_DEEPEST = 8
_MOST_SHEETS = 200
"""Limits of effort: sheets that use sheets, and sheets of one site."""


@dataclass(frozen=True, slots=True)
class SiteText:
    """A site file as it is written, of which nothing is understood yet. ``name`` is that in messages, from ``root``."""

    root: Path
    name: str
    content: bytes
    document: Node


def open_site(path: Path, root: Path | None = None) -> SiteText:
    """The file as it is written; raises Unreadable. ``root`` is the folder that nothing may lead out of and that file
    names are relative to: without it, or where the file lies elsewhere, the folder of the file.
    """
    base = _root_of(path, root)
    name = path.resolve().relative_to(base).as_posix()
    content = read_bytes(path, name)
    return SiteText(base, name, content, read_text(content, name))


class SiteFiles:
    """Reads the files of one site; all lie in the root of its text, and names in messages are relative to it."""

    def __init__(self, text: SiteText, problems: ProblemList) -> None:
        self._root = text.root
        self.name = text.name
        self._problems = problems
        self._contents = {text.name: text.content}
        self._sheets: dict[str, Mapping | None] = {}

    def digest(self) -> str:
        """SHA-256 over the site file and every sheet, in order of their paths, with plain line feeds."""
        summed = hashlib.sha256()
        for name in sorted(self._contents):
            summed.update(self._contents[name].replace(b"\r\n", b"\n"))
            summed.update(b"\0")
        return summed.hexdigest()

    def merged(self, piece: Mapping) -> tuple[Entry, ...]:
        """What is said at the piece, then what its sheet says besides, without ``use`` and ``override``."""
        return tuple(self._merged(piece, self.name, (self.name,)).values())

    def beside(self, node: Node) -> tuple[bytes, str]:
        """The content of another file of the site, and its name. Raises Unreadable."""
        path, name = self._path_named(node, self.name, "readings: records/demand.csv")
        content = read_bytes(path, name)
        self._contents[name] = content
        return content, name

    def _merged(self, own: Mapping, file: str, trail: tuple[str, ...]) -> dict[str, Entry]:
        entries = {entry.key: entry for entry in own.entries if entry.key not in (USE, OVERRIDE)}
        inherited = self._inherited(own, file, trail)
        overridden = self._overridden(own, inherited)
        for key, entry in inherited.items():
            mine = entries.setdefault(key, entry)
            if mine is not entry and key not in overridden:
                self._tell_twice(mine, entry)
        return entries

    def _inherited(self, own: Mapping, file: str, trail: tuple[str, ...]) -> dict[str, Entry]:
        use = own.entry(USE)
        if use is None:
            return {}
        try:
            path, name = self._path_named(use.value, file, "use: sheets/set.yaml")
            if name in trail:
                raise refusal(f"The sheet {name} uses itself.", use.value.at, "Take this use: line out.")
            if len(trail) > _DEEPEST:
                raise refusal(f"More than {_DEEPEST} sheets use one another.", use.value.at, "Join some of them.")
            sheet = self._sheet(path, name)
        except Unreadable as error:
            self._problems.extend(error.problems)
            return {}
        return {} if sheet is None else self._merged(sheet, name, (*trail, name))

    def _path_named(self, node: Node, file: str, example: str) -> tuple[Path, str]:
        if not isinstance(node, Scalar) or not node.text.strip():
            key = example.partition(":")[0]
            raise refusal(f"{key}: does not name one file.", node.at, f"Write the path of one file, as {example}.")
        wanted = PurePosixPath(file).parent / node.text.strip()
        path = inside(self._root, str(wanted), node.at)
        return path, path.relative_to(self._root).as_posix()

    def _sheet(self, path: Path, name: str) -> Mapping | None:
        if name not in self._sheets:
            if len(self._sheets) >= _MOST_SHEETS:
                raise refusal(f"This site uses more than {_MOST_SHEETS} sheets.", None, "Split the site.")
            # Noted first: a sheet that cannot be read is told once, however many pieces use it.
            self._sheets[name] = None
            self._sheets[name] = self._checked(self._read(path, name))
        return self._sheets[name]

    def _checked(self, content: Node) -> Mapping:
        if not isinstance(content, Mapping):
            raise refusal("A sheet lists facts of one piece.", content.at, "Write them as rated_current: 200 A.")
        fed = next((entry for entry in content.entries if entry.key in _FEEDING), None)
        if fed is not None:
            raise refusal(f"A sheet does not say how a piece is fed ({fed.key}).", fed.at, "Write it at the piece.")
        return content

    def _read(self, path: Path, name: str) -> Node:
        content = read_bytes(path, name)
        self._contents[name] = content
        return read_text(content, name)

    def _overridden(self, own: Mapping, inherited: dict[str, Entry]) -> frozenset[str]:
        entry = own.entry(OVERRIDE)
        if entry is None:
            return frozenset()
        if own.entry(USE) is None:
            self._problems.add("override stands without use.", entry.at, "Take it out.")
        return frozenset(self._override_keys(entry.value, own, inherited))

    def _override_keys(self, node: Node, own: Mapping, inherited: dict[str, Entry]) -> Iterator[str]:
        if not isinstance(node, Sequence):
            self._problems.add("override is a list.", node.at, "Write it in brackets, as override: [rated_power].")
            return
        for item in node.items:
            key = item.text.strip() if isinstance(item, Scalar) else ""
            yield key
            if key == KIND:
                sentence = "The kind of a sheet cannot be overridden."
                self._problems.add(sentence, item.at, "Use the sheet of another piece.")
            elif inherited and (key not in inherited or own.entry(key) is None):
                near = self._problems.near(key, inherited)
                remedy = "Name what stands both in the sheet and at the piece."
                self._problems.add(f"override: [{key}] overrides nothing.", item.at, remedy, near)

    def _tell_twice(self, mine: Entry, sheets: Entry) -> None:
        if mine.key == KIND:
            if _text(mine.value) != _text(sheets.value):
                remedy = "Use the sheet of such a piece."
                self._problems.add(
                    f"The sheet is one of {_text(sheets.value)} ({sheets.value.at}).", mine.value.at, remedy
                )
            return
        remedy = f"Take it out of one of the two, or write override: [{mine.key}] at the piece."
        self._problems.add(f"{mine.key} stands here and in the sheet ({sheets.at}).", mine.at, remedy)


def _text(node: Node) -> str | None:
    return node.text.strip() if isinstance(node, Scalar) else None


def _root_of(path: Path, root: Path | None) -> Path:
    """The folder given, if the site file lies in it, else the folder of the site file."""
    if root is not None and path.resolve().is_relative_to(root.resolve()):
        return root.resolve()
    return path.resolve().parent
