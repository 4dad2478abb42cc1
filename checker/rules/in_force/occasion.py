"""The dates that count for a job, and which of them counts for a document or a layer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from checker.rules.model.profile import Profile
from checker.rules.problem_list import ProblemList
from checker.rules.wording import EVENT_WORDS
from checker.values.positions import Position


@dataclass(frozen=True, slots=True)
class Occasion:
    """The dates that count: that of the profile's own event, those of other events, and what the applicant elected."""

    on: date
    dates: Mapping[str, date]
    elected: frozenset[str] = frozenset()

    def day_of(self, event: str | None) -> date | None:
        """The date of an event; None where it is not known."""
        return self.on if event is None else self.dates.get(event)


class Days:
    """The day that counts for each thing that a profile adopts; a date that is missing is a problem."""

    def __init__(self, profile: Profile, occasion: Occasion, problems: ProblemList) -> None:
        self._profile = profile
        self._occasion = occasion
        self._problems = problems

    def of(self, event: str | None, name: str, at: Position) -> date | None:
        """The date of an event, on which something of that name hangs; None, and told, where the site has none."""
        day = self._occasion.day_of(event)
        if day is None:
            words = EVENT_WORDS[event or self._profile.event]
            self._problems.add(
                f"{name} counts from the date of {words}, and the site file does not give that date.",
                at,
                "Write it into the site file, or give --date for all.",
            )
        return day

    def or_own(self, event: str | None) -> date:
        """The date of an event, or that of the profile's own."""
        return self._occasion.day_of(event) or self._occasion.on

    def of_named(self, name: str) -> date | None:
        """The date that counts for a document or a layer."""
        events = [
            *(each.event for each in self._profile.documents if each.document == name),
            *(each.event for each in self._profile.layers if each.layer == name),
        ]
        return self._occasion.day_of(events[-1]) if events else None
