"""The command ``rules draft``."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.cli import console
from checker.cli.packs import COULD_NOT_RUN, lint_folders
from checker.tasks.drafting.answers import Answers, read_answers, with_texts
from checker.tasks.drafting.draft import drafted, write
from checker.tasks.drafting.kept import KEPT, Kept, forget, keep_if_any, read_kept
from checker.tasks.gathering.library import Library
from checker.values.problems import Problem, Unreadable


def draft_rules(folder: Path, answers_file: Path | None, given: Mapping[str, str]) -> int:
    """Write a layer, its cases and a profile, then print what lint says of them: its status, or 2 could not run."""
    try:
        if answers_file is None:
            return _asked(folder, given)
        return _written(folder, with_texts(read_answers(answers_file), given), Library.shipped())
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN


def _written(folder: Path, answers: Answers, library: Library) -> int:
    """Write the files and print what lint says of them. Raises Unreadable."""
    files = drafted(answers, folder, library, shipped_catalog())
    write(files)
    console.result("".join(f"Wrote {each.path.as_posix()}\n" for each in files))
    return lint_folders((folder,))


def _asked(folder: Path, given: Mapping[str, str]) -> int:
    """Ask, then write; where nothing is written what was typed is kept. Raises Unreadable."""
    from checker.cli.asking import Asker, Stopped
    from checker.cli.draft_questions import ask_all

    library, kept = Library.shipped(), read_kept(folder)
    if kept is not None and given and kept.given != given:
        sentence = f"{KEPT} holds answers that were begun with other options."
        raise Unreadable([Problem(sentence, None, "Give no options to go on with them, or move that file away.")])
    options = given if kept is None else kept.given
    asker = Asker(() if kept is None else kept.typed)
    try:
        status = _written(folder, ask_all(asker, options, library, shipped_catalog()), library)
    except Stopped:
        return _stopped(folder, Kept(asker.typed, options))
    except Unreadable:
        # One line less, so that there is a question at which the others can be taken back.
        keep_if_any(folder, Kept(asker.typed[:-1], options))
        raise
    forget(folder)
    return status


def _stopped(folder: Path, kept: Kept) -> int:
    path = keep_if_any(folder, kept)
    where = f" What was typed so far is kept in {path.as_posix()}; the same command goes on from there." if path else ""
    console.say(f"Stopped.{where}")
    return COULD_NOT_RUN
