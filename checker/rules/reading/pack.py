"""Reads a pack: a folder with pack.yaml and files of rules, parameters and tables."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TypeVar

from checker.catalog.model import Catalog
from checker.files.folders import data_folder
from checker.files.yaml.tree import Entry
from checker.files.yaml.tree import Mapping as MappingNode
from checker.rules.model.force import Basis
from checker.rules.model.numbers import Table
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Rule
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.reading.block_texts import printed_notes
from checker.rules.reading.citing import Head, check_edition, day
from checker.rules.reading.pack_files import PackFile, digest_of, read_files, read_pack_file
from checker.rules.reading.pack_paths import file_paths, shown_folder
from checker.rules.reading.parameters import read_parameter
from checker.rules.reading.references import read_references
from checker.rules.reading.rule import read_rule
from checker.rules.reading.scope import Numbers
from checker.rules.reading.tables import by_edition_of, read_table
from checker.rules.vocabulary import Vocabulary
from checker.values.positions import Position
from checker.values.problems import Unreadable

SENDS_TO = "sends_to"
HEAD_KEYS = ("pack", "title", "document", "editions", "basis", "retired", "interim", SENDS_TO)
USE = "use"
_SHARED = "shared/"
_Read = TypeVar("_Read")


def read_pack(folder: Path, catalog: Catalog, shared: Path | None = None) -> Pack:
    """The pack in a folder; ``shared`` is the folder with tables of several packs, the program's own if not given.

    Raises Unreadable with everything that is wrong in the files of the pack, in the order of the files.
    """
    return read_pack_noting(folder, catalog, ProblemList(), shared)


def read_pack_noting(folder: Path, catalog: Catalog, notes: ProblemList, shared: Path | None = None) -> Pack:
    """The same; what is no mistake but deserves a second look is added to the notes."""
    shown = shown_folder(folder)
    problems = ProblemList()
    files = read_files(file_paths(folder, shown), shown, problems)
    pack = _PackReader(files, Vocabulary(catalog), shared, problems, notes).read(folder)
    problems.raise_if_any()
    if pack is None:
        raise Unreadable(problems.in_order())
    return pack


class _PackReader:
    """Reads the files of one pack into its model."""

    def __init__(
        self,
        files: tuple[PackFile, ...],
        vocabulary: Vocabulary,
        shared: Path | None,
        problems: ProblemList,
        notes: ProblemList,
    ) -> None:
        self._files = files
        self._vocabulary = vocabulary
        self._shared = shared
        self._problems = problems
        self._notes = notes

    def read(self, folder: Path) -> Pack | None:
        """The pack; None where its head could not be read."""
        self._check_head_stands_alone()
        for file in self._files:
            self._notes.extend(printed_notes(file.root))
        head = self._head()
        if head is None:
            return None
        parameters = self._section("parameters", lambda entry: self._sound(read_parameter, entry, head))
        tables = self._section("tables", lambda entry: self._sound(read_table, entry, head))
        used, used_files = self._used_tables(head, tables)
        numbers = Numbers(parameters, {**used, **tables})
        rules = self._section("rules", lambda entry: self._rule(entry, head, numbers))
        self._check_names(head, rules)
        return Pack(
            head.id,
            head.title,
            head.document,
            head.editions,
            digest_of((*self._files, *used_files)),
            tuple(each for each in rules.values() if each is not None),
            {name: each for name, each in parameters.items() if each is not None},
            {name: each for name, each in numbers.tables.items() if each is not None},
            folder.as_posix(),
            head.retired,
            head.interim,
            read_references(self._files[0].root.get(SENDS_TO), head, self._vocabulary, self._problems),
        )

    # --- head -------------------------------------------------------------------------------------------------------

    def _rule(self, entry: Entry, head: Head, numbers: Numbers) -> Rule | None:
        return read_rule(entry, head, numbers, self._vocabulary, self._problems, self._notes)

    def _check_head_stands_alone(self) -> None:
        for file in self._files[1:]:
            for entry in file.root.entries:
                if entry.key in HEAD_KEYS:
                    self._problems.add(f"`{entry.key}` belongs into pack.yaml.", entry.at, "Move it there.")

    def _head(self) -> Head | None:
        if not self._files or not self._files[0].head_is_sound:
            return None
        file = self._files[0]
        root = file.root
        if root.get("pack") is None:
            self._problems.add("pack.yaml does not name the pack.", root.at, "Write `pack:` with the name of the pack.")
            return None
        basis = nodes.text(root.get("basis"))
        return Head(
            nodes.text(root.get("pack")),
            nodes.text(root.get("title")),
            nodes.text(root.get("document")),
            nodes.texts(root.get("editions")),
            Basis(basis) if basis else None,
            {entry.key: nodes.text(entry.value) for entry in nodes.entries(root.get("retired"))},
            root.at,
            interim=self._interim(root),
        )

    def _interim(self, root: MappingNode) -> dict[str, dict[str, date]]:
        """The interim amendments of each edition by number, with the day from which each counts."""
        editions = nodes.texts(root.get("editions"))
        found: dict[str, dict[str, date]] = {}
        for entry in nodes.entries(root.get("interim")):
            if check_edition(entry.key, entry.at, editions, self._problems):
                days = ((each.key, day(each.value, each.key, self._problems)) for each in nodes.entries(entry.value))
                found[entry.key] = {number: start for number, start in days if start is not None}
        return found

    # --- sections ---------------------------------------------------------------------------------------------------

    def _sound(self, read: Callable[[Entry, Head, ProblemList], _Read], entry: Entry, head: Head) -> _Read | None:
        """What was read, or None where something is wrong with it: rules that read it are then not told about it
        again.
        """
        told_before = len(self._problems)
        found = read(entry, head, self._problems)
        return found if len(self._problems) == told_before else None

    def _section(self, section: str, read: Callable[[Entry], _Read | None]) -> dict[str, _Read | None]:
        """What a section holds in all files, by name; what could not be read is None."""
        found: dict[str, _Read | None] = {}
        places: dict[str, Position] = {}
        for file in self._files:
            for entry, is_sound in file.entries(section):
                if section == "tables" and entry.key == USE:
                    continue
                if entry.key in places:
                    self._problems.add(
                        f"`{entry.key}` stands twice under `{section}`.",
                        entry.at,
                        f"The other stands at {places[entry.key]}.",
                    )
                    continue
                places[entry.key] = entry.at
                found[entry.key] = read(entry) if is_sound else None
        return found

    def _used_tables(
        self, head: Head, own: Mapping[str, Table | None]
    ) -> tuple[dict[str, Table | None], tuple[PackFile, ...]]:
        """The tables of the files in shared/ that the pack uses, and these files."""
        tables: dict[str, Table | None] = {}
        files = []
        for name, at in self._uses():
            file = self._shared_file(name, at)
            if file is None:
                continue
            files.append(file)
            for table_name, table in self._tables_in(file, head).items():
                if table_name in tables or table_name in own:
                    self._problems.add(
                        f"`{table_name}` comes from {name} and from elsewhere too.", at, "Keep one of the two."
                    )
                tables[table_name] = table
        return tables, tuple(files)

    def _uses(self) -> Iterator[tuple[str, Position]]:
        for file in self._files:
            for entry, is_sound in file.entries("tables"):
                if entry.key == USE and is_sound:
                    yield from ((nodes.text(item), item.at) for item in nodes.items(entry.value))

    def _shared_file(self, name: str, at: Position) -> PackFile | None:
        folder = self._shared or data_folder("shared")
        path = folder / name.removeprefix(_SHARED)
        if not path.is_file():
            names = (f"{_SHARED}{each.name}" for each in sorted(folder.glob("*.yaml")))
            near = self._problems.near(name, names)
            self._problems.add(f"There is no file {name}.", at, "Name a file of the folder shared.", near)
            return None
        return read_pack_file(path, name, self._problems)

    def _tables_in(self, file: PackFile, head: Head) -> dict[str, Table | None]:
        own = Head(
            file.name,
            file.name,
            nodes.text(file.root.get("document")),
            nodes.texts(file.root.get("editions")),
            Basis.TRADE_PRACTICE if nodes.text(file.root.get("basis")) == Basis.TRADE_PRACTICE.value else None,
            {},
            file.root.at,
        )
        same_document = not own.editions or own.document == head.document
        if not same_document:
            self._problems.add(
                f"{file.name} holds tables of {own.document}, not of {head.document}.",
                file.root.at,
                "Use them in its pack.",
            )
        found: dict[str, Table | None] = {}
        for entry, is_sound in file.entries("tables"):
            table = self._sound(read_table, entry, own) if is_sound else None
            found[entry.key] = table and replace(table, values=by_edition_of(table.values, head.editions))
        return found

    # --- names ------------------------------------------------------------------------------------------------------

    def _check_names(self, head: Head, rules: Mapping[str, Rule | None]) -> None:
        for name, rule in rules.items():
            if rule is None:
                continue
            if name in head.retired:
                self._problems.add(f"`{name}` is retired and cannot be used again.", rule.at, "Take another id.")
            for key, names in (("before", rule.before), ("companions", rule.companions)):
                for each in names:
                    self._check_rule_name(each, key, rule, head, rules)

    def _check_rule_name(self, name: str, key: str, rule: Rule, head: Head, rules: Mapping[str, Rule | None]) -> None:
        own = name.removeprefix(f"{head.id}:")
        if ":" in own or own in rules:
            return
        if own in head.retired:
            remedy = f"It went to {head.retired[own]}."
        else:
            remedy = "Write the id of a rule of this pack, or pack:id."
        near = self._problems.near(own, (*rules, *head.retired.values()))
        self._problems.add(
            f"`{key}` of `{rule.id}` names `{own}`, which is no rule of this pack.", rule.at, remedy, near
        )
