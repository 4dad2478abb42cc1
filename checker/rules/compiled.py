"""Packs, layers and profiles as they were read and checked once, kept while nothing changes that they are made from."""

from __future__ import annotations

from pathlib import Path

from checker.catalog.model import Catalog, Stage
from checker.files.cache import Cache
from checker.files.compiling import Compiler, Source
from checker.files.folders import data_folder
from checker.files.frozen_json import FrozenCodec
from checker.rules import model
from checker.rules.layers import model as layers
from checker.rules.layers.model import Layer
from checker.rules.layers.shelf import Shelf
from checker.rules.model import Pack, Profile
from checker.rules.pack_paths import file_paths, shown_folder
from checker.values.dates import CalendarSpan
from checker.values.positions import Position
from checker.values.possible import Possible, SetSpan, Span
from checker.values.problems import Unreadable

_ROOMS = ("values", "files", "catalog", "rules")


def pack_codec() -> FrozenCodec:
    """Writes and reads packs, layers and profiles, and nothing else."""
    return FrozenCodec(
        (
            *(model.Basis, model.Force, model.Harm, Stage),
            *(model.FactPath, model.Words, model.FactOperand, model.ParameterOperand),
            *(model.Combined, model.Scaled, model.NextSize, model.Lookup),
            *(model.Test, model.Compare, model.Group, model.Not, model.Fold, model.Count),
            *(
                model.Citation,
                model.Checked,
                model.NamedException,
                model.Requires,
                model.Instead,
                model.Reading,
                model.LabelColors,
                model.Label,
                model.Told,
                model.Rule,
            ),
            *(
                model.ParameterValue,
                model.Parameter,
                model.TableKey,
                model.Row,
                model.TableValues,
                model.Table,
                model.Reference,
                model.Pack,
            ),
            *(model.Adoption, model.Profile, model.May, model.Ranked, model.Grace),
            *(model.Interpretation, model.Permission, model.OwnPaper),
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
            from checker.rules.read import read_pack

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
