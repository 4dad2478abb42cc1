"""The command ``new``: a site file to begin with."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.cli import asking
from checker.tasks.starting import starters
from tests.cli.conftest import Run
from tests.cli.running import USAGE
from tests.project.project_tree import ROOT

JOBS = tuple(starters())
OPTIONS = ("--name", "Ash: 'Cottage' #4", "--service", "existing", "--jurisdiction", "nec-2023", "--date", "2024-03-14")


@pytest.mark.parametrize("job", JOBS)
def test_every_starter_reviews_at_once_and_wants_no_correction(job: str, run: Run, tmp_path: Path) -> None:
    ran = run("new", "job", "--job", job, *OPTIONS)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith("Wrote job/site.yaml\n")
    text = (tmp_path / "job" / "site.yaml").read_text(encoding="utf-8")
    assert "$" not in text.partition("\n")[2]
    assert text.count("\n  # ") >= 5
    reviewed = run("review", "job")
    assert reviewed.status == 3
    assert reviewed.out.startswith("Ash: 'Cottage' #4, permit application 2024-03-14")
    assert "No correction is wanted on what is shown" in reviewed.out
    assert "Drawing" not in reviewed.out


def test_what_no_option_says_is_asked(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    lines: Iterator[str] = iter(
        (
            "why",
            "a",
            "Wrong",
            "undo",
            "Right",
            "b",
            "nec2020",
            "soon",
            "3/14/2024",
            "service rated",
            "service",
            "legally required standby",
            "undo",
            "optional standby",
            "why",
            "yes",
        )
    )
    monkeypatch.setattr(asking, "typed_line", lambda: next(lines))
    ran = run("new", "job")
    assert ran.status == 0
    assert "soon is not read as a date." in ran.out
    assert "Service rated says what the switch may be used as" in ran.out
    text = (tmp_path / "job" / "site.yaml").read_text(encoding="utf-8")
    assert 'name: "Right"' in text
    assert "work: [service_new, generator_new, transfer_switch_new]" in text
    assert "jurisdiction: nec-2020" in text
    assert 'application_date: "2024-03-14"' in text
    assert "alternate: GEN1/1, role: service_disconnect, classes: [optional]}" in text
    assert "generator_form: stationary, classes: [optional]}" in text
    assert not list(lines)


def test_today_is_the_date_of_today(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    options = (*OPTIONS[: OPTIONS.index("--date")], "--job", JOBS[0])
    before = datetime.now().astimezone().date()
    monkeypatch.setattr(asking, "typed_line", iter(("today", "skip", "skip", "yes")).__next__)
    assert run("new", "job", *options).status == 0
    text = (tmp_path / "job" / "site.yaml").read_text(encoding="utf-8")
    assert any(f'"{day.isoformat()}"' in text for day in (before, datetime.now().astimezone().date()))


def test_on_a_terminal_role_and_class_are_asked_too(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(asking, "on_keyboard", lambda: True)
    lines = iter(("a", "a", "undo", "c", "yes"))
    monkeypatch.setattr(asking, "typed_line", lambda: next(lines))
    ran = run("new", "job", "--job", "whole_house", *OPTIONS)
    assert ran.status == 0
    assert "1. What is the transfer switch" in ran.out
    assert "3. Write job/site.yaml?" in ran.out
    text = (tmp_path / "job" / "site.yaml").read_text(encoding="utf-8")
    assert "role: service_disconnect, classes: [emergency]" in text
    assert not list(lines)


def test_classes_stand_in_the_order_in_which_questions_lists_them(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """The likeliest first: a letter means the same class to both commands."""
    monkeypatch.setattr(asking, "typed_line", iter(("stop",)).__next__)
    monkeypatch.setattr(asking, "on_keyboard", lambda: True)
    asked = run("new", "job", "--job", "part_of_house", *OPTIONS).out
    of_new = re.findall(r"^ +([a-z])  ([a-z ]+):", asked, re.MULTILINE)
    of_catalog = shipped_catalog().facts["classes"].choices
    letters = zip("abc", of_catalog, strict=False)
    assert of_new.pop() == ("d", "not known")
    assert of_new == [(letter, word.replace("_", " ")) for letter, word in letters]
    assert of_new[0] == ("a", "optional")


def test_nothing_is_written_at_no(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(asking, "on_keyboard", lambda: True)
    monkeypatch.setattr(asking, "typed_line", iter(("skip", "skip", "no")).__next__)
    ran = run("new", "job", "--job", "whole_house", *OPTIONS)
    assert "Nothing was written." in ran.out
    assert ran.status != 0
    assert not list(tmp_path.glob("job/*"))


def test_options_say_role_and_class_and_nothing_is_asked(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(asking, "on_keyboard", lambda: True)
    said = ("--role", "emergency_disconnect", "--class", "optional")
    ran = run("new", "job", "--job", "whole_house", *OPTIONS, *said)
    assert ran.status == 0
    assert ran.out.startswith("Wrote job/site.yaml\n")
    text = (tmp_path / "job" / "site.yaml").read_text(encoding="utf-8")
    assert "role: emergency_disconnect, classes: [optional]" in text


def test_a_role_is_refused_where_the_switch_does_not_come_first(run: Run, tmp_path: Path) -> None:
    ran = run("new", "job", "--job", "part_of_house", *OPTIONS, "--role", "service_disconnect")
    assert (ran.status, ran.out) == (USAGE, "")
    assert "is not the first disconnect after the meter." in ran.err
    assert "whole_house" in ran.err
    assert not list(tmp_path.glob("job/*"))


@pytest.mark.parametrize("lying", ["job/site.yaml", "job"])
def test_nothing_is_written_over(lying: str, run: Run, tmp_path: Path) -> None:
    place = tmp_path / lying
    place.parent.mkdir(exist_ok=True)
    place.write_text("mine", encoding="utf-8")
    ran = run("new", "job", "--job", JOBS[0], *OPTIONS)
    assert (ran.status, ran.out) == (USAGE, "")
    assert re.match(r"job/site\.yaml is there already|job is no folder", ran.err)
    assert place.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    ("option", "value", "said"),
    [
        ("--jurisdiction", "nec-2032", "nec-2023"),
        ("--name", "\x1b[2J", "This is no name for a job."),
        ("--name", " ", "This is no name for a job."),
        ("--date", "1901-01-01", "1901"),
    ],
)
def test_an_answer_that_cannot_be_used_leaves_no_file(
    option: str, value: str, said: str, run: Run, tmp_path: Path
) -> None:
    options = list(OPTIONS)
    options[options.index(option) + 1] = value
    ran = run("new", "job", "--job", JOBS[0], *options)
    assert (ran.status, ran.out) == (USAGE, "")
    assert said in ran.err
    assert not list(tmp_path.glob("job/*"))


def test_a_hostile_name_is_text_and_nothing_else(run: Run) -> None:
    name = '"} equipment: {#'
    options = list(OPTIONS)
    options[1] = name
    assert run("new", "job", "--job", JOBS[0], *options).status == 0
    assert run("review", "job").out.startswith(name)


@pytest.mark.parametrize("typed", ["c", "none", "don't know", "not sure", "not known", "skip"])
def test_whoever_does_not_know_the_role_leaves_it_open(
    typed: str, run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(asking, "on_keyboard", lambda: True)
    monkeypatch.setattr(asking, "typed_line", iter((typed, "a", "yes")).__next__)
    ran = run("new", "job", "--job", "whole_house", *OPTIONS)
    assert ran.status == 0
    text = (tmp_path / "job" / "site.yaml").read_text(encoding="utf-8")
    assert "role: " not in text.replace("as role: once", "")
    assert "classes: [optional]" in text


def test_role_and_class_are_asked_in_plain_words(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(asking, "on_keyboard", lambda: True)
    monkeypatch.setattr(asking, "typed_line", iter(("b", "stop")).__next__)
    told = " ".join(run("new", "job", "--job", "whole_house", *OPTIONS).out.split())
    assert "service disconnect: the service ends in it, and neutral and ground are bonded there" in told
    assert "emergency: a law asks for it to save lives" in told
    assert "nearly never at a house" in told


def test_options_can_say_that_role_and_class_are_not_known(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(asking, "on_keyboard", lambda: True)
    ran = run("new", "job", "--job", "whole_house", *OPTIONS, "--role", "not_known", "--class", "not_known")
    assert ran.status == 0
    assert ran.out.startswith("Wrote job/site.yaml\n")
    text = (tmp_path / "job" / "site.yaml").read_text(encoding="utf-8")
    assert "not_known" not in text
    assert "classes:" not in text


@pytest.mark.parametrize(("place", "alone"), [("nec-2023", True), ("fennmoor-county", False)])
def test_a_model_code_alone_says_what_nothing_looks_at(place: str, alone: bool, run: Run) -> None:
    options = list(OPTIONS)
    options[options.index("--jurisdiction") + 1] = place
    ran = run("new", "job", "--job", "whole_house", *options, "--folder", str(ROOT / "fixtures" / "harrow-lane"))
    assert ran.status == 0
    assert ("Nothing looks at gas piping, " in ran.out) is alone
    assert ("standby-checker rules draft FOLDER" in ran.out) is alone
