"""What each change of a layer hits, in the words of the trade."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from checker.report.text import wrapped
from checker.report.words import citation_text
from checker.tasks.town_lint import Hit, HitRule

WIDTH = 80

_EVENTS = {
    "permit_application": "permit applications",
    "plan_submission": "plans submitted",
    "permit_issue": "permits issued",
    "work_start": "work started",
    "occupancy": "buildings occupied",
    "engine_built": "engines built",
}


def hits_text(hits: Iterable[Hit]) -> str:
    """One paragraph for each change, and an empty line: from when it counts, and which rules it hits."""
    return "".join("\n".join(_hit(hit)) + "\n\n" for hit in hits)


def _hit(hit: Hit) -> Iterator[str]:
    yield from wrapped(f"{hit.layer}, change {hit.number}, {hit.word} {hit.written}: {_when(hit)}", width=WIDTH)
    for rule in hit.rules:
        yield from wrapped(_rule(rule), indent=2, width=WIDTH)
    yield f"  {hit.at}"


def _when(hit: Hit) -> str:
    """``for permit applications from 2025-07-01``."""
    event = _EVENTS.get(hit.event or "", "all")
    since = f" from {hit.start}" if hit.start is not None else ""
    until = f" until {hit.until}" if hit.until is not None else ""
    return f"for {event}{since}{until}"


def _rule(rule: HitRule) -> str:
    cited = citation_text(rule.cites)
    return f"{rule.name}{f' ({cited})' if cited else ''}: {rule.told}"
