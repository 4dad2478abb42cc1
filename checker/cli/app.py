"""The commands and their options, by typer; each imports what it needs when it runs."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from checker import __version__
from checker.cli import console


def _example(command: str) -> str:
    """A command line as the last lines of a help text, which are not wrapped so that it can be copied."""
    return f"\b\nExample:\n  {command}"


app = typer.Typer(
    name="standby-checker",
    help="Checks the site description of a standby-power installation against rule packs and prints cited findings.",
    epilog=_example("standby-checker review fixtures/harrow-lane/site.yaml"),
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    no_args_is_help=True,
)
rules_app = typer.Typer(
    help="Look after rule packs.",
    epilog=_example("standby-checker rules lint rulesets"),
    rich_markup_mode=None,
    no_args_is_help=True,
)
app.add_typer(rules_app, name="rules")

PROGRAM = "standby-checker"
COULD_NOT_RUN = 2

# Typer shows only some kinds of usage error, and in some versions carries its own copy of the library that they come
# from.
_USAGE_ERROR: type[Exception] = typer.BadParameter.__bases__[0]
_ASKS_FOR_HELP = "NoArgsIsHelpError"
_NOISE = "Value error, "
"""What some versions put before the message of a value that is none of the choices."""


class Format(StrEnum):
    """What a review is printed as."""

    TEXT = "text"
    JSON = "json"


class FailOn(StrEnum):
    """What makes the exit status differ from 0."""

    OPEN = "open"
    CORRECTION = "correction"


class StageName(StrEnum):
    """The stages of a job."""

    PLAN_REVIEW = "plan_review"
    INSTALLATION = "installation"
    ACCEPTANCE = "acceptance"
    IN_SERVICE = "in_service"


def run(arguments: list[str]) -> int:
    """Run one command line and return the exit status; usage errors are one sentence and 2."""
    command = typer.main.get_command(app)
    try:
        status = command.main(arguments, prog_name=PROGRAM, standalone_mode=False)
    except _USAGE_ERROR as error:
        _tell(error, _command_path(command, arguments))
        return COULD_NOT_RUN
    except typer.Abort:
        console.say("Stopped.")
        return COULD_NOT_RUN
    except console.NotWritten as error:
        if str(error):
            console.say(f"The result cannot be written: {error}.\n  Check the disk and where the output goes.")
        return COULD_NOT_RUN
    except SystemExit as stop:
        # The library's own answer to a pipe that nobody reads is 1, which here means a correction.
        return COULD_NOT_RUN if stop.code else 0
    return status if isinstance(status, int) else 0


def _command_path(command: object, arguments: list[str]) -> str:
    """The command that was meant, as it is typed: each word that names a command of the one before."""
    path = [PROGRAM]
    for word in arguments:
        command = getattr(command, "commands", {}).get(word)
        if command is None:
            break
        path.append(word)
    return " ".join(path)


def _tell(error: Exception, command: str) -> None:
    message: str = error.format_message()  # type: ignore[attr-defined]  # what every usage error has
    if type(error).__name__ == _ASKS_FOR_HELP:
        console.result(message + "\n")
        return
    sentence = message.replace(_NOISE, "").rstrip(".")
    console.say(f"{sentence}.\n  See {command} --help.")


def _version(wanted: bool) -> None:
    if wanted:
        console.result(f"standby-checker {__version__}\n")
        raise typer.Exit


@app.callback()
def _everything(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")
    ] = False,
) -> None:
    """Rules as data for standby power: generators, transfer switches, service equipment."""


def _a_date(text: str) -> date:
    from checker.values.dates import read_date
    from checker.values.refusals import NotationError

    try:
        return read_date(text)
    except NotationError as error:
        raise typer.BadParameter(f"{error.sentence} {error.remedy}") from error


@app.command(
    short_help="Review site files and print cited findings.",
    epilog=_example("standby-checker review fixtures/harrow-lane/site.yaml --all"),
)
def review(
    sites: Annotated[list[Path], typer.Argument(metavar="SITE", hidden=True)],
    jurisdiction: Annotated[
        str | None, typer.Option(metavar="PROFILE", help="Id of a profile, in place of the file's own.")
    ] = None,
    on: Annotated[
        date | None,
        typer.Option("--date", parser=_a_date, metavar="DATE", help="Date that fixes the rules, as 2026-03-14."),
    ] = None,
    stage: Annotated[StageName | None, typer.Option(help="Stage of the job, in place of the file's own.")] = None,
    output: Annotated[Format, typer.Option("--format", help="Text for people, JSON for programs.")] = Format.TEXT,
    everything: Annotated[bool, typer.Option("--all", help="List also what meets and what does not apply.")] = False,
    fail_on: Annotated[
        FailOn, typer.Option(help="Exit status 3 when something due is open, or only 1 for corrections.")
    ] = FailOn.OPEN,
) -> int:
    """Review site files under the rules in force for them and print cited findings.

    SITE is a site file, or a folder that holds site.yaml. With --format json one site gives one object, several give a
    list.
    """
    from checker.catalog.model import Stage
    from checker.cli.reviewing import Asked, review_files
    from checker.tasks.reviewing import Overrides

    overrides = Overrides(jurisdiction, on, None if stage is None else Stage(stage.value))
    asked = Asked(
        tuple(sites),
        overrides,
        as_json=output is Format.JSON,
        everything=everything,
        fail_on_open=fail_on is FailOn.OPEN,
    )
    return review_files(asked)


@app.command(
    short_help="Show one finding in full.",
    epilog=_example("standby-checker explain fixtures/harrow-lane/site.yaml 8 --ways"),
)
def explain(
    site: Annotated[Path, typer.Argument(metavar="SITE", hidden=True)],
    finding: Annotated[str, typer.Argument(metavar="NUMBER", hidden=True)],
    ways: Annotated[
        bool, typer.Option("--ways", help="What follows from each role that the disconnect behind it could have.")
    ] = False,
    jurisdiction: Annotated[
        str | None, typer.Option(metavar="PROFILE", help="Id of a profile, in place of the file's own.")
    ] = None,
    on: Annotated[
        date | None,
        typer.Option("--date", parser=_a_date, metavar="DATE", help="Date that fixes the rules, as 2026-03-14."),
    ] = None,
    stage: Annotated[StageName | None, typer.Option(help="Stage of the job, in place of the file's own.")] = None,
) -> int:
    """Show one finding in full: what was compared, where it stands, and what follows from each possible role.

    SITE is a site file, or a folder that holds site.yaml; NUMBER is that of a finding in the report, or its id.
    """
    from checker.catalog.model import Stage
    from checker.cli.explaining import explain_finding
    from checker.tasks.reviewing import Overrides

    overrides = Overrides(jurisdiction, on, None if stage is None else Stage(stage.value))
    return explain_finding(site, finding, overrides, ways=ways)


@rules_app.command(
    "lint",
    short_help="List what is wrong or doubtful in packs.",
    epilog=_example("standby-checker rules lint rulesets"),
)
def rules_lint(
    folders: Annotated[list[Path] | None, typer.Argument(metavar="PACK", hidden=True)] = None,
) -> int:
    """Read packs strictly and list everything that is wrong or doubtful in them.

    PACK is the folder of a pack, or a folder of such folders; the program's own packs if none is named.
    """
    from checker.cli.packs import lint_folders

    return lint_folders(tuple(folders or ()))


@rules_app.command(
    "test",
    short_help="Run the cases beside the rules.",
    epilog=_example("standby-checker rules test rulesets/nfpa-70 --rule first-switch-service-rated"),
)
def rules_test(
    folders: Annotated[list[Path] | None, typer.Argument(metavar="PACK", hidden=True)] = None,
    rule: Annotated[str | None, typer.Option(metavar="RULE", help="Only the cases of this rule.")] = None,
    edges: Annotated[
        bool, typer.Option("--edges", help="Work out the cases at each limit and show those that are new.")
    ] = False,
    keep: Annotated[
        str | None,
        typer.Option(
            metavar="NAME", help="With --edges: keep the cases shown, under the name of who has looked at them."
        ),
    ] = None,
) -> int:
    """Run the cases beside the rules, in every edition in which the rule exists.

    PACK is the folder of a pack, or a folder of such folders; the program's own packs if none is named.
    """
    from checker.cli.packs import test_folders

    return test_folders(tuple(folders or ()), rule=rule, edges=edges, keep=keep)
