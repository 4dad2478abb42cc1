"""The command ``rules draft``."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.cli import console
from checker.cli.packs import COULD_NOT_RUN, lint_folders
from checker.tasks.drafting.answers import Answers, read_answers, with_texts
from checker.tasks.drafting.draft import drafted, write
from checker.tasks.reviewing import Library
from checker.values.problems import Unreadable


def draft_rules(folder: Path, answers_file: Path | None, given: Mapping[str, str]) -> int:
    """Write a layer, its cases and a profile, then print what lint says of them: its status, or 2 could not run."""
    library, catalog = Library.shipped(), shipped_catalog()
    try:
        answers = _answers(answers_file, given, library)
        files = drafted(answers, folder, library, catalog)
        write(files)
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    console.result("".join(f"Wrote {each.path.as_posix()}\n" for each in files))
    return lint_folders((folder,))


def _answers(answers_file: Path | None, given: Mapping[str, str], library: Library) -> Answers:
    if answers_file is not None:
        return with_texts(read_answers(answers_file), given)
    from checker.cli.asking import Asker
    from checker.cli.draft_questions import ask_all

    return ask_all(Asker(), given, library, shipped_catalog())
