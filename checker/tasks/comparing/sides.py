"""Two sides compared: the rules in force, and what that does to the findings of sites."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.findings.assembling.told import notices_told
from checker.findings.finding import Finding, Review
from checker.findings.judging.outcomes import Outcome
from checker.findings.review import review
from checker.rules.documents import no_such_document
from checker.rules.edition import pack_in_edition
from checker.rules.layers.own_papers import knowing
from checker.rules.model.in_force import RulesInForce
from checker.rules.model.pack import Pack
from checker.rules.vocabulary import Vocabulary
from checker.rules.wording import listing
from checker.tasks.comparing.rule_differences import RuleDifference, RuleKey, RulesCompared, RuleSide, rules_compared
from checker.tasks.gathering.library import Library
from checker.tasks.gathering.standing import all_packs, dated, standing
from checker.tasks.reviewing import Overrides, job_of
from checker.values.notation import nearest
from checker.values.problems import Problem, Unreadable

_MISSES = (Outcome.CORRECTION, Outcome.RECOMMENDATION, Outcome.NOTE)


@dataclass(frozen=True, slots=True)
class SideAsked:
    """One side as the command line names it: a town on a date, or an edition of a document."""

    jurisdiction: str | None = None
    on: date | None = None
    edition: str | None = None
    folder: Path | None = None

    def overrides(self, document: str | None) -> Overrides:
        """What a review of a site on this side is told."""
        edition = None if document is None or self.edition is None else (document, self.edition)
        return Overrides(self.jurisdiction, self.on, None, edition, self.folder)


@dataclass(frozen=True, slots=True)
class Side:
    """One side in words, the documents in force there with who adopted them, its layers, and what is told of it."""

    name: str
    documents: tuple[str, ...] = ()
    layers: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FindingChange:
    """A finding that comes out otherwise; an outcome that is None stands for no such finding. ``why`` is the
    difference of its rule, None where the rule is the same on both sides; ``permission`` the special permission that
    covers it on one side only, in words.
    """

    id: str
    subject: str
    title: str
    before: Outcome | None
    after: Outcome | None
    says_before: str
    says_after: str
    why: RuleDifference | None
    permission: str = ""


@dataclass(frozen=True, slots=True)
class SiteCompared:
    """One site under both sides: the findings that change, and how many do not."""

    file: str
    name: str
    changes: tuple[FindingChange, ...]
    same: int


@dataclass(frozen=True, slots=True)
class Compared:
    """Both sides, how their rules differ, and what it does to each site."""

    before: Side
    after: Side
    rules: RulesCompared
    sites: tuple[SiteCompared, ...] = ()


def compared_towns(
    before: SideAsked, after: SideAsked, folder: Path, sites: Sequence[Path], library: Library
) -> Compared:
    """Compare the rules in force in two towns or on two dates. Raises Unreadable where a side cannot be told."""
    if before == after:
        raise Unreadable([_same_sides()])
    rules = (_rules_of(before, folder, library, "--date"), _rules_of(after, folder, library, "--to-date"))
    old, new = (RuleSide(each.rules, each.deleted) for each in rules)
    known = knowing(shipped_catalog(), (paper for each in rules for paper in each.papers))
    found = rules_compared(old, new, Vocabulary(known), all_packs(folder, library))
    return Compared(_side(rules[0]), _side(rules[1]), found, tuple(_sites(sites, before, after, None, found, library)))


def compared_editions(
    document: str, before: SideAsked, after: SideAsked, folder: Path, sites: Sequence[Path], library: Library
) -> Compared:
    """Compare two editions of one document, with nothing that layers change; sites are reviewed with their own
    profile, but for the edition.
    """
    if before.edition == after.edition:
        raise Unreadable([_same_sides()])
    packs = all_packs(folder, library)
    old, new = (_in_edition(document, each.edition, packs) for each in (before, after))
    found = rules_compared(old, new, Vocabulary(shipped_catalog()), packs)
    was, now = (Side(f"{document} {each.edition}") for each in (before, after))
    return Compared(was, now, found, tuple(_sites(sites, before, after, document, found, library)))


def _same_sides() -> Problem:
    return Problem(
        "Both sides are the same, so there is nothing to compare.",
        remedy="Give --to-date, --to-jurisdiction or --to-edition.",
    )


# --- sides -----------------------------------------------------------------------------------------------------------


def _rules_of(asked: SideAsked, folder: Path, library: Library, option: str) -> RulesInForce:
    assert asked.jurisdiction is not None
    found = standing(asked.jurisdiction, folder, library)
    return found.on(dated(found, asked.on, option))


def _in_edition(document: str, edition: str | None, packs: Sequence[Pack]) -> RuleSide:
    pack = next((each for each in packs if each.document == document), None)
    if pack is None:
        raise Unreadable([no_such_document(document, packs, None)])
    if edition not in pack.editions:
        remedy = f"Its pack has {listing(pack.editions)}." if pack.editions else "Its pack has no editions."
        near = nearest(str(edition), pack.editions) if edition else None
        sentence = f"There is no edition {edition} of {document}." if edition else f"No edition of {document} is given."
        raise Unreadable([Problem(sentence, remedy=remedy, near=near)])
    interim = frozenset(pack.interim.get(edition, {}))
    return RuleSide(pack_in_edition(pack, edition, "", interim))


def _side(rules: RulesInForce) -> Side:
    profile = rules.profile
    documents = (
        f"{each.title} {each.edition} ({each.adopted_by}, from {each.since})"
        for each in rules.packs
        if each.edition is not None
    )
    layers = (f"{each.title} ({each.authority})" for each in rules.layers)
    # What the applicant may elect is a matter of one site.
    notices = (f"{each.sentence} {each.remedy}".strip() for each in notices_told(rules.notices) if _is_told(each.kind))
    return Side(f"{profile.title}, {rules.date}", tuple(documents), tuple(layers), tuple(notices))


def _is_told(kind: str) -> bool:
    return kind != "may_elect"


# --- sites -----------------------------------------------------------------------------------------------------------


def _sites(
    paths: Sequence[Path],
    before: SideAsked,
    after: SideAsked,
    document: str | None,
    rules: RulesCompared,
    library: Library,
) -> Iterator[SiteCompared]:
    by_key = {each.key: each for each in rules.differences}
    for path in paths:
        old, new = (review(job_of(path, library, each.overrides(document))) for each in (before, after))
        yield _site(old, new, by_key)


def _site(old: Review, new: Review, rules: Mapping[RuleKey, RuleDifference]) -> SiteCompared:
    was, now = ({each.key: each for each in review.findings} for review in (old, new))
    changes: list[FindingChange] = []
    for key in dict.fromkeys((*now, *was)):
        before, after = was.get(key), now.get(key)
        if _differ(before, after):
            changes.append(_change(before, after, rules))
    return SiteCompared(new.file, new.site_name, tuple(changes), len({*was, *now}) - len(changes))


def _differ(before: Finding | None, after: Finding | None) -> bool:
    """Whether a reader would be told something else. What does not apply says nothing, and so does what is not
    there.
    """
    if before is None or after is None:
        other = before or after
        return other is not None and other.outcome is not Outcome.NOT_APPLICABLE
    if before.outcome is not after.outcome or before.could_be != after.could_be:
        return True
    return after.outcome in _MISSES and before.says != after.says


def _change(before: Finding | None, after: Finding | None, rules: Mapping[RuleKey, RuleDifference]) -> FindingChange:
    told = after or before
    assert told is not None
    pack, rest = told.key
    return FindingChange(
        told.id,
        told.subject.words,
        told.title,
        None if before is None else before.outcome,
        None if after is None else after.outcome,
        "" if before is None else _says(before),
        "" if after is None else _says(after),
        rules.get((pack, rest.partition("@")[0])),
        _permission(before, after),
    )


def _permission(before: Finding | None, after: Finding | None) -> str:
    """The special permission on one side only: it has begun, or ended."""
    was, now = ((each.permission or "") if each is not None else "" for each in (before, after))
    return "" if was == now else now or was


def _says(finding: Finding) -> str:
    return finding.says if finding.outcome in _MISSES else ""
