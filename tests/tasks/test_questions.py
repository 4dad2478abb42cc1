"""Which question comes first, how answers are read, and where they are written."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Fact
from checker.facts.known import Ask, Leaf
from checker.findings.judging.outcomes import Outcome
from checker.findings.review import review
from checker.site.model import SITE, Subject
from checker.site.read import read_site
from checker.tasks.gathering.library import Library
from checker.tasks.questions.answers import answer_words
from checker.tasks.questions.asked import Question, question_of
from checker.tasks.questions.choosing import next_question, questions
from checker.tasks.questions.known_first import Turn, listed, one_before_another, turn_of, waits_for
from checker.tasks.questions.open_notes import note_of, without_note
from checker.tasks.questions.session import Session
from checker.tasks.questions.waiting import Open, open_of
from checker.tasks.questions.where import AT_THE_PIECE, IN_PAPERS, TAPE, Stop, is_on_site, stop_of
from checker.tasks.questions.writing import with_fact, yaml_of
from checker.tasks.reviewing import Overrides, job_of
from checker.tasks.starting import Place, Wanted, starters, write_starter
from checker.values.problems import Unreadable
from tests.project.project_tree import ROOT
from tests.tasks.house import answer_to

CATALOG = shipped_catalog()
LOADS = Leaf(SITE, "loads", Ask.MORE)
PLOVER = ROOT / "fixtures" / "plover-row" / "site.yaml"
ENOUGH = 10
MOST_ANSWERS = {True: 2, False: 3}
"""After which ten findings are settled, where `new` was told role and class of load, and where it was not."""


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


@pytest.fixture(scope="module")
def state(library: Library) -> Open:
    return open_of(job_of(PLOVER, library, Overrides()))


def test_every_paper_of_the_catalog_is_read_on_site_or_is_not() -> None:
    named = {fact.found_on for fact in CATALOG.facts.values() if fact.found_on}
    single = {part.strip() for each in named for part in each.replace(" or ", ",").split(",") if part.strip()}
    known = AT_THE_PIECE | IN_PAPERS | {TAPE, "data sheet of the set"}
    assert single <= known
    assert not AT_THE_PIECE & IN_PAPERS


def test_what_waits_is_what_the_review_says_cannot_be_settled(state: Open) -> None:
    found = review(state.job)
    waiting = {each.id: each.due for each in found.findings if each.outcome is Outcome.NEEDS_INFORMATION}
    mine = {f"{each.planned.rule.id}@{each.subject.known_as}": each.due for each in state.waiting}
    assert mine == waiting


def test_first_comes_what_settles_most_on_site(state: Open) -> None:
    first = next_question(state, frozenset(), {})
    assert first is not None
    assert first.question.is_on_site
    aside = frozenset({first.question.leaf})
    second = next_question(state, aside, {})
    assert second is not None
    assert second.question.leaf != first.question.leaf
    assert first.fewest + first.most >= second.fewest + second.most


def test_papers_come_when_nothing_on_site_settles_anything(state: Open) -> None:
    on_site = frozenset(question.leaf for question, _ in questions(state) if question.is_on_site)
    found = next_question(state, on_site, {})
    assert found is not None
    assert not found.question.is_on_site
    everything = frozenset(question.leaf for question, _ in questions(state))
    assert next_question(state, everything, {}) is None


# --- reading answers -------------------------------------------------------------------------------------------------


def _question(state: Open, subject: Subject, name: str) -> Question:
    found = question_of(Leaf(subject, name), state.view)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("typed", "words"),
    [("b", ("indoors",)), ("Clothes Closet", ("clothes_closet",)), ("a or c", ("outdoors or basement",))],
)
def test_letters_words_and_titles_are_understood(typed: str, words: tuple[str, ...], state: Open) -> None:
    assert answer_words(_question(state, Subject("panelboard", "P1"), "place"), typed) == words


def test_several_words_stand_together(state: Open) -> None:
    question = _question(state, SITE, "zones")
    assert answer_words(question, "a, historic district") == ("residential", "historic")
    assert question.fact is not None
    assert yaml_of(question.fact, ("residential", "historic")) == "[residential, historic]"


@pytest.mark.parametrize("typed", ["", " , ", "attic", "a or attic"])
def test_other_words_are_refused(typed: str, state: Open) -> None:
    with pytest.raises(Unreadable):
        answer_words(_question(state, Subject("panelboard", "P1"), "place"), typed)


# --- writing answers -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("leaf", "value", "old", "new"),
    [
        (
            Leaf(Subject("way", "P1/2"), "overcurrent.interrupting_rating"),
            "22 kA",
            "2: {overcurrent: 100 A}",
            "2: {overcurrent: {rated_current: 100 A, interrupting_rating: 22 kA}}",
        ),
        (
            Leaf(Subject("connection", "P1/2>ATS1.normal"), "grounding.insulation"),
            "THWN-2",
            "grounding: 8 AWG copper",
            "grounding: {size: 8 AWG, material: copper, parallel_sets: 1, insulation: THWN-2}",
        ),
        (Leaf(Subject("bond", "bond 1"), "bond_status"), "new", "bond_status: existing", "bond_status: new"),
        (
            Leaf(SITE, "permit.issue_date"),
            '"2024-07-01"',
            '{application_date: "2024-06-03"}',
            '{application_date: "2024-06-03", issue_date: "2024-07-01"}',
        ),
    ],
    ids=str,
)
def test_an_answer_stands_where_the_fact_stands(leaf: Leaf, value: str, old: str, new: str, state: Open) -> None:
    typed = PLOVER.read_text(encoding="utf-8")
    assert typed.count(old) == 1
    after = with_fact(typed.encode(), state.job.site, CATALOG, leaf, value)
    assert after.decode() == typed.replace(old, new)


def test_a_fact_of_a_pair_gets_a_section_of_its_own(state: Open) -> None:
    typed = PLOVER.read_bytes()
    name = next(pair for pair in CATALOG.pairs if CATALOG.fact("available_fault_current", pair) is not None)
    leaf = Leaf(Subject(name, "SUB~UTIL"), "available_fault_current")
    after = with_fact(typed, state.job.site, CATALOG, leaf, "9 kA")
    assert after == typed.rstrip(b"\n") + b"\npairs:\n  SUB~UTIL: {available_fault_current: 9 kA}\n"


def _askable(state: Open) -> Iterator[tuple[Leaf, Fact]]:
    """Every fact of every subject of a site that a question could be about."""
    for subject in state.job.site.things:
        for fact in CATALOG.facts_of(subject.type):
            leaf = Leaf(subject, fact.name)
            if question_of(leaf, state.view) is not None:
                yield leaf, fact


_TYPED = st.sampled_from(
    (
        *("yes", "no", "none", "unknown", "a", "b", "200 A", "9,600 A", "5'-6\"", "8 kA to 12 kA", "1", "017", "#3 CU"),
        *("- x", "{a: b}", "[a]", "a: b", "a #b", "&a", "*a", "!!x", ">", "%", "@", "`", "'", "~", "|", "\\", "=1+1"),
        *("3 AWG copper", "120/240 V 1-phase 3-wire", "2024-03-14", "UTIL", "P1/2", "a, b", "yes or no"),
        *("\x1b[2J", "\u202e", "\u2028", "é"),
    )
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=40)
@given(data=st.data())
def test_no_answer_ever_makes_the_file_unreadable(
    data: st.DataObject, state: Open, library: Library, tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = tmp_path_factory.mktemp("answers")
    path = Path(shutil.copy(PLOVER, folder))
    shutil.copy(PLOVER.parent / "profile.yaml", folder)
    session = Session(path, library, Overrides())
    leaf, _ = data.draw(st.sampled_from(list(_askable(state))))
    question = question_of(leaf, state.view)
    assert question is not None
    typed = data.draw(_TYPED | st.text(max_size=12))
    before = path.read_bytes()
    try:
        session.answer(question, typed)
    except Unreadable:
        assert path.read_bytes() == before
    read_site(path, CATALOG)
    assert [each.name for each in folder.iterdir() if each.name.startswith(".")] == []


# --- a fresh dwelling ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("told", [True, False])
@pytest.mark.parametrize("job", tuple(starters()))
def test_ten_findings_of_a_fresh_dwelling_are_settled_by_few_answers_read_on_site(
    job: str, told: bool, library: Library, tmp_path: Path
) -> None:
    role = "service_disconnect" if starters()[job].moves_service else ""
    known = (role, "optional") if told else ("", "")
    wanted = Wanted(job, "A house", "existing", "nec-2023", "2024-03-14", *known)
    session = Session(write_starter(wanted, Place(tmp_path, library)), library, Overrides())
    at_first, asked = session.waiting, 0
    while at_first - session.waiting < ENOUGH:
        found = session.next()
        assert found is not None
        turn = turn_of(found.question.leaf)
        assert found.question.is_on_site or (turn is not None and turn[0] is Turn.FIRST and not told)
        typed = answer_to(found.question)
        assert typed is not None
        session.answer(found.question, typed)
        asked += 1
        assert asked <= MOST_ANSWERS[told]


def test_loads_are_asked_before_any_paper(library: Library, tmp_path: Path) -> None:
    wanted = Wanted("whole_house", "A house", "existing", "nec-2023", "2024-03-14", "service_disconnect", "optional")
    state = open_of(job_of(write_starter(wanted, Place(tmp_path, library)), library, Overrides()))
    on_site = frozenset(question.leaf for question, _ in questions(state) if question.is_on_site)
    found = next_question(state, on_site - {LOADS}, {})
    assert found is not None
    assert found.question.leaf == LOADS
    found = next_question(state, on_site, {})
    assert found is not None
    assert found.question.leaf == Leaf(SITE, "floor_area")
    management = Leaf(SITE, "load_manager", Ask.EXISTS)
    found = next_question(state, on_site - {management}, {})
    assert found is not None
    assert found.question.leaf == management


def test_what_the_program_works_out_itself_is_asked_last(library: Library, tmp_path: Path) -> None:
    """The letter of the utility is none of it, though the program bounds the fault current where there is none."""
    wanted = Wanted("whole_house", "A house", "existing", "nec-2023", "2024-03-14", "service_disconnect", "optional")
    state = open_of(job_of(write_starter(wanted, Place(tmp_path, library)), library, Overrides()))
    everything = [question for question, _ in questions(state)]
    worked_out = {question.leaf for question in everything if question.is_worked_out}
    assert Leaf(Subject("generator", "GEN1"), "capacity") in worked_out
    assert not {leaf.name for leaf in worked_out} & {"neutral_bond", "greatest_current"}
    fault = {leaf.subject.type for leaf in worked_out if leaf.name == "available_fault_current"}
    assert fault == {"fault_source"}
    left = {question.leaf for question in everything} - worked_out
    one_left = next_question(state, frozenset(left - {max(left, key=lambda leaf: leaf.order)}), {})
    assert one_left is not None
    assert one_left.question.leaf not in worked_out
    found = next_question(state, frozenset(left), {})
    assert found is not None
    assert found.question.leaf in worked_out


def test_whoever_leaves_a_whole_out_is_not_asked_for_its_parts(library: Library, tmp_path: Path) -> None:
    wanted = Wanted("whole_house", "A house", "existing", "nec-2023", "2024-03-14", "service_disconnect", "optional")
    session = Session(write_starter(wanted, Place(tmp_path, library)), library, Overrides())
    parts = {each.leaf for each, _ in questions(session.state) if each.leaf.name.startswith("altitude_derating.")}
    assert parts
    everything = {each.leaf: each for each, _ in questions(session.state)}
    for leaf, question in everything.items():
        if leaf not in parts:
            session.skip(question)
    assert session.next() is None


def test_what_waits_for_another_question_is_of_the_catalog_and_can_be_asked_of_the_same() -> None:
    for name, before in one_before_another():
        assert set(CATALOG.facts[name].stated_for) & set(CATALOG.facts[before].stated_for)


def test_a_question_names_the_pieces_that_may_be_answered(state: Open) -> None:
    ends = _question(state, Subject("utility_supply", "UTIL"), "electrode_conductor_ends_at")
    assert ends.kind_of_answer == f"the tag of a piece: {', '.join(state.job.site.pieces)}"
    assert "P1" in ends.kind_of_answer


def test_whether_there_is_a_piece_is_asked_in_plain_words(state: Open) -> None:
    none = question_of(Leaf(SITE, "inlet", Ask.EXISTS), state.view)
    another = question_of(Leaf(SITE, "generator", Ask.EXISTS), state.view)
    assert none is not None
    assert another is not None
    assert none.sentence == "Is there a power inlet on this site? The site file lists none."
    assert another.sentence == "Is there, on this site, another generator than the site file lists?"
    for kind in CATALOG.kinds:
        question = question_of(Leaf(SITE, kind, Ask.EXISTS), state.view)
        assert question is not None
        assert "`" not in question.means


def test_the_sides_and_the_main_of_a_piece_are_called_so(state: Open) -> None:
    for way, words in {"ATS1/normal": "The normal side of ATS1", "P1/main": "The main of P1"}.items():
        assert _question(state, Subject("way", way), "overcurrent").subject == words


def test_a_whole_is_asked_before_its_parts() -> None:
    """Nobody says for which place a figure is given that he does not have."""
    utility = Subject("utility_supply", "UTIL")
    figure = Leaf(utility, "available_fault_current")
    assert waits_for(Leaf(utility, "available_fault_current.given_at")) == (figure,)
    assert waits_for(figure) == ()
    assert waits_for(Leaf(SITE, "loads", Ask.MORE)) == ()


@pytest.mark.parametrize("told", [False, True])
def test_field_evaluation_is_asked_after_the_listing(told: bool, library: Library, tmp_path: Path) -> None:
    wanted = Wanted("whole_house", "A house", "existing", "nec-2023", "2024-03-14", "service_disconnect", "optional")
    path = write_starter(wanted, Place(tmp_path, library))
    if told:
        path.write_text(path.read_text(encoding="utf-8").replace("stationary,", "stationary, listed: no,"), "utf-8")
    state = open_of(job_of(path, library, Overrides()))
    generator = state.job.site.pieces["GEN1"]
    listed, evaluated = Leaf(generator, "listed"), Leaf(generator, "field_evaluated")
    others = frozenset(question.leaf for question, _ in questions(state)) - {listed, evaluated}
    found = next_question(state, others, {})
    assert found is not None
    assert found.question.leaf == (evaluated if told else listed)
    then = next_question(state, others | {listed}, {})
    assert then is not None
    assert then.question.leaf == evaluated


@pytest.mark.parametrize(
    ("leaf", "typed", "gone"),
    [
        (Leaf(Subject("transfer_switch", "ATS1"), "role"), "service_disconnect", "# Its role is a decision: "),
        (Leaf(SITE, "other_sources"), "none", "# Write other_sources: none here once "),
    ],
)
def test_a_comment_on_what_is_open_goes_once_it_is_said(
    leaf: Leaf, typed: str, gone: str, library: Library, tmp_path: Path
) -> None:
    wanted = Wanted("managed_loads", "A house", "existing", "nec-2023", "2024-03-14")
    path = write_starter(wanted, Place(tmp_path, library))
    before = path.read_text(encoding="utf-8")
    session = Session(path, library, Overrides())
    question = question_of(leaf, session.state.view)
    assert question is not None
    session.answer(question, typed)
    after = path.read_text(encoding="utf-8")
    assert before.count(gone) == 1
    assert gone not in after
    comments = [line for line in before.splitlines() if "#" in line and gone not in line]
    assert [line for line in after.splitlines() if "#" in line] == comments
    session.undo()
    assert path.read_text(encoding="utf-8") == before
    path.write_text(before.replace(gone, gone.upper()), encoding="utf-8")
    Session(path, library, Overrides()).answer(question, typed)
    assert gone.upper() in path.read_text(encoding="utf-8")


def test_a_comment_of_several_lines_goes_whole_or_stays() -> None:
    text = starters()["managed_loads"].text.encode()
    note = note_of("loads", SITE.id)
    assert note.count("\n") == 4
    after = without_note(text, "loads", SITE.id)
    assert text.count(b"\n") - after.count(b"\n") == 5
    assert b"kept_off" not in after
    changed = text.replace(b"air conditioner", b"heat pump")
    assert without_note(changed, "loads", SITE.id) == changed
    assert without_note(text, "role", "P1") == text


def test_no_comment_says_that_the_role_is_open_where_new_was_told_it(library: Library, tmp_path: Path) -> None:
    for place, role in enumerate(("", "emergency_disconnect")):
        wanted = Wanted("whole_house", "A house", "existing", "nec-2023", "2024-03-14", role)
        text = write_starter(wanted, Place(tmp_path / str(place), library)).read_text(encoding="utf-8")
        assert ("# Its role is a decision" in text) is not bool(role)


def test_what_is_asked_in_a_turn_is_of_the_catalog() -> None:
    for turn in Turn:
        for name, kind in listed(turn):
            if kind == "list":
                assert name in CATALOG.lists
            elif kind == "exists":
                assert name in CATALOG.kinds
            else:
                assert kind in CATALOG.facts[name].stated_for, (name, kind)


def test_the_parts_of_a_breaker_wait_and_those_of_a_rating_do_not() -> None:
    way, generator = Subject("way", "P1/2"), Subject("generator", "GEN1")
    assert turn_of(Leaf(way, "overcurrent")) is not None
    assert turn_of(Leaf(way, "overcurrent.poles")) is None
    assert turn_of(Leaf(generator, "rated_power.propane")) is not None
    assert turn_of(Leaf(SITE, "stop", Ask.EXISTS)) is None
    assert turn_of(Leaf(SITE, "load_manager", Ask.EXISTS)) == (Turn.BEFORE_PAPERS, 1)


@pytest.mark.parametrize(
    ("listed", "paper"),
    [
        ("bonds", "panel"),
        ("interlocks", "panel"),
        ("loads", "panel"),
        ("withstand_rows", "nameplate"),
        ("labels", "label schedule"),
    ],
)
def test_a_list_is_completed_where_its_members_are_seen_and_not_on_a_drawing(listed: str, paper: str) -> None:
    """A bond is seen in the open panel; the table of a switch is on the switch (its listing wants it marked there)."""
    assert CATALOG.list_found_on(listed) == paper


def test_the_withstand_table_is_read_at_the_switch_and_bonds_at_the_panels() -> None:
    site = job_of(PLOVER, Library.shipped(), Overrides()).site
    rows = Leaf(site.pieces["ATS1"], "withstand_rows", Ask.MORE)
    assert stop_of(rows, CATALOG.list_found_on("withstand_rows"), site, CATALOG) is Stop.SWITCH
    assert stop_of(Leaf(SITE, "bonds", Ask.MORE), CATALOG.list_found_on("bonds"), site, CATALOG) is Stop.PANEL
    for name in ("withstands", "for_time", "for_device"):
        assert is_on_site(CATALOG.facts[name].found_on)
