"""The rules in force in a town on a date, without a site: what the profile and the layers of a folder come to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Catalog
from checker.rules.compiled import CompiledRules
from checker.rules.in_force.rules import rules_in_force
from checker.rules.layers.model import Layer
from checker.rules.layers.own_papers import knowing, papers_of
from checker.rules.model.in_force import RulesInForce
from checker.rules.model.pack import Pack
from checker.rules.model.profile import Profile
from checker.rules.named_files import find_profile
from checker.tasks.gathering.events import EVENTS
from checker.tasks.gathering.layers import layers_of
from checker.tasks.gathering.library import Library, folders_of_rules, places_of_packs
from checker.tasks.gathering.packs import packs_beside, packs_in
from checker.values.problems import Problem, Unreadable


@dataclass(frozen=True, slots=True)
class Standing:
    """A profile with everything that it names."""

    profile: Profile
    packs: tuple[Pack, ...]
    layers: tuple[Layer, ...]

    @property
    def catalog(self) -> Catalog:
        """The fact catalog, with the papers of the town's own."""
        return knowing(shipped_catalog(), papers_of(self.layers))

    def on(self, day: date) -> RulesInForce:
        """The rules in force where every event has this date."""
        return rules_in_force(self.profile, day, self.packs, self.layers, dict.fromkeys(EVENTS, day))


def all_packs(folder: Path, library: Library) -> tuple[Pack, ...]:
    """The packs of the program, and those in folders below this one."""
    if folder.resolve() == library.profiles.parent.resolve():
        return library.packs
    return (*library.packs, *packs_beside(folder / "site.yaml", shipped_catalog(), library.cache, library.packs))


def _packs_of(folder: Path, profile: Path, library: Library) -> tuple[Pack, ...]:
    """The packs of the program, those below this folder, and those beside the profile."""
    own = library.profiles.parent.resolve()
    places = [each for each in places_of_packs(folder, profile, library) if each.resolve() != own]
    return (*library.packs, *packs_in(places, shipped_catalog(), library.cache, library.packs))


def standing(jurisdiction: str, folder: Path, library: Library) -> Standing:
    """The profile of that name, from this folder, those above it, or the program, with its packs and layers.

    Raises Unreadable with the nearest name, and with everything that is wrong in the layers.
    """
    folders = folders_of_rules(folder, library)
    catalog = shipped_catalog()
    file = find_profile(jurisdiction, folders)
    profile = CompiledRules(library.cache).profile(file, catalog)
    packs = _packs_of(folder, file, library)
    return Standing(profile, packs, layers_of(profile, folders, packs, catalog, library.cache))


def dated(found: Standing, on: date | None, option: str = "--date") -> date:
    """The date that was given. No clock is read: without one nobody can say what is in force."""
    if on is None:
        profile = found.profile
        raise Unreadable(
            [
                Problem(
                    f"Which rules are in force in {profile.title} depends on the date, and none is given.",
                    remedy=f"Give {option}. {dates_told(profile, found.layers)}",
                )
            ]
        )
    return on


def dates_told(profile: Profile, layers: Sequence[Layer]) -> str:
    """On which dates something begins there."""
    adopted = [f"{each.document} {each.edition} from {each.start}".replace("  ", " ") for each in profile.documents]
    changes = [
        f"{layer.title} from {start}"
        for layer in layers
        for start in sorted({each.terms.start for each in layer.changes if each.terms.start is not None})
    ]
    return f"Adopted there: {'; '.join((*adopted, *changes))}."
