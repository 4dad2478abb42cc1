"""Reviews as JSON Lines: each line one thing, together the same as the JSON report."""

from __future__ import annotations

import json
from collections.abc import Mapping

from checker.findings.finding import Review
from checker.report.programs.data import review_data
from checker.report.programs.lines import json_lines, problem_lines
from checker.values.positions import Position
from checker.values.problems import Problem


def test_the_lines_hold_what_the_report_holds(fixture_reviews: Mapping[str, Review]) -> None:
    for found in fixture_reviews.values():
        rows = [json.loads(line) for line in json_lines(found).splitlines()]
        by: dict[str, list[dict[str, object]]] = {"site": [], "notice": [], "finding": []}
        for row in rows:
            assert row.pop("file") == found.file
            by[row.pop("record")].append(row)
        (head,) = by["site"]
        assert {**head, "findings": by["finding"], "notices": by["notice"]} == review_data(found)
        assert rows[0].keys() == head.keys()


def test_a_file_that_could_not_be_read_has_a_line_for_each_problem() -> None:
    at = Position("bad.yaml", 3, 1)
    text = problem_lines("bad.yaml", [Problem("No site.", at, "Write site:.", "site"), Problem("Two.")])
    first, second = map(json.loads, text.splitlines())
    assert first == {
        "record": "problem",
        "file": "bad.yaml",
        "sentence": "No site.",
        "at": "bad.yaml:3:1",
        "remedy": "Write site:.",
        "nearest": "site",
    }
    assert (second["at"], second["nearest"]) == (None, None)
