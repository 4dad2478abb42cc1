"""Small pieces of sentences about packs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

_MOST_LISTED = 12


def with_article(noun: str) -> str:
    """``a rule``, ``an operand``, ``texts by edition``."""
    head = noun.split(" of ", maxsplit=1)[0].split(" by ", maxsplit=1)[0].split(",", maxsplit=1)[0]
    if head.endswith("s") or noun.startswith(("a ", "an ", "the ", "yes ", "one ")):
        return noun
    return f"an {noun}" if noun[:1].lower() in "aeiou" else f"a {noun}"


def choice_of(words: Iterable[object]) -> str:
    """``a, b or c``; a long list is cut."""
    listed = [str(word) for word in words]
    if len(listed) > _MOST_LISTED:
        return f"{', '.join(listed[:_MOST_LISTED])} ..."
    return f"{', '.join(listed[:-1])} or {listed[-1]}" if len(listed) > 1 else "".join(listed)


def listing(words: Sequence[str]) -> str:
    """``a, b and c``."""
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else "".join(words)


EVENT_WORDS = {
    "permit_application": "permit application",
    "plan_submission": "plan submission",
    "permit_issue": "issue of the permit",
    "work_start": "start of work",
    "occupancy": "occupancy",
    "engine_built": "building of the engine",
}
"""The events whose dates fix which rules are in force, as a reader calls them."""

_HAPPENINGS = {
    "permit_application": "permit applications",
    "plan_submission": "plans submitted",
    "permit_issue": "permits issued",
    "work_start": "work started",
    "occupancy": "buildings occupied",
    "engine_built": "engines built",
}


def counts_for(event: str | None, start: date | None, until: date | None = None) -> str:
    """For what a change counts, from when until when: ``for permit applications from 2025-07-01``. Without an event
    nobody has said yet whose date decides.
    """
    since = f" from {start}" if start is not None else ""
    ends = f" until {until}" if until is not None else ""
    if event is None:
        return f"by the event of the profile that names the layer,{since or ' always'}{ends}"
    return f"for {_HAPPENINGS[event]}{since}{ends}"
