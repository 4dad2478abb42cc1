"""A review as JSON Lines: one record for the site, then one for each notice and each finding, in the words of the JSON
report, so that a filter sees one thing in each line and several sites can be read while they are being reviewed.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from checker.findings.finding import Review
from checker.report.programs.data import review_data
from checker.report.safe import escaped
from checker.values.problems import Problem

Plain = dict[str, Any]

_OWN_LINES = {"findings": "finding", "notices": "notice"}


def json_lines(review: Review) -> str:
    """The lines of one review: ``record`` says what each holds, ``file`` to which site it belongs."""
    data = review_data(review)
    head = {name: value for name, value in data.items() if name not in _OWN_LINES}
    rows = [_row("site", review.file, head)]
    for name, record in _OWN_LINES.items():
        rows += [_row(record, review.file, each) for each in data[name]]
    return "".join(rows)


def problem_lines(file: str, problems: Iterable[Problem]) -> str:
    """The lines of a file that could not be reviewed, one for each problem."""
    return "".join(
        _row(
            "problem",
            file,
            {
                "sentence": problem.sentence,
                "at": None if problem.at is None else str(problem.at),
                "remedy": problem.remedy,
                "nearest": problem.near,
            },
        )
        for problem in problems
    )


def _row(record: str, file: str, data: Plain) -> str:
    return escaped(json.dumps({"record": record, "file": file, **data}, sort_keys=True, ensure_ascii=False)) + "\n"
