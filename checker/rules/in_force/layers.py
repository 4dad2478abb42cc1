"""The layers at work on a date, each by its authority, and whether they can be read together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from checker.rules.in_force.elections import Elections
from checker.rules.in_force.occasion import Days
from checker.rules.layers.at_work import AtWork, start_of
from checker.rules.layers.model import Layer
from checker.rules.model.in_force import LayerNotice, PackInForce
from checker.rules.model.pack import Pack
from checker.rules.model.profile import Profile, Ranked
from checker.rules.problem_list import ProblemList
from checker.rules.wording import listing


class Layers:
    """The layers of one profile on one date.

    ``notices`` tell which of them were written against an edition that is not in force.
    """

    def __init__(
        self,
        profile: Profile,
        layers: Sequence[Layer],
        packs: tuple[Pack, ...],
        days: Days,
        elections: Elections,
        problems: ProblemList,
    ) -> None:
        self._profile = profile
        self._layers = {each.id: each for each in layers}
        self._packs = packs
        self._days = days
        self._elections = elections
        self._problems = problems
        self.notices: list[LayerNotice] = []

    def at_work(self) -> Iterator[AtWork]:
        """The layers of the profile that hold on their day, in its order; one that is not there is a problem."""
        for ranked in self._profile.layers:
            layer = self._layers.get(ranked.layer)
            if layer is None:
                near = self._problems.near(ranked.layer, self._layers)
                self._problems.add(
                    f"There is no layer {ranked.layer}.", ranked.at, "Put its file beside the profile.", near
                )
                continue
            day = self._days.of(ranked.event, ranked.layer, ranked.at)
            if day is not None and _holds(ranked, day):
                before = self._elected_before(layer, ranked, day)
                yield AtWork(
                    layer,
                    ranked.may,
                    ranked.rank,
                    day,
                    before,
                    ranked.where,
                    ranked.where_words,
                    ranked.start,
                    event=ranked.event or self._profile.event,
                )

    def _elected_before(self, layer: Layer, ranked: Ranked, day: date) -> date | None:
        """The day on which the layer's latest change began, where the applicant has elected the rules before it."""
        starts = {start for each in layer.changes if (start := start_of(each, ranked.start)) is not None}
        grace = self._elections.grace(layer.id, day, starts)
        if grace is None:
            return None
        began = max(each for each in starts if each <= day)
        rules = f"the rules before {began} of {layer.title}"
        if self._elections.is_elected(grace, rules):
            return began
        self._elections.offer(grace, rules)
        return None

    def check_together(self, at_work: Sequence[AtWork]) -> None:
        """Layers that cannot be read together: one that is named twice, two that call different numbers the same."""
        for place, one in enumerate(at_work):
            for other in at_work[place + 1 :]:
                if one.layer.id == other.layer.id:
                    at = next(each.at for each in reversed(self._profile.layers) if each.layer == other.layer.id)
                    self._problems.add(
                        f"The layer {other.layer.id} is in force twice on {other.on}.", at, "Keep one of the two lines."
                    )
                else:
                    self._check_names(one.layer, other.layer)

    def _check_names(self, one: Layer, other: Layer) -> None:
        """Numbers of one name in two layers that change one rule: the rule would read the wrong one."""
        shared = {*one.parameters, *one.tables} & {*other.parameters, *other.tables}
        both = {each.rule for each in one.changes} & {each.rule for each in other.changes}
        if shared and both:
            names = listing([f"`{each}`" for each in sorted(shared)])
            self._problems.add(
                f"{one.id} and {other.id} both have a number {names}, and both change {listing(sorted(both))}.",
                other.at,
                "Rename the number in one of them.",
            )

    def check_written_against(self, at_work: Iterable[AtWork], packs: Iterable[PackInForce]) -> None:
        """A layer that was written against another edition may speak of sections that say something else now."""
        documents = {pack.id: pack.document for pack in self._packs}
        in_force: dict[str, list[str]] = {}
        for used in packs:
            if used.edition is not None:
                in_force.setdefault(documents[used.pack], []).append(used.edition)
        for each in at_work:
            document, edition = each.layer.amends or ("", "")
            editions = in_force.get(document, [edition])
            if edition not in editions and any(each.changes()):
                self.notices.append(
                    LayerNotice(
                        "other_edition",
                        f"{each.layer.title} was written against {document} {edition}; in force here is "
                        f"{listing(editions)}.",
                        each.layer.at,
                        "Its changes are applied to the same rules; read it against the edition that is in force.",
                    )
                )


def _holds(ranked: Ranked, day: date) -> bool:
    return (ranked.start is None or ranked.start <= day) and (ranked.until is None or day <= ranked.until)
