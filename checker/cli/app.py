"""The commands and their options, by typer; each imports what it needs when it runs."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from checker.cli import console
from checker.cli.choices import (
    ClassName,
    FailOn,
    JobName,
    PlaceName,
    RevisionFormat,
    RoleName,
    SheetFormat,
    StageName,
)
from checker.cli.label_format import LabelFormat, PaperFormat
from checker.cli.options import (
    AtStage,
    On,
    OtherJurisdiction,
    TownFolder,
    a_date,
    example,
    overrides,
)
from checker.cli.outputs import Format
from checker.cli.rules_app import rules_app
from checker.cli.schedule_format import ScheduleFormat
from checker.version import __version__

if TYPE_CHECKING:
    pass


app = typer.Typer(
    name="standby-checker",
    help="Checks the site description of a standby-power installation against rule packs and prints cited findings.",
    epilog=example("standby-checker review fixtures/harrow-lane/site.yaml"),
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
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


@app.command(
    short_help="Review site files and print cited findings.",
    epilog=example("standby-checker review fixtures/harrow-lane/site.yaml --all"),
)
def review(
    sites: Annotated[list[Path], typer.Argument(metavar="SITE", hidden=True)],
    jurisdiction: OtherJurisdiction = None,
    on: On = None,
    folder: TownFolder = None,
    stage: Annotated[StageName | None, typer.Option(help="Stage of the job, in place of the file's own.")] = None,
    output: Annotated[
        Format,
        typer.Option(
            "--format",
            help="Text for people; JSON, JSON Lines, SARIF and JUnit XML for programs.",
        ),
    ] = Format.TEXT,
    everything: Annotated[
        bool,
        typer.Option(
            "--all", help="List also what meets, what does not apply, and all of a long list of what is not shown."
        ),
    ] = False,
    fail_on: Annotated[
        FailOn, typer.Option(help="Exit status 3 when something due is open, or only 1 for corrections.")
    ] = FailOn.OPEN,
    baseline: Annotated[
        Path | None,
        typer.Option(metavar="REPORT", help="An earlier JSON report: what it holds does not count for the status."),
    ] = None,
) -> int:
    """Review site files under the rules in force for them and print cited findings.

    SITE is a site file, a folder that holds site.yaml, or a folder of such folders. With --format json one site gives
    one object, several give a list.
    """
    from checker.cli.reviewing import Asked, review_files

    asked = Asked(
        tuple(sites),
        overrides(jurisdiction, on, stage, folder),
        form=output,
        everything=everything,
        fail_on_open=fail_on is FailOn.OPEN,
        baseline=baseline,
    )
    return review_files(asked)


@app.command(
    short_help="Say what changed from one revision to the next.",
    epilog=example("standby-checker compare before/site.yaml after/site.yaml --format html > changes.html"),
)
def compare(
    sites: Annotated[list[Path], typer.Argument(metavar="SITE", hidden=True)],
    jurisdiction: Annotated[
        list[str] | None, typer.Option(metavar="PROFILE", help="Id of a profile; several stand side by side.")
    ] = None,
    on: Annotated[
        list[date] | None,
        typer.Option("--date", parser=a_date, metavar="DATE", help="Date that fixes the rules; several likewise."),
    ] = None,
    folder: TownFolder = None,
    output: Annotated[
        RevisionFormat, typer.Option("--format", help="Text, JSON for programs, or an HTML page to file and print.")
    ] = RevisionFormat.TEXT,
) -> int:
    """Say which findings are new, changed, cured and still open from one revision of a job to the next.

    SITE SITE are the earlier and the later site file, or folders that hold site.yaml. One SITE with several
    --jurisdiction or --date is laid side by side under each of them.
    """
    from checker.cli.comparing import Asked
    from checker.cli.comparing import compare as compared

    asked = Asked(tuple(sites), tuple(jurisdiction or ()), tuple(on or ()), output.value, folder)
    return compared(asked)


@app.command(
    "new",
    short_help="Write a site file to begin with.",
    epilog=example("standby-checker new our-job --job whole_house"),
)
def new_site(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", hidden=True)],
    job: Annotated[JobName | None, typer.Option(help="What is done.")] = None,
    name: Annotated[str | None, typer.Option(metavar="NAME", help="Name of the job, as on the permit papers.")] = None,
    place: Annotated[
        PlaceName | None, typer.Option("--service", help="Whether meter, service disconnect and main panel are there.")
    ] = None,
    jurisdiction: Annotated[
        str | None, typer.Option(metavar="PROFILE", help="Id of a profile: whose rules are in force.")
    ] = None,
    on: On = None,
    role: Annotated[
        RoleName | None,
        typer.Option(help="What the transfer switch is, as the first disconnect after the meter; not_known: open."),
    ] = None,
    load_class: Annotated[
        ClassName | None,
        typer.Option(
            "--class",
            help="Class of load that the set carries, as the law or the AHJ sets it; not_known: open.",
        ),
    ] = None,
    town: TownFolder = None,
) -> int:
    """Write a site file for a common job: the pieces and what feeds what, with everything else left open.

    FOLDER is where site.yaml goes; no file is written over. What no option says is asked; --date is the day of the
    permit application. Where nobody types on a terminal, --role and --class may be left out: they stay open. A
    profile that is a model code alone looks at nothing but that code: rules draft writes the profile of a place.
    """
    from checker.cli.starting import begin

    said = {"job": job, "name": name, "place": place, "jurisdiction": jurisdiction, "date": on}
    said |= {"role": role, "class": load_class}
    return begin(folder, {key: str(value) for key, value in said.items() if value is not None}, town)


@app.command(
    short_help="Ask for what findings wait for, and write the answers down.",
    epilog=example("standby-checker questions our-job/site.yaml"),
)
def questions(
    site: Annotated[Path, typer.Argument(metavar="SITE", hidden=True)],
    jurisdiction: OtherJurisdiction = None,
    on: On = None,
    folder: TownFolder = None,
    stage: Annotated[StageName | None, typer.Option(help="Stage of the job, in place of the file's own.")] = None,
) -> int:
    """Ask one question after the other: what can be read on site before papers, what settles most first.

    SITE is a site file, or a folder that holds site.yaml. Each answer is written into it at once; comments and layout
    stay. Type undo, skip, why or stop in place of an answer.
    """
    from checker.cli.questions import ask_questions

    return ask_questions(site, overrides(jurisdiction, on, stage, folder))


@app.command(
    "field-sheet",
    short_help="Print what to read on site, in walking order.",
    epilog=example("standby-checker field-sheet fixtures/plover-row/site.yaml"),
)
def field_sheet(
    site: Annotated[Path, typer.Argument(metavar="SITE", hidden=True)],
    output: Annotated[
        SheetFormat, typer.Option("--format", help="Text, or a page for the printer.")
    ] = SheetFormat.TEXT,
    jurisdiction: OtherJurisdiction = None,
    on: On = None,
    folder: TownFolder = None,
    stage: Annotated[StageName | None, typer.Option(help="Stage of the job, in place of the file's own.")] = None,
) -> int:
    """Print a sheet to take along: what to read at meter, switch, panels, set and gas meter and with the tape.

    Each thing has a line to write on and says how many findings wait for it; what to look at in the field stands beside
    it. SITE is a site file, or a folder that holds site.yaml.
    """
    from checker.cli.field_sheets import print_field_sheet

    return print_field_sheet(site, overrides(jurisdiction, on, stage, folder), as_page=output is SheetFormat.HTML)


@app.command(
    short_help="Show one finding in full.",
    epilog=example("standby-checker explain fixtures/harrow-lane/site.yaml 8 --ways"),
)
def explain(
    site: Annotated[Path, typer.Argument(metavar="SITE", hidden=True)],
    finding: Annotated[str, typer.Argument(metavar="NUMBER", hidden=True)],
    ways: Annotated[
        bool, typer.Option("--ways", help="What follows from each role that the disconnect behind it could have.")
    ] = False,
    jurisdiction: OtherJurisdiction = None,
    on: On = None,
    folder: TownFolder = None,
    stage: Annotated[StageName | None, typer.Option(help="Stage of the job, in place of the file's own.")] = None,
) -> int:
    """Show one finding in full: what was compared, where it stands, and what follows from each possible role.

    SITE is a site file, or a folder that holds site.yaml; NUMBER is that of a finding in the report, or its id.
    """
    from checker.cli.explaining import explain_finding

    return explain_finding(site, finding, overrides(jurisdiction, on, stage, folder), ways=ways)


@app.command(
    short_help="Show the calculations behind the findings.",
    epilog=example("standby-checker worksheet fixtures/harrow-lane/site.yaml GEN1.capacity"),
)
def worksheet(
    site: Annotated[Path, typer.Argument(metavar="SITE", hidden=True)],
    facts: Annotated[list[str] | None, typer.Argument(metavar="FACT", hidden=True)] = None,
    jurisdiction: OtherJurisdiction = None,
    on: On = None,
    folder: TownFolder = None,
) -> int:
    """Show every calculation that findings rest on: quantity, how it was found, value, and where it comes from.

    SITE is a site file, or a folder that holds site.yaml; FACT names what was worked out, as GEN1.capacity, all if none
    is named.
    """
    from checker.cli.worksheets import print_worksheets

    return print_worksheets(site, tuple(facts or ()), overrides(jurisdiction, on, None, folder))


@app.command(
    short_help="List the signs that are wanted, and draw them.",
    epilog=example("standby-checker labels fixtures/harrow-lane/site.yaml --format svg"),
)
def labels(
    site: Annotated[Path, typer.Argument(metavar="SITE", hidden=True)],
    jurisdiction: OtherJurisdiction = None,
    on: On = None,
    folder: TownFolder = None,
    stage: AtStage = None,
    output: Annotated[
        LabelFormat,
        typer.Option("--format", help="Text and HTML for people, JSON for programs, SVG for the engraver."),
    ] = LabelFormat.TEXT,
) -> int:
    """List every sign, placard and marking that the rules in force want: where, with what on it, whether it is there.

    SITE is a site file, or a folder that holds site.yaml. SVG and HTML hold a drawing of each sign with its dimensions.
    """
    from checker.cli.sheets import print_labels

    return print_labels(site, output, overrides(jurisdiction, on, stage, folder))


@app.command(
    short_help="List the papers that are asked for.",
    epilog=example("standby-checker submittal fixtures/marsh-ferry/site.yaml"),
)
def submittal(
    site: Annotated[Path, typer.Argument(metavar="SITE", hidden=True)],
    jurisdiction: OtherJurisdiction = None,
    on: On = None,
    folder: TownFolder = None,
    stage: AtStage = None,
    output: Annotated[
        PaperFormat, typer.Option("--format", help="Text and HTML for people, JSON for programs.")
    ] = PaperFormat.TEXT,
) -> int:
    """List the papers that the office wants for this job: by whom, what they have to show, and what is in the packet.

    SITE is a site file, or a folder that holds site.yaml.
    """
    from checker.cli.sheets import print_submittal

    return print_submittal(site, output, overrides(jurisdiction, on, stage, folder))


@app.command(
    short_help="Say what each piece must be.",
    epilog=example("standby-checker schedule fixtures/harrow-lane/site.yaml"),
)
def schedule(
    site: Annotated[Path, typer.Argument(metavar="SITE", hidden=True)],
    jurisdiction: OtherJurisdiction = None,
    on: On = None,
    folder: TownFolder = None,
    output: Annotated[
        ScheduleFormat, typer.Option("--format", help="Text and HTML for people, JSON for programs.")
    ] = ScheduleFormat.TEXT,
) -> int:
    """Say what each piece must be: every fact with the values that no mandatory rule turns down, and the rules.

    SITE is a site file, or a folder that holds site.yaml. What one line says holds while all else stays as shown.
    """
    from checker.cli.scheduling import print_schedule

    return print_schedule(site, output, overrides(jurisdiction, on, None, folder))


@app.command(
    short_help="List the packs, layers and profiles that are found.",
    epilog=example("standby-checker packs fixtures/harrow-lane"),
)
def packs(
    folders: Annotated[list[Path] | None, typer.Argument(metavar="FOLDER", hidden=True)] = None,
) -> int:
    """List what is installed: packs with their editions and how much of them is checked, layers, and profiles.

    FOLDER is the folder of a town; this one if none is named. What comes with the program is listed too.
    """
    from checker.cli.rules import list_installed

    return list_installed(tuple(folders or ()))
