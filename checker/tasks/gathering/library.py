"""The packs and profiles that come with the program, and the folders in which a town's own are looked for."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.files.cache import NO_CACHE, Cache, user_cache
from checker.files.folders import data_folder
from checker.rules.model.pack import Pack
from checker.tasks.gathering.packs import read_packs
from checker.values.problems import Problem, Unreadable


@dataclass(frozen=True, slots=True)
class Library:
    """The packs and profiles that come with the program, read once for any number of sites."""

    packs: tuple[Pack, ...]
    profiles: Path
    cache: Cache = NO_CACHE

    @property
    def layers(self) -> Path:
        """The folder of the layers that come with the program."""
        return self.profiles.parent / "layers"

    @staticmethod
    def shipped() -> Library:
        """The packs of the installed program, from the cache where they were read before."""
        folder, cache = data_folder("rulesets"), user_cache()
        return Library(read_packs(folder, shipped_catalog(), cache), folder / "profiles", cache)


def folders_of_rules(folder: Path, library: Library, town: Path | None = None) -> tuple[Path, ...]:
    """Where profiles and layers are looked for: in the folder of the town where one is named, in a folder and those
    above it, and among those of the program.
    """
    own = () if town is None else (town,)
    return (*own, *_upward(folder), library.profiles, library.layers)


def _upward(folder: Path) -> tuple[Path, ...]:
    """A folder and those above it, as far as the one in which the command runs; of a folder elsewhere the next one up.

    Files outside both are none of the user's rules, and a search up to the root would find whatever lies there.
    """
    if folder == Path():
        return (folder, Path(".."))
    if ".." in folder.parts:
        return (folder, folder.parent)
    top = Path.cwd() if folder.is_absolute() else Path()
    above = [each for each in folder.parents if each.is_relative_to(top)]
    return (folder, *(above or [folder.parent]))


def places_of_packs(folder: Path, profile: Path, library: Library) -> tuple[Path, ...]:
    """Where packs of a place's own are looked for: in a folder, and beside its profile, unless that comes with the
    program.
    """
    shipped = library.profiles.resolve() == profile.parent.resolve()
    return (folder,) if shipped else (folder, profile.parent)


def check_town(town: Path | None) -> None:
    """Raise Unreadable where the folder of the town is named and is none."""
    if town is not None and not town.is_dir():
        sentence = f"There is no folder {town.as_posix()}."
        raise Unreadable([Problem(sentence, remedy="Name the folder with the profile and the layers of the town.")])
