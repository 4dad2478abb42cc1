"""The dates of a site file by the event that each belongs to, and what the applicant has elected."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from checker.facts.drawing import is_set_aside
from checker.site.model import SITE, Site, Stated, Subject
from checker.values.dates import date_of
from checker.values.positions import Position

ENGINE_BUILT = "engine_built"

_OF_PERMIT = {
    "permit_application": "application_date",
    "plan_submission": "plan_submission_date",
    "permit_issue": "issue_date",
    "work_start": "work_start_date",
    "occupancy": "occupancy_date",
}
"""The date of the permit that each event looks at; that of an engine stands at the set."""

EVENTS = (*_OF_PERMIT, ENGINE_BUILT)


def event_date(site: Site, event: str) -> date | None:
    """The date of an event; None where the site file does not give exactly one.

    Of several sets that are not of one day none is the day of them all; sets that go, or come later, do not count.
    """
    days = {None if stated is None else _day(stated) for stated in _stated(site, event)}
    return next(iter(days)) if len(days) == 1 else None


def event_dates(site: Site) -> Iterator[tuple[str, date]]:
    """Every event of which the site file gives the date."""
    for event in EVENTS:
        found = event_date(site, event)
        if found is not None:
            yield event, found


def place_of_date(site: Site, event: str) -> Position | None:
    """Where the date stands that cannot be used."""
    return next((stated.at for stated in _stated(site, event) if stated is not None), None)


def how_to_give(event: str) -> str:
    """What to write so that the date of an event is known."""
    if event == ENGINE_BUILT:
        return 'Write made_on: "2026-03-14" at the set (of several sets the same day)'
    return f'Write permit: {{{_OF_PERMIT[event]}: "2026-03-14"}}'


def permit_key(event: str) -> str | None:
    """The key under ``permit:`` of the date of an event; None for that of an engine, which stands at the set."""
    return _OF_PERMIT.get(event)


def elected_in(site: Site) -> tuple[str, ...]:
    """The documents and layers whose older rules the applicant has elected."""
    stated = site.stated(SITE, "permit.elected")
    atom = None if stated is None else stated.value.atom
    return () if atom is None else tuple(each.strip() for each in str(atom).split(",") if each.strip())


def _stated(site: Site, event: str) -> Iterator[Stated | None]:
    if event == ENGINE_BUILT:
        sets: list[Subject] = [piece for piece in site.pieces.values() if piece.type == "generator"]
        yield from (site.stated(each, "made_on") for each in sets if not is_set_aside(site, each))
    else:
        yield site.stated(SITE, f"permit.{_OF_PERMIT[event]}")


def _day(stated: Stated) -> date | None:
    number = stated.value.number
    return None if number is None else date_of(number)
