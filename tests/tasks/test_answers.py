"""Questions in the words of the trade, and answers as people type them."""

from __future__ import annotations

import re

import pytest

from checker.catalog.load import shipped_catalog
from checker.catalog.model import ValueType
from checker.catalog.wording import value_text
from checker.facts.known import Leaf
from checker.report.asked import choice_lines, found_on_words
from checker.site.model import SITE, Subject
from checker.tasks.questions.answers import answer_words, labels, meant, understood, words_by_typing
from checker.tasks.questions.asked import Question, asked_of, sentence_of
from checker.tasks.questions.entries import What, forms, rating_words, subject_of
from checker.tasks.questions.trade_words import all_trade_words, plain, trade_words
from checker.tasks.questions.where import Stop
from checker.values.conductors import is_insulation, read_conductor
from checker.values.dates import read_date_as_typed
from checker.values.possible import between
from checker.values.problems import Unreadable
from checker.values.refusals import NotationError
from tests.project.project_tree import ROOT

CATALOG = shipped_catalog()


def question(kind: str, name: str, words: str = "GEN1 (generator)") -> Question:
    fact = CATALOG.facts[name]
    leaf = Leaf(SITE if kind == "site" else Subject(kind, "GEN1"), name)
    return asked_of(leaf, fact, sentence_of(words, fact, CATALOG), words, Stop.SITE, CATALOG)


@pytest.mark.parametrize(
    ("kind", "name", "sentence", "typed"),
    [
        (
            "way",
            "overcurrent",
            "Way 1 of GEN1: which breaker or fuse is there?",
            'its rated current or setting: amperes (A), or a range as "100 A to 125 A"',
        ),
        (
            "way",
            "overcurrent.interrupting_rating",
            "Way 1 of GEN1, overcurrent device: what is the interrupting rating?",
            'kiloamperes (kA), or a range as "5 kA to 10 kA"',
        ),
        (
            "generator",
            "power_factor",
            "Way 1 of GEN1: what is the rated power factor?",
            'a number from 0 to 1, or a range as "0.8 to 0.9"',
        ),
        (
            "site",
            "small_appliance_circuits",
            "Way 1 of GEN1: how many circuits for small appliances?",
            "a whole number",
        ),
        (
            "load",
            "priority",
            "Way 1 of GEN1: what is the place in the order in which load management puts loads on?",
            "a whole number",
        ),
        (
            "generator",
            "rated_power.natural_gas",
            "Way 1 of GEN1: what is the rated power on natural gas?",
            'kilowatts (kW), or a range as "18 kW to 20 kW"',
        ),
    ],
)
def test_a_question_says_of_what_and_in_which_unit(kind: str, name: str, sentence: str, typed: str) -> None:
    found = question(kind, name, "way 1 of GEN1")
    assert (found.sentence, found.kind_of_answer) == (sentence, typed)


@pytest.mark.parametrize(
    ("kind", "name", "paper"),
    [
        ("site", "altitude", "map"),
        ("site", "hottest_day", "weather record"),
        ("utility_supply", "system", "meter badge or utility letter"),
        ("generator", "system", "nameplate"),
    ],
)
def test_where_it_is_found(kind: str, name: str, paper: str) -> None:
    assert question(kind, name).paper == paper


@pytest.mark.parametrize(
    ("kind", "name", "typed", "words"),
    [
        ("inlet", "rated_voltage", "240", ("240 V",)),
        ("way", "overcurrent", "100", ("100 A",)),
        ("way", "overcurrent", "100 A", ("100 A",)),
        ("inlet", "place", "outside", ("outdoors",)),
        ("inlet", "place", "outdoor", ("outdoors",)),
        ("generator", "fuel", "1", ("natural_gas",)),
        ("generator", "fuel", "natural", ("natural_gas",)),
        ("site", "permit.issue_date", "11/26/2026", ("2026-11-26",)),
        ("stop", "readily_accessible", "y", ("yes",)),
    ],
)
def test_an_answer_that_is_clear_is_taken(kind: str, name: str, typed: str, words: tuple[str, ...]) -> None:
    assert answer_words(question(kind, name), typed) == words


@pytest.mark.parametrize(
    ("kind", "name", "typed", "words"),
    [
        ("generator", "fuel", "NG", ("natural_gas",)),
        ("generator", "fuel", "nat gas", ("natural_gas",)),
        ("generator", "fuel", "LP", ("propane",)),
        ("generator", "system", "single phase 3 wire 120/240", ("120/240 V 1-phase 3-wire",)),
        ("generator", "system", "120/240 single phase", ("120/240 single phase",)),
        ("transfer_switch", "neutral", "solid neutral", ("solid",)),
        ("transfer_switch", "service_marking", "service rated", ("suitable_for_use_as_service_equipment",)),
        ("transfer_switch", "service_marking", "no", ("none",)),
        ("transfer_switch", "classes", "optional standby", ("optional",)),
        ("transfer_switch", "enclosure", "NEMA 3R", ("3R",)),
        ("transfer_switch", "enclosure", "type 12", ("12",)),
        ("transfer_switch", "place", "outside by the meter", ("outdoors",)),
        ("way", "overcurrent", "100A 2 pole", ("100A",)),
        ("way", "overcurrent", "100 2P", ("100 A",)),
        ("way", "overcurrent", "2-pole 100 amp", ("100 amp",)),
        ("utility_supply", "available_fault_current", "9.8 kA at the meter", ("9.8 kA",)),
        ("utility_supply", "available_fault_current", "9.8 at meter", ("9.8 kA",)),
        ("utility_supply", "available_fault_current", "9,800 A, at the service point", ("9,800 A",)),
        ("utility_supply", "available_fault_current", "9.8", ("9.8 kA",)),
        ("way", "overcurrent.poles", "2 pole", ("2",)),
        ("way", "overcurrent.poles", "2P", ("2",)),
        ("way", "overcurrent.poles", "double pole", ("2",)),
        ("connection", "phase", "4/0 aluminum SER", ("4/0 aluminum",)),
        ("connection", "grounding", "no", ("none",)),
        ("connection", "phase.insulation", "THHN/THWN-2", ("THHN/THWN-2",)),
        ("site", "other_sources", "no", ("none",)),
        ("load", "code_letter", "J", ("J",)),
        ("load", "connected_to", "a", ("A",)),
    ],
)
def test_the_words_of_the_trade_are_taken(kind: str, name: str, typed: str, words: tuple[str, ...]) -> None:
    assert answer_words(question(kind, name), typed) == words


@pytest.mark.parametrize(
    ("kind", "name", "typed", "said"),
    [
        ("generator", "fuel", "gas", "gas can be natural gas or gasoline."),
        ("transfer_switch", "transition", "break before make", "break before make can be open or open with a stop"),
        ("transfer_switch", "role", "service rated", "Service rated says what the switch may be used as"),
        ("connection", "phase.insulation", "4/0 aluminum SER", "4/0 aluminum SER is no type of insulation"),
        ("transfer_switch", "enclosure", "7", "7 is none of the choices."),
        ("transfer_switch", "neutral_bond", "bonded at panel", "bonded at panel is none of the choices."),
    ],
)
def test_a_word_that_can_mean_several_or_says_something_else_is_asked_again(
    kind: str, name: str, typed: str, said: str
) -> None:
    with pytest.raises(Unreadable) as refused:
        answer_words(question(kind, name), typed)
    assert refused.value.problems[0].sentence.startswith(said)


@pytest.mark.parametrize(
    ("kind", "name", "typed", "told"),
    [
        ("generator", "fuel", "NG", "Taken as natural gas."),
        ("generator", "fuel", "natural gas", ""),
        ("way", "overcurrent", "100", "Taken as 100 A."),
        ("way", "overcurrent", "100 2 pole", "Taken as 100 A with 2 poles."),
        ("utility_supply", "available_fault_current", "9.8 at meter", "Taken as 9.8 kA, given at the meter."),
        (
            "connection",
            "phase",
            "4/0 aluminum SER",
            "Taken as 4/0 aluminum. SER names the cable and not the insulation, which stays open.",
        ),
    ],
)
def test_what_was_taken_is_told_where_it_is_not_what_was_typed(kind: str, name: str, typed: str, told: str) -> None:
    asked = question(kind, name)
    assert understood(asked, typed, answer_words(asked, typed)) == told


def test_every_word_of_the_trade_stands_for_a_value_of_its_fact() -> None:
    for name, words in all_trade_words().items():
        (fact, *_) = [each for each in CATALOG.facts.values() if each.name.rpartition(".")[2] == name]
        values = {*fact.choices, *(("none",) if fact.may_be_none else ())}
        for value, others in words.says.items():
            assert value in values or (fact.type is ValueType.COUNT and value.isdigit()), (name, value)
            assert not {plain(each) for each in others} & words.asks.keys()
        for several in words.asks.values():
            assert set(several) <= values
        said = [plain(each) for others in words.says.values() for each in others]
        assert len(said) == len(set(said)), name


def test_choices_that_are_letters_have_numbers() -> None:
    assert labels(["three_phase", "A", "B"]) == ("1", "2", "3")
    assert labels(["indoors", "outdoors"]) == ("a", "b")


@pytest.mark.parametrize("typed", ["ga", "0", "9", "house"])
def test_an_answer_that_is_not_clear_is_refused(typed: str) -> None:
    with pytest.raises(Unreadable):
        answer_words(question("generator", "fuel"), typed)


def test_the_beginning_of_a_word_is_enough_where_one_choice_begins_so() -> None:
    known = words_by_typing({"whole_house": "", "part_of_house": "", "nec-2023": ""}, may_count=True)
    assert [meant(each, known) for each in ("whole", "nec2023", "3")] == ["whole_house", "nec-2023", "nec-2023"]
    assert meant("house", known) is None


def test_a_date_with_strokes_has_one_reading_or_none() -> None:
    assert read_date_as_typed("11/26/2026").isoformat() == "2026-11-26"
    for doubtful in ("3/4/2026", "11/26/26", "31/31/2026"):
        with pytest.raises(NotationError):
            read_date_as_typed(doubtful)


@pytest.mark.parametrize(
    ("typed", "heats", "wanted"),
    [
        ("4500 W", True, "4500 VA"),
        ("4.5 kW", True, "4.5 kVA"),
        ("4500 W", False, "4500 W"),
        ("18 A at 240 V", False, "4320 VA"),
        ("12A 120V", True, "1440 VA"),
        ("8 kVA", True, "8 kVA"),
    ],
)
def test_ratings_of_loads(typed: str, heats: bool, wanted: str) -> None:
    what = What("it", "it", {}, heats)
    assert rating_words(typed, CATALOG.facts["load_power"], what) == wanted


def test_every_form_asks_what_its_subject_has() -> None:
    for form in forms().values():
        kind = subject_of(form, CATALOG)
        for part in form.parts:
            assert kind in CATALOG.facts[part.fact].stated_for, part
        for what in form.whats:
            for name, word in what.facts.items():
                assert kind in CATALOG.facts[name].stated_for
                assert word in (CATALOG.facts[name].choices or {"yes": "", "no": ""}), what
    assert {kind.name for kind in CATALOG.kinds.values() if not kind.drawing_complete} <= set(forms())


def test_a_range_from_nothing_is_told_by_its_other_end() -> None:
    fact = CATALOG.facts["capacity"]
    assert value_text(fact, between(0, 91)) == "at most 91 A"
    assert value_text(fact, between(40, 91)) == "40 A to 91 A"


# --- words of a question ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "name", "sentence"),
    [
        ("transfer_switch", "role", "ATS1: which disconnect is it on this job?"),
        ("transfer_switch", "place", "ATS1: where does it stand or hang?"),
        ("generator", "listed", "ATS1: does it bear the mark of a testing laboratory, so that it is listed?"),
        ("utility_supply", "electrode_conductor_ends_at", "ATS1: at which piece does the grounding electrode"),
        ("generator", "cord_and_plug", "Is this so of ATS1: "),
    ],
)
def test_what_is_asked_most_is_asked_in_a_plain_sentence(kind: str, name: str, sentence: str) -> None:
    assert question(kind, name, "ATS1").sentence.startswith(sentence)


def test_the_choices_of_role_and_class_say_what_they_come_to() -> None:
    for name in ("role", "classes"):
        told = {choice.word: choice.in_words for choice in question("transfer_switch", name).choices}
        assert all(told[word] for word in trade_words(name).in_words)
    text = " ".join(" ".join(choice_lines(question("generator", "classes"))).split())
    assert "emergency: a law asks for it to save lives" in text
    assert "optional: optional standby; the owner wants it" in text


def test_what_is_measured_is_not_found_on_a_tape_and_a_type_is_not_told_twice() -> None:
    assert found_on_words(question("connection", "length")) == "measured on site"
    assert found_on_words(question("connection", "of_the_utility")) == "seen on site, or on the utility letter"
    assert found_on_words(question("generator", "rated_power.propane")) == "usually on the nameplate"
    assert "   d  3R" in list(choice_lines(question("transfer_switch", "enclosure")))


def test_every_example_of_what_is_typed_can_be_typed() -> None:
    for name, words in all_trade_words().items():
        (fact, *_) = [each for each in CATALOG.facts.values() if each.name.rpartition(".")[2] == name]
        assert words.in_words.keys() <= fact.choices.keys()
        if not words.typed:
            continue
        if fact.quantity is not None:
            quoted = re.findall(r'"([^"]+)"', words.typed)
            assert quoted
            assert {answer_words(question("utility_supply", name), each) for each in quoted} == {("9.8 kA",)}
            continue
        examples = re.split(r", | or ", words.typed.partition(" as ")[2])
        assert len(examples) >= 2
        for each in examples:
            if fact.reads == "conductor":
                assert read_conductor(each).material
            else:
                assert is_insulation(each)


def test_the_examples_of_conductors_are_those_of_the_tables_at_200_amperes() -> None:
    """Table 310.12 and 250.122 at 200 A, Table 250.66 for the sizes of Table 310.12 (133 and 212 kcmil)."""
    service = (ROOT / "shared" / "dwelling-service-conductors.yaml").read_text(encoding="utf-8")
    grounding = (ROOT / "shared" / "grounding-conductors.yaml").read_text(encoding="utf-8")
    assert "[200, 2/0 AWG, 4/0 AWG," in service
    assert trade_words("phase").typed == "size, metal and insulation, as 4/0 aluminum XHHW-2 or 2/0 copper"
    along = (ROOT / "rulesets" / "nfpa-70" / "article-250.yaml").read_text(encoding="utf-8")
    assert "[200, 6 AWG, 4 AWG," in along
    assert trade_words("grounding").typed == "size and metal, as 6 AWG copper or 4 AWG aluminum"
    assert "[167.8, copper, 4 AWG, 2 AWG," in grounding
    assert "[250, aluminum, 4 AWG, 2 AWG," in grounding
    assert trade_words("electrode_conductor").typed == "size and metal, as 4 AWG copper or 2 AWG aluminum"
