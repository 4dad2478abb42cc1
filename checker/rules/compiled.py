"""Packs, layers and profiles as they were read and checked once, kept while nothing changes that they are made from."""

from __future__ import annotations

from pathlib import Path

from checker.catalog.model import Catalog, Stage
from checker.files.cache import Cache
from checker.files.compiling import Compiler, Source
from checker.files.folders import data_folder
from checker.files.frozen_json import FrozenCodec
from checker.rules.layers import model as layers
from checker.rules.layers.model import Layer
from checker.rules.layers.shelf import Shelf
from checker.rules.model import citing, conditions, force, numbers, pack, profile, rule
from checker.rules.model.pack import Pack
from checker.rules.model.profile import Profile
from checker.rules.reading.pack_paths import file_paths, shown_folder
from checker.values.dates import CalendarSpan
from checker.values.positions import Position
from checker.values.possible import Possible, SetSpan, Span
from checker.values.problems import Unreadable

_ROOMS = ("values", "files", "catalog", "rules")


def pack_codec() -> FrozenCodec:
    """Writes and reads packs, layers and profiles, and nothing else."""
    return FrozenCodec(
        (
            *(force.Basis, force.Force, force.Harm, Stage),
            *(conditions.FactPath, conditions.Words, conditions.FactOperand, conditions.ParameterOperand),
            *(conditions.Combined, conditions.Scaled, conditions.NextSize, conditions.Lookup),
            *(conditions.Test, conditions.Compare, conditions.Group, conditions.Not, conditions.Fold, conditions.Count),
            *(
                citing.Citation,
                citing.Checked,
                rule.NamedException,
                rule.Requires,
                rule.Instead,
                rule.Reading,
                rule.LabelColors,
                rule.Label,
                rule.Told,
                rule.Rule,
            ),
            *(
                numbers.ParameterValue,
                numbers.Parameter,
                numbers.TableKey,
                numbers.Row,
                numbers.TableValues,
                numbers.Table,
                pack.Reference,
                pack.Pack,
            ),
            *(profile.Adoption, profile.Profile, profile.May, profile.Ranked, profile.Grace),
            *(profile.Interpretation, profile.Permission, profile.OwnPaper),
            *(layers.Terms, layers.AddRule, layers.ReplaceRule, layers.SetNumber, layers.AddException),
            *(layers.EndException, layers.AddWay, layers.Widen, layers.Narrow, layers.DeleteRule, layers.LimitRule),
            *(layers.Renumber, layers.Confirm, layers.Redirect, layers.PreEmpt, layers.Change, layers.Layer),
            *(Possible, Span, SetSpan, CalendarSpan, Position),
        )
    )


class CompiledRules:
    """Reads packs and profiles through a cache. Values are equal to those read from the files."""

    def __init__(self, cache: Cache) -> None:
        self._compiler = Compiler(cache, pack_codec(), _ROOMS)

    def pack(self, folder: Path, catalog: Catalog, shared: Path | None = None) -> Pack:
        """The pack in a folder. Raises Unreadable with everything that is wrong in it."""

        def read() -> Pack:
            from checker.rules.reading.pack import read_pack

            return read_pack(folder, catalog, shared)

        place = f"{folder.absolute()} {shown_folder(folder)}"
        return self._compiler.value(Pack, place, lambda: _pack_source(folder, catalog, shared), read)

    def profile(self, path: Path, catalog: Catalog) -> Profile:
        """The profile in a file. Raises Unreadable with everything that is wrong in it."""

        def read() -> Profile:
            from checker.rules.profile import read_profile

            return read_profile(path, catalog=catalog)

        return self._compiler.value(Profile, _place(path), lambda: _file_source(path, catalog), read)

    def layer(self, path: Path, catalog: Catalog, shelf: Shelf) -> Layer:
        """The layer in a file, on top of what lies below it. Raises Unreadable with everything that is wrong in it."""

        def read() -> Layer:
            from checker.rules.layers.read import read_layer

            return read_layer(path, catalog, shelf)

        below = (*(each.digest for each in shelf.packs), *(each.digest for each in shelf.layers))
        return self._compiler.value(Layer, _place(path), lambda: _file_source(path, catalog, below), read)


def _place(path: Path) -> str:
    return f"{path.absolute()} {path.as_posix()}"


def _file_source(path: Path, catalog: Catalog, below: tuple[str, ...] = ()) -> Source | None:
    return Source(((path, path.as_posix()),), (catalog.digest, *below)) if catalog.digest else None


def _pack_source(folder: Path, catalog: Catalog, shared: Path | None) -> Source | None:
    """The files of a pack, those of the folder shared, of which only reading tells which it uses, and the catalog; None
    where one of them cannot be told from another of its kind.
    """
    try:
        shown = shown_folder(folder)
        own = tuple((path, f"{shown}/{path.name}") for path in file_paths(folder, shown))
        tables = sorted((shared or data_folder("shared")).glob("*.yaml"))
    except Unreadable:
        return None
    if not catalog.digest:
        return None
    return Source((*own, *((path, path.name) for path in tables)), (folder.as_posix(), catalog.digest))
