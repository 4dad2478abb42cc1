"""The same asked of several things of a list at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.facts.known import Leaf
from checker.report.asked import together_text
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.tasks.questions.choosing import questions
from checker.tasks.questions.session import Session
from checker.tasks.questions.together import Together, assigned
from checker.tasks.reviewing import Overrides
from checker.tasks.starting import Place, Wanted, write_starter
from checker.values.problems import Unreadable
from checker.values.refusals import NotationError

LOADS = """\
loads:
  complete: yes
  list:
    - {load_kind: appliance, name: dishwasher, load_power: 1200 VA, at: P1}
    - {load_kind: appliance, name: microwave oven, load_power: 1500 VA, at: P1}
    - {load_kind: appliance, name: well pump, load_power: 1800 VA, at: P1, motor_driven: yes}
    - {load_kind: appliance, name: sump pump, load_power: 800 VA, at: P1, motor_driven: yes}
"""
OTHERS = frozenset({"has_neutral", "connected_to"})


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


@pytest.fixture
def session(library: Library, tmp_path: Path) -> Session:
    """A house of whose loads alone somebody asks: all else is left out."""
    wanted = Wanted("whole_house", "A house", "existing", "nec-2023", "2024-03-14", "service_disconnect", "optional")
    path = write_starter(wanted, Place(tmp_path, library))
    path.write_text(path.read_text(encoding="utf-8") + LOADS, encoding="utf-8")
    found = Session(path, library, Overrides())
    for question, _ in questions(found.state):
        if question.leaf.subject.type != "load" or question.leaf.name in OTHERS:
            found.skip(question)
    return found


def asked(session: Session) -> Together:
    found = session.next()
    assert found is not None
    several = session.together(found.question)
    assert several is not None
    return several


def names(several: Together) -> list[str]:
    return [each.subject for each in several.each]


def test_motors_are_asked_together_and_each_gets_its_answer(session: Session, tmp_path: Path) -> None:
    first = asked(session)
    assert first.sentence == "Is this so of these loads: driven by a motor?"
    assert names(first) == ["dishwasher", "microwave oven"]
    assert first.waits == 2
    session.answer_together(first, assigned("1: yes; 2: no", 2))
    second = asked(session)
    assert second.sentence == "These loads: what is the locked-rotor current of the motor?"
    assert names(second) == ["dishwasher", "well pump", "sump pump"]
    session.answer_together(second, assigned("2: 48 A; 3: 30", 3))
    text = (tmp_path / "site.yaml").read_text(encoding="utf-8")
    assert "name: well pump, load_power: 1800 VA, at: P1, motor_driven: yes, locked_rotor_current: 48 A}" in text
    assert "name: sump pump, load_power: 800 VA, at: P1, motor_driven: yes, locked_rotor_current: 30 A}" in text
    assert "name: dishwasher, load_power: 1200 VA, at: P1, motor_driven: yes}" in text
    assert any("locked-rotor" in each and each.startswith("Dishwasher") for each in session.skipped)


def test_nothing_is_written_where_one_answer_cannot_be_read(session: Session, tmp_path: Path) -> None:
    before = (tmp_path / "site.yaml").read_bytes()
    with pytest.raises((Unreadable, NotationError)):
        session.answer_together(asked(session), {0: "yes", 1: "perhaps"})
    assert (tmp_path / "site.yaml").read_bytes() == before


def test_one_left_is_asked_alone(session: Session) -> None:
    several = asked(session)
    session.skip(several.each[0])
    assert session.together(several.each[1]) is None
    ways = Leaf(Subject("way", "GEN1/1"), "overcurrent")
    of_a_piece = next(question for question, _ in questions(session.state) if question.leaf == ways)
    assert session.together(of_a_piece) is None


def test_the_list_says_how_it_is_answered(session: Session) -> None:
    found = session.next()
    assert found is not None
    text = together_text(found, asked(session), 7)
    assert text.startswith("7. Is this so of these loads: driven by a motor?\n")
    assert "   1  dishwasher\n   2  microwave oven\n   a  yes\n   b  no\n" in text
    assert "2 findings wait for them; usually on the nameplate" in text
    assert "as 1: yes; 2, 3: no, or all: no for every one of" in text


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("1: yes; 3: no", {0: "yes", 2: "no"}),
        ("1, 3: 48 A at 240 V", {0: "48 A at 240 V", 2: "48 A at 240 V"}),
        ("2 and 3: a", {1: "a", 2: "a"}),
        ("2, and 3: a", {1: "a", 2: "a"}),
        ("all: no", {0: "no", 1: "no", 2: "no"}),
        ("; ", {}),
    ],
)
def test_answers_go_by_number(typed: str, found: dict[int, str]) -> None:
    assert assigned(typed, 3) == found


@pytest.mark.parametrize("typed", ["yes", "4: yes", "0: yes", "1: yes; 1: no", "1: yes; all: no", "x: yes", "1:"])
def test_what_names_nothing_or_something_twice_is_refused(typed: str) -> None:
    with pytest.raises(Unreadable):
        assigned(typed, 3)
