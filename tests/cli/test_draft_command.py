"""``rules draft`` as a clerk uses it: asked on a terminal, or with answers in a file."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.cli.running import USAGE
from tests.tasks.town import HEAD, SET

TYPED = (
    "NFPA 70", "b", "2022-07-01", "state rule 12-4", "no", "permit application",
    "a", "needs a remote stop", "10 kW", "do not apply", "14-32", "2025-07-01", "skip", "skip", "h",
    "Fern Building", "Fern Code", "law", "a",
)  # fmt: skip
SETS = "power above which a set needs a remote stop: 10 kW instead of 15 kW; exceptions do not apply"


def _type(monkeypatch: pytest.MonkeyPatch, *lines: str) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in lines)))


def test_asked_one_by_one(run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    _type(monkeypatch, *TYPED)
    ran = run("rules", "draft", "fern", "--place", "Fern Point")
    assert (ran.status, ran.err) == (0, "")
    assert "1. Which document is adopted?\n" in ran.out
    assert "g  NFPA 70: National Electrical Code\n" in ran.out
    assert "9. It is 15 kW. What shall it be?" in ran.out
    assert SETS in " ".join(ran.out.split())
    assert ran.out.endswith("Read fern: 0 wrong, 0 to look at again.\n")
    assert sorted(each.name for each in (tmp_path / "fern").iterdir()) == [
        "fern-point-code.cases.yaml",
        "fern-point-code.yaml",
        "fern-point.yaml",
    ]


def test_an_answer_is_taken_back_explained_and_asked_again(
    run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    _type(monkeypatch, "NFPA 70", "c", "undo", "why", "skip", "z", *TYPED[1:])
    ran = run("rules", "draft", "fern", "--place", "Fern Point")
    assert ran.status == 0
    assert "This one is wanted and cannot be left out." in ran.out
    assert "The ordinance that adopts the code names its year." in ran.out
    assert "z is none of the choices. Type a letter or the words.\n   a  2017\n" in ran.out
    assert ran.out.count("2. Which edition?") == 2
    assert 'edition: "2020"' in (tmp_path / "fern" / "fern-point.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "named", ["nfpa 70", "National Electrical Code", "national electrical code", "NEC", "g", "nfpa-70"]
)
def test_document_is_meant_by_any_of_its_names(
    named: str, run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    _type(monkeypatch, named, *TYPED[1:])
    assert run("rules", "draft", "fern", "--place", "Fern Point").status == 0
    profile = (tmp_path / "fern" / "fern-point.yaml").read_text(encoding="utf-8")
    assert 'document: NFPA 70, edition: "2020"' in profile


def test_edition_behind_a_document_is_not_asked(run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    _type(monkeypatch, "nec 2020", *TYPED[2:])
    ran = run("rules", "draft", "fern", "--place", "Fern Point")
    assert "Which edition?" not in ran.out
    assert 'edition: "2020"' in (tmp_path / "fern" / "fern-point.yaml").read_text(encoding="utf-8")


def test_document_that_is_none_lists_the_choices_again(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    _type(monkeypatch, "plumbing code")
    ran = run("rules", "draft", "fern", "--place", "Fern Point")
    again = ran.out.partition("plumbing code is none of the choices.")[2]
    assert "g  NFPA 70: National Electrical Code" in again


def test_paper_shows_what_is_typed_in_the_words_that_are_printed(
    run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    paper = ("ask for a paper", "survey or site plan", "Lot lines, windows and other openings, i", "skip", "14-35")
    _type(monkeypatch, *TYPED[:6], *paper, "skip", "skip", "skip", "h", *TYPED[-4:])
    assert run("rules", "draft", "fern", "--place", "Fern Point").status == 0
    layer = (tmp_path / "fern" / "fern-point-code.yaml").read_text(encoding="utf-8")
    assert "paper: survey, must_show: [lot_lines, openings, gas_meter]" in layer


def test_condition_and_own_paper_are_asked(run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    rule = (
        "add",
        "switched neutral",
        "only where the switch transfers by itself, only from a certain rating of the switch on",
    )
    paper = ("ask for a paper", "own", "signed notice to the neighbors", "Form 7.", "with the plans", "notice")
    typed = (*rule, "400 A", "14-31", "skip", "skip", "skip", *paper, "notice-to-neighbors", "skip")
    _type(
        monkeypatch, *TYPED[:6], *typed, "only where the set stands outdoors", "14-39", *("skip",) * 3, "h", *TYPED[-4:]
    )
    ran = run("rules", "draft", "fern", "--place", "Fern Point")
    assert (ran.status, ran.err) == (0, "")
    assert "Where does it count? (letters or words with commas; skip means everywhere)" in ran.out
    assert "Which name stands for it in the files of applicants? signed-notice-to-the-neighbors is one." in ran.out
    assert "Write notice-of-the-office, or another like it." in ran.out
    layer = (tmp_path / "fern" / "fern-point-code.yaml").read_text(encoding="utf-8")
    assert "rated_current: {at_least: {parameter: fern-point-switched-neutral-from}}" in layer
    assert "notice-to-neighbors: {title: signed notice to the neighbors" in layer
    assert "when: {some: {of: standby_sources, that: {place: {is: outdoors}}}}" in layer


@pytest.mark.parametrize("end", [(), ("stop",), ("STOP", "no more")])
def test_input_that_ends_keeps_what_was_typed_and_goes_on_from_there(
    end: tuple[str, ...], run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    _type(monkeypatch, *TYPED[:5], *end)
    ran = run("rules", "draft", "fern", "--place", "Fern Point")
    assert ran.status == USAGE
    assert ran.err == (
        "Stopped. What was typed so far is kept in fern/answers-so-far.yaml; the same command goes on from there.\n"
    )
    assert [each.name for each in (tmp_path / "fern").iterdir()] == ["answers-so-far.yaml"]
    _type(monkeypatch, *TYPED[5:])
    ran = run("rules", "draft", "fern")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith("5 lines that were typed before are taken up. ")
    assert "1. Which document" not in ran.out
    assert sorted(each.name for each in (tmp_path / "fern").iterdir()) == [
        "fern-point-code.cases.yaml",
        "fern-point-code.yaml",
        "fern-point.yaml",
    ]


def test_stopped_before_the_first_answer_nothing_is_kept(
    run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    _type(monkeypatch, "stop")
    ran = run("rules", "draft", "fern", "--place", "Fern Point")
    assert (ran.status, ran.err) == (USAGE, "Stopped.\n")
    assert not (tmp_path / "fern").exists()


def test_kept_answers_are_not_mixed_with_other_options(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    _type(monkeypatch, *TYPED[:5])
    run("rules", "draft", "fern", "--place", "Fern Point")
    ran = run("rules", "draft", "fern", "--place", "Low Moor")
    assert (ran.status, ran.out) == (USAGE, "")
    assert "answers-so-far.yaml holds answers that were begun with other options." in ran.err


def test_kept_answer_that_is_good_no_more_is_asked_again(
    run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "fern").mkdir()
    (tmp_path / "fern" / "answers-so-far.yaml").write_text(
        'options: {place: "Fern Point"}\ntyped: ["NFPA 70", "1999", "2022-07-01"]\n', encoding="utf-8"
    )
    _type(monkeypatch, *TYPED[1:])
    ran = run("rules", "draft", "fern")
    assert ran.status == 0
    assert "1999 is none of the choices." in ran.out


def test_draft_that_cannot_be_written_keeps_what_was_typed(
    run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "fern").mkdir()
    (tmp_path / "fern" / "fern-point.yaml").write_text("mine\n", encoding="utf-8")
    _type(monkeypatch, *TYPED)
    ran = run("rules", "draft", "fern", "--place", "Fern Point")
    assert ran.status == USAGE
    assert "fern-point.yaml is there already" in ran.err
    (tmp_path / "fern" / "fern-point.yaml").unlink()
    _type(monkeypatch, "anything")
    assert run("rules", "draft", "fern").status == 0


def test_answers_in_a_file_with_an_option_in_the_place_of_one(run: Run, tmp_path: Path) -> None:
    (tmp_path / "answers.yaml").write_text(f"{HEAD}changes:\n  - {SET}\n", encoding="utf-8")
    ran = run("rules", "draft", "moor", "--answers", "answers.yaml", "--place", "Low Moor", "--may", "tighten")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith("Wrote moor/low-moor.yaml\nWrote moor/low-moor-code.yaml\n")
    assert "may: tighten" in (tmp_path / "moor" / "low-moor.yaml").read_text(encoding="utf-8")
    again = run("rules", "draft", "moor", "--answers", "answers.yaml", "--place", "Low Moor")
    assert (again.status, again.out) == (USAGE, "")
    assert again.err.startswith("low-moor.yaml is there already, and a draft never writes over a file.\n")


def test_answers_that_cannot_be_read_are_told_where(run: Run, tmp_path: Path) -> None:
    (tmp_path / "answers.yaml").write_text(HEAD.replace("event:", "evnt:"), encoding="utf-8")
    ran = run("rules", "draft", "fern", "--answers", "answers.yaml")
    assert (ran.status, ran.out) == (USAGE, "")
    assert "answers.yaml:3:1" in ran.err
    assert "Nearest valid name: event" in ran.err


def test_answers_that_are_not_there_are_told(run: Run) -> None:
    ran = run("rules", "draft", "fern", "--answers", "nowhere.yaml")
    assert (ran.status, ran.out) == (USAGE, "")
    assert "There is no file nowhere.yaml." in ran.err


def test_cases_of_a_layer_are_run(run: Run, tmp_path: Path) -> None:
    (tmp_path / "answers.yaml").write_text(f"{HEAD}changes:\n  - {SET}\n", encoding="utf-8")
    run("rules", "draft", "fern", "--answers", "answers.yaml")
    assert run("rules", "test", "fern").out.endswith("rules were run; all hold.\n")
    cases = tmp_path / "fern" / "fern-point-code.cases.yaml"
    text = cases.read_text(encoding="utf-8")
    cases.write_text(text.replace("outcome: not_applicable", "outcome: correction", 1), encoding="utf-8")
    ran = run("rules", "test", "fern")
    assert ran.status == 1
    assert "came out as not_applicable, wanted correction" in ran.out
