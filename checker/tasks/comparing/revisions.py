"""Two reviews of one job held against each other: what is new, what changed, what is cured, what is still open, and
what is no longer asked or no longer there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from checker.findings.assembling.unread import NOT_READ
from checker.findings.finding import Check, Described, Figure, Finding, Notice, Review
from checker.findings.judging.outcomes import SETTLED_OUTCOMES, Outcome
from checker.values.truth import Truth


class Standing(Enum):
    """How a finding stands in the later review against the earlier one. Cured is only what meets its rule now."""

    NEW = "new"
    CHANGED = "changed"
    CURED = "cured"
    NOT_ASKED = "no longer asked"
    GONE = "no longer in the description"
    STILL_OPEN = "still open"


DESCRIBED = "described"
"""How a thing reads on the side that has it."""


class Why(Enum):
    """Why a finding differs, besides facts that do."""

    RULE_ONLY_NOW = "rule_only_now"
    RULE_NO_LONGER = "rule_no_longer"
    SUBJECT_ADDED = "subject_added"
    SUBJECT_GONE = "subject_gone"
    OF_ITS_KIND_NOW = "of_its_kind_now"
    NO_LONGER_OF_ITS_KIND = "no_longer_of_its_kind"
    OTHER_EDITION = "other_edition"
    OTHER_LOCAL_CHANGES = "other_local_changes"


@dataclass(frozen=True, slots=True)
class FactChange:
    """A figure that a finding looked at, before and after; empty where it was not given. ``whole`` where a thing itself
    was added or is no longer there.
    """

    fact: str
    was: str
    now: str
    whole: bool = False

    @property
    def subject(self) -> str:
        """What it is a fact of."""
        return self.fact if self.whole else self.fact.rpartition(".")[0]


@dataclass(frozen=True, slots=True)
class Step:
    """One finding from the earlier review to the later one; None where there is no such finding."""

    standing: Standing
    before: Finding | None
    after: Finding | None
    facts: tuple[FactChange, ...]
    why: tuple[Why, ...] = ()

    @property
    def told(self) -> Finding:
        """The finding as it is now, or as it was where it is gone."""
        found = self.after or self.before
        assert found is not None
        return found


@dataclass(frozen=True, slots=True)
class Unfelt:
    """What differs in the description and is named by no finding as its reason: stated facts of what stands in both,
    what only the later one has, and what only the earlier one has, by name.
    """

    facts: tuple[FactChange, ...] = ()
    added: tuple[str, ...] = ()
    gone: tuple[str, ...] = ()

    def __len__(self) -> int:
        return len(self.facts) + len(self.added) + len(self.gone)


@dataclass(frozen=True, slots=True)
class Revised:
    """Both reviews and every finding that is or was open, in the order of the later review; ``notices`` are those about
    the later run that the earlier one does not have, ``files`` the names of the two files, which tell them apart,
    ``unfelt`` what else was written otherwise.
    """

    before: Review
    after: Review
    steps: tuple[Step, ...]
    notices: tuple[Notice, ...]
    files: tuple[str, str]
    unfelt: Unfelt = Unfelt()

    def of(self, standing: Standing) -> tuple[Step, ...]:
        """The findings of one standing."""
        return tuple(step for step in self.steps if step.standing is standing)


def revised(before: Review, after: Review, typed: tuple[str, str] | None = None) -> Revised:
    """Hold a later review against an earlier one. Findings are the same by pack, rule and subject, whatever edition;
    the members of lists are the same by what is said of them. ``typed`` holds the names of the files as they were
    asked for, which count where the reports of both name them alike.
    """
    was, now = ({each.key: each for each in review.findings} for review in (before, after))
    sides = Sides(before, after)
    steps = (_step(sides, was.get(key), now.get(key)) for key in dict.fromkeys((*now, *was)))
    told = tuple(step for step in steps if step is not None)
    files = typed if typed is not None and before.file == after.file else (before.file, after.file)
    return Revised(
        before, after, told, new_notices(before, after), files, _unfelt(before.described, after.described, told)
    )


def _unfelt(before: Described, after: Described, steps: Sequence[Step]) -> Unfelt:
    """What was written otherwise, and no finding names as its reason, so that no change of a revision is overlooked."""
    named = {change.fact for step in steps for change in step.facts}
    spoken_of = {step.told.subject.known_as for step in steps if step.before is None or step.after is None}
    spoken_of |= {change.subject for step in steps for change in step.facts if change.whole}
    facts = tuple(
        FactChange(fact, was, now)
        for fact in dict.fromkeys((*after.stated, *before.stated))
        if fact not in named and fact.rpartition(".")[0] in before.subjects & after.subjects
        if (was := before.stated.get(fact, "")) != (now := after.stated.get(fact, ""))
    )
    added, gone = after.subjects - before.subjects - spoken_of, before.subjects - after.subjects - spoken_of
    return Unfelt(facts, tuple(sorted(added)), tuple(sorted(gone)))


def new_notices(before: Review, after: Review) -> tuple[Notice, ...]:
    """Notices about the later run that the earlier one does not have, whatever line they stand on."""
    known = {(each.kind, each.sentence) for each in before.notices}
    return tuple(each for each in after.notices if each.kind != NOT_READ and (each.kind, each.sentence) not in known)


def _step(sides: Sides, before: Finding | None, after: Finding | None) -> Step | None:
    was_open, is_open = (each is not None and each.outcome not in SETTLED_OUTCOMES for each in (before, after))
    if not was_open and not is_open:
        return None
    facts, why = tuple(sides.facts(before, after)), tuple(sides.why(before, after))
    if not was_open:
        return Step(Standing.NEW, before, after, facts, why)
    if not is_open:
        return Step(_settled(after, why), before, after, facts, why)
    assert before is not None
    assert after is not None
    same = (before.outcome, before.says, before.needs) == (after.outcome, after.says, after.needs) and not facts
    same = same and _figures(before, sides.before) == _figures(after, sides.after)
    return Step(Standing.STILL_OPEN if same else Standing.CHANGED, before, after, facts, why)


def _settled(after: Finding | None, why: tuple[Why, ...]) -> Standing:
    """What became of a finding that was open and is not: only one that meets its rule is cured."""
    if Why.SUBJECT_GONE in why:
        return Standing.GONE
    return Standing.CURED if after is not None and after.outcome is Outcome.MET else Standing.NOT_ASKED


@dataclass(frozen=True, slots=True)
class Sides:
    """The two reviews, for the reasons why a finding differs."""

    before: Review
    after: Review

    def why(self, before: Finding | None, after: Finding | None) -> Iterator[Why]:
        """The reasons that lie in the rule and in what it speaks of."""
        if before is None and after is not None:
            yield self._appeared(after)
        elif after is None and before is not None:
            yield self._went(before)
        elif before is not None and after is not None:
            yield from self._reads_otherwise(before, after)

    def _appeared(self, finding: Finding) -> Why:
        if _rule_of(finding) not in self.before.described.rules:
            return Why.RULE_ONLY_NOW
        return Why.OF_ITS_KIND_NOW if _is_described(finding, self.before.described) else Why.SUBJECT_ADDED

    def _went(self, finding: Finding) -> Why:
        if _rule_of(finding) not in self.after.described.rules:
            return Why.RULE_NO_LONGER
        return Why.NO_LONGER_OF_ITS_KIND if _is_described(finding, self.after.described) else Why.SUBJECT_GONE

    def _reads_otherwise(self, before: Finding, after: Finding) -> Iterator[Why]:
        if editions_of(before) != editions_of(after):
            yield Why.OTHER_EDITION
        if before.history != after.history:
            yield Why.OTHER_LOCAL_CHANGES

    def facts(self, before: Finding | None, after: Finding | None) -> Iterator[FactChange]:
        """Figures that decide the finding and that really differ: what only one of the two looked at is looked up on
        the other side, and is told where it is not given there.
        """
        if before is None or after is None:
            return
        if "figure" in after.subject.parts:
            yield from self._stated(after.subject.known_as)
            return
        was, now = _figures(before, self.before), _figures(after, self.after)
        open_still = _open(before, self.before) & _open(after, self.after)
        yield from self._behind(before, after)
        for fact in dict.fromkeys((*now, *was)):
            old = _text(fact, before, self.before)
            new = _text(fact, after, self.after)
            differs = old != new and (old is not None or new is not None) and fact not in open_still
            if differs and self._can_tell(fact, old, new):
                yield FactChange(fact, old or "", new or "")

    def _behind(self, before: Finding, after: Finding) -> Iterator[FactChange]:
        """What was written otherwise of that from which figures that read otherwise are worked out, ahead of these."""
        was, now = (_worked_out(each, side) for each, side in ((before, self.before), (after, self.after)))
        differing = [fact for fact in now if fact in was and was[fact][0] != now[fact][0]]
        compared = {*_figures(before, self.before), *_figures(after, self.after)}
        rests_on = frozenset().union(*(was[fact][1] | now[fact][1] for fact in differing)) - compared
        changes = dict.fromkeys(change for fact in sorted(rests_on) for change in self._stated(fact))
        yield from dict.fromkeys(map(self._or_the_whole, changes))

    def _or_the_whole(self, change: FactChange) -> FactChange:
        """Where the thing is on one side only, that: all that is said of it comes or goes with it."""
        was, now = (change.subject in side.described.subjects for side in (self.before, self.after))
        if was == now:
            return change
        return FactChange(change.subject, DESCRIBED if was else "", DESCRIBED if now else "", whole=True)

    def _stated(self, fact: str) -> Iterator[FactChange]:
        """A stated figure that is held against what is worked out: how it was written, and how it is."""
        was, now = (side.described.stated.get(fact, "") for side in (self.before, self.after))
        if was != now:
            yield FactChange(fact, was, now)

    def _can_tell(self, fact: str, old: str | None, new: str | None) -> bool:
        """Whether a figure of one side alone is one that the other does not give: what is worked out may be there too,
        and nobody looked.
        """
        if old is not None and new is not None:
            return True
        giving = self.before if new is None else self.after
        return fact in giving.described.stated


def editions_of(finding: Finding) -> tuple[str, ...]:
    """The documents that a finding cites, each with its edition."""
    return tuple(dict.fromkeys(f"{each.document} {each.edition}".strip() for each in finding.cites if each.edition))


def _rule_of(finding: Finding) -> tuple[str, str]:
    return finding.pack, finding.rule


_ENDS = ("piece", "with", "from", "to")


def _is_described(finding: Finding, described: Described) -> bool:
    """Whether everything that a finding speaks of is in a description."""
    parts = finding.subject.parts
    named = [parts[end] for end in _ENDS if end in parts]
    if "connection" in parts:
        named = [parts["connection"]]
    if "figure" in parts:
        named = [finding.subject.known_as.rpartition(".")[0]]
    return all(each in described.subjects for each in named or [finding.subject.known_as])


# --- figures ---------------------------------------------------------------------------------------------------------


def _figures(finding: Finding, review: Review) -> dict[str, str]:
    """What was found and what was wanted, by the fact; of what does not apply only what decided that it does not."""
    settled = finding.outcome is Outcome.NOT_APPLICABLE
    checks = [check for check in finding.checks if check.part is not None or not settled or check.holds is Truth.NO]
    return _by_name(checks, review)


def _text(fact: str, finding: Finding, review: Review) -> str | None:
    """How a figure reads in a review: as it is written, else by the finding itself; None where neither tells. What is
    written and goes against what else is written is not decided, and still reads as it is written.
    """
    return review.described.stated.get(fact) or _by_name(finding.checks, review).get(fact)


def _open(finding: Finding, review: Review) -> frozenset[str]:
    """What is worked out and not settled: how far it is open follows from tables, and nobody can act on that."""
    figures = _compared(finding.checks)
    return frozenset(_name(each, review) for each in figures if each.at is None and each.low != each.high)


def _compared(checks: Sequence[Check]) -> list[Figure]:
    """Both sides of every comparison."""
    return [side for check in checks for side in (check.found, check.wanted) if side is not None]


def _by_name(checks: Sequence[Check], review: Review) -> dict[str, str]:
    named = ((_name(figure, review), figure.text) for figure in _compared(checks))
    # What is written into the rule itself has no name, and does not change without the rule.
    return {name: text for name, text in named if name}


def _worked_out(finding: Finding, review: Review) -> dict[str, tuple[str, frozenset[str]]]:
    """How each figure that is worked out reads, and the names of what it rests on."""
    figures = [each for each in _compared(finding.checks) if each.rests_on]
    return {
        _name(each, review): (each.text, frozenset(_lasting(fact, review) for fact in each.rests_on))
        for each in figures
    }


def _name(figure: Figure, review: Review) -> str:
    """The fact by a name that stays when lines move; a number of a rule by its title."""
    if figure.fact is None:
        return figure.title
    return _lasting(figure.fact, review)


def _lasting(name: str, review: Review) -> str:
    """A fact by a name that stays when lines move."""
    subject, dot, fact = name.partition(".")
    return f"{review.described.names.get(subject, subject)}{dot}{fact}"
