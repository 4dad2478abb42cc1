"""An earlier report of the same sites, so that a run can be held against what is known already."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from checker.files.folders import regular_file
from checker.findings.finding import Finding, Review
from checker.values.problems import Problem, Unreadable

MOST_BYTES = 256 * 2**20
"""A report of some hundred sites is far below this; a file beyond it is something else."""


@dataclass(frozen=True, slots=True)
class Earlier:
    """What an earlier report found: for each site file the outcome of each finding by its id, and whether it rests on
    an assumption; and the name of the report.
    """

    name: str = ""
    outcomes: Mapping[str, Mapping[str, tuple[str, bool]]] = field(default_factory=dict)

    def holds(self, review: Review, finding: Finding) -> bool:
        """Whether the same finding came to the same there. One that has become worse, or better, is new."""
        now = (finding.outcome.value, bool(finding.assumed))
        return self.outcomes.get(review.file, {}).get(finding.id) == now

    def has(self, review: Review) -> bool:
        """Whether the site file of this review stands in it."""
        return review.file in self.outcomes


NO_EARLIER = Earlier()


def read_earlier(path: Path) -> Earlier:
    """Read what ``review --format json`` wrote for one site or several. Raises Unreadable."""
    shown = path.as_posix()
    if not path.exists():
        raise Unreadable([Problem(f"There is no file {shown}.", remedy=_write_one(shown))])
    regular_file(path, shown)
    try:
        if path.stat().st_size > MOST_BYTES:
            raise _no_report(shown)
        data = json.loads(path.read_text(encoding="utf-8"))
        return Earlier(shown, {each["site"]["file"]: _outcomes(each) for each in _sites(data)})
    except OSError as error:
        sentence = f"{shown} cannot be read: {error.strerror}."
        raise Unreadable([Problem(sentence, remedy="Check its rights.")]) from error
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        raise _no_report(shown) from error


def _sites(data: Any) -> list[Any]:
    return data if isinstance(data, list) else [data]


def _outcomes(site: Mapping[str, Any]) -> dict[str, tuple[str, bool]]:
    return {str(each["id"]): (str(each["outcome"]), bool(each["assumed"])) for each in site["findings"]}


def _no_report(shown: str) -> Unreadable:
    sentence = f"{shown} is no report of this program as JSON."
    return Unreadable([Problem(sentence, remedy=_write_one(shown))])


def _write_one(shown: str) -> str:
    return f"Write one with: standby-checker review SITE --format json > {shown}"
