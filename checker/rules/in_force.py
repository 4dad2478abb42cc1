"""What a profile comes to on a date: of each document the edition that is in force, and on it the layers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from checker.rules.citing import NO_EDITION
from checker.rules.documents import no_such_document
from checker.rules.edition import pack_in_edition
from checker.rules.layers.apply import Amended, amended
from checker.rules.layers.at_work import AtWork, start_of
from checker.rules.layers.changing import both
from checker.rules.layers.model import Layer
from checker.rules.layers.scopes import only_where, scoped
from checker.rules.model import (
    Adoption,
    Condition,
    Grace,
    Group,
    LayerNotice,
    Not,
    NumbersInForce,
    Pack,
    PackInForce,
    ParameterValue,
    Profile,
    Ranked,
    Reference,
    RuleInForce,
    RulesInForce,
    TableValues,
)
from checker.rules.own_papers import papers_of
from checker.rules.problem_list import ProblemList
from checker.rules.wording import EVENT_WORDS, choice_of, listing
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable

NO_DATES: Mapping[str, date] = {}
BY_INTERIM = "all"

_PackAdopted = tuple[Pack, Adoption | None]


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
        self._used: set[str] = set()

    def rules(self) -> RulesInForce:
        """Everything in force."""
        adopted = self._adopted()
        adopted = (*adopted, *self._sent_to(adopted))
        packs = tuple(self._packs_in_force(adopted))
        rules = [rule for pack, adoption in packs for rule in _rules_of(pack, adoption, self._day_for(adoption))]
        at_work = tuple(self._at_work())
        self._check_together(at_work)
        self._check_elections()
        used = tuple(_pack_in_force(*each) for each in packs)
        self._check_written_against(at_work, used)
        made = amended(rules, at_work, _parameters(packs))
        self._problems.raise_if_any()
        numbers = NumbersInForce(_by_name(made.numbers), _tables(packs))
        return self._resolved(made, used, numbers)

    def _resolved(self, made: Amended, packs: tuple[PackInForce, ...], numbers: NumbersInForce) -> RulesInForce:
        profile = self._profile
        own = tuple(RuleInForce(rule, None, profile.title, rule.cites, {}, {}) for rule in profile.papers)
        rules = tuple(_interpreted(scoped(rule), profile) for rule in (*made.rules, *own))
        self._notices.extend(self._without_rule(rules, made))
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
            numbers,
            papers_of(self._layers.values()),
        )

    # --- documents --------------------------------------------------------------------------------------------------

    def _adopted(self) -> tuple[Adoption, ...]:
        """Of each document the adoption with the latest start that is not after its date, in the order of the
        profile; the one before it where the applicant has elected that. What is adopted only somewhere counts there
        alone.
        """
        begun: dict[tuple[str, str], list[Adoption]] = {}
        for each in self._profile.documents:
            day = self._day(each.event, each.document, each.at)
            if day is not None and each.start <= day:
                begun.setdefault((each.document, each.where_words), []).append(each)
        if not begun and not len(self._problems):
            raise Unreadable([_too_early(self._profile, self._occasion.on)])
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
        self._notices.append(
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
        day = self._occasion.day_of(latest.event) or self._occasion.on
        if len(ordered) > 1:
            starts = [each.start for each in self._profile.documents if each.document == latest.document]
            grace = self._grace(latest.document, day, starts)
            if grace is not None:
                latest = self._elect(grace, ordered[-2], latest)
        return None if latest.until is not None and day > latest.until else latest

    def _elect(self, grace: Grace, before: Adoption, latest: Adoption) -> Adoption:
        rules = f"{before.document} {before.edition}"
        if self._is_elected(grace, f"{rules} in the place of {latest.edition}"):
            return before
        self._offer(grace, rules)
        return latest

    def _day_for(self, adoption: Adoption | None) -> date:
        event = None if adoption is None else adoption.event
        return self._occasion.day_of(event) or self._occasion.on

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
        grace = self._grace(layer.id, day, starts)
        if grace is None:
            return None
        began = max(each for each in starts if each <= day)
        rules = f"the rules before {began} of {layer.title}"
        if self._is_elected(grace, rules):
            return began
        self._offer(grace, rules)
        return None

    def _check_together(self, at_work: Sequence[AtWork]) -> None:
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

    def _check_written_against(self, at_work: Iterable[AtWork], packs: Iterable[PackInForce]) -> None:
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
                self._notices.append(
                    LayerNotice(
                        "other_edition",
                        f"{each.layer.title} was written against {document} {edition}; in force here is "
                        f"{listing(editions)}.",
                        each.layer.at,
                        "Its changes are applied to the same rules; read it against the edition that is in force.",
                    )
                )

    # --- dates and elections ----------------------------------------------------------------------------------------

    def _day(self, event: str | None, name: str, at: Position) -> date | None:
        day = self._occasion.day_of(event)
        if day is None:
            words = EVENT_WORDS[event or self._profile.event]
            self._problems.add(
                f"{name} counts from the date of {words}, and the site file does not give that date.",
                at,
                "Write it into the site file, or give --date for all.",
            )
        return day

    def _grace(self, of: str, day: date, starts: Iterable[date]) -> Grace | None:
        """The time of grace in which a day lies: it begins with the last start before its end."""
        for each in self._profile.grace:
            begins = max((start for start in starts if start <= each.until), default=None)
            if each.of == of and begins is not None and begins <= day <= each.until:
                return each
        return None

    def _is_elected(self, grace: Grace, rules: str) -> bool:
        """Whether the applicant has elected the older rules; what is elected is told, with what it hangs on."""
        if grace.of not in self._occasion.elected:
            return False
        self._elected.append(f"{rules} ({grace.condition})" if grace.condition else rules)
        self._used.add(grace.of)
        return True

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
        known = [*dict.fromkeys(each.of for each in self._profile.grace)]
        for name in sorted(self._occasion.elected - set(known)):
            remedy = f"There is grace for {choice_of(known)}." if known else "The profile gives no time of grace."
            self._problems.add(
                f"{self._profile.title} gives no time of grace for {name}.",
                Position(self._profile.file, 1, 1),
                remedy,
                self._problems.near(name, known),
            )
        for name in known:
            if name in self._occasion.elected and name not in self._used:
                self._check_election(name, [each for each in self._profile.grace if each.of == name])

    def _check_election(self, name: str, graces: Sequence[Grace]) -> None:
        """An election outside its time of grace: too late is refused, too early changes nothing and is told."""
        last = max(graces, key=lambda each: each.until)
        day = self._day_of(name)
        if day is not None and day > last.until:
            self._problems.add(
                f"The time of grace for {name} ended on {last.until}, and the date that counts is {day}.",
                last.at,
                "Leave `elected` out of the site file.",
            )
        elif day is not None:
            self._notices.append(
                LayerNotice(
                    "nothing_to_elect",
                    f"The applicant elects the rules before {name}, and on {day} nothing new of it has begun: the "
                    "election changes nothing.",
                    last.at,
                    "Leave `elected` out of the site file.",
                )
            )

    def _day_of(self, name: str) -> date | None:
        """The date that counts for a document or a layer."""
        events = [
            *(each.event for each in self._profile.documents if each.document == name),
            *(each.event for each in self._profile.layers if each.layer == name),
        ]
        return self._occasion.day_of(events[-1]) if events else None

    def _without_rule(self, rules: Sequence[RuleInForce], made: Amended) -> Iterator[LayerNotice]:
        """What stands on record about a rule that is not in force: it is told, so that it does not get lost."""
        known = {name for each in (*rules, *(gone.rule for gone in made.deleted)) for name in (each.name, each.rule.id)}
        for record in self._profile.interpretations:
            if record.rule not in known:
                near = self._problems.near(record.rule, sorted(known))
                yield LayerNotice(
                    "record_without_rule",
                    f"The interpretation by {record.by} ({record.on}) is about {record.rule}, "
                    "and no such rule is in force.",
                    record.at,
                    f"The nearest is {near}." if near else "Look for it with rules list.",
                )


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


def _parameters(packs: Iterable[_PackAdopted]) -> dict[tuple[str, str], ParameterValue]:
    return {
        (pack.id, name): each.values[edition]
        for pack, adoption in packs
        for name, each in pack.parameters.items()
        if (edition := _edition(adoption)) in each.values
    }


def _by_name(numbers: Mapping[tuple[str, str], ParameterValue]) -> dict[str, ParameterValue]:
    """By the name alone; of two packs the first, which is one that was adopted."""
    found: dict[str, ParameterValue] = {}
    for (_, name), value in numbers.items():
        found.setdefault(name, value)
    return found


def _tables(packs: Iterable[_PackAdopted]) -> dict[str, TableValues]:
    found: dict[str, TableValues] = {}
    for pack, adoption in packs:
        for name, each in pack.tables.items():
            edition = _edition(adoption)
            if edition in each.values:
                found.setdefault(name, each.values[edition])
    return found


def _edition(adoption: Adoption | None) -> str:
    return NO_EDITION if adoption is None else adoption.edition


def _holds(ranked: Ranked, day: date) -> bool:
    return (ranked.start is None or ranked.start <= day) and (ranked.until is None or day <= ranked.until)


def _rules_of(pack: Pack, adoption: Adoption | None, day: date) -> Iterator[RuleInForce]:
    if adoption is None:
        yield from pack_in_edition(pack, None, "")
        return
    counting = _interim_counting(pack, adoption, day)
    for rule in pack_in_edition(pack, adoption.edition or None, adoption.adopted_by, counting):
        yield only_where(_only_for(rule, adoption.only), adoption.where)


def _only_for(rule: RuleInForce, only: Mapping[str, Condition]) -> RuleInForce:
    """The rule, for those of its subject that a code sends to it."""
    body = rule.rule
    asked = only.get(body.subject)
    return rule if asked is None else replace(rule, rule=replace(body, when=both(body.when, asked)))


def _interim_counting(pack: Pack, adoption: Adoption, day: date) -> frozenset[str]:
    """The interim amendments that are adopted with an edition, each from its own day on."""
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
        problems.extend([no_such_document(adoption.document, packs, adoption.at)])
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
