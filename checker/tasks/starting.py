"""A site file to begin with: a common job drawn, everything else left open."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from string import Template

from checker.catalog.load import shipped_catalog
from checker.files.editing import at, tree_of, with_value
from checker.files.folders import data_folder
from checker.files.written import put_new, there_already
from checker.files.yaml.strict_yaml import read_file
from checker.rules.model.profile import Profile
from checker.rules.named_files import find_profile, named_files
from checker.rules.profile import read_profile
from checker.rules.reading import nodes
from checker.site.model import SITE
from checker.tasks.drafting.yaml_text import in_quotes, schema_line
from checker.tasks.gathering.events import permit_key
from checker.tasks.gathering.library import Library, check_town, folders_of_rules
from checker.tasks.questions.open_notes import note_of, without_note
from checker.tasks.reviewing import Overrides, job_of
from checker.values.problems import Problem, Unreadable

SITE_FILE = "site.yaml"
EXISTING, NEW = "existing", "new"


@dataclass(frozen=True, slots=True)
class Starter:
    """A common job: what is done, and the drawing of it with a gap for whether the service is there already."""

    name: str
    title: str
    text: str
    work: tuple[str, ...]
    moves_service: bool


@dataclass(frozen=True, slots=True)
class Wanted:
    """The answers: which job, its name, whether the service is existing or new, whose rules, the date that fixes
    them; then what the switch is where it comes first after the meter, and the class of load, each empty where it is
    left open.
    """

    job: str
    name: str
    place: str
    jurisdiction: str
    date: str
    role: str = ""
    load_class: str = ""


def starters() -> Mapping[str, Starter]:
    """Every starter by its name."""
    root = nodes.mapping(read_file(data_folder("shared") / "starters.yaml", "starters.yaml"))
    found = {entry.key: nodes.mapping(entry.value) for entry in nodes.entries(root.get("starters"))}
    return {
        name: Starter(
            name,
            nodes.text(node.get("title")),
            nodes.scalar(node.get("text")).text,
            nodes.texts(node.get("work")),
            node.get("moves_service") is not None,
        )
        for name, node in found.items()
    }


@dataclass(frozen=True, slots=True)
class Place:
    """Where a site file will lie, and where the rules for it are looked for: ``town`` is the folder of the profile,
    where it is named.
    """

    folder: Path
    library: Library
    town: Path | None = None

    @property
    def folders(self) -> tuple[Path, ...]:
        """The folders in which profiles are looked for. Raises Unreadable where that of the town is not there."""
        check_town(self.town)
        return folders_of_rules(self.folder, self.library, self.town)


def jurisdictions(where: Place) -> Mapping[str, Profile]:
    """The profiles that a site file in this folder can name."""
    found: dict[str, Profile] = {}
    for place in where.folders:
        for name, _ in named_files("profile", place):
            if name not in found:
                found[name] = profile_named(name, where)
    return found


def profile_named(name: str, where: Place) -> Profile:
    """A profile by its id, found from the folder in which the site file will lie. Raises Unreadable."""
    return read_profile(find_profile(name, where.folders), catalog=shipped_catalog())


def is_model_code_alone(profile: Profile) -> bool:
    """Whether it adopts one document and changes nothing, as no real place does."""
    return not profile.layers and len({each.document for each in profile.documents}) == 1


def check_place(folder: Path) -> None:
    """Raise Unreadable where a site file cannot be written into this folder."""
    if folder.exists() and not folder.is_dir():
        raise Unreadable([Problem(f"{folder.as_posix()} is no folder.", None, "Name a folder for the site file.")])
    path = folder / SITE_FILE
    if path.exists() or path.is_symlink():
        raise Unreadable([there_already(path)])


def check_role(job: str, role: str) -> None:
    """Raise Unreadable where a role of the switch is named for a job whose switch does not come first."""
    if role and not starters()[job].moves_service:
        first = ", ".join(name for name, each in starters().items() if each.moves_service)
        sentence = f"In the job {job} the transfer switch is not the first disconnect after the meter."
        raise Unreadable([Problem(sentence, None, f"Leave the role out, or take a job in which it is: {first}.")])


def starter_text(wanted: Wanted, where: Place) -> str:
    """The site file in full. Raises Unreadable where there is no such profile."""
    starter = starters()[wanted.job]
    key = permit_key(profile_named(wanted.jurisdiction, where).event)
    drawing = Template(starter.text).substitute(place=wanted.place)
    text = f"{schema_line(where.folder, 'site')}{_head(wanted, starter, key)}{drawing}"
    typed = text.encode()
    if key is None:
        typed = with_value(typed, [_EQUIPMENT, _SET, "made_on"], in_quotes(wanted.date))
    if wanted.role and starter.moves_service:
        typed = without_note(with_value(typed, [_EQUIPMENT, _SWITCH, "role"], wanted.role), "role", _SWITCH)
    if wanted.load_class:
        for tag in (_SET, _SWITCH):
            if at(tree_of(typed), [_EQUIPMENT, tag]) is not None:
                typed = with_value(typed, [_EQUIPMENT, tag, "classes"], f"[{wanted.load_class}]")
    return typed.decode()


_EQUIPMENT, _SET, _SWITCH = "equipment", "GEN1", "ATS1"
"""The tags that every text of a starter uses; a switch is not in all of them."""


def _head(wanted: Wanted, starter: Starter, key: str | None) -> str:
    permit = ""
    if key is not None:
        dated = f"permit: {{{key}: {in_quotes(wanted.date)}}}"
        permit = f"# This date fixes which edition is in force.\n{dated}\n"
    return f"""\
# What is left out may be anything. `standby-checker review` says where it matters, `standby-checker questions` asks.
# Tags are those of your drawing: where you write others, write them everywhere. Every fact stands in schemas/facts.md.
site:
  name: {in_quotes(wanted.name)}
  stage: plan_review
  # What is done under this permit; many rules begin with it.
  work: [{", ".join(_work(wanted, starter))}]
  occupancy: one_family_dwelling
  jurisdiction: {wanted.jurisdiction}
  {note_of("other_sources", SITE.id)}
{permit}"""


def _work(wanted: Wanted, starter: Starter) -> tuple[str, ...]:
    if wanted.place == NEW:
        return ("service_new", *starter.work)
    return (*(("service_equipment_replaced",) if starter.moves_service else ()), *starter.work)


def write_starter(wanted: Wanted, where: Place) -> Path:
    """Write the site file, which was read as a review reads it. Raises Unreadable."""
    check_place(where.folder)
    path = where.folder / SITE_FILE

    def check(half: Path) -> None:
        job_of(half, where.library, Overrides(folder=where.town))

    put_new(path, starter_text(wanted, where), check)
    return path
