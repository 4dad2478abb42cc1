"""Mistakes that the properties of this folder found, each as small as it was when it was understood."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.engineering.calculation import OutsideLimits
from checker.engineering.full_load_current import FULL_LOAD_CURRENT
from checker.facts.collections import collection
from checker.facts.drawing import in_order
from checker.findings.judging.outcomes import Outcome
from checker.findings.review import view_of
from checker.rules.model.citing import Checked, Citation
from checker.rules.model.conditions import (
    Combined,
    Compare,
    Condition,
    Count,
    FactOperand,
    FactPath,
    Fold,
    Lookup,
    Operand,
    Scaled,
    Words,
)
from checker.rules.model.conditions import Test as Relation
from checker.rules.model.force import Basis
from checker.rules.model.in_force import RuleInForce
from checker.rules.model.numbers import Row, TableValues
from checker.rules.model.rule import Requires, Rule
from checker.site.model import Site, Subject
from checker.site.read import read_site
from checker.values.positions import Position
from checker.values.possible import Possible, Span, exactly, number, one_of
from tests.generators.cases import CATALOG
from tests.generators.operands import NumberBook
from tests.generators.rules import in_force
from tests.soundness.engine import Verdict, verdicts

_CHECKED = Checked("high", "tried")
_AT = Position("generated/pack.yaml", 1, 1)
_HOUSE = """
  UTIL: {kind: utility_supply}
  D1: {kind: disconnect, fed_from: UTIL}
  GEN1: {kind: generator}
  ATS1: {kind: transfer_switch, normal: D1, alternate: GEN1}
"""


def _site(folder: Path, equipment: str, others: str = "", site: str = "site: {}") -> Site:
    path = folder / "site.yaml"
    path.write_text(f"{site}\nequipment:{equipment}\n{others}", encoding="utf-8")
    return read_site(path, CATALOG)


def _rule(
    subject: str, requires: Condition | None, book: NumberBook | None = None, *, when: Condition | None = None
) -> RuleInForce:
    """A mandatory rule of law with one part, or, without one, a look."""
    book = book or NumberBook()
    body = Rule(
        id="the-rule-itself", pack="tried", title="The rule", subject=subject, basis=Basis.LAW, says="It misses.",
        at=_AT, when=when, requires=None if requires is None else Requires({"part": requires}),
        look="Look at it." if requires is None else None, cites=(Citation("tried", None, "1"),),
    )  # fmt: skip
    return RuleInForce(body, None, "nobody", body.cites, book.parameters, book.tables)


def _verdict(site: Site, rule: RuleInForce, tag: str) -> Verdict:
    found = {subject.id: verdict for (_, subject), verdict in verdicts(site, CATALOG, in_force((rule,))).items()}
    return found[tag]


def _compare(fact: str, relation: str, operand: Operand, if_absent: bool | None = None) -> Compare:
    return Compare(FactPath((), fact), (Relation(relation, (operand,)),), if_absent)


def _word(word: str | bool) -> Words:
    return Words((word,), is_list=False)


# --- reading --------------------------------------------------------------------------------------------------------


def test_unknown_is_not_refused_for_the_ends_that_nature_gives_it(tmp_path: Path) -> None:
    """0 A, where a rating physically begins, is not usual; but nobody wrote it."""
    site = _site(tmp_path, "\n  P1: {kind: panelboard, rated_current: unknown, working_space: {depth: unknown}}")
    said = site.stated(Subject("panelboard", "P1"), "rated_current")
    assert said is not None
    assert said.value == CATALOG.facts["rated_current"].anything()


def test_at_most_so_many_volts_is_not_refused_for_the_volt_that_nature_asks(tmp_path: Path) -> None:
    """A part was closed at 1 V before it was looked at whether its ends are usual."""
    site = _site(tmp_path, "\n  GEN1: {kind: generator, system: {voltage: at most 480 V}}")
    said = site.stated(Subject("generator", "GEN1"), "system.voltage")
    assert said is not None
    assert said.value == Possible(spans=(Span(Fraction(1), Fraction(480)),))


def test_an_enclosure_that_is_called_1_takes_no_letter_from_the_one_behind_or(tmp_path: Path) -> None:
    site = _site(tmp_path, '\n  P1: {kind: panelboard, enclosure: "1 or 3R"}')
    said = site.stated(Subject("panelboard", "P1"), "enclosure")
    assert said is not None
    assert said.value == one_of(["1", "3R"])


def test_what_is_said_of_a_pair_is_found_whichever_of_the_two_is_drawn_first(tmp_path: Path) -> None:
    equipment = "\n  U: {kind: utility_supply}" + "".join(
        f"\n  {tag}: {{kind: disconnect, fed_from: U, role: service_disconnect}}" for tag in ("D2", "D1")
    )
    site = _site(tmp_path, equipment, "pairs: {D2~D1: {shared_enclosure: yes}}")
    rule = _rule("service_disconnect_pair", _compare("shared_enclosure", "is", _word(False)))
    assert _verdict(site, rule, "D1~D2").outcome is Outcome.CORRECTION


# --- facts ----------------------------------------------------------------------------------------------------------


def test_a_rated_power_that_is_unknown_is_not_one_without_any_fuel(tmp_path: Path) -> None:
    view = view_of(_site(tmp_path, "\n  GEN1: {kind: generator, rated_power: unknown}"), CATALOG)
    propane = view.read(Subject("generator", "GEN1"), "rated_power.propane")
    assert propane == CATALOG.facts["rated_power.propane"].anything()


@pytest.mark.parametrize(
    ("written", "held"),
    [
        ("", set()),
        (", neutral_bond: unknown, role: unknown", set()),
        (", neutral_bond: bonded, role: unknown", {"P1.neutral_bond"}),
    ],
)
def test_unknown_says_no_more_and_no_less_than_nothing(tmp_path: Path, written: str, held: set[str]) -> None:
    equipment = (
        "\n  U: {kind: utility_supply}\n  D1: {kind: disconnect, fed_from: U, role: service_disconnect}"
        f"\n  P1: {{kind: panelboard, fed_from: D1{written}}}"
    )
    bonds = "bonds: {complete: yes, list: [{bond: neutral_to_enclosure, at: P1, bond_status: new}]}"
    site = _site(tmp_path, equipment, bonds)
    view = view_of(site, CATALOG)
    assert view.read(Subject("panelboard", "P1"), "neutral_bond") == exactly("bonded")
    assert view.read(Subject("panelboard", "P1"), "role") == exactly("feeder_disconnect")
    figures = {subject.id for _, subject in verdicts(site, CATALOG, in_force((_rule("figure", None),)))}
    assert figures == held


def test_a_collection_along_a_side_is_that_of_what_feeds_the_side(tmp_path: Path) -> None:
    """It was taken for empty and complete, and the set's missing stop for one that is there."""
    stops = "\n  STOP1: {kind: stop, of: GEN1, stands: inside_enclosure}"
    site = _site(tmp_path, f"{_HOUSE}{stops}", site="site: {complete: [stop]}")
    path = FactPath(("alternate",), "stops")
    no_stop = Fold("none", path, None, _compare("stands", "is", _word("inside_enclosure")))
    assert _verdict(site, _rule("transfer_switch", no_stop), "ATS1").outcome is Outcome.CORRECTION


def test_of_what_feeds_a_side_that_nothing_feeds_nothing_can_be_said(tmp_path: Path) -> None:
    site = _site(tmp_path, "\n  GEN1: {kind: generator}\n  ATS1: {kind: transfer_switch, alternate: GEN1}")
    labels = Fold("none", FactPath(("normal",), "labels"), None, None)
    assert _verdict(site, _rule("transfer_switch", labels), "ATS1").outcome is Outcome.NEEDS_INFORMATION


def test_a_collection_that_a_piece_cannot_have_is_empty_and_asks_nothing(tmp_path: Path) -> None:
    view = view_of(_site(tmp_path, _HOUSE), CATALOG)
    found = collection(view, "withstand_rows", Subject("disconnect", "D1"))
    assert not found.members
    assert not found.is_open


def test_the_service_of_a_side_is_that_of_the_side_and_not_of_the_switch(tmp_path: Path) -> None:
    site = _site(tmp_path, f"{_HOUSE}", "")
    there = Compare(FactPath(("alternate", "service"), "frequency"), (Relation("present", (_word(True),)),))
    assert _verdict(site, _rule("transfer_switch", there), "ATS1").outcome is Outcome.CORRECTION


def test_rows_of_a_switch_that_is_set_aside_are_set_aside_with_it(tmp_path: Path) -> None:
    equipment = (
        "\n  ATS1: {kind: transfer_switch, status: to_be_removed, withstand_rows: {list: [{withstands: 10 kA}]}}"
    )
    site = _site(tmp_path, equipment)
    assert not verdicts(site, CATALOG, in_force((_rule("withstand_row", None),)))


def test_tags_are_in_the_order_of_their_numbers() -> None:
    wanted = ["ATS1", "P", "P02", "P2", "P2-1", "P10"]
    for tags in (["P10", "P2", "ATS1", "P02", "P2-1", "P"], ["P", "P2-1", "P02", "ATS1", "P2", "P10"]):
        assert sorted(tags, key=in_order) == wanted


def test_full_load_current_has_no_answer_below_zero_where_its_directions_would_turn() -> None:
    point = {"power": Fraction(-5), "voltage": Fraction(240), "power_factor": Fraction(1), "phases": Fraction(1)}
    with pytest.raises(OutsideLimits):
        FULL_LOAD_CURRENT.at(point)


# --- rules ----------------------------------------------------------------------------------------------------------


def test_a_comparison_with_the_largest_of_several_asks_if_absent_too(tmp_path: Path) -> None:
    """Lowered to one comparison for each operand it forgot that a rating that is none was to count as enough."""
    equipment = (
        "\n  U: {kind: utility_supply}\n  D1: {kind: disconnect, fed_from: U, interrupting_rating: 5 kA or none}"
    )
    book = NumberBook()
    operands = (book.parameter("10 kA", number(10_000)), FactOperand(FactPath((), "short_circuit_rating")))
    rule = _rule(
        "disconnect",
        _compare("interrupting_rating", "at_least", Combined("largest_of", operands), if_absent=True),
        book,
    )
    verdict = _verdict(_site(tmp_path, equipment), rule, "D1")
    assert verdict.could_be == {Outcome.MET, Outcome.CORRECTION}


def _row(word: str, low: int | None, high: int, gives: int) -> Row:
    amperes = Span(None if low is None else Fraction(low), Fraction(high), low_open=low is not None)
    return Row({"amperes": Possible(spans=(amperes,)), "word": exactly(word)}, number(gives), str(gives))


def test_a_table_reaches_for_each_word_as_far_as_the_rows_of_that_word(tmp_path: Path) -> None:
    """The rows of copper reach to 200 A; that does not carry those of aluminum past 100 A."""
    book = NumberBook()
    book.tables["sizes"] = TableValues(
        (_row("copper", None, 200, 100), _row("aluminum", None, 100, 100)), "past it an engineer decides", (), _CHECKED
    )
    keys = {"amperes": FactOperand(FactPath((), "ampacity")), "word": FactOperand(FactPath((), "phase.material"))}
    rule = _rule(
        "connection", Compare(FactPath((), "ampacity"), (Relation("at_least", (Lookup("sizes", keys),)),)), book
    )
    runs = "runs: {UTIL>D1: {phase: {material: aluminum}, ampacity: 80 A to 150 A}}"
    found = _verdict(_site(tmp_path, _HOUSE, runs), rule, "UTIL>D1")
    assert found.outcome is Outcome.NEEDS_INFORMATION
    past = "runs: {UTIL>D1: {phase: {material: aluminum}, ampacity: 120 A to 150 A}}"
    assert _verdict(_site(tmp_path, _HOUSE, past), rule, "UTIL>D1").outcome is Outcome.NEEDS_INFORMATION


def test_a_table_asked_with_a_key_that_has_no_answer_has_none_either(tmp_path: Path) -> None:
    book = NumberBook()
    book.tables["sizes"] = TableValues((_row("delta", None, 200, 100),), "past it an engineer decides", (), _CHECKED)
    keys = {
        "amperes": FactOperand(FactPath((), "rated_current")),
        "word": FactOperand(FactPath((), "system.connection")),
    }
    rule = _rule("panelboard", _compare("rated_current", "at_least", Lookup("sizes", keys)), book)
    site = _site(tmp_path, "\n  P1: {kind: panelboard, rated_current: 200 A}")
    assert _verdict(site, rule, "P1").outcome is Outcome.NEEDS_INFORMATION


@pytest.mark.parametrize("way", ["scaled", "sum_of"])
def test_whatever_is_made_of_a_number_without_limit_has_none(tmp_path: Path, way: str) -> None:
    book = NumberBook()
    endless, ratio = book.parameter("no limit", None), book.parameter("80 %", number(Fraction(4, 5)), "%")
    operand: Operand = Scaled(endless, ratio) if way == "scaled" else Combined("sum_of", (endless, endless))
    rule = _rule("disconnect", _compare("rated_current", "at_most", operand), book)
    site = _site(tmp_path, "\n  D1: {kind: disconnect, rated_current: 5000 A}")
    assert _verdict(site, rule, "D1").outcome is Outcome.MET


def test_a_look_may_turn_out_not_to_be_needed(tmp_path: Path) -> None:
    rule = _rule("disconnect", None, when=_compare("listed", "is", _word(False)))
    verdict = _verdict(_site(tmp_path, "\n  D1: {kind: disconnect}"), rule, "D1")
    assert verdict.outcome is Outcome.VERIFY_IN_FIELD
    assert verdict.could_be == {Outcome.VERIFY_IN_FIELD, Outcome.NOT_APPLICABLE}


def test_a_fold_over_what_is_not_listed_stays_open(tmp_path: Path) -> None:
    """Kept although it never broke: the row of the design on which most of soundness rests."""
    book = NumberBook()
    every = Fold("every", FactPath((), "labels"), None, _compare("ground_color", "is", _word("red")), if_empty=True)
    count = Count(FactPath((), "labels"), None, (Relation("at_most", (book.parameter("0", number(0)),)),))
    for condition in (every, count):
        verdict = _verdict(_site(tmp_path, "\n  D1: {kind: disconnect}"), _rule("disconnect", condition, book), "D1")
        assert verdict.outcome is Outcome.NEEDS_INFORMATION
