"""Rules tried on a site on which some facts are pinned: which of them surely miss, and which may."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from checker.facts.figures import called
from checker.facts.known import Leaf
from checker.facts.view import View
from checker.findings.assembling.assembly import Desk, finding
from checker.findings.assembling.permissions import is_permitted
from checker.findings.finding import Finding
from checker.findings.judging.evaluation import Applied, Evaluation, applied, evaluate
from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.operands import Numbers
from checker.findings.judging.outcomes import Outcome, Outcomes, miss_of
from checker.findings.judging.plan import Planned, plan
from checker.findings.review import CAUTIONS_PACK, Job, site_name_of, view_of_job
from checker.values.possible import Possible, exactly

Pins = Mapping[Leaf, Possible]

MISSES = frozenset({Outcome.CORRECTION, Outcome.RECOMMENDATION})
"""What a schedule looks for: what has to be otherwise, and what had better be."""

ROLE = "role"
_RUN = "connection"


@dataclass(frozen=True, slots=True)
class Verdict:
    """What rules say of one value, by their places on the bench: those that surely ask for a correction, those that
    surely recommend another value, mandatory ones that may still ask for a correction, and those that surely ask for a
    correction of something else because of the value.
    """

    corrected: frozenset[int] = frozenset()
    advised: frozenset[int] = frozenset()
    may_correct: frozenset[int] = frozenset()
    brings: frozenset[int] = frozenset()

    def __or__(self, other: Verdict) -> Verdict:
        return Verdict(
            self.corrected | other.corrected,
            self.advised | other.advised,
            self.may_correct | other.may_correct,
            self.brings | other.brings,
        )

    def without(self, rules: frozenset[int]) -> Verdict:
        """The same without what some rules say."""
        return Verdict(self.corrected - rules, self.advised - rules, self.may_correct - rules, self.brings - rules)


class Bench:
    """The rules in force that can ask for something else, each with its subject and with what it reads as drawn.

    A rule that reads none of some facts as drawn comes to the same whatever they are, so only the others are tried.
    """

    def __init__(self, job: Job, figures: Mapping[str, str] | None = None) -> None:
        self.job = job
        self._figures = dict(figures or {})
        self.view: View = view_of_job(job)
        self.planned: tuple[Planned, ...] = tuple(_asking(job, self.view))
        self._drawn: tuple[Evaluation | None, ...] = tuple(self._judged(each, self.view) for each in self.planned)
        self._tried: dict[tuple[int, frozenset[tuple[Leaf, Possible]]], Outcomes] = {}
        self._following: dict[Leaf, bool] = {}
        self.looks = 0
        """So many times rules were tried; what a schedule costs is counted in them."""

    @cached_property
    def _reads(self) -> tuple[frozenset[Leaf], ...]:
        return tuple(frozenset() if each is None else _leaves(each) for each in self._drawn)

    @cached_property
    def _asks_of(self) -> tuple[frozenset[Leaf], ...]:
        return tuple(frozenset() if each is None else _asked_leaves(each) for each in self._drawn)

    @cached_property
    def missed_as_drawn(self) -> frozenset[int]:
        """The rules that surely ask for a correction of what is drawn."""
        drawn = enumerate(self._drawn)
        return frozenset(at for at, each in drawn if each is not None and each.possible == {Outcome.CORRECTION})

    def with_figures(self, pins: Pins) -> Pins:
        """The same, and the figures that are written beside what is shown worked out again where something else stands
        in its place: the ampacity on the drawing is that of the conductors on the drawing.
        """
        freed: dict[Leaf, Possible] = {}
        for figure, whole in self._figures.items():
            of_it = [each for each in pins if each.name.partition(".")[0] == whole and each.subject.type == _RUN]
            for leaf in of_it:
                mine = Leaf(leaf.subject, figure)
                if mine not in pins and self.view.read(leaf.subject, leaf.name) != pins[leaf]:
                    freed[mine] = self.view.ground.catalog.facts[figure].anything()
        return {**pins, **freed}

    def follows(self, leaf: Leaf) -> bool:
        """Whether the rest of the drawing gives one value of a fact by itself. What is to be instead is taken then: the
        rest is drawn anew with it.
        """
        found = self._following.get(leaf)
        if found is None:
            fact = self.view.ground.catalog.facts[leaf.name]
            # A figure is worked out anew for whatever stands there, so that none is taken.
            found = leaf.name not in self._figures and leaf.subject.type in fact.derived_for & fact.stated_for
            found = found and self.view.pinned({leaf: fact.anything()}).read(leaf.subject, leaf.name).is_exact
            self._following[leaf] = found
        return found

    def on(self, pins: Pins) -> View:
        """The site while facts are pinned."""
        pins = self.with_figures(pins)
        return self.view.pinned(pins, frozenset(leaf for leaf in pins if self.follows(leaf)))

    def _resting(self, leaves: Iterable[Leaf]) -> frozenset[Leaf]:
        """Some facts, and what those rest on that nobody wrote and that follow from the rest of the drawing."""
        wanted = frozenset(leaves)
        known = (self.view.known(each.subject, each.name) for each in wanted if self.follows(each))
        return wanted.union(*(each.leaves for each in known if each.leaves.isdisjoint(wanted)))

    def reading(self, leaves: Iterable[Leaf]) -> tuple[int, ...]:
        """The rules that read one of these facts as drawn."""
        wanted = self._resting(leaves)
        return tuple(index for index, read in enumerate(self._reads) if read & wanted)

    def asks_of(self, index: int, leaves: Iterable[Leaf]) -> bool:
        """Whether what a rule asks, or what lets it off, rests on one of these facts. Otherwise they only bring it into
        play, and what it asks is of something else, as a sign that has to be there.
        """
        return not self._asks_of[index].isdisjoint(self._resting(leaves))

    def read_by(self, index: int) -> frozenset[Leaf]:
        """What one rule reads as drawn."""
        return self._reads[index]

    def turning(self, pins: Pins) -> tuple[int, ...]:
        """The rules that can miss while facts are pinned to what may be; looked at once, without branches."""
        pins = self.with_figures(pins)
        view = self.on(pins)
        return tuple(index for index in self.reading(pins) if self._at_most(index, view) & MISSES)

    def _at_most(self, index: int, view: View) -> Outcomes:
        planned, evidence = self.planned[index], SiteEvidence(view)
        if planned.rule.versions:
            judged = self._judged(planned, view)
            return frozenset() if judged is None else judged.possible
        try:
            return self.look(index, evidence).possible
        except Exception:  # noqa: BLE001  as below
            return frozenset()

    def look(self, index: int, evidence: SiteEvidence) -> Applied:
        """One look at a rule, with everything that it compares."""
        planned = self.planned[index]
        numbers, on = Numbers.of(planned.rule), self.job.rules.date
        return applied(planned.rule, planned.subject, planned.belongs(evidence), evidence, on, numbers)

    def possible(self, index: int, pins: Pins) -> Outcomes:
        """What can come out of one rule; nothing where it breaks, which a review tells."""
        pins = self.with_figures(pins)
        key = (index, frozenset(pins.items()))
        found = self._tried.get(key)
        if found is None:
            self.looks += 1
            judged = self._judged(self.planned[index], self.on(pins))
            found = self._tried[key] = frozenset() if judged is None else judged.possible
        return found

    def verdict(self, rules: Iterable[int], pins: Pins) -> Verdict:
        """What these rules say while facts are pinned."""
        pins = self.with_figures(pins)
        found = {index: self.possible(index, pins) for index in rules}
        corrected = _those(found, lambda possible: possible == {Outcome.CORRECTION})
        asked = frozenset(index for index in found if self.asks_of(index, pins))
        return Verdict(
            corrected & asked,
            _those(found, lambda possible: possible == {Outcome.RECOMMENDATION}) & asked,
            _those(found, lambda possible: Outcome.CORRECTION in possible and len(possible) > 1) & asked,
            corrected - asked,
        )

    def undecided(self, rules: Iterable[int], pins: Pins) -> tuple[int, ...]:
        """The rules that can miss and can come to something else while facts are pinned."""
        found = ((index, self.possible(index, pins)) for index in rules)
        return tuple(index for index, possible in found if possible & MISSES and len(possible) > 1)

    def told(self, index: int, pins: Pins) -> Finding:
        """One rule as a finding while facts are pinned."""
        view = self.on(pins)
        judged = self._judged(self.planned[index], view)
        assert judged is not None
        return finding(Desk(view, self.job.rules.date, {}), self.planned[index], judged)

    def _judged(self, planned: Planned, view: View) -> Evaluation | None:
        evidence = SiteEvidence(view)
        try:
            return evaluate(planned.rule, planned.subject, planned.belongs, evidence, self.job.rules.date)
        except Exception:  # noqa: BLE001  a rule that breaks is told by the review and bounds nothing here
            return None


def _those(found: Mapping[int, Outcomes], wanted: Callable[[Outcomes], bool]) -> frozenset[int]:
    return frozenset(index for index, possible in found.items() if wanted(possible))


def _asking(job: Job, view: View) -> Iterator[Planned]:
    """The rules that can ask for something else, for every subject that any role of a disconnect could bring in."""
    for each in plan(job.rules, view.pinned(_any_role(view))):
        body = each.rule.rule
        is_caution = each.rule.id.startswith(f"{CAUTIONS_PACK}:")
        if body.look is None and miss_of(body) in MISSES and not is_caution and not _permitted(each, job):
            yield each


def _permitted(planned: Planned, job: Job) -> bool:
    """Whether a special permission stands in the place of whatever comes out."""
    rule = planned.rule.rule
    what = (rule.pack, rule.id, called(job.site, planned.subject))
    return is_permitted(job.rules.permissions, site_name_of(job.site), job.rules.date, what)


def _any_role(view: View) -> Pins:
    drawing, role = view.ground.drawing, view.ground.catalog.facts[ROLE]
    return {Leaf(drawing.pieces[tag], ROLE): role.anything() for tag in drawing.of("disconnecting")}


def _leaves(evaluation: Evaluation) -> frozenset[Leaf]:
    return frozenset().union(*(judged.leaves for look in evaluation.looks for judged in look.everything))


def _asked_leaves(evaluation: Evaluation) -> frozenset[Leaf]:
    """What the requirement, its readings and the exceptions rest on."""
    return frozenset().union(
        *(
            judged.leaves
            for look in evaluation.looks
            for judged in (
                *(() if look.requires is None else (look.requires,)),
                *look.readings.values(),
                *look.exceptions.values(),
            )
        )
    )


def there(view: View, leaf: Leaf) -> dict[Leaf, Possible]:
    """What has to be pinned so that a part can be: its whole, where the drawing says that there is none of it."""
    whole, _, part = leaf.name.partition(".")
    if not part or not view.read(leaf.subject, whole).only_absent:
        return {}
    return {Leaf(leaf.subject, whole): exactly(True)}
