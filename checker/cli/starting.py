"""The command ``new``: a few questions, then a site file to begin with."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
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
    is_model_code_alone,
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
        wanted = _wanted(place, given)
        path = write_starter(wanted, place)
        alone = is_model_code_alone(profile_named(wanted.jurisdiction, place))
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    shown = harmless(path.as_posix())
    console.result(
        f"Wrote {shown}\n"
        "It holds the pieces and what feeds what; everything else is open. Next:\n"
        f"  standby-checker review {shown}\n"
        f"  standby-checker questions {shown}\n{_MODEL_CODE_ALONE if alone else ''}"
    )
    return SETTLED


_MODEL_CODE_ALONE = (
    "The rules are those of one model code alone. Nothing looks at gas piping, at how far a set stands from openings\n"
    "and lot lines by local law, or at what the utility asks. The profile of your place adds them:\n"
    "  standby-checker rules draft FOLDER\n"
)


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
    role, load_class = (_known(given.get(key, "")) for key in ("role", "class"))
    check_role(job, role)
    if may_ask and "role" not in given and starters()[job].moves_service:
        role = _left_open(asker, _ROLE, _ROLE_WHY, "role", _ROLES)
    if may_ask and "class" not in given:
        load_class = _left_open(asker, _CLASS, _CLASS_WHY, "classes", _CLASSES)
    return Wanted(job, name, place, jurisdiction, on, role, load_class)


_ROLE = "What is the transfer switch, as the first disconnect after the meter?"
_ROLE_WHY = "It settles where the neutral is bonded and what past it has to change."
_ROLES = ("service_disconnect", "emergency_disconnect")
_CLASS = "Which class of load does the set carry?"
_CLASS_WHY = "The law or the AHJ sets the class, never the installer. A home whose owner wants a set is optional."
_CLASSES = ("optional", "legally_required", "emergency")
NOT_KNOWN = "not_known"
_LEFT_OPEN = "it stays open; questions asks it, and review tells what hangs on it"
_SAID_NOT_KNOWN = ("none", "unknown", "don't know", "dont know", "do not know", "i don't know", "not sure", "no idea")
"""What people say who do not know."""


def _left_open(asker: Asker, question: str, why: str, fact: str, words: Iterable[str]) -> str:
    """One of these words of a fact, each in plain words, or empty where nobody knows."""
    known = trade_words(fact)
    said = replace(known, says={**known.says, NOT_KNOWN: _SAID_NOT_KNOWN})
    choices = {word: known.in_words[word] for word in words} | {NOT_KNOWN: _LEFT_OPEN}
    return _known(asker.choice(question, why, choices, optional=True, said=said))


def _known(word: str) -> str:
    """Empty for what is said not to be known."""
    return "" if word == NOT_KNOWN else word


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
