"""What two sides differ in, told in the order of its weight: what is asked first, what somebody looked up last."""

from __future__ import annotations

from checker.report.comparison.compared import compared_text
from checker.tasks.comparing.rule_differences import CHANGES, Difference, RuleDifference, RulesCompared
from checker.tasks.comparing.sides import Compared, Side

CONFIRMED = Difference("citation", "citation of 9.4", "to be verified", "confirmed")
NUMBER = Difference("number", "least rating", "100 A", "125 A")
SECTION = Difference("section", "Harbor Code", "12.5", "12.6")


def _changed(name: str, *differences: Difference) -> RuleDifference:
    return RuleDifference("harbor-code", name, f"Title of {name}", "transfer_switch", CHANGES, (), (), differences)


def _told(*rules: RuleDifference) -> str:
    return compared_text(Compared(Side("one"), Side("another"), RulesCompared(rules, 0)))


def test_substance_comes_before_sections_and_confirmations() -> None:
    told = _told(_changed("looked-up", CONFIRMED), _changed("moved", SECTION), _changed("stricter", NUMBER, CONFIRMED))
    places = [
        told.index(each)
        for each in (
            "Rules that change: 1\n\nharbor-code:stricter",
            "Rules that ask the same under another section or in other words: 1\n\nharbor-code:moved",
            "Citations of which only the confirmation changes: 2",
        )
    ]
    assert places == sorted(places)
    assert "harbor-code:looked-up" not in told


def test_confirmations_are_gathered_in_one_list() -> None:
    told = _told(_changed("looked-up", CONFIRMED), _changed("stricter", NUMBER, CONFIRMED))
    assert told.count("confirmed") == 1
    assert "    was to be verified, is confirmed: 9.4 (looked-up); 9.4 (stricter)\n" in told


def test_nothing_is_told_of_confirmations_where_none_changes() -> None:
    assert "Citations" not in _told(_changed("stricter", NUMBER))


SIZE = Difference("table", "table standard sizes, size 10 A", None, "10 A")


def test_a_change_of_a_table_that_several_rules_read_is_told_once() -> None:
    told = _told(_changed("stricter", NUMBER, SIZE), _changed("only-the-table", SIZE), _changed("looked-up", CONFIRMED))
    assert told.count("10 A") == 1
    assert (
        "Tables that change, and the rules that read them: 1\n"
        "    table standard sizes, new: 10 A\n"
        "      read by stricter, only-the-table\n"
    ) in told
    assert "Rules that change: 1\n" in told
    alone = _told(_changed("stricter", NUMBER), _changed("only-the-table", SIZE))
    assert "Tables that change" not in alone
    assert "harbor-code:only-the-table" in alone
    assert alone.count("10 A") == 1
