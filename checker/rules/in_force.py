"""What a profile comes to on a date: of each document the edition that is in force, and on it the layers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from checker.rules.citing import NO_EDITION
from checker.rules.edition import pack_in_edition
from checker.rules.layers.apply import Amended, AtWork, amended
from checker.rules.layers.model import Layer
from checker.rules.layers.scopes import only_where
from checker.rules.model import (
    Adoption,
    Grace,
    LayerNotice,
    Pack,
    PackInForce,
    Profile,
    Ranked,
    RuleInForce,
    RulesInForce,
)
from checker.rules.problem_list import ProblemList
from checker.rules.wording import choice_of, listing
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable

NO_DATES: Mapping[str, date] = {}
BY_INTERIM = "all"


@dataclass(frozen=True, slots=True)
class Occasion:
    """The dates that count: that of the profile's own event, those of other events, and what the applicant elected."""

    on: date
    dates: Mapping[str, date]
    elected: frozenset[str] = frozenset()

    def day_of(self, event: str | None) -> date | None:
        """The date of an event; None where it is not known."""
        return self.on if event is None else self.dates.get(event)


def rules_in_force(
    profile: Profile,
    on: date,
    packs: Iterable[Pack],
    layers: Sequence[Layer] = (),
    dates: Mapping[str, date] = NO_DATES,
    elected: Iterable[str] = (),
) -> RulesInForce:
    """The rules that a profile comes to: of each document the edition adopted last, every pack without editions, and
    what the layers make of them.

    ``dates`` are those of events other than the profile's own, ``elected`` names documents or layers whose older rules
    the applicant has elected. Raises Unreadable where the date lies before every adoption, where a date is missing, or
    where an adopted document, edition or layer is not there.
    """
    occasion = Occasion(on, dates, frozenset(elected))
    return _InForce(profile, tuple(packs), layers, occasion).rules()


class _InForce:
    """One profile on one occasion."""

    def __init__(self, profile: Profile, packs: tuple[Pack, ...], layers: Sequence[Layer], occasion: Occasion) -> None:
        self._profile = profile
        self._packs = packs
        self._layers = {each.id: each for each in layers}
        self._occasion = occasion
        self._problems = ProblemList()
        self._notices: list[LayerNotice] = []
        self._elected: list[str] = []

    def rules(self) -> RulesInForce:
        """Everything in force."""
        self._check_elections()
        adopted = self._adopted()
        rules: list[RuleInForce] = []
        used: list[PackInForce] = []
        for pack, adoption in self._packs_in_force(adopted):
            rules.extend(_rules_of(pack, adoption, self._occasion))
            used.append(_pack_in_force(pack, adoption))
        made = amended(rules, tuple(self._at_work()))
        self._problems.raise_if_any()
        return self._resolved(made, tuple(used))

    def _resolved(self, made: Amended, packs: tuple[PackInForce, ...]) -> RulesInForce:
        profile = self._profile
        own = tuple(RuleInForce(rule, None, profile.title, rule.cites, {}, {}) for rule in profile.papers)
        rules = tuple(_interpreted(rule, profile) for rule in (*made.rules, *own))
        return RulesInForce(
            profile,
            self._occasion.on,
            rules,
            packs,
            made.layers,
            made.deleted,
            (*self._notices, *made.notices),
            tuple(self._elected),
            profile.permissions,
        )

    # --- documents --------------------------------------------------------------------------------------------------

    def _adopted(self) -> tuple[Adoption, ...]:
        """Of each document the adoption with the latest start that is not after its date, in the order of the
        profile; the one before it where the applicant has elected that.
        """
        begun: dict[tuple[str, str], list[Adoption]] = {}
        for each in self._profile.documents:
            day = self._day(each.event, each.document, each.at)
            if day is not None and each.start <= day:
                begun.setdefault((each.document, each.where_words), []).append(each)
        if not begun and not len(self._problems):
            raise Unreadable([_too_early(self._profile, self._occasion.on)])
        found = (self._latest(each) for each in begun.values())
        return tuple(each for each in found if each is not None)

    def _latest(self, begun: list[Adoption]) -> Adoption | None:
        """The last that has begun; none where it has ended without another."""
        ordered = sorted(begun, key=lambda each: each.start)
        latest = ordered[-1]
        day = self._occasion.day_of(latest.event) or self._occasion.on
        grace = self._grace(latest.document, day)
        if grace is not None and len(ordered) > 1:
            latest = self._elect(grace, ordered[-2], latest)
        return None if latest.until is not None and day > latest.until else latest

    def _elect(self, grace: Grace, before: Adoption, latest: Adoption) -> Adoption:
        if grace.of in self._occasion.elected:
            self._elected.append(f"{before.document} {before.edition} in the place of {latest.edition}")
            return before
        self._offer(grace, f"{before.document} {before.edition}")
        return latest

    def _packs_in_force(self, adopted: Sequence[Adoption]) -> Iterator[tuple[Pack, Adoption | None]]:
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

    # --- layers -----------------------------------------------------------------------------------------------------

    def _at_work(self) -> Iterator[AtWork]:
        for ranked in self._profile.layers:
            layer = self._layers.get(ranked.layer)
            if layer is None:
                near = self._problems.near(ranked.layer, self._layers)
                self._problems.add(
                    f"There is no layer {ranked.layer}.", ranked.at, "Put its file beside the profile.", near
                )
                continue
            day = self._day(ranked.event, ranked.layer, ranked.at)
            if day is not None and _holds(ranked, day):
                yield AtWork(layer, ranked.may, ranked.rank, day, self._elected_before(layer, day), ranked.where)

    def _elected_before(self, layer: Layer, day: date) -> date | None:
        """The day on which the layer's latest change began, where the applicant has elected the rules before it."""
        grace = self._grace(layer.id, day)
        starts = [each.terms.start for each in layer.changes if each.terms.start and each.terms.start <= day]
        if grace is None or not starts:
            return None
        if grace.of in self._occasion.elected:
            self._elected.append(f"the rules before {max(starts)} of {layer.title}")
            return max(starts)
        self._offer(grace, f"the rules before {max(starts)} of {layer.title}")
        return None

    # --- dates and elections ----------------------------------------------------------------------------------------

    def _day(self, event: str | None, name: str, at: Position) -> date | None:
        day = self._occasion.day_of(event)
        if day is None:
            words = str(event).replace("_", " ")
            self._problems.add(
                f"{name} counts from the date of {words}, and the site file does not give that date.",
                at,
                "Write it into the site file, or give --date for all.",
            )
        return day

    def _grace(self, of: str, day: date) -> Grace | None:
        return next((each for each in self._profile.grace if each.of == of and day <= each.until), None)

    def _offer(self, grace: Grace, rules: str) -> None:
        condition = f" ({grace.condition})" if grace.condition else ""
        self._notices.append(
            LayerNotice(
                "may_elect",
                f"Until {grace.until} the applicant may elect {rules}{condition}; the site file does not.",
                grace.at,
                f"Write `elected: {grace.of}` under permit to do so.",
            )
        )

    def _check_elections(self) -> None:
        """An election that nothing allows must not pass for one."""
        known = [each.of for each in self._profile.grace]
        for name in sorted(self._occasion.elected - set(known)):
            remedy = f"There is grace for {choice_of(known)}." if known else "The profile gives no time of grace."
            self._problems.add(
                f"{self._profile.title} gives no time of grace for {name}.",
                Position(self._profile.file, 1, 1),
                remedy,
                self._problems.near(name, known),
            )
        for grace in self._profile.grace:
            if grace.of in self._occasion.elected and self._occasion.on > grace.until:
                self._problems.add(
                    f"The time of grace for {grace.of} ended on {grace.until}.",
                    grace.at,
                    "Leave `elected` out of the site file.",
                )


def _holds(ranked: Ranked, day: date) -> bool:
    return (ranked.start is None or ranked.start <= day) and (ranked.until is None or day <= ranked.until)


def _rules_of(pack: Pack, adoption: Adoption | None, occasion: Occasion) -> Iterator[RuleInForce]:
    if adoption is None:
        yield from pack_in_edition(pack, None, "")
        return
    counting = _interim_counting(pack, adoption, occasion)
    for rule in pack_in_edition(pack, adoption.edition or None, adoption.adopted_by, counting):
        yield only_where(rule, adoption.where)


def _interim_counting(pack: Pack, adoption: Adoption, occasion: Occasion) -> frozenset[str]:
    """The interim amendments that are adopted with an edition, each from its own day on."""
    day = occasion.day_of(adoption.event) or occasion.on
    by_all = BY_INTERIM in adoption.interim
    return frozenset(
        number
        for number, start in pack.interim.get(adoption.edition, {}).items()
        if start <= day and (by_all or number in adoption.interim)
    )


def _pack_in_force(pack: Pack, adoption: Adoption | None) -> PackInForce:
    if adoption is None:
        return PackInForce(pack.id, pack.title, None, pack.digest, "", None)
    edition = adoption.edition or None
    return PackInForce(
        pack.id, pack.title, edition, pack.digest, adoption.adopted_by, adoption.start, adoption.where_words
    )


def _interpreted(rule: RuleInForce, profile: Profile) -> RuleInForce:
    about = tuple(each for each in profile.interpretations if each.rule in (rule.name, rule.rule.id))
    return replace(rule, interpretations=about) if about else rule


def _too_early(profile: Profile, on: date) -> Problem:
    starts = listing(
        [f"{each.document} {each.edition} from {each.start}".replace("  ", " ") for each in profile.documents]
    )
    return Problem(
        f"On {on} nothing was adopted yet in {profile.title}.",
        profile.documents[0].at if profile.documents else Position(profile.file, 1, 1),
        f"Give a date from {min(each.start for each in profile.documents)} on: {starts}.",
    )


def _pack_of(packs: Sequence[Pack], adoption: Adoption, problems: ProblemList) -> Pack | None:
    found = next((pack for pack in packs if pack.document == adoption.document), None)
    if found is None:
        near = problems.near(adoption.document, [pack.document for pack in packs])
        problems.add(
            f"There is no rule pack of {adoption.document}.", adoption.at, "Name a document as its pack does.", near
        )
        return None
    editions = found.editions or (NO_EDITION,)
    if adoption.edition not in editions:
        written = adoption.edition or "without a year"
        remedy = (
            f"Its pack has {listing(found.editions)}." if found.editions else "Its pack has no editions: leave it out."
        )
        near = problems.near(adoption.edition, found.editions)
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
