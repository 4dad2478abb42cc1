"""A list of rules as a table for the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from tabulate import tabulate

from checker.report.safe import harmless
from checker.report.text import PLAIN, Style, wrapped
from checker.report.words import citation_text, counted
from checker.tasks.telling.rule_list import Listed, RuleList

RULE_WIDTH, SECTION_WIDTH, SUBJECT_WIDTH = 37, 20, 15
"""Columns of the table, which with what stands between them come to 80."""

NO_SECTION = "practice"


def rule_table(found: RuleList, style: Style = PLAIN) -> str:
    """The rules with their titles, sections and subjects, pack by pack, ending in a line feed."""
    lines: list[str] = []
    by_pack: dict[str, list[Listed]] = {}
    for each in found.rules:
        by_pack.setdefault(each.pack, []).append(each)
    for pack, listed in by_pack.items():
        lines += [style.underline(pack), *_table(listed), ""]
    if found.deleted:
        lines += [style.underline("Deleted here"), *_table(found.deleted), ""]
    gone = f", {len(found.deleted)} deleted" if found.deleted else ""
    return "\n".join((*lines, f"{counted(len(found.rules), 'rule')}{gone}.")) + "\n"


def _table(listed: Iterable[Listed]) -> Iterator[str]:
    """The table. An id is as long as it is, and not broken so that it can be copied: it takes a line of its own."""
    rules = list(listed)
    rows = [
        (
            f"{_ID_LINE}\n{_claim(each)}",
            f"{_ID_LINE}\n{_cell(_sections(each), SECTION_WIDTH)}",
            f"{_ID_LINE}\n{_cell([each.subject_title], SUBJECT_WIDTH)}",
        )
        for each in rules
    ]
    heads = ("rule".ljust(RULE_WIDTH), "sections".ljust(SECTION_WIDTH), "subject")
    ids = iter(rules)
    for line in tabulate(rows, headers=heads, tablefmt="plain", disable_numparse=True).splitlines():
        yield harmless(next(ids).id) if set(line) == {_ID_LINE, " "} else line.rstrip()


_ID_LINE = "\N{MIDDLE DOT}"
"""Fills the line of the table in the place of which an id comes; a line that is empty would be dropped."""


def _claim(each: Listed) -> str:
    """The claim, and what layers did."""
    return "\n".join(line for text in (each.title, *each.marks) for line in wrapped(text, indent=2, width=RULE_WIDTH))


def _cell(texts: Iterable[str], width: int) -> str:
    return "\n".join(line for text in texts for line in wrapped(text, width=width))


def _sections(each: Listed) -> list[str]:
    if each.sections:
        return list(sections_told(each.sections))
    cited = citation_text(each.cites)
    return [cited or NO_SECTION]


def sections_told(sections: Mapping[str, tuple[str, ...]]) -> Iterator[str]:
    """The sections of a rule, those that several editions share told once."""
    shared: dict[tuple[str, ...], list[str]] = {}
    for edition, each in sections.items():
        shared.setdefault(each, []).append(edition)
    yield from (f"{', '.join(each)} ({', '.join(editions)})" for each, editions in shared.items())
