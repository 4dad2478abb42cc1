"""What is listed or drawn in answer to a question, as a person types it: loads one by one, a piece that is there."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from checker.cli import asking
from checker.cli import questions as command
from checker.facts.known import Ask, Leaf
from checker.findings.review import view_of_job
from checker.site.model import SITE
from checker.tasks.questions.asked import question_of
from checker.tasks.questions.session import Session
from checker.tasks.reviewing import Library, Overrides
from checker.values.problems import Unreadable

HOUSE = """\
site: {name: A house, jurisdiction: nec-2023, stage: plan_review, occupancy: one_family_dwelling,
       work: [generator_new, transfer_switch_new]}
permit: {application_date: "2026-06-03"}
equipment:
  UTIL: {kind: utility_supply}
  M1: {kind: meter, fed_from: UTIL}
  ATS1: {kind: transfer_switch, normal: M1, alternate: GEN1/1, status: new, operation: automatic}
  P1: {kind: panelboard, fed_from: ATS1, status: existing}
  GEN1: {kind: generator, status: new, generator_form: stationary}
"""
LOADS = Leaf(SITE, "loads", Ask.MORE)
Type = Callable[..., bool]


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


@pytest.fixture
def house(tmp_path: Path) -> Path:
    path = tmp_path / "site.yaml"
    path.write_text(HOUSE, encoding="utf-8")
    return path


@pytest.fixture
def session(house: Path, library: Library) -> Session:
    return Session(house, library, Overrides())


@pytest.fixture
def answer(session: Session, monkeypatch: pytest.MonkeyPatch) -> Type:
    """Types an answer to the question of a leaf, with what is typed after it; whether that settles the question."""

    def typed(leaf: Leaf, first: str, *more: str) -> bool:
        left = iter((*more, None))
        monkeypatch.setattr(asking, "typed_line", lambda: next(left))
        question = question_of(leaf, view_of_job(session.job))
        assert question is not None
        return command._done(session, question, first)

    return typed


def test_loads_are_entered_one_by_one_and_the_question_stays(house: Path, answer: Type) -> None:
    assert not answer(LOADS, "add", "range", "Range", "8 kVA")
    assert not answer(LOADS, "add", "water heater", "skip", "4500 W")
    assert not answer(LOADS, "add", "car charger", "Charger", "48 A at 240 V")
    assert house.read_text(encoding="utf-8") == (
        f"{HOUSE}loads:\n"
        "  - {load_kind: cooking, name: Range, load_power: 8 kVA, at: P1}\n"
        "  - {load_kind: water_heater, name: water heater with a tank, load_power: 4500 VA, at: P1}\n"
        "  - {load_kind: vehicle_supply, name: Charger, load_power: 11520 VA, at: P1}\n"
    )


def test_watts_of_what_does_not_only_heat_are_not_taken(
    house: Path, answer: Type, capsys: pytest.CaptureFixture[str]
) -> None:
    answer(LOADS, "add", "air conditioner", "AC", "3600 W", "3600 VA")
    assert "kVA" in capsys.readouterr().out
    assert "{load_kind: cooling, name: AC, load_power: 3600 VA, at: P1}" in house.read_text(encoding="utf-8")


def test_an_entry_that_is_left_writes_nothing(house: Path, answer: Type) -> None:
    assert not answer(LOADS, "add", "range", "Range", "undo")
    assert house.read_text(encoding="utf-8") == HOUSE


def test_a_list_of_loads_that_holds_none_is_never_complete(
    house: Path, answer: Type, session: Session, capsys: pytest.CaptureFixture[str]
) -> None:
    assert not answer(LOADS, "yes")
    assert "holds none yet" in capsys.readouterr().out
    assert house.read_text(encoding="utf-8") == HOUSE
    assert not answer(LOADS, "add", "dryer", "Dryer", "5 kVA")
    assert answer(LOADS, "yes")
    assert session.job.site.members("loads").complete


def test_an_entry_is_taken_back(house: Path, answer: Type, session: Session) -> None:
    answer(LOADS, "add", "dryer", "Dryer", "5 kVA")
    assert session.undo()
    assert house.read_text(encoding="utf-8") == HOUSE


@pytest.mark.parametrize(
    ("kind", "typed", "line"),
    [
        (
            "stop",
            ("away from set", "yes"),
            "STOP1: {kind: stop, of: GEN1, stands: away_from_set, readily_accessible: yes}",
        ),
        (
            "surge_protective_device",
            ("P1", "type 2", "skip"),
            "SPD1: {kind: surge_protective_device, at: P1, surge_type: type_2}",
        ),
        ("load_manager", ("GEN1", "yes", "no"), "LM1: {kind: load_manager, manages: GEN1, listed: yes"),
        ("fuel_tank", ("outside", "no", "120"), "TANK1: {kind: fuel_tank, of: GEN1, place: outdoors, tank_buried: no"),
        ("inlet", ("outdoor", "30"), "INLET1: {kind: inlet, place: outdoors, rated_current: 30 A}"),
    ],
)
def test_a_piece_that_is_there_is_drawn(
    kind: str, typed: tuple[str, ...], line: str, house: Path, answer: Type
) -> None:
    assert answer(Leaf(SITE, kind, Ask.EXISTS), "yes", *typed)
    assert line in house.read_text(encoding="utf-8")


def test_what_no_questions_list_is_told_as_it_is_written(answer: Type, capsys: pytest.CaptureFixture[str]) -> None:
    assert answer(Leaf(SITE, "labels", Ask.MORE), "add")
    told = capsys.readouterr().out
    assert "Write it into the site file under labels:" in told
    assert "marking: ..." in told


def test_the_class_of_the_only_switch_of_a_set_is_that_of_the_set(house: Path, answer: Type, session: Session) -> None:
    switch = session.job.site.pieces["ATS1"]
    assert answer(Leaf(switch, "classes"), "optional")
    assert house.read_text(encoding="utf-8").count("classes: [optional]") == 2
    assert session.undo()
    assert house.read_text(encoding="utf-8") == HOUSE


def test_what_was_left_out_comes_last_in_the_next_run(
    house: Path, session: Session, library: Library, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.delenv("STANDBY_CHECKER_NO_CACHE", raising=False)
    question = question_of(Leaf(session.job.site.pieces["ATS1"], "role"), view_of_job(session.job))
    assert question is not None
    session.skip(question)
    again = Session(house, library, Overrides())
    assert again.skipped == 1
    assert session.undo()
    assert Session(house, library, Overrides()).skipped == 0


def test_a_file_that_says_that_no_load_is_there_is_not_believed(house: Path, library: Library) -> None:
    house.write_text(f"{HOUSE}loads: {{complete: yes, list: []}}\n", encoding="utf-8")
    site = Session(house, library, Overrides()).job.site
    assert not site.members("loads").complete
    (notice,) = site.notices
    assert notice.sentence.startswith("The list of loads says that it is complete and holds none.")


def test_what_a_form_asks_is_checked_before_it_is_written(house: Path, session: Session) -> None:
    question = question_of(LOADS, view_of_job(session.job))
    assert question is not None
    with pytest.raises(Unreadable):
        session.answer(question, "perhaps")
    assert house.read_text(encoding="utf-8") == HOUSE
