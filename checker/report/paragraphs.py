"""What is said of findings and of a whole review, in sentences that any layout can set: text, page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence, Set
from fractions import Fraction

from checker.catalog.model import Stage
from checker.findings.assembling.ordering import weight
from checker.findings.assembling.together import asks_for_most, failing, limit
from checker.findings.finding import Check, Finding, InForce, Need, Notice, Review
from checker.findings.judging.outcomes import SETTLED_OUTCOMES, Outcome
from checker.findings.review import CAUTIONS_PACK
from checker.report.exit_status import PLAIN_GATE, SETTLED
from checker.report.safe import harmless
from checker.report.words import (
    FIGURE,
    OUTCOME_WORDS,
    RELATION_WORDS,
    STAGE_WORDS,
    authority_text,
    counted,
    joined,
    range_words,
)
from checker.rules.grammar import ORDERS
from checker.rules.model.in_force import LayerInForce
from checker.rules.wording import EVENT_WORDS
from checker.tasks.comparing.earlier import NO_EARLIER, Earlier
from checker.values.truth import Truth


def title_of(review: Review) -> str:
    """The site, and the event and date that fix its rules."""
    return f"{review.site_name}, {dated_words(review.in_force)}"


def dated_words(rules: InForce) -> str:
    """The event with its date; where another date was given in place of the file's, that and what the file says."""
    event = EVENT_WORDS.get(rules.event, rules.event)
    said = rules.dated.in_file
    if not rules.dated.given or said == rules.date:
        return f"{event} {rules.date.isoformat()}"
    told = f"the date of {event} in the file is {said.isoformat()}" if said else f"the file gives no date of {event}"
    return f"as of {rules.date.isoformat()} ({told})"


def rules_words(rules: InForce) -> Iterator[str]:
    """Whose rules are in force: the documents, what local authorities change in them, and what the applicant elects."""
    yield f"Rules in force at {rules.title}: {packs_words(rules)}."
    if rules.layers:
        yield f"On them: {'; '.join(map(layer_words, rules.layers))}."
    if rules.elected:
        yield f"The applicant elects {joined(rules.elected)}."


def layer_words(layer: LayerInForce) -> str:
    """A layer with whose it is, where it holds, and how much of it counts on this date."""
    changes = counted(layer.changes, "change") if layer.changes else "nothing of it on this date"
    where = f", where {layer.where}" if layer.where else ""
    return f"{layer.title} ({layer.authority}{where}, {changes})"


_OWN_PACKS = (CAUTIONS_PACK, "figures")
"""Packs that are the program's own and no rules of anybody."""


def packs_words(rules: InForce) -> str:
    """The documents with who adopted them; bodies of practice by their titles."""
    adopted = [
        f"{pack.title} {pack.edition} ({pack.adopted_by}, from {pack.since.isoformat()}"
        f"{f', where {pack.where}' if pack.where else ''})"
        for pack in rules.packs
        if pack.edition is not None and pack.since is not None
    ]
    practice = [pack.title for pack in rules.packs if pack.edition is None and pack.pack not in _OWN_PACKS]
    return "; ".join([*adopted, *practice])


def verdict(review: Review) -> str:
    """The exit status in words."""
    totals = review.totals()
    open_now = [finding for finding in review.findings if finding.is_open_at(review.stage)]
    broken = totals[Outcome.RULE_ERROR]
    if broken:
        return f"{counted(broken, 'rule')} broke, so this review is not complete."
    if not any(totals[outcome] for outcome in Outcome if outcome is not Outcome.NOT_APPLICABLE):
        return "No rule in force applies to this site, so nothing was looked at."
    at_odds = [finding for finding in open_now if finding.subject.type == FIGURE]
    if at_odds and not totals[Outcome.CORRECTION]:
        names = joined(f"{finding.subject.words} ({finding.number})" for finding in at_odds)
        waiting = counted(len(open_now), "finding")
        return (
            f"The drawing contradicts itself on {names}, so that it is open whether a correction is wanted; "
            f"{waiting} due now cannot be settled."
        )
    if totals[Outcome.CORRECTION]:
        waiting = f", and {counted(len(open_now), 'finding')} due now cannot be settled" if open_now else ""
        return f"{counted(totals[Outcome.CORRECTION], 'correction')} wanted{waiting}."
    if open_now:
        waiting = counted(len(open_now), "finding")
        return f"No correction is wanted on what is shown, but {waiting} due now cannot be settled."
    return "No correction is wanted on what is shown, by the rules that were run, and nothing due now is open."


def heading_of(outcome: Outcome) -> str:
    """The heading over findings of an outcome."""
    words = OUTCOME_WORDS[outcome]
    plural = {"correction": "Corrections", "recommendation": "Recommendations", "note": "Notes"}
    return plural.get(words, f"{words[0].upper()}{words[1:]}")


def count_words(heading: str, findings: Sequence[Finding]) -> str:
    """A heading with how many findings stand under it and, where several are told as one, under how many heads."""
    heads = {each.id for each in findings if each.under is None}
    within = any(each.under in heads for each in findings)
    elsewhere = sum(each.under is not None and each.under not in heads for each in findings)
    parts = [f"{heading}: {len(findings)}"]
    if within:
        parts.append(f"told under {counted(len(heads), 'head')}")
    if elsewhere:
        of_them = "told" if elsewhere == len(findings) else f"{elsewhere} of them"
        parts.append(f"{of_them} with {'a finding' if elsewhere == 1 else 'findings'} above")
    return ", ".join(parts)


def looks_due(review: Review) -> tuple[Finding, ...]:
    """What somebody has to see by the stage that is read."""
    return tuple(each for each in _looks(review) if each.due.order <= review.stage.order)


def looks_later(review: Review, stage: Stage) -> tuple[Finding, ...]:
    """What somebody has to see at a later stage; told in short, since nobody can look yet."""
    return tuple(each for each in _looks(review) if each.due is stage and stage.order > review.stage.order)


def looks_later_heading(stage: Stage, looks: Sequence[Finding]) -> str:
    """The heading over these, with the place where each is told in full."""
    told = f"`field-sheet --stage {stage.value}` says what each takes"
    return f"To look at in the field at {STAGE_WORDS[stage]}: {len(looks)}; {told}"


def _looks(review: Review) -> Iterator[Finding]:
    return (each for each in review.findings if each.outcome is Outcome.VERIFY_IN_FIELD)


def causes(review: Review, findings: Iterable[Finding]) -> Iterator[str]:
    """Findings that one stated fact brought about, named together."""
    yield from (f"{joined(map(str, numbers))} {words}" for numbers, words in by_cause(review, findings))


def by_cause(review: Review, findings: Iterable[Finding]) -> Iterator[tuple[tuple[int, ...], str]]:
    """The numbers of findings that one stated fact brought about, with what is said of them."""
    groups: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.follows_from is not None:
            groups.setdefault(finding.follows_from, []).append(finding)
    for cause, group in groups.items():
        if len(group) > 1:
            numbers = tuple(finding.number for finding in group)
            yield numbers, f"follow from one decision: {_cause_words(review, cause)}."


def _cause_words(review: Review, cause: str) -> str:
    """The fact that decided, said in words where it is a role."""
    tag, _, fact = cause.partition(".")
    piece = next((each for each in review.one_line.pieces if each.tag == tag), None)
    if fact == "role" and piece is not None and piece.role:
        return f"{tag} is drawn as the {piece.role}"
    return f"what the drawing says of the {fact.replace('_', ' ')} of {tag}"


def told_under(review: Review, head: Finding) -> tuple[Finding, ...]:
    """The findings that are told under this one, in their order."""
    return tuple(each for each in review.findings if each.under == head.id)


def told_elsewhere(review: Review, findings: Iterable[Finding]) -> Iterator[tuple[int, int]]:
    """The numbers of findings of a section whose heads stand in another one, each with that of its head."""
    numbers = {each.id: each.number for each in review.findings}
    listed = tuple(findings)
    own = {each.id for each in listed}
    yield from ((each.number, numbers[each.under]) for each in listed if each.under and each.under not in own)


def one_cause(head: Finding, others: Sequence[Finding]) -> Iterator[str]:
    """What several findings ask of one measure, or what each misses of one thing that is not there, each on a line;
    last what serves all of them.
    """
    if not others:
        return
    group = sorted((head, *others), key=lambda each: each.number)
    limits = {each.number: _limit_of(each) for each in group}
    is_measure = all(limits.values())
    thing = "this measure" if is_measure else "this one paper" if head.papers else "this one thing"
    yield f"{len(group)} findings ask for {thing}:"
    several = len({each.subject.words for each in group}) > 1
    for each in group:
        told = limits[each.number] or ("as told above" if each is head else each.says.rstrip("."))
        grade = "" if each.outcome is Outcome.CORRECTION else f"{OUTCOME_WORDS[each.outcome]}, "
        of = f" {each.subject.words}" if several else ""
        yield f"{each.number}{of}: {told} ({grade}{authority_text(each)}; {each.rule})"
    yield from _serves_all(group) if is_measure else ("What is put in place has to hold all of these.",)


def _limit_of(finding: Finding) -> str:
    """How large or small a measure has to be, in words; empty where the finding asks for something else."""
    check = next(iter(failing(finding)), None)
    if check is None or check.wanted is None or limit(check) is None:
        return ""
    return f"{RELATION_WORDS[check.relation]} {check.wanted.text}"


def _serves_all(group: Sequence[Finding]) -> Iterator[str]:
    """The limit that satisfies each of a group of findings on one measure, and the lesser one that the corrections ask
    for.
    """
    wanted = [each for each in group if each.outcome is Outcome.CORRECTION]
    for_all = _limit_of(_farthest(group))
    for_wanted = _limit_of(_farthest(wanted)) if wanted else for_all
    first = "" if for_wanted == for_all else f"{for_wanted} serves the corrections, "
    told = f"{first}{for_all} serves all of them."
    yield f"{told[0].upper()}{told[1:]}"


def _farthest(group: Sequence[Finding]) -> Finding:
    """The one of these that asks for most."""
    return min(group, key=asks_for_most)


def goes_with(head: Finding, others: Sequence[Finding]) -> tuple[str, ...]:
    """What has to be looked at with the cure of a finding, but what is told under it anyway."""
    told = {each.title for each in others}
    return tuple(each for each in head.companions if each not in told)


def cautions_of(head: Finding, others: Sequence[Finding]) -> tuple[str, ...]:
    """The cautions of a finding and of those told under it, each once: none of them may be lost."""
    return tuple(dict.fromkeys(caution for each in (head, *others) for caution in each.cautions))


def cures(finding: Finding) -> Iterator[str]:
    """The cures, cheapest first; each is one way out, so all but the first begin with the word that says so."""
    for place, cure in enumerate(finding.remedy):
        yield cure if place == 0 else f"Or: {cure}"


def shown_and_wanted(finding: Finding) -> Iterator[str]:
    """What the drawing shows and what is wanted, for each number or word that fails; of several ways only the first,
    with the number at which any of them would do.
    """
    if finding.readings:
        return
    first_way = finding.ways[0].name if finding.ways else None
    for check in finding.checks:
        if _tells_something(check) and first_way in (None, check.part):
            turn = finding.break_even
            if turn is not None and turn.fact == check.found.fact:
                yield f"shown {_shown(check)}, wanted {turn.holds} {turn.text}"
            else:
                yield f"shown {_shown(check)}, wanted {_wanted(check)}"
    yield from _members_that_fail(finding)


def _members_that_fail(finding: Finding) -> Iterator[str]:
    """Of a rule that asks something of each of several things the figures of those that fail, by the name of each."""
    asked = {check.part for check in finding.checks if check.relation == "every" and check.holds is Truth.NO}
    for check in finding.checks:
        is_member = not check.direct and check.part in asked and check.part is not None
        if is_member and check.holds is Truth.NO and check.relation in ORDERS and check.found.text != "none":
            member = (check.found.fact or "").rpartition(".")[0]
            yield f"shown {member}, {_shown(check)}, wanted {_wanted(check)}"


def found_in(finding: Finding) -> Iterator[str]:
    """The states of the line in which what fails was found."""
    failing = [check for check in finding.checks if check.part is not None and check.holds is Truth.NO and check.direct]
    sides = [side for check in failing for side in (check.found, check.wanted) if side is not None]
    yield from (f"state: {state}" for state in dict.fromkeys(side.state for side in sides) if state)


def _tells_something(check: Check) -> bool:
    """Whether a failed comparison says more than the sentence above it: flags and missing things do not."""
    if check.part is None or check.holds is not Truth.NO or not check.direct or check.wanted is None:
        return False
    return check.wanted.text not in _SAYS_NOTHING and check.found.text != "none"


_SAYS_NOTHING = ("none", "not decided", "not shown", "yes", "no")


def _shown(check: Check) -> str:
    paper = f" ({check.found.per})" if check.found.per else ""
    return f"{check.found.title}: {check.found.text}{paper}"


def _wanted(check: Check) -> str:
    assert check.wanted is not None
    relation = RELATION_WORDS.get(check.relation, check.relation.replace("_", " "))
    if check.wanted.fact and relation in _BOUNDS:
        if check.wanted.text.startswith(_BOUNDS):
            return f"{relation} the {check.wanted.title}, which is {check.wanted.text}"
        lies = range_words(check.wanted)
        if lies is not None:
            return f"{relation} the {check.wanted.title}, which {lies}"
    title = f" ({check.wanted.title})" if check.wanted.fact else ""
    return f"{relation} {check.wanted.text}{title}".strip()


_BOUNDS = ("at least", "at most", "more than", "less than")
"""Words of a comparison, and of a figure of which only an end is known."""


def readings(finding: Finding) -> Iterator[str]:
    """How it is read, where the readings differ; where all come to the same, nothing hangs on them."""
    words = {Truth.YES: "met", Truth.NO: "not met", Truth.UNKNOWN: "open"}
    if len({reading.holds for reading in finding.readings}) > 1:
        yield from (f"{words[reading.holds]} as read by {reading.held_by}" for reading in finding.readings)


def versions(finding: Finding) -> Iterator[str]:
    """What it comes to by each authority, where they differ and none goes before."""
    if len({version.could_be for version in finding.versions}) > 1:
        for version in finding.versions:
            yield f"By {version.held_by}: {' or '.join(OUTCOME_WORDS[each] for each in version.could_be)}."


def waiting(findings: Iterable[Finding]) -> tuple[tuple[Finding, ...], ...]:
    """Findings that wait for the same answers, together under the most binding of them and of these the gravest, in the
    order of these heads. Of one thing those too of which one asks for all that the other asks for.
    """
    groups: list[list[Finding]] = []
    for finding in sorted(findings, key=lambda each: (weight(each), each.number)):
        group = next((each for each in groups if _waits_with(each[0], finding)), None)
        if group is None:
            groups.append([finding])
        else:
            group.append(finding)
    return tuple(tuple(group) for group in sorted(groups, key=lambda each: each[0].number))


def _waits_with(head: Finding, other: Finding) -> bool:
    """Whether one question serves for both. What says more of itself than what it asks for stands alone."""
    if not head.needs or not other.needs:
        return False
    if head.needs == other.needs:
        return True
    if head.subject.id != other.subject.id or other.reasons or other.assumed or any(falls_short(other)):
        return False
    mine, others = _asked_of(head), _asked_of(other)
    return mine <= others or others <= mine


def _asked_of(finding: Finding) -> frozenset[tuple[str, str]]:
    """What is asked for, without what could stand in the place of a figure."""
    return frozenset((each.ask, each.fact) for each in finding.needs if not each.in_place_of)


MOST_SHOWN = 10
"""So many of a long list of what waits are shown in a terminal."""

LONG = 15
"""A list of no more than these is shown whole: nothing is folded away for the sake of a few."""


def most_important(groups: Sequence[Sequence[Finding]]) -> tuple[Sequence[Finding], ...]:
    """Of a long list the groups in which the fewest answers settle the most that may be a correction, in the order of
    the list; a short one whole.
    """
    if len(groups) <= LONG:
        return tuple(groups)

    def order(place: int) -> tuple[Fraction, int, int]:
        group = groups[place]
        may_correct = sum(1 for each in group if Outcome.CORRECTION in each.could_be)
        return -Fraction(may_correct, max(1, len(group[0].needs))), -len(group), place

    shown = sorted(range(len(groups)), key=order)[:MOST_SHOWN]
    return tuple(groups[place] for place in sorted(shown))


def asks_best_words(review: Review) -> Iterator[str]:
    """Where so much is open that a list of it helps nobody: what asks for it one by one."""
    open_now = [each for each in review.findings if each.outcome is Outcome.NEEDS_INFORMATION]
    due = [each for each in open_now if each.due.order <= review.stage.order]
    if len(waiting(due)) > LONG:
        yield (
            f"Begin with `standby-checker questions {review.file}`: it asks for what is open one thing at a time, what "
            "settles most first."
        )


def settles_too(group: Sequence[Finding]) -> Iterator[str]:
    """What else the answers to the first of these settle, and what others ask for beside them."""
    asked_for = set(_asked_of(group[0]))
    same = [each for each in group[1:] if _asked_of(each) <= asked_for]
    if same:
        answers = "The same answer settles" if len(asked_for) == 1 else "The same answers settle"
        yield f"{answers} {joined(map(_told_with, same))}."
    for each in group[1:]:
        if each not in same:
            yield f"Of the same thing {_told_with(each)} asks further:"
            yield from asked(_further(each, asked_for))
            asked_for |= _asked_of(each)
    for each in group[1:]:
        if each.break_even != group[0].break_even:
            yield from (f"{each.number}: {told}" for told in holds_while(each))


def _told_with(finding: Finding) -> str:
    return f"{finding.number} ({finding.subject.words}: {finding.title})"


def _further(finding: Finding, asked_for: Set[tuple[str, str]]) -> tuple[Need, ...]:
    """The needs of a finding beside those that are asked for already, with what could stand in their place."""
    figures = {fact for ask, fact in _asked_of(finding) - asked_for}
    return tuple(each for each in finding.needs if (each.in_place_of or each.fact) in figures)


def holds_while(finding: Finding) -> Iterator[str]:
    """The value of an open fact up to which a finding holds."""
    if finding.break_even is not None:
        turn = finding.break_even
        yield f"It holds while {turn.fact} is {turn.holds} {turn.text}."


def falls_short(finding: Finding) -> Iterator[str]:
    """What of the first way is shown already and does not do, so that nobody takes a question for a reserve."""
    if finding.ways and finding.ways[0].holds is Truth.NO:
        for check in finding.ways[0].lacks:
            if _tells_something(check):
                yield f"As shown this does not do: {_shown(check)}, wanted {_wanted(check)}"


def asked(needs: tuple[Need, ...]) -> Iterator[str]:
    """Each need on a line; what could stand in the place of a figure follows it in one sentence."""
    for need in needs:
        if not need.in_place_of:
            yield _ask(need)
            behind = [each for each in needs if each.in_place_of == need.fact]
            if behind:
                yield f"Or, to have it worked out: {'; '.join(map(_named, behind))}."


def _named(need: Need) -> str:
    """A need in a list, by the name under which the file gives it."""
    if need.ask != "fact":
        return need.title
    return f"{need.fact} ({need.paper})" if need.paper else need.fact


def _ask(need: Need) -> str:
    where = f" ({need.paper})" if need.paper else ""
    return f"Provide {need.fact}: {need.title}{where}." if need.ask == "fact" else f"Say {need.title} ({need.fact})."


def rests_on(finding: Finding) -> Iterator[str]:
    """That a finding rests on assumed values, and what to give instead."""
    if finding.assumed:
        values = "an assumed value" if len(finding.assumed) == 1 else "assumed values"
        yield f"Rests on {values}: {joined(finding.assumed)}. Give what a paper or a nameplate shows."


def met_words(finding: Finding) -> str:
    """The claim, the figures that carry it (of several ways those of the first that holds), and what it rests on."""
    figures = "; ".join((*_another_way(finding), *dict.fromkeys(_figures_of(finding))))
    return f"{finding.title}{f': {figures}' if figures else ''} ({authority_text(finding)})"


def _another_way(finding: Finding) -> Iterator[str]:
    """The way that holds where the figures of the first one fall short, and by how much these do."""
    if not finding.ways or finding.ways[0].holds is not Truth.NO:
        return
    short = [f"{_shown(check)}, wanted {_wanted(check)}" for check in finding.ways[0].lacks if _is_a_number(check)]
    way = next((each.name for each in finding.ways if each.holds is Truth.YES), None)
    if short and way is not None:
        yield f"{'; '.join(short)}; it holds by another way, {way.replace('_', ' ').replace('-', ' ')}"


def _figures_of(finding: Finding) -> Iterator[str]:
    way = next((each.name for each in finding.ways if each.holds is Truth.YES), None)
    for check in finding.checks:
        if finding.ways and check.part != way:
            continue
        if check.part is not None and check.direct and check.holds is Truth.YES and _is_a_number(check):
            yield f"{_shown(check)}, {_wanted(check)}"


def _is_a_number(check: Check) -> bool:
    is_said = check.wanted is not None and check.wanted.text not in _SAYS_NOTHING
    return is_said and check.found.low is not None and check.relation in _NUMBER_RELATIONS


_NUMBER_RELATIONS = ("at_least", "at_most", "more_than", "less_than", "between")


def aside(review: Review) -> tuple[list[Finding], ...]:
    """What does not apply, the findings of one rule together, in the order of their first."""
    by_rule: dict[str, list[Finding]] = {}
    for each in review.findings:
        if each.outcome is Outcome.NOT_APPLICABLE and not each.assumed:
            by_rule.setdefault(each.rule, []).append(each)
    return tuple(by_rule.values())


def aside_names(group: list[Finding]) -> str:
    """The subjects to which a rule does not apply."""
    return ", ".join(dict.fromkeys(each.subject.words for each in group))


def aside_words(group: list[Finding]) -> str:
    """The claim that is not asked here, and why, where there is one reason for all."""
    reasons = {each.because for each in group}
    because = f", since {next(iter(reasons))}" if len(reasons) == 1 and next(iter(reasons)) else ""
    return f"{group[0].title}{because} ({group[0].rule})"


def figures_worked_out(review: Review) -> Iterator[tuple[str, str]]:
    """The figures behind findings that are not settled, each with the name of its worksheet."""
    for finding in review.findings:
        if finding.outcome in SETTLED_OUTCOMES:
            continue
        for check in finding.checks:
            for figure in (check.found, check.wanted):
                if figure is not None and figure.worksheet is not None:
                    yield harmless(figure.worksheet), harmless(figure.text)


def notice_words(notice: Notice) -> str:
    """A notice with what to do and its place."""
    place = f" {notice.at}" if notice.at is not None else ""
    return f"{notice.sentence}{f' {notice.remedy}' if notice.remedy else ''}{place}"


def closing(review: Review) -> Iterator[str]:
    """How many findings came to what, and what no rule looked at."""
    totals = review.totals()
    shown = [
        counted(totals[outcome], words, plural)
        for outcome, words, plural in (
            (Outcome.RULE_ERROR, "broken rule", None),
            (Outcome.CORRECTION, "correction", None),
            (Outcome.RECOMMENDATION, "recommendation", None),
            (Outcome.NOTE, "note", None),
            (Outcome.NEEDS_INFORMATION, "not shown", "not shown"),
            (Outcome.AHJ_TO_DECIDE, "for the AHJ to decide", "for the AHJ to decide"),
            (Outcome.SPECIAL_PERMISSION, "by special permission", "by special permission"),
            (Outcome.VERIFY_IN_FIELD, "to look at in the field", "to look at in the field"),
        )
        if totals[outcome]
    ]
    assumed = [
        finding.outcome for finding in review.findings if finding.outcome in SETTLED_OUTCOMES and finding.assumed
    ]
    if assumed:
        shown.append(f"{len(assumed)} resting on assumed values")
    met, aside = (totals[outcome] - assumed.count(outcome) for outcome in SETTLED_OUTCOMES)
    yield (
        f"{', '.join(shown) or 'Nothing wanted'}; {met} {'meets' if met == 1 else 'meet'} as shown, "
        f"{aside} {'does' if aside == 1 else 'do'} not apply."
    )
    if review.not_covered:
        yield f"No rule looked at: {', '.join(review.not_covered)}."


def since(review: Review, earlier: Earlier) -> Iterator[str]:
    """What of the corrections and open findings the earlier report does not hold."""
    if earlier is NO_EARLIER:
        return
    if not earlier.has(review):
        yield (f"{earlier.name} does not hold {review.file}, so everything in it counts as new.")
        return
    counting = [each for each in review.findings if PLAIN_GATE.stops(review, each) != SETTLED]
    new = [str(each.number) for each in counting if not earlier.holds(review, each)]
    told = f"new are {joined(new)}" if new else "none of them is new"
    yield (f"Against {earlier.name}: {told}.")
