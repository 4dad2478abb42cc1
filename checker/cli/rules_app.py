"""The commands below ``rules``, by typer; each imports what it needs when it runs."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from checker.cli.choices import (
    BasisName,
    EventName,
    MayName,
    SideFormat,
)
from checker.cli.options import (
    Folder,
    Jurisdiction,
    On,
    a_date,
    example,
)

rules_app = typer.Typer(
    help="Look after rules: packs, layers and profiles.",
    epilog=example("standby-checker rules lint rulesets"),
    rich_markup_mode=None,
    no_args_is_help=True,
)


@rules_app.command(
    "lint",
    short_help="List what is wrong or doubtful in packs, layers and profiles.",
    epilog=example("standby-checker rules lint rulesets"),
)
def rules_lint(
    folders: Annotated[list[Path] | None, typer.Argument(metavar="FOLDER", hidden=True)] = None,
) -> int:
    """Read packs, layers and profiles strictly and list everything that is wrong or doubtful in them.

    FOLDER is the folder of a pack, a folder of such folders, or that of a town with its layers and profiles; the
    program's own packs if none is named. Of layers it also tells what each change hits, and from when.
    """
    from checker.cli.packs import lint_folders

    return lint_folders(tuple(folders or ()))


@rules_app.command(
    "test",
    short_help="Run the cases beside rules and layers.",
    epilog=example("standby-checker rules test rulesets/nfpa-70 --rule first-switch-service-rated"),
)
def rules_test(
    folders: Annotated[list[Path] | None, typer.Argument(metavar="FOLDER", hidden=True)] = None,
    rule: Annotated[str | None, typer.Option(metavar="RULE", help="Only the cases of this rule.")] = None,
    edges: Annotated[
        bool,
        typer.Option(
            "--edges", help="For packs only: make a case at each limit and just beside it, and show those that are new."
        ),
    ] = False,
    keep: Annotated[
        str | None,
        typer.Option(
            metavar="NAME", help="With --edges: keep the cases shown, under the name of who has looked at them."
        ),
    ] = None,
) -> int:
    """Run the cases beside the rules, in every edition in which the rule exists, and those beside layers.

    FOLDER is the folder of a pack, a folder of such folders, or that of a town with its layers; the program's own
    packs if none is named. A case beside a layer runs on the rule as the layer leaves it.
    """
    from checker.cli.packs import test_folders

    return test_folders(tuple(folders or ()), rule=rule, edges=edges, keep=keep)


@rules_app.command(
    "draft",
    short_help="Write a town's rules from a few answers.",
    epilog=example("standby-checker rules draft our-town --answers answers.yaml"),
)
def rules_draft(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", hidden=True)] = Path(),
    answers: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Take the answers from a file in place of asking; MAINTAINERS.md shows one."),
    ] = None,
    place: Annotated[str | None, typer.Option(metavar="NAME", help="Name of the place.")] = None,
    authority: Annotated[str | None, typer.Option(metavar="NAME", help="Who makes the changes.")] = None,
    document: Annotated[str | None, typer.Option(metavar="NAME", help="The document in which they stand.")] = None,
    basis: Annotated[BasisName | None, typer.Option(help="What they rest on.")] = None,
    event: Annotated[EventName | None, typer.Option(help="The event whose date decides which rules count.")] = None,
    may: Annotated[MayName | None, typer.Option(help="What the authority may do to the rules below it.")] = None,
) -> int:
    """Write a profile, a layer with the changes of an authority, and cases beside it; then list what lint says.

    FOLDER is where the files go, the present folder if none is named; no file is written over. Without --answers each
    thing is asked; what an option says is not asked.
    """
    from checker.cli.drafting import draft_rules

    said = {"place": place, "authority": authority, "document": document, "basis": basis, "event": event, "may": may}
    return draft_rules(folder, answers, {key: str(value) for key, value in said.items() if value is not None})


@rules_app.command(
    "list",
    short_help="List rules by section, subject or word.",
    epilog=example("standby-checker rules list --section 230.67"),
)
def rules_list(
    section: Annotated[
        str | None, typer.Option(metavar="SECTION", help="Rules that cite this section or a part of it.")
    ] = None,
    subject: Annotated[
        str | None, typer.Option(metavar="SUBJECT", help="Rules about this kind of thing, as transfer_switch.")
    ] = None,
    word: Annotated[
        str | None,
        typer.Option(metavar="WORD", help="Rules with this word in title, id or texts, the best match first."),
    ] = None,
    jurisdiction: Jurisdiction = None,
    on: On = None,
    folder: Folder = None,
) -> int:
    """List rules with their sections by edition, or as they are in force in a town on a date.

    What is asked for must all hold. Where no rule is found, that is told with the nearest name, and the exit status is
    2.
    """
    from checker.cli.rules import Where, list_rules
    from checker.tasks.telling.rule_list import Wanted

    return list_rules(Wanted(section, subject, word), Where(folder or Path(), jurisdiction, on))


@rules_app.command(
    "compare",
    short_help="Say how the rules of two dates, towns or editions differ.",
    epilog=example('standby-checker rules compare --document "NFPA 70" --edition 2017 --to-edition 2020'),
)
def rules_compare(
    sites: Annotated[list[Path] | None, typer.Argument(metavar="SITE", hidden=True)] = None,
    jurisdiction: Annotated[str | None, typer.Option(metavar="PROFILE", help="Id of the profile of one side.")] = None,
    to_jurisdiction: Annotated[
        str | None, typer.Option(metavar="PROFILE", help="Profile of the other side, where it is another.")
    ] = None,
    on: Annotated[
        date | None, typer.Option("--date", parser=a_date, metavar="DATE", help="Date of one side, as 2026-03-14.")
    ] = None,
    to_on: Annotated[
        date | None,
        typer.Option("--to-date", parser=a_date, metavar="DATE", help="Date of the other side, where it is another."),
    ] = None,
    document: Annotated[
        str | None, typer.Option(metavar="DOCUMENT", help="A document of which two editions are compared.")
    ] = None,
    edition: Annotated[str | None, typer.Option(metavar="EDITION", help="Edition of one side.")] = None,
    to_edition: Annotated[str | None, typer.Option(metavar="EDITION", help="Edition of the other side.")] = None,
    folder: Folder = None,
    output: Annotated[
        SideFormat, typer.Option("--format", help="Text for people, JSON for programs.")
    ] = SideFormat.TEXT,
) -> int:
    """Say which rules appear, go or change between two dates, two towns or two editions of a document.

    SITE is a site file, or a folder that holds site.yaml; with it the findings are told that change, and why.
    """
    from checker.cli.rules import ComparisonAsked, compare_rules
    from checker.tasks.comparing.sides import SideAsked

    before = SideAsked(jurisdiction, on, edition, folder)
    after = SideAsked(to_jurisdiction or jurisdiction, to_on or on, to_edition, folder)
    asked = ComparisonAsked(before, after, document, folder, tuple(sites or ()), output is SideFormat.JSON)
    return compare_rules(asked)


@rules_app.command(
    "explain",
    short_help="Say one rule in words, and how it fares on a site.",
    epilog=example("standby-checker rules explain first-switch-service-rated --site fixtures/harrow-lane"),
)
def rules_explain(
    rule: Annotated[str, typer.Argument(metavar="RULE", hidden=True)],
    jurisdiction: Jurisdiction = None,
    on: On = None,
    site: Annotated[
        Path | None, typer.Option(metavar="SITE", help="A site file: what the rule comes to there, and why.")
    ] = None,
    folder: Folder = None,
) -> int:
    """Say one rule in words: when it applies, what it asks, on which numbers and sections, and what layers changed.

    RULE is the id of a rule, with its pack in front where two packs have one of that id.
    """
    from checker.cli.rules import ExplanationAsked, Where, explain_rule

    return explain_rule(ExplanationAsked(rule, Where(folder or Path(), jurisdiction, on), site, folder))
