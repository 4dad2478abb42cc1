"""The command ``new``: a few questions, then a site file to begin with."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from checker.cli import asking, console
from checker.cli.asking import Again, Asker, Check, Stopped, as_date
from checker.report.exit_status import COULD_NOT_RUN, SETTLED
from checker.report.safe import harmless
from checker.rules.wording import EVENT_WORDS
from checker.tasks.gathering.library import Library
from checker.tasks.questions.trade_words import trade_words
from checker.tasks.starting import (
    EXISTING,
    NEW,
    SITE_FILE,
    Place,
    Wanted,
    check_place,
    check_role,
    jurisdictions,
    profile_named,
    starters,
    write_starter,
)
from checker.values.dates import read_date_as_typed
from checker.values.problems import Problem, Unreadable


def begin(folder: Path, given: Mapping[str, str], town: Path | None = None) -> int:
    """Write the site file: 0, or 2 where it cannot be written. What is given is not asked; ``town`` is the folder of
    the profile, where it is named.
    """
    console.at_work("Reading the rules.")
    library = Library.shipped()
    place = Place(folder, library, town)
    try:
        check_place(folder)
        path = write_starter(_wanted(place, given), place)
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    shown = harmless(path.as_posix())
    console.result(
        f"Wrote {shown}\n"
        "It holds the pieces and what feeds what; everything else is open. Next:\n"
        f"  standby-checker review {shown}\n"
        f"  standby-checker questions {shown}\n"
    )
    return SETTLED


def _wanted(where: Place, given: Mapping[str, str]) -> Wanted:
    asker = Asker()
    asks = _asks(given)
    if asks:
        asker.tell("Type undo to take the last answer back, and why to read what a question is for.")
    while True:
        asker.begin()
        try:
            wanted = _asked(asker, where, given, may_ask=asks)
            if asker.typed:
                _agreed(asker, where)
        except Again:
            continue
        return wanted


_MUST = frozenset({"job", "name", "place", "jurisdiction", "date"})
"""A site file cannot be written without these."""


def _asks(given: Mapping[str, str]) -> bool:
    """Whether anything is asked: a script that gives all that a site file takes is not asked what may stay open."""
    if _MUST - given.keys():
        return True
    open_left = {"role", "class"} if starters()[given["job"]].moves_service else {"class"}
    return bool(open_left - given.keys()) and asking.on_keyboard()


def _agreed(asker: Asker, where: Place) -> None:
    """Ask before the file is written, so that the last answer too can be taken back. Raises Stopped at no."""
    question = f"Write {(where.folder / SITE_FILE).as_posix()}?"
    if not asker.yes(question, "Nothing is written yet; undo takes the last answer back."):
        asker.tell("Nothing was written.")
        raise Stopped


def _asked(asker: Asker, where: Place, given: Mapping[str, str], *, may_ask: bool) -> Wanted:
    def text(key: str, question: str, why: str, check: Check) -> str:
        return check(given[key]) if key in given else asker.text(question, why, check)

    def choice(key: str, question: str, why: str, choices: Mapping[str, str]) -> str:
        return given[key] if key in given else asker.choice(question, why, choices)

    jobs = {name: each.title for name, each in starters().items()}
    job = choice("job", "What is done?", "It fixes the pieces and what feeds what; both can be changed later.", jobs)
    name = text("name", "What is the job called?", "The name on the permit papers; every report begins with it.", _name)
    place = choice("place", "Are meter, service disconnect and main panel there?", "Many rules ask for that.", _PLACES)
    jurisdiction = _jurisdiction(asker, where, given)
    event = EVENT_WORDS[profile_named(jurisdiction, where).event]
    on = text(
        "date",
        f"What is the date of the {event}?",
        "It fixes which edition is in force. As 2026-03-14, or today.",
        _day,
    )
    role, load_class = given.get("role", ""), given.get("class", "")
    check_role(job, role)
    if may_ask and not role and starters()[job].moves_service:
        role = asker.choice(_ROLE, _ROLE_WHY, _ROLES, optional=True, said=trade_words("role"))
    if may_ask and not load_class:
        load_class = asker.choice(_CLASS, _CLASS_WHY, _CLASSES, optional=True, said=trade_words("classes"))
    return Wanted(job, name, place, jurisdiction, on, role, load_class)


_ROLE = "What is the transfer switch, as the first disconnect after the meter?"
_ROLE_WHY = "It settles where the neutral is bonded and what past it has to change."
_ROLES = {
    "service_disconnect": "the service ends in it, and the neutral is bonded there",
    "emergency_disconnect": "a disconnect ahead of the service disconnect, which stays where it is",
}
_CLASS = "Which class of load does the set carry?"
_CLASS_WHY = "The law or the AHJ sets the class, never the installer. A home whose owner wants a set is optional."
_CLASSES = {
    "optional": "optional standby, for the comfort of the owner",
    "legally_required": "legally required standby",
    "emergency": "emergency, for the safety of life",
}


_PLACES = {EXISTING: "they are there and stay", NEW: "they come with this job"}


def _jurisdiction(asker: Asker, where: Place, given: Mapping[str, str]) -> str:
    if "jurisdiction" in given:
        profile_named(given["jurisdiction"], where)
        return given["jurisdiction"]
    known = {name: profile.title for name, profile in jurisdictions(where).items()}
    return asker.choice("Whose rules are in force?", "The profile of a town, or a model code alone.", known)


def _name(typed: str) -> str:
    name = typed.strip()
    if not name or not name.isprintable():
        raise Unreadable([Problem("This is no name for a job.", None, "Write it in letters, digits and signs.")])
    return name


def _day(typed: str) -> str:
    return read_date_as_typed(as_date(typed)).isoformat()
