"""One rule in words: what it asks, on which numbers, under which sections; and how it fares on a site."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from checker.catalog.model import Catalog, Stage
from checker.findings.assembling.assembly import Desk, check_of, finding, rule_error
from checker.findings.assembling.permissions import permitted
from checker.findings.assembling.told import change_told, history_told, interpretations_told
from checker.findings.finding import Check, Finding
from checker.findings.judging.conditions import Judged
from checker.findings.judging.evaluation import Evaluation, evaluate
from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.plan import Planned, subjects_of
from checker.findings.review import Job, site_name_of, view_of_job
from checker.rules.grammar import NO_EDITION
from checker.rules.layers.stack import Stack
from checker.rules.model.citing import Checked, Citation
from checker.rules.model.force import Basis, Force
from checker.rules.model.in_force import RuleInForce, RulesInForce, Version
from checker.rules.model.numbers import Parameter, ParameterValue
from checker.rules.model.pack import Pack
from checker.rules.model.rule import NamedException, Requires, Rule
from checker.rules.vocabulary import Around, Vocabulary
from checker.rules.walk import parameters_read, tables_read
from checker.rules.wording import choice_of, listing
from checker.rules.words.condition_words import Clause, ConditionWords, numbers_in_force, value_words
from checker.rules.words.spoken import spoken
from checker.tasks.comparing.rule_differences import RuleSide, rules_compared
from checker.tasks.telling.rule_list import subject_title
from checker.values.notation import nearest
from checker.values.problems import Problem, Unreadable
from checker.values.truth import Truth


@dataclass(frozen=True, slots=True)
class PartSaid:
    """Something that a rule asks, by its name, in words; ``editions`` where it is asked only in these."""

    name: str
    clause: Clause
    editions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RequirementSaid:
    """What is asked: all of the parts, or one of them. ``name`` tells where it stands: the exception that brings it, or
    who reads it so; ``where`` is the condition under which it takes the place of the rule's own.
    """

    name: str
    any_way: bool
    parts: tuple[PartSaid, ...]
    where: Clause | None = None


@dataclass(frozen=True, slots=True)
class NumberSaid:
    """One value of a number that the rule reads: in which editions, from where, and how sure that is."""

    title: str
    editions: tuple[str, ...]
    text: str
    cites: tuple[Citation, ...]
    checked: Checked


@dataclass(frozen=True, slots=True)
class SectionSaid:
    """The sections of a rule in one edition, and who confirmed them."""

    edition: str | None
    cites: tuple[Citation, ...]
    checked: Checked | None


@dataclass(frozen=True, slots=True)
class RuleExplained:
    """A rule in words, in all its editions or as it is in force in one town."""

    name: str
    title: str
    subject: str
    document: str
    basis: Basis
    force: Force
    due: Stage
    sections: tuple[SectionSaid, ...]
    when: Clause | None
    exceptions: tuple[PartSaid, ...]
    instead: tuple[RequirementSaid, ...]
    requires: RequirementSaid | None
    readings: tuple[RequirementSaid, ...]
    look: str | None
    says: str
    why: str
    numbers: tuple[NumberSaid, ...]
    tables: tuple[str, ...]
    covers: tuple[str, ...]
    history: tuple[str, ...] = ()
    versions: tuple[str, ...] = ()
    interpretations: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Asked:
    """One condition with its answer and what decided it: of the rule's when, of an exception, of a part."""

    what: str
    answer: Truth
    checks: tuple[Check, ...]


@dataclass(frozen=True, slots=True)
class OnSubject:
    """A rule on one subject of a site: what came out, and each of its conditions with the values that decided it."""

    finding: Finding
    belongs: Truth
    when: Asked | None
    exceptions: tuple[Asked, ...]
    parts: tuple[Asked, ...]


@dataclass(frozen=True, slots=True)
class Explanation:
    """Every form of a rule that is meant, what is told of it where it is not in force, and what it comes to on a
    site. ``cases`` is None where they cannot be read.
    """

    rules: tuple[RuleExplained, ...]
    town: str = ""
    not_in_force: str = ""
    subjects: tuple[OnSubject, ...] = field(default=())
    site: str = ""
    cases: int | None = None


# --- which rule is meant ---------------------------------------------------------------------------------------------


def rule_of_packs(name: str, packs: Sequence[Pack], more: Iterable[str] = ()) -> tuple[Pack, Rule]:
    """The rule of that id, with or without its pack. Raises Unreadable with the nearest name, also among ``more``, or
    with where it went.
    """
    owner, _, bare = name.rpartition(":")
    found = [(pack, rule) for pack in packs for rule in pack.rules if rule.id == bare and owner in ("", pack.id)]
    if len(found) == 1:
        return found[0]
    if found:
        names = [f"{pack.id}:{rule.id}" for pack, rule in found]
        raise Unreadable(
            [Problem(f"{name} means {len(found)} rules: {listing(names)}.", remedy="Write the pack in front.")]
        )
    raise Unreadable([_no_rule(name, bare, packs, more)])


def _no_rule(name: str, bare: str, packs: Sequence[Pack], more: Iterable[str] = ()) -> Problem:
    for pack in packs:
        if bare in pack.retired:
            return Problem(f"{bare} is retired; it went to {pack.retired[bare]}.", remedy="Ask for that one.")
    known = [*(rule.id for pack in packs for rule in pack.rules), *more]
    return Problem(f"There is no rule {name}.", remedy="Look for it with rules list.", near=nearest(bare, known))


def names_added(stacks: Sequence[Stack]) -> tuple[str, ...]:
    """The ids of the rules that layers add."""
    return tuple(rule.id for stack in stacks for rule in stack.layer.added)


def of_layers(name: str, packs: Sequence[Pack], stacks: Sequence[Stack], vocabulary: Vocabulary) -> Explanation | None:
    """A rule that a layer adds, as it leaves it once all its changes have begun; None where no layer adds it."""
    owner, _, bare = name.rpartition(":")
    for stack in stacks:
        if owner in ("", stack.layer.id) and any(rule.id == bare for rule in stack.layer.added):
            full = f"{stack.layer.id}:{bare}"
            day = stack.usual_day(full)
            rule = stack.rule_on(full, stack.usual_edition(full), day or date.max)
            if rule is not None:
                known = Vocabulary(stack.known(vocabulary.catalog))
                return Explanation((_of_force(rule, packs, known),), f"{stack.layer.title}{_from(day)}")
    return None


def _from(day: date | None) -> str:
    return "" if day is None else f" on {day}"


def rules_meant(name: str, rules: RulesInForce) -> tuple[RuleInForce, ...]:
    """The forms of a rule that are in force: several where a layer holds only somewhere; none where it is not in
    force. Raises Unreadable where several rules have that id.
    """
    owner, _, bare = name.rpartition(":")
    found = tuple(each for each in rules.rules if each.rule.id == bare and owner in ("", each.rule.pack))
    names = sorted({each.name for each in found})
    if len(names) > 1:
        raise Unreadable(
            [Problem(f"{name} means {len(names)} rules: {choice_of(names)}.", remedy="Write the pack in front.")]
        )
    return found


def explained_in_town(name: str, rules: RulesInForce, packs: Sequence[Pack], vocabulary: Vocabulary) -> Explanation:
    """The rule as it is in force; where it is not, as its pack has it, and why it is not in force."""
    town = f"{rules.profile.title} on {rules.date}"
    found = rules_meant(name, rules)
    if found:
        return Explanation(tuple(_of_force(each, packs, vocabulary) for each in found), town)
    bare = name.rpartition(":")[2]
    if not any(rule.id == bare for pack in packs for rule in pack.rules):
        raise Unreadable([_no_rule(name, bare, packs, [each.rule.id for each in rules.rules])])
    pack, rule = rule_of_packs(name, packs)
    return Explanation((of_pack(rule, pack, vocabulary),), town, _why_not(pack, rule, rules))


def _why_not(pack: Pack, rule: Rule, rules: RulesInForce) -> str:
    for each in rules.deleted:
        if each.rule.rule.id == rule.id and each.rule.rule.pack == pack.id:
            return f"Deleted here. {change_told(each.history)}"
    adopted = [each.edition for each in rules.packs if each.pack == pack.id]
    if not adopted:
        return f"{pack.document} is not adopted there on this date."
    editions = listing(list(rule.sections))
    return f"{pack.document} {' and '.join(filter(None, adopted))} is adopted there, and the rule is of {editions}."


# --- a rule in words -------------------------------------------------------------------------------------------------


def of_pack(rule: Rule, pack: Pack, vocabulary: Vocabulary) -> RuleExplained:
    """The rule in all its editions, what differs among them marked."""
    known = pack.parameters
    names = [name for name in parameters_read(rule) if name in known]
    numbers = {name: _of_all_editions(known[name], rule, vocabulary) for name in names}
    words = ConditionWords(vocabulary, numbers, editions=True)
    said = tuple(each for name in names for each in _by_value(known[name], rule, vocabulary))
    sections = tuple(
        SectionSaid(
            edition,
            tuple(Citation(pack.document, edition, each) for each in sections),
            rule.checked.get(edition),
        )
        for edition, sections in rule.sections.items()
    )
    own = (SectionSaid(None, rule.cites, rule.checked.get(NO_EDITION)),) if rule.cites else ()
    return _explained(rule, words, vocabulary, pack.document, sections or own, said)


def _of_all_editions(parameter: Parameter, rule: Rule, vocabulary: Vocabulary) -> str:
    """``100 A in 2020, 125 A in 2023 (least rating of a switch)``; one value is said once."""
    values = [f"{text} in {listing(editions)}" for text, editions in _shared(parameter, rule, vocabulary)]
    texts = [text for text, _ in _shared(parameter, rule, vocabulary)]
    return f"{texts[0] if len(texts) == 1 else ', '.join(values)} ({parameter.title})"


def _shared(parameter: Parameter, rule: Rule, vocabulary: Vocabulary) -> list[tuple[str, list[str]]]:
    found: dict[str, list[str]] = {}
    for edition, value in _values(parameter, rule):
        found.setdefault(value_words(value, vocabulary), []).append(edition)
    return list(found.items())


def _values(parameter: Parameter, rule: Rule) -> Iterator[tuple[str, ParameterValue]]:
    """The values of the editions in which the rule exists."""
    for edition, value in parameter.values.items():
        if not rule.sections or edition in rule.sections:
            yield edition, value


def _by_value(parameter: Parameter, rule: Rule, vocabulary: Vocabulary) -> Iterator[NumberSaid]:
    """Each value once, with the editions that share it, its section and how sure it is."""
    found: dict[tuple[str, str, str], list[tuple[str, ParameterValue]]] = {}
    for edition, value in _values(parameter, rule):
        sections = ", ".join(each.section for each in value.cites)
        found.setdefault((value.text, sections, value.checked.sure), []).append((edition, value))
    for pairs in found.values():
        value = pairs[0][1]
        editions = tuple(edition for edition, _ in pairs if edition != NO_EDITION)
        yield NumberSaid(parameter.title, editions, value_words(value, vocabulary), value.cites, value.checked)


def _of_force(rule: RuleInForce, packs: Sequence[Pack], vocabulary: Vocabulary) -> RuleExplained:
    body = rule.rule
    words = ConditionWords(vocabulary, numbers_in_force(rule, vocabulary))
    numbers = tuple(
        NumberSaid(
            rule.parameter_titles.get(name, name.replace("-", " ")),
            (),
            value_words(value, vocabulary),
            value.cites,
            value.checked,
        )
        for name, value in rule.parameters.items()
    )
    document = next((pack.document for pack in packs if pack.id == body.pack), body.pack)
    own = tuple(each for each in rule.cites if each.document == document)
    others = tuple(SectionSaid(None, (each,), None) for each in rule.cites if each not in own)
    sections = (SectionSaid(rule.edition, own, body.checked.get(rule.edition or NO_EDITION)), *others)
    told = _explained(body, words, vocabulary, document, sections, numbers, name=rule.id)
    held = tuple(_held(each, rule.versions[0], vocabulary) for each in rule.versions)
    return replace(told, history=history_told(rule.history), versions=held, interpretations=interpretations_told(rule))


def _held(version: Version, first: Version, vocabulary: Vocabulary) -> str:
    """What one authority holds, told by how it differs from what the first one holds."""
    if version.rule is None:
        return f"{version.held_by}: no such rule"
    if version is first or first.rule is None:
        return f"{version.held_by}: as it stands there"
    found = rules_compared(RuleSide((first.rule,)), RuleSide((version.rule,)), vocabulary).differences
    told = [
        f"{each.what} {each.after or 'no longer'}"
        for rule in found
        for each in rule.differences
        if each.aspect not in ("section", "citation", "wording")
    ]
    return f"{version.held_by}: {', '.join(told) or 'the same'}"


def _explained(
    rule: Rule,
    words: ConditionWords,
    vocabulary: Vocabulary,
    document: str,
    sections: tuple[SectionSaid, ...],
    numbers: tuple[NumberSaid, ...],
    name: str = "",
) -> RuleExplained:
    around = Around(vocabulary.types_of(rule.subject))
    return RuleExplained(
        name=name or f"{rule.pack}:{rule.id}",
        title=rule.title,
        subject=subject_title(rule.subject, vocabulary),
        document=document,
        basis=rule.basis,
        force=rule.force,
        due=rule.due,
        sections=sections,
        when=None if rule.when is None else words.clause(rule.when, around),
        exceptions=tuple(_exception(each, rule, words, vocabulary) for each in rule.unless),
        instead=tuple(
            _requirement(each.id, each.requires, words, around, words.clause(each.condition, around))
            for each in rule.instead
        ),
        requires=None if rule.requires is None else _requirement("", rule.requires, words, around),
        readings=tuple(_requirement(each.held_by, each.requires, words, around) for each in rule.readings),
        look=None if rule.look is None else spoken(rule.look, rule, vocabulary),
        says=spoken(rule.says, rule, vocabulary),
        why=spoken(rule.why, rule, vocabulary),
        numbers=numbers,
        tables=tables_read(rule),
        covers=rule.covers,
    )


def _exception(each: NamedException, rule: Rule, words: ConditionWords, vocabulary: Vocabulary) -> PartSaid:
    around = Around(vocabulary.types_of(rule.subject))
    because = spoken(each.because, rule, vocabulary)
    return PartSaid(because, words.clause(each.condition, around), tuple(sorted(each.editions)))


def _requirement(
    name: str, requires: Requires, words: ConditionWords, around: Around, where: Clause | None = None
) -> RequirementSaid:
    parts = tuple(PartSaid(each, words.clause(condition, around)) for each, condition in requires.parts.items())
    return RequirementSaid(name, requires.any_way and len(parts) > 1, parts, where)


# --- on a site -------------------------------------------------------------------------------------------------------


def on_site(job: Job, rules: Iterable[RuleInForce]) -> tuple[OnSubject, ...]:
    """The rule on each of its subjects, in the order of the drawing."""
    view = view_of_job(job)
    titles: Mapping[str, str] = {}
    desk = Desk(view, job.rules.date, titles)
    found = tuple(
        _one(desk, Planned(rule, subject, belongs), job.catalog, job.rules.date)
        for rule in rules
        for subject, belongs in subjects_of(rule.rule.subject, view)
    )
    findings = (each.finding for each in found)
    covered = permitted(findings, job.rules.permissions, site_name_of(job.site), job.rules.date).findings
    return tuple(replace(each, finding=finding) for each, finding in zip(found, covered, strict=True))


def _one(desk: Desk, planned: Planned, catalog: Catalog, on: date) -> OnSubject:
    """As in a review a rule that breaks is told as broken."""
    try:
        return _on_subject(desk, planned, catalog, on)
    except Exception as error:  # noqa: BLE001  whatever breaks is told as this rule's own
        broken = rule_error(desk, planned, f"{type(error).__name__}: {error}")
        return OnSubject(broken, Truth.UNKNOWN, None, (), ())


def _on_subject(desk: Desk, planned: Planned, catalog: Catalog, on: date) -> OnSubject:
    evidence = SiteEvidence(desk.view)
    evaluation = evaluate(planned.rule, planned.subject, planned.belongs, evidence, on)
    look, body = evaluation.look, planned.rule.rule
    return OnSubject(
        finding(desk, planned, evaluation),
        look.belongs.truth,
        None if body.when is None else _asked("", look.when, catalog),
        tuple(_asked(each.because, look.exceptions[each.id], catalog) for each in body.unless),
        tuple(_parts(planned.rule, evaluation, catalog)),
    )


def _parts(rule: RuleInForce, evaluation: Evaluation, catalog: Catalog) -> Iterator[Asked]:
    look = evaluation.look
    for name, judged in look.parts.items():
        yield _asked(name.replace("_", " ").replace("-", " "), judged, catalog)
    for each in rule.rule.readings:
        yield _asked(f"as read by {each.held_by}", look.readings[each.name], catalog)


def _asked(what: str, judged: Judged, catalog: Catalog) -> Asked:
    return Asked(what, judged.truth, tuple(check_of(catalog, each) for each in judged.comparisons))
