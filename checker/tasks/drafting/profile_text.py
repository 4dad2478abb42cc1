"""The text of a profile: what is adopted, the layer, and what stands on record."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from checker.tasks.drafting.answers import Answers, Record
from checker.tasks.drafting.finding import Finder
from checker.tasks.drafting.yaml_text import comment, flow, in_quotes, listed, quoted, schema_line
from checker.values.problems import Problem, Unreadable

_DATES = ("on", "until", "from")


def profile_text(answers: Answers, finder: Finder, folder: Path) -> str:
    """The whole file. Raises Unreadable where a record names no rule."""
    return "".join([schema_line(folder, "profile"), *_lines(answers), *_records(answers, finder)])


def _lines(answers: Answers) -> Iterator[str]:
    yield f"profile: {quoted(answers.name)}\n"
    yield f"title: {quoted(answers.place)}\n"
    yield f"event: {answers.event}   # the date of this event decides which rules count\n"
    yield "documents:   # one line for each edition, from its first day on; a new one is added, the old one stays\n"
    for each in answers.adopts:
        edition = {"edition": in_quotes(each.edition)} if each.edition else {}
        dates = {"from": in_quotes(each.start), "adopted_by": quoted(each.adopted_by)}
        yield f"  - {flow({'document': quoted(each.document), **edition, **dates})}\n"
    if answers.changes:
        yield "layers:   # lowest first\n"
        yield f"  - {flow({'layer': f'{answers.name}-code', 'may': answers.may})}\n"


def _records(answers: Answers, finder: Finder) -> Iterator[str]:
    found: list[Problem] = []
    sections = (("interpretations", answers.interpretations), ("special_permissions", answers.permissions))
    for section, records in sections:
        if records:
            yield f"{section}:\n"
        for record in records:
            try:
                yield _record(record, finder, {"status": "answered"} if section == "interpretations" else {})
            except Unreadable as error:
                found += error.problems
    if found:
        raise Unreadable(found)


def _record(record: Record, finder: Finder, usual: dict[str, str]) -> str:
    rule = finder.one_rule(record.rule, record.at)
    values = {
        **usual,
        **{key: in_quotes(value) if key in _DATES else quoted(value) for key, value in record.values.items()},
    }
    if record.conditions:
        values["conditions"] = listed(map(quoted, record.conditions))
    return f"{comment([rule.words], '  ')}  - {flow({'rule': in_quotes(rule.name), **values})}\n"
