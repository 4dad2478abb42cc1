"""What lies in the folder of a town: its layers, each on top of those below it, and the profiles that name them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType

from checker.catalog.model import Catalog
from checker.rules.layers.model import Layer
from checker.rules.layers.read import read_layer_noting
from checker.rules.layers.shelf import Shelf
from checker.rules.layers.stack import Stack
from checker.rules.model.pack import Pack
from checker.rules.model.profile import Profile
from checker.rules.named_files import find_layer, named_files
from checker.rules.problem_list import ProblemList
from checker.rules.profile import read_profile
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable


@dataclass(frozen=True, slots=True)
class Town:
    """The profiles and layers of one folder; ``stacks`` are its layers by id. ``known`` holds the layers of each
    profile in its order, those from elsewhere too, as far as they could be read.
    """

    folder: Path
    packs: tuple[Pack, ...]
    profiles: tuple[Profile, ...] = ()
    stacks: Mapping[str, Stack] = field(default_factory=dict)
    known: Mapping[str, tuple[Layer, ...]] = field(default_factory=dict)
    unread: bool = False
    """Whether a profile of the folder could not be read, so that nobody can say which layers it names."""

    def profiles_with(self, layer: str) -> tuple[Profile, ...]:
        """The profiles that name a layer."""
        return tuple(each for each in self.profiles if any(ranked.layer == layer for ranked in each.layers))


def is_town(folder: Path) -> bool:
    """Whether a layer or a profile lies in the folder."""
    return any(True for key in ("layer", "profile") for _ in named_files(key, folder))


def read_town(
    folder: Path, folders: Sequence[Path], packs: tuple[Pack, ...], catalog: Catalog, errors: ProblemList
) -> Town:
    """Everything of one folder that can be read; what is wrong in the rest is added to the errors."""
    return read_town_noting(folder, folders, packs, catalog, errors, ProblemList())


def read_town_noting(
    folder: Path,
    folders: Sequence[Path],
    packs: tuple[Pack, ...],
    catalog: Catalog,
    errors: ProblemList,
    notes: ProblemList,
) -> Town:
    """The same; what is no mistake but deserves a second look is added to the notes."""
    return _TownReader(folder, folders, packs, catalog, errors, notes).read()


Adopted = Mapping[str, tuple[str, ...]]
"""For each document the editions that are adopted, in the order of their days."""


def _adopted(profile: Profile) -> Adopted:
    ordered = sorted(profile.documents, key=lambda each: each.start)
    names = dict.fromkeys(each.document for each in ordered)
    return {name: tuple(each.edition for each in ordered if each.document == name) for name in names}


class _TownReader:
    """Reads the files of one folder."""

    def __init__(
        self,
        folder: Path,
        folders: Sequence[Path],
        packs: tuple[Pack, ...],
        catalog: Catalog,
        errors: ProblemList,
        notes: ProblemList,
    ) -> None:
        self._folder = folder
        self._folders = folders
        self._packs = packs
        self._catalog = catalog
        self._errors = errors
        self._notes = notes
        self._stacks: dict[str, Stack] = {}
        self._unread = False

    def read(self) -> Town:
        """The whole folder: first the layers that a profile names, in its order, then the others."""
        for key in ("profile", "layer"):
            self._check_names(key)
        profiles = tuple(self._profiles())
        known = {profile.id: tuple(self._layers_of(profile)) for profile in profiles}
        named = {ranked.layer for profile in profiles for ranked in profile.layers}
        for name, path in named_files("layer", self._folder):
            if name not in named and name not in self._stacks:
                self._layer(name, path, tuple(stack.layer for stack in self._stacks.values()))
        return Town(self._folder, self._packs, profiles, self._stacks, known, self._unread)

    def _check_names(self, key: str) -> None:
        """Of two files of one name only the first is ever found."""
        seen: dict[str, Path] = {}
        for name, path in named_files(key, self._folder):
            other = seen.setdefault(name, path)
            if other is not path:
                at = Position(path.as_posix(), 1, 1)
                self._errors.add(f"Two files hold the {key} {name}.", at, f"The other is {other.name}; rename one.")

    def _profiles(self) -> Iterator[Profile]:
        for _, path in named_files("profile", self._folder):
            try:
                yield read_profile(path, catalog=self._catalog)
            except Unreadable as error:
                self._unread = True
                self._errors.extend(error.problems)

    def _layers_of(self, profile: Profile) -> Iterator[Layer]:
        below: list[Layer] = []
        adopted = _adopted(profile)
        for ranked in profile.layers:
            try:
                path = find_layer(ranked.layer, self._folders)
            except Unreadable as error:
                self._errors.extend(
                    Problem(each.sentence, ranked.at, each.remedy, each.near) for each in error.problems
                )
                continue
            layer = self._layer(ranked.layer, path, tuple(below), adopted)
            if layer is not None:
                below.append(layer)
                yield layer

    def _layer(
        self, name: str, path: Path, below: tuple[Layer, ...], adopted: Adopted = MappingProxyType({})
    ) -> Layer | None:
        """The layer on top of those below it; kept with its file where it lies in this folder."""
        known = self._stacks.get(name)
        if known is not None and known.below == below:
            return known.layer
        own = path.parent == self._folder
        notes = self._notes if own else ProblemList()
        try:
            layer = read_layer_noting(path, self._catalog, Shelf(self._packs, below), notes)
        except Unreadable as error:
            self._errors.extend(error.problems)
            return None
        if own:
            self._stacks.setdefault(name, Stack(layer, path, self._packs, below, adopted))
        return layer
