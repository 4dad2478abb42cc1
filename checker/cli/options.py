"""Options that several commands have, and what they come to."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from checker.cli.choices import StageName

if TYPE_CHECKING:
    from checker.tasks.reviewing import Overrides


def example(command: str) -> str:
    """A command line as the last lines of a help text, which are not wrapped so that it can be copied."""
    return f"\b\nExample:\n  {command}"


def a_date(text: str) -> date:
    """The date of an option; what cannot be read is a wrong use of the command."""
    from checker.values.dates import read_date
    from checker.values.refusals import NotationError

    try:
        return read_date(text)
    except NotationError as error:
        raise typer.BadParameter(f"{error.sentence} {error.remedy}") from error


OtherJurisdiction = Annotated[
    str | None, typer.Option(metavar="PROFILE", help="Id of a profile, in place of the file's own.")
]
On = Annotated[
    date | None,
    typer.Option("--date", parser=a_date, metavar="DATE", help="Date that fixes the rules, as 2026-03-14."),
]
TownFolder = Annotated[
    Path | None,
    typer.Option(
        "--folder",
        metavar="FOLDER",
        help="Folder with the profile and the layers of the town; that of the site and those above, if not given.",
    ),
]
Folder = Annotated[
    Path | None,
    typer.Option(
        "--folder",
        metavar="FOLDER",
        help="Folder with the profile and the layers of the town; that of the site, or this one, if not given.",
    ),
]


def overrides(jurisdiction: str | None, on: date | None, stage: StageName | None, folder: Path | None) -> Overrides:
    """What the options say in place of the site file."""
    from checker.catalog.model import Stage
    from checker.tasks.reviewing import Overrides

    return Overrides(jurisdiction, on, None if stage is None else Stage(stage.value), folder=folder)


AtStage = Annotated[StageName | None, typer.Option(help="Stage of the job, in place of the file's own.")]

Jurisdiction = Annotated[str | None, typer.Option(metavar="PROFILE", help="Id of a profile: the rules in force there.")]
