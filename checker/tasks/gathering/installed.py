"""What is installed: packs, layers and profiles, with how much of each pack somebody is sure of."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.rules.layers.model import Layer
from checker.rules.model.citing import Checked
from checker.rules.model.pack import Pack
from checker.rules.model.profile import Profile
from checker.rules.problem_list import ProblemList
from checker.tasks.gathering.library import Library, folders_of_rules
from checker.tasks.gathering.standing import all_packs
from checker.tasks.gathering.town import Town, read_town
from checker.values.problems import Problem

SURE = ("high", "medium", "low")


@dataclass(frozen=True, slots=True)
class PackFound:
    """One pack; ``checked`` counts its sections, numbers and tables by how sure somebody is of them, ``sends_to`` holds
    the standards that it brings into force: of each, in order, its edition by that of the code.
    """

    id: str
    document: str
    editions: tuple[str, ...]
    rules: int
    checked: Mapping[str, int]
    digest: str
    sends_to: Mapping[str, Mapping[str, str]]


@dataclass(frozen=True, slots=True)
class LayerFound:
    """One layer: what it amends, how many changes it makes, and the first day of any."""

    id: str
    authority: str
    amends: str
    changes: int
    first: date | None
    digest: str


@dataclass(frozen=True, slots=True)
class ProfileFound:
    """One profile: the event that fixes its dates, what it adopts from when, and its layers."""

    id: str
    title: str
    event: str
    adopts: tuple[str, ...]
    layers: tuple[str, ...]
    digest: str


@dataclass(frozen=True, slots=True)
class Installed:
    """Everything that was found, and what is wrong in the files that could not be read."""

    packs: tuple[PackFound, ...]
    layers: tuple[LayerFound, ...]
    profiles: tuple[ProfileFound, ...]
    problems: tuple[Problem, ...]


def installed(folders: Sequence[Path], library: Library) -> Installed:
    """What comes with the program, and what lies in these folders."""
    errors = ProblemList()
    packs: dict[str, Pack] = {each.id: each for each in library.packs}
    towns: list[Town] = []
    own = (library.profiles.parent / "layers", library.profiles)
    for folder in (*own, *folders):
        known = library.packs if folder in own else all_packs(folder, library)
        packs.update((each.id, each) for each in known)
        towns.append(read_town(folder, folders_of_rules(folder, library), known, shipped_catalog(), errors))
    layers = {each.layer.id: each.layer for town in towns for each in town.stacks.values()}
    profiles = {each.id: each for town in towns for each in town.profiles}
    return Installed(
        tuple(map(_pack, packs.values())),
        tuple(map(_layer, layers.values())),
        tuple(map(_profile, profiles.values())),
        errors.in_order(),
    )


def _pack(pack: Pack) -> PackFound:
    counted = Counter(each.sure for each in checks_of_pack(pack))
    checked = {word: counted[word] for word in SURE if counted[word]}
    sends_to = {each.document: each.editions for each in pack.sends_to}
    return PackFound(pack.id, pack.document, pack.editions, len(pack.rules), checked, pack.digest, sends_to)


def checks_of_pack(pack: Pack) -> Iterator[Checked]:
    """Every note of who confirmed what: of each rule in each edition, each value and each table."""
    for rule in pack.rules:
        yield from rule.checked.values()
    for parameter in pack.parameters.values():
        yield from (each.checked for each in parameter.values.values())
    for table in pack.tables.values():
        yield from (each.checked for each in table.values.values())


def _layer(layer: Layer) -> LayerFound:
    starts = [each.terms.start for each in layer.changes if each.terms.start is not None]
    amends = "" if layer.amends is None else " ".join(filter(None, layer.amends))
    numbers = {each.terms.number for each in layer.changes}
    return LayerFound(layer.id, layer.authority, amends, len(numbers), min(starts) if starts else None, layer.digest)


def _profile(profile: Profile) -> ProfileFound:
    adopts = tuple(f"{each.document} {each.edition} from {each.start}".replace("  ", " ") for each in profile.documents)
    layers = tuple(each.layer for each in profile.layers)
    return ProfileFound(profile.id, profile.title, profile.event, adopts, layers, profile.digest)
