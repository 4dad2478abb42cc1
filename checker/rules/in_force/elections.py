"""What the applicant may elect in a time of grace, and what became of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from checker.rules.in_force.occasion import Days
from checker.rules.model.in_force import LayerNotice
from checker.rules.model.profile import Grace, Profile
from checker.rules.problem_list import ProblemList
from checker.rules.wording import choice_of
from checker.values.positions import Position


class Elections:
    """The elections of one application under one profile.

    ``told`` are the rules that were elected, in words; ``notices`` what may be elected and was not, or changes nothing.
    """

    def __init__(self, profile: Profile, elected: frozenset[str], days: Days, problems: ProblemList) -> None:
        self._profile = profile
        self._elected = elected
        self._days = days
        self._problems = problems
        self._used: set[str] = set()
        self.told: list[str] = []
        self.notices: list[LayerNotice] = []

    def grace(self, of: str, day: date, starts: Iterable[date]) -> Grace | None:
        """The time of grace in which a day lies: it begins with the last start before its end."""
        for each in self._profile.grace:
            begins = max((start for start in starts if start <= each.until), default=None)
            if each.of == of and begins is not None and begins <= day <= each.until:
                return each
        return None

    def is_elected(self, grace: Grace, rules: str) -> bool:
        """Whether the applicant has elected the older rules; what is elected is told, with what it hangs on."""
        if grace.of not in self._elected:
            return False
        self.told.append(f"{rules} ({grace.condition})" if grace.condition else rules)
        self._used.add(grace.of)
        return True

    def offer(self, grace: Grace, rules: str) -> None:
        """Tell what the applicant may elect, and has not."""
        condition = f" ({grace.condition})" if grace.condition else ""
        self.notices.append(
            LayerNotice(
                "may_elect",
                f"Until {grace.until} the applicant may elect {rules}{condition}; the site file does not.",
                grace.at,
                f"Write `elected: {grace.of}` under permit to do so.",
            )
        )

    def check(self) -> None:
        """An election that nothing allows must not pass for one."""
        known = [*dict.fromkeys(each.of for each in self._profile.grace)]
        for name in sorted(self._elected - set(known)):
            remedy = f"There is grace for {choice_of(known)}." if known else "The profile gives no time of grace."
            self._problems.add(
                f"{self._profile.title} gives no time of grace for {name}.",
                Position(self._profile.file, 1, 1),
                remedy,
                self._problems.near(name, known),
            )
        for name in known:
            if name in self._elected and name not in self._used:
                self._check_one(name, [each for each in self._profile.grace if each.of == name])

    def _check_one(self, name: str, graces: Sequence[Grace]) -> None:
        """An election outside its time of grace: too late is refused, too early changes nothing and is told."""
        last = max(graces, key=lambda each: each.until)
        day = self._days.of_named(name)
        if day is not None and day > last.until:
            self._problems.add(
                f"The time of grace for {name} ended on {last.until}, and the date that counts is {day}.",
                last.at,
                "Leave `elected` out of the site file.",
            )
        elif day is not None:
            self.notices.append(
                LayerNotice(
                    "nothing_to_elect",
                    f"The applicant elects the rules before {name}, and on {day} nothing new of it has begun: the "
                    "election changes nothing.",
                    last.at,
                    "Leave `elected` out of the site file.",
                )
            )
