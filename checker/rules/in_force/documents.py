"""The documents in force: of each the edition adopted last, what these send to, and the packs that hold them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from checker.rules.documents import no_such_document
from checker.rules.grammar import NO_EDITION
from checker.rules.in_force.elections import Elections
from checker.rules.in_force.occasion import Days
from checker.rules.model.conditions import Group, Not
from checker.rules.model.in_force import LayerNotice
from checker.rules.model.pack import Pack, Reference
from checker.rules.model.profile import Adoption, Grace, Profile
from checker.rules.problem_list import ProblemList
from checker.rules.wording import listing
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable

BY_INTERIM = "all"

PackAdopted = tuple[Pack, Adoption | None]
"""A pack with the adoption by which it is in force; None for one that nobody has to adopt."""


class Documents:
    """The documents of one profile on one date.

    ``notices`` are the standards that are sent to and of which there are no rules.
    """

    def __init__(
        self,
        profile: Profile,
        on: date,
        packs: tuple[Pack, ...],
        days: Days,
        elections: Elections,
        problems: ProblemList,
    ) -> None:
        self._profile = profile
        self._on = on
        self._packs = packs
        self._days = days
        self._elections = elections
        self._problems = problems
        self.notices: list[LayerNotice] = []

    def adopted(self) -> tuple[Adoption, ...]:
        """What is adopted, and the standards to which that sends."""
        adopted = self._adopted()
        return (*adopted, *self._sent_to(adopted))

    def _adopted(self) -> tuple[Adoption, ...]:
        """Of each document the adoption with the latest start that is not after its date, in the order of the
        profile; the one before it where the applicant has elected that. What is adopted only somewhere counts there
        alone.
        """
        begun: dict[tuple[str, str], list[Adoption]] = {}
        for each in self._profile.documents:
            day = self._days.of(each.event, each.document, each.at)
            if day is not None and each.start <= day:
                begun.setdefault((each.document, each.where_words), []).append(each)
        if not begun and not len(self._problems):
            raise Unreadable([_too_early(self._profile, self._on)])
        found = [each for each in map(self._latest, begun.values()) if each is not None]
        return tuple(_elsewhere(each, found) for each in found)

    def _sent_to(self, adopted: Sequence[Adoption]) -> tuple[Adoption, ...]:
        """The standards to which the adopted codes send, each where the place has adopted no edition of its own."""
        found: list[Adoption] = []
        for each in adopted:
            pack = next((pack for pack in self._packs if pack.document == each.document), None)
            for reference in () if pack is None else pack.sends_to:
                whole = [other.document for other in (*adopted, *found) if other.where is None]
                if each.edition in reference.editions and reference.document not in whole:
                    found.append(_elsewhere(_by_reference(each, reference), adopted))
        return tuple(each for each in found if self._has_pack(each))

    def _has_pack(self, sent_to: Adoption) -> bool:
        """Whether there are rules of a standard that a code sends to; told where there are none."""
        if any(pack.document == sent_to.document for pack in self._packs):
            return True
        self.notices.append(
            LayerNotice(
                "reference_without_pack",
                f"{sent_to.adopted_by} sends to {sent_to.document} {sent_to.edition}, and there is no pack of it: no "
                "rule of it was looked at.",
                sent_to.at,
            )
        )
        return False

    def _latest(self, begun: list[Adoption]) -> Adoption | None:
        """The last that has begun; none where it has ended without another."""
        ordered = sorted(begun, key=lambda each: each.start)
        latest = ordered[-1]
        day = self._days.or_own(latest.event)
        if len(ordered) > 1:
            starts = [each.start for each in self._profile.documents if each.document == latest.document]
            grace = self._elections.grace(latest.document, day, starts)
            if grace is not None:
                latest = self._elect(grace, ordered[-2], latest)
        return None if latest.until is not None and day > latest.until else latest

    def _elect(self, grace: Grace, before: Adoption, latest: Adoption) -> Adoption:
        rules = f"{before.document} {before.edition}"
        if self._elections.is_elected(grace, f"{rules} in the place of {latest.edition}"):
            return before
        self._elections.offer(grace, rules)
        return latest

    def packs(self, adopted: Sequence[Adoption]) -> Iterator[tuple[Pack, Adoption | None]]:
        """Each pack with its adoption: first the adopted documents, then the packs without editions that nobody
        adopts.
        """
        named: set[str] = set()
        for adoption in adopted:
            pack = _pack_of(self._packs, adoption, self._problems)
            if pack is not None:
                named.add(pack.id)
                yield pack, adoption
        yield from ((pack, None) for pack in self._packs if not pack.editions and pack.id not in named)


def _elsewhere(adoption: Adoption, adopted: Sequence[Adoption]) -> Adoption:
    """An adoption without a place of its own counts where no other edition of the document does."""
    scoped = [each.where for each in adopted if each.document == adoption.document and each.where is not None]
    if adoption.where is not None or not scoped:
        return adoption
    return replace(adoption, where=Not(scoped[0] if len(scoped) == 1 else Group("any", tuple(scoped))))


def _by_reference(code: Adoption, reference: Reference) -> Adoption:
    """The adoption of a standard by the code that sends to it, from the same day and in the same places."""
    cites = reference.cites.get(code.edition, ())
    sections = listing([each.section for each in cites])
    verify = ", verify the reference" if any(each.verify for each in cites) else ""
    return replace(
        code,
        document=reference.document,
        edition=reference.editions[code.edition],
        adopted_by=f"{code.document} {code.edition} {sections} by {code.adopted_by}{verify}",
        interim=(),
        only=reference.only,
    )


def _too_early(profile: Profile, on: date) -> Problem:
    starts = listing(
        [f"{each.document} {each.edition} from {each.start}".replace("  ", " ") for each in profile.documents]
    )
    return Problem(
        f"On {on} nothing was adopted yet in {profile.title}.",
        profile.documents[0].at if profile.documents else Position(profile.file, 1, 1),
        f"Give a date from {min(each.start for each in profile.documents)} on: {starts}.",
    )


def _edition_before(written: str, editions: Sequence[str]) -> str | None:
    """The last edition that was there in a year: of two years the nearer one may be a code that nobody had yet."""
    return max((each for each in editions if each < written), default=None) if written.isdigit() else None


def _pack_of(packs: Sequence[Pack], adoption: Adoption, problems: ProblemList) -> Pack | None:
    found = next((pack for pack in packs if pack.document == adoption.document), None)
    if found is None:
        problems.extend([no_such_document(adoption.document, packs, adoption.at)])
        return None
    editions = found.editions or (NO_EDITION,)
    if adoption.edition not in editions:
        written = adoption.edition or "without a year"
        remedy = (
            f"Its pack has {listing(found.editions)}." if found.editions else "Its pack has no editions: leave it out."
        )
        near = _edition_before(adoption.edition, found.editions)
        problems.add(f"There is no edition {written} of {adoption.document}.", adoption.at, remedy, near)
        return None
    known = found.interim.get(adoption.edition, {})
    for number in adoption.interim:
        if number != BY_INTERIM and number not in known:
            near = problems.near(number, known)
            remedy = (
                f"Known to the pack is {listing(list(known))}." if known else "The pack knows none of this edition."
            )
            problems.add(
                f"There is no interim amendment {number} of {adoption.document} {adoption.edition}.",
                adoption.at,
                remedy,
                near,
            )
    return found
