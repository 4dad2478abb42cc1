"""What is listed or drawn in answer to a question, as a person types it: loads one by one, a piece that is there."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from checker.cli import asking
from checker.cli import questions as command
from checker.facts.known import Ask, Leaf
from checker.findings.review import view_of_job
from checker.site.model import SITE, Subject
from checker.tasks.gathering.library import Library
from checker.tasks.questions.asked import question_of
from checker.tasks.questions.choosing import questions
from checker.tasks.questions.session import Session
from checker.tasks.reviewing import Overrides
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
    assert not answer(LOADS, "add", "range", "Range", "8 kVA", "no")
    assert not answer(LOADS, "add", "water heater", "skip", "4500 W", "managed")
    assert not answer(LOADS, "add", "EV charger", "Charger", "48 A at 240 V", "charger", "b")
    assert house.read_text(encoding="utf-8") == (
        f"{HOUSE}loads:\n"
        "  - {load_kind: cooking, name: Range, load_power: 8 kVA, at: P1, kept_off: none}\n"
        "  - {load_kind: water_heater, name: water heater with a tank, load_power: 4500 VA, at: P1, "
        "kept_off: until_it_fits}\n"
        "  - {load_kind: vehicle_supply, name: Charger, load_power: 11520 VA, at: P1, kept_off: until_it_fits}\n"
    )


def test_the_current_of_a_breaker_is_not_what_a_charger_draws(
    house: Path, answer: Type, capsys: pytest.CaptureFixture[str]
) -> None:
    """A device for load that lasts has a quarter more than the load (NFPA 70 210.20(A), 215.3, 625.41): behind 50 A not
    more than 40 A, 9.6 kVA at 240 V.
    """
    answer(LOADS, "add", "charger", "Charger", "50 A", "50 amps at 240", "breaker", "no")
    told = capsys.readouterr().out
    assert "50 A alone gives no rating: it takes the volts as well." in told
    assert "Is 50 A at 240 V the current of the load itself, or its breaker?" in told
    assert re.search(r"40 A at 240 V is the most that it may draw for hours behind that breaker \(NFPA 70\s+2023", told)
    assert "{load_kind: vehicle_supply, name: Charger, load_power: 9600 VA, at: P1, kept_off: none}" in (
        house.read_text(encoding="utf-8")
    )


def test_the_motor_of_an_air_conditioner_is_asked_for_its_start(house: Path, answer: Type) -> None:
    answer(
        LOADS,
        "add",
        "AC",
        "Condenser",
        "24 A at 240 V",
        "shed",
        "locked out",
        "117",
        "240",
        "single phase",
        "soft start",
    )
    answer(LOADS, "add", "well pump", "Pump", "1.5 kVA", "no", "skip")
    assert house.read_text(encoding="utf-8") == (
        f"{HOUSE}loads:\n"
        "  - {load_kind: cooling, name: Condenser, load_power: 5760 VA, at: P1, kept_off: while_the_set_runs, "
        "locked_rotor_current: 117 A, motor_voltage: 240 V, motor_phases: one, "
        "starting_method: limited}\n"
        "  - {load_kind: appliance, motor_driven: yes, name: Pump, load_power: 1.5 kVA, at: P1, kept_off: none}\n"
    )


def test_watts_of_what_does_not_only_heat_are_not_taken(
    house: Path, answer: Type, capsys: pytest.CaptureFixture[str]
) -> None:
    answer(LOADS, "add", "air conditioner", "AC", "3600 W", "3600 VA", "skip", "skip")
    assert "kVA" in capsys.readouterr().out
    assert "{load_kind: cooling, name: AC, load_power: 3600 VA, at: P1}" in house.read_text(encoding="utf-8")


def test_why_and_a_word_that_is_none_of_the_choices_keep_the_entry(
    answer: Type, capsys: pytest.CaptureFixture[str], house: Path
) -> None:
    answer(LOADS, "add", "why", "furnace", "dryer", "why", "Dryer", "why", "gas", "5 kVA", "why", "no")
    told = capsys.readouterr().out
    assert told.count("It settles what the calculations and the rules count it as.") == 1
    assert "furnace is none of the choices." in told
    assert told.count("   a  range: range, oven or cooktop") == 2
    assert "Rating of the load. Usually on the nameplate." in told
    assert "What keeps the load off the set: It has to be said" in told
    assert "load_kind: dryer" in house.read_text(encoding="utf-8")


def test_an_entry_that_is_left_writes_nothing(house: Path, answer: Type) -> None:
    assert not answer(LOADS, "add", "range", "Range", "undo")
    assert house.read_text(encoding="utf-8") == HOUSE


def test_a_list_of_loads_that_holds_none_is_never_complete(
    house: Path, answer: Type, session: Session, capsys: pytest.CaptureFixture[str]
) -> None:
    assert not answer(LOADS, "yes")
    assert "holds none yet" in capsys.readouterr().out
    assert house.read_text(encoding="utf-8") == HOUSE
    assert not answer(LOADS, "add", "dryer", "Dryer", "5 kVA", "no")
    assert answer(LOADS, "yes")
    assert session.job.site.members("loads").complete


def test_an_entry_is_taken_back(house: Path, answer: Type, session: Session) -> None:
    answer(LOADS, "add", "dryer", "Dryer", "5 kVA", "no")
    assert session.undo() == "Dryer, which was entered."
    assert house.read_text(encoding="utf-8") == HOUSE
    assert session.undo() is None


@pytest.mark.parametrize(
    ("kind", "typed", "line"),
    [
        (
            "stop",
            ("on the wall", "yes"),
            "STOP1: {kind: stop, place: outdoors, stands: away_from_set, of: GEN1, readily_accessible: yes}",
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
    assert not answer(Leaf(SITE, kind, Ask.EXISTS), "yes", *typed)
    assert line in house.read_text(encoding="utf-8")


def test_a_stop_that_was_drawn_is_looked_at_as_soon_as_there_is_no_other(
    answer: Type, session: Session, capsys: pytest.CaptureFixture[str]
) -> None:
    another = Leaf(SITE, "stop", Ask.EXISTS)
    assert not answer(another, "yes", "face of a set outdoors", "yes")
    assert "Drawn so far: STOP1." in capsys.readouterr().out
    assert any(question.leaf == another for question, _ in questions(session.state))
    assert answer(another, "no")
    left = {question.leaf for question, _ in questions(session.state)}
    assert another not in left
    assert not {Leaf(Subject("stop", "STOP1"), name) for name in ("place", "stands")} & left


def test_a_stop_whose_place_is_not_known_is_drawn_with_the_place_left_open(
    house: Path, answer: Type, capsys: pytest.CaptureFixture[str]
) -> None:
    assert not answer(Leaf(SITE, "stop", Ask.EXISTS), "yes", "skip", "skip")
    assert "Taken as: somewhere else, or not known." in capsys.readouterr().out
    assert "STOP1: {kind: stop, of: GEN1}" in house.read_text(encoding="utf-8")


def test_a_load_of_which_it_is_not_known_what_it_is_is_left(
    house: Path, answer: Type, capsys: pytest.CaptureFixture[str]
) -> None:
    assert not answer(LOADS, "add", "skip")
    assert "Left; nothing of it was written." in capsys.readouterr().out
    assert house.read_text(encoding="utf-8") == HOUSE


def test_a_rating_stays_open_while_it_is_not_known_whether_a_current_is_that_of_the_breaker(
    house: Path, answer: Type, capsys: pytest.CaptureFixture[str]
) -> None:
    assert not answer(LOADS, "add", "charger", "Charger", "50 A at 240 V", "skip", "skip", "no")
    assert "50 A at 240 V gives no rating while that is not known." in capsys.readouterr().out
    assert "{load_kind: vehicle_supply, name: Charger, at: P1, kept_off: none}" in house.read_text(encoding="utf-8")


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


def test_a_breaker_is_written_with_the_poles_that_are_said_with_it(
    house: Path, answer: Type, session: Session, capsys: pytest.CaptureFixture[str]
) -> None:
    assert answer(Leaf(Subject("way", "GEN1/1"), "overcurrent"), "100A 2 pole")
    assert "Taken as 100A with 2 poles." in capsys.readouterr().out
    text = house.read_text(encoding="utf-8")
    assert 'ways: {1: {overcurrent: {rated_current: "100A", poles: 2}}}' in text
    assert session.undo()
    assert house.read_text(encoding="utf-8") == HOUSE


def test_the_fault_current_of_a_utility_is_written_with_its_place(house: Path, answer: Type, session: Session) -> None:
    assert answer(Leaf(session.job.site.pieces["UTIL"], "available_fault_current"), "9.8 at the meter")
    text = house.read_text(encoding="utf-8")
    assert "UTIL: {kind: utility_supply, available_fault_current: {value: 9.8 kA, given_at: meter}}" in text
    assert session.undo()
    assert house.read_text(encoding="utf-8") == HOUSE


def test_what_was_left_out_is_told_and_asked_again_by_whoever_begins_anew(
    house: Path, session: Session, library: Library, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.delenv("STANDBY_CHECKER_NO_CACHE", raising=False)
    first = session.next()
    assert first is not None
    session.skip(first.question)
    assert list(session.skipped) == [first.question.sentence]
    second = session.next()
    assert second is not None
    assert second.question.leaf != first.question.leaf
    again = Session(house, library, Overrides())
    assert not again.skipped
    asked = again.next()
    assert asked is not None
    assert asked.question.leaf == first.question.leaf
    assert not list((tmp_path / "cache").rglob("left-out*"))
    assert session.undo()
    assert not session.skipped


def test_whoever_leaves_out_the_class_of_a_switch_is_not_asked_that_of_its_set(session: Session) -> None:
    asked = {leaf.subject.id: leaf for leaf in (Leaf(session.job.site.pieces[tag], "classes") for tag in _BOTH)}
    question = question_of(asked["ATS1"], view_of_job(session.job))
    assert question is not None
    session.skip(question)
    for _ in range(4):
        found = session.next()
        assert found is not None
        assert found.question.leaf not in asked.values()
        session.skip(found.question)


_BOTH = ("ATS1", "GEN1")


def test_what_is_answered_elsewhere_after_it_was_left_out_is_told_no_more(house: Path, session: Session) -> None:
    question = question_of(Leaf(session.job.site.pieces["ATS1"], "classes"), view_of_job(session.job))
    of_the_set = question_of(Leaf(session.job.site.pieces["GEN1"], "classes"), view_of_job(session.job))
    assert question is not None
    assert of_the_set is not None
    session.skip(question)
    assert session.skipped
    session.answer(of_the_set, "optional")
    assert not session.skipped
    assert house.read_text(encoding="utf-8").count("classes: [optional]") == 2


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
