"""A schedule as plain data for other programs, in the shape of ``schemas/schedule.schema.json``."""

from __future__ import annotations

from typing import Any

from checker.report.programs.citations import citation_data
from checker.report.safe import json_text
from checker.report.schedule.words import by_hand
from checker.report.words import authority_text
from checker.tasks.scheduling.model import (
    Bound,
    ByTheTables,
    Cell,
    Column,
    Combination,
    Note,
    Schedule,
    Table,
    Together,
)
from checker.version import __version__

Plain = dict[str, Any]


def schedule_json(schedule: Schedule) -> str:
    """The schedule as JSON text: sorted, indented, the same bytes for the same input, ending in a line feed."""
    return json_text(schedule_data(schedule))


def schedule_data(schedule: Schedule) -> Plain:
    """Tables, facts that hang together, notes, and what was not told."""
    rules = schedule.in_force
    return {
        "checker": __version__,
        "site": {"name": schedule.site_name, "file": schedule.file, "digest": schedule.digest},
        "in_force": {"profile": rules.profile, "date": rules.date.isoformat(), "event": rules.event},
        "tables": [_table(each) for each in schedule.tables],
        "together": [_together(each) for each in schedule.together],
        "notes": [_note(each) for each in schedule.notes],
        "by_the_tables": schedule.by_the_tables or None,
        "not_told": list(schedule.not_told),
        "limits": list(schedule.limits),
        "connected_by_hand": list(by_hand(schedule)),
    }


def _table(table: Table) -> Plain:
    return {"title": table.title, "columns": [_column(each) for each in table.columns]}


def _column(column: Column) -> Plain:
    return {"tag": column.tag, "title": column.title, "cells": [_cell(each) for each in column.cells]}


def _cell(cell: Cell) -> Plain:
    return {
        "subject": cell.subject,
        "fact": cell.fact,
        "title": cell.title,
        "shown": cell.shown or None,
        "at": None if cell.at is None else str(cell.at),
        "bound": _bound(cell.bound),
        "kept": cell.kept,
        "hangs_on": list(cell.hangs_on),
        "follows": cell.follows,
    }


def _bound(bound: Bound) -> Plain:
    return {
        "must": bound.must or None,
        "must_notes": list(bound.must_notes),
        "undecided": bound.undecided or None,
        "undecided_notes": list(bound.undecided_notes),
        "better": bound.better or None,
        "better_notes": list(bound.better_notes),
        "open_notes": list(bound.open),
        "brings_notes": list(bound.brings),
        "nothing_left": bound.nothing_left,
        "until": list(bound.until),
        "none_below": bound.never or None,
        "by_the_tables": None if bound.by_the_tables is None else _by_the_tables(bound.by_the_tables),
        "larger_than": bound.larger or None,
        "larger_notes": list(bound.larger_notes),
        "elsewhere_notes": list(bound.elsewhere),
        "gives_up": bound.gives_up or None,
        "values": [
            {"value": each.text, "stays": each.stays, "notes": list(each.notes), "open_notes": list(each.open)}
            for each in bound.values
        ],
    }


def _by_the_tables(found: ByTheTables) -> Plain:
    return {"must": found.must, "undecided": found.undecided or None, "until": list(found.until)}


def _together(together: Together) -> Plain:
    return {
        "title": together.title,
        "facts": list(together.facts),
        "combinations": [_combination(each) for each in together.combinations],
        "left_out": together.left_out,
    }


def _combination(combination: Combination) -> Plain:
    return {
        "given": list(combination.given),
        "bound": _bound(combination.bound),
        "as_shown": combination.as_shown,
        "turned_down_notes": list(combination.turned_down),
        "more_than_is_wanted": combination.is_more,
    }


def _note(note: Note) -> Plain:
    found = note.finding
    return {
        "number": note.number,
        "rule": found.rule,
        "pack": found.pack,
        "subject": found.subject.words,
        "title": found.title,
        "authority": authority_text(found),
        "force": found.force.value,
        "cites": [citation_data(each) for each in found.cites],
    }
