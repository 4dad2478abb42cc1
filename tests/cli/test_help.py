"""Help, version, and wrong usage."""

from __future__ import annotations

import pytest

from checker.version import __version__
from tests.cli.conftest import Run
from tests.cli.running import USAGE, run_command

COMMANDS = (
    *(
        (),
        ("review",),
        ("explain",),
        ("worksheet",),
        ("labels",),
        ("submittal",),
        ("packs",),
        ("compare",),
        ("schedule",),
    ),
    *(("rules",), ("rules", "lint"), ("rules", "test")),
    *(("new",), ("questions",), ("field-sheet",), ("schedule",)),
    *(("rules", "list"), ("rules", "compare"), ("rules", "explain"), ("rules", "draft")),
)


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_help_has_an_example_that_is_a_command(command: tuple[str, ...], run: Run) -> None:
    ran = run(*command, "--help")
    assert (ran.status, ran.err) == (0, "")
    example = ran.out.rstrip().splitlines()[-1].split()
    assert example[: 1 + len(command)] == ["standby-checker", *command]
    assert "Example:" in ran.out


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_help_is_in_words(command: tuple[str, ...], run: Run) -> None:
    text = run(*command, "--help").out
    assert not [word for word in ("Path", "<str>", "list[", "...\n", "Optional") if word in text.partition("\n")[2]]
    assert "\x1b" not in text


def test_every_command_is_listed_with_what_it_does(run: Run) -> None:
    listed = run("--help").out
    assert "review       Review site files and print cited findings." in listed
    assert "worksheet    Show the calculations behind the findings." in listed
    assert "field-sheet  Print what to read on site, in walking order." in listed
    listed = run("rules", "--help").out
    assert "lint     List what is wrong or doubtful in packs, layers and profiles." in listed
    assert "compare  Say how the rules of two dates, towns or editions differ." in listed


def test_help_of_review_names_every_option(run: Run) -> None:
    text = run("review", "--help").out
    for option in ("--jurisdiction", "--date", "--stage", "--format", "--all", "--fail-on"):
        assert f"  {option} " in text


@pytest.mark.parametrize("command", [(), ("rules",)], ids=" ".join)
def test_no_command_shows_the_help_and_does_nothing(command: tuple[str, ...], run: Run) -> None:
    ran = run(*command)
    assert ran.status == USAGE
    assert ran.out.startswith("Usage: standby-checker")


def test_version(run: Run) -> None:
    ran = run("--version")
    assert (ran.status, ran.out, ran.err) == (0, f"standby-checker {__version__}\n", "")


@pytest.mark.parametrize(
    ("arguments", "sentence", "see"),
    [
        (("revew", "a"), "revew", "standby-checker"),
        (("review",), "SITE", "standby-checker review"),
        (("review", "--frmat", "json", "a"), "--frmat", "standby-checker review"),
        (("review", "a", "--date"), "--date", "standby-checker review"),
        (("review", "a", "--format", "xml"), "'xml' is not one of 'text', 'json'", "standby-checker review"),
        (("review", "a", "--stage", "planning"), "'plan_review', 'installation'", "standby-checker review"),
        (("review", "a", "--fail-on", "never"), "'open', 'correction'", "standby-checker review"),
        (("review", "a", "--date", "tomorrow"), "tomorrow is not read as a date", "standby-checker review"),
        (("review", "a", "--date", "3/14/2024"), "Write 2024-03-14", "standby-checker review"),
        (("review", "a", "--date", "2024-02-30"), "is no day of the calendar", "standby-checker review"),
        (("rules", "tset"), "tset", "standby-checker rules"),
        (("rules", "lint", "--frmat"), "--frmat", "standby-checker rules lint"),
        (("rules", "test", "--rule"), "--rule", "standby-checker rules test"),
        (("rules", "explain"), "RULE", "standby-checker rules explain"),
        (("rules", "compare", "--to-date", "soon"), "soon is not read as a date", "standby-checker rules compare"),
    ],
)
def test_wrong_usage_is_one_sentence_and_2(arguments: tuple[str, ...], sentence: str, see: str, run: Run) -> None:
    ran = run(*arguments)
    assert (ran.status, ran.out) == (USAGE, "")
    told, remedy = ran.err.splitlines()
    assert sentence in told
    assert told.endswith(".")
    assert not told.endswith("..")
    assert "Value error" not in told
    assert remedy == f"  See {see} --help."


def test_a_process_of_its_own_says_the_same() -> None:
    ran = run_command("review")
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err.splitlines()[1] == "  See standby-checker review --help."
