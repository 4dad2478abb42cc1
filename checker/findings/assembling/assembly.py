"""From an evaluation to a finding that can be printed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from checker.catalog.model import Catalog, Stage
from checker.facts.known import Leaf
from checker.facts.view import View
from checker.findings.assembling.break_even import break_even, break_even_of_miss
from checker.findings.assembling.causes import follows_from
from checker.findings.assembling.naming import figure, leaf_name, subject_name
from checker.findings.assembling.needs import needs, open_leaves
from checker.findings.assembling.packet import papers_asked
from checker.findings.assembling.signs import signs
from checker.findings.assembling.texts import rule_texts
from checker.findings.assembling.told import history_told, interpretations_told
from checker.findings.finding import (
    BreakEven,
    Check,
    ExceptionResult,
    Figure,
    Finding,
    Need,
    ReadingResult,
    VersionResult,
    Way,
)
from checker.findings.judging.conditions import Comparison
from checker.findings.judging.evaluation import Applied, Evaluation, evaluate
from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.outcomes import Outcome, Outcomes
from checker.findings.judging.plan import Planned
from checker.rules.model.in_force import RuleInForce
from checker.values.truth import Truth


@dataclass(frozen=True, slots=True)
class Desk:
    """What assembling findings needs besides the evaluation: the facts, and the titles of all rules in force."""

    view: View
    on: date
    titles: Mapping[str, str]


def finding(desk: Desk, planned: Planned, evaluation: Evaluation) -> Finding:
    """The finding of one planned rule. It is numbered later, when all findings are in order."""
    rule, view, look = planned.rule, desk.view, evaluation.look
    evidence = SiteEvidence(view)
    body, outcome = rule.rule, evaluation.outcome
    name = subject_name(view, planned.subject)
    checks = tuple(checks_of(view.ground.catalog, look))
    leaves = open_leaves(evaluation, evidence) if outcome is Outcome.NEEDS_INFORMATION else ()
    waiting = needs(leaves, evidence)
    texts = rule_texts(rule, planned.subject, name.words, evaluation, evidence, checks, desk.on)

    return Finding(
        id=f"{rule.id}@{name.known_as}",
        number=0,
        rule=body.id,
        title=body.title,
        subject=name,
        outcome=outcome,
        could_be=_in_order(evaluation.possible),
        without_permission=None,
        due=_due(body.due, waiting),
        force=body.force,
        basis=body.basis,
        authority=rule.authority,
        cites=rule.cites,
        checks=checks,
        exceptions=tuple(
            ExceptionResult(each.id, look.exceptions[each.id].truth, each.because, each.cites) for each in body.unless
        ),
        ways=tuple(_ways(view, look)),
        readings=tuple(
            ReadingResult(each.name, each.held_by, look.readings[each.name].truth) for each in body.readings
        ),
        history=history_told(rule.history),
        break_even=_turn(desk, planned, evaluation, leaves),
        follows_from=follows_from(planned, evaluation, view, desk.on),
        before=body.before,
        companions=_companions(desk, body.companions),
        who_acts=body.who_acts,
        needs=waiting,
        assumed=_assumed(desk, planned, evaluation),
        unconfirmed=tuple(sorted(_unconfirmed(rule, evaluation))),
        says=texts.says,
        why=texts.why,
        remedy=texts.remedy,
        cautions=texts.cautions,
        because=texts.because,
        look=texts.look,
        covers=body.covers,
        reasons=tuple(dict.fromkeys(_reasons(look))) if outcome is Outcome.NEEDS_INFORMATION else (),
        versions=tuple(VersionResult(each.held_by, _in_order(each.possible)) for each in evaluation.versions),
        interpretations=interpretations_told(rule),
        pack=body.pack,
        signs=signs(view, desk.on, planned, evaluation, name.words),
        papers=papers_asked(view, desk.on, planned) if outcome is not Outcome.NOT_APPLICABLE else (),
        harm=body.harm,
    )


def _in_order(outcomes: Outcomes) -> tuple[Outcome, ...]:
    return tuple(sorted(outcomes, key=lambda each: each.order))


def _turn(desk: Desk, planned: Planned, evaluation: Evaluation, leaves: tuple[Leaf, ...]) -> BreakEven | None:
    if evaluation.outcome in (Outcome.CORRECTION, Outcome.RECOMMENDATION):
        return break_even_of_miss(planned, evaluation.look, desk.view, desk.on)
    return break_even(planned, leaves, desk.view, desk.on)


def _companions(desk: Desk, names: Iterable[str]) -> tuple[str, ...]:
    """The titles of those that are in force; a rule of another pack is named with its pack."""
    return tuple(desk.titles[name] for name in names if name in desk.titles)


def _reasons(look: Applied) -> Iterator[str]:
    """Why facts are not decided although something is said of them: figures that do not agree, limits of a
    calculation.
    """
    for judged in look.everything:
        for comparison in judged.comparisons:
            if comparison.holds is Truth.UNKNOWN and comparison.matters:
                for side in (comparison.found, *comparison.wanted):
                    yield from side.known.reasons


def rule_error(desk: Desk, planned: Planned, error: str) -> Finding:
    """The finding of a rule that broke: nothing about the site may be read from it."""
    name, body = subject_name(desk.view, planned.subject), planned.rule.rule
    return Finding(
        id=f"{planned.rule.id}@{name.known_as}",
        number=0,
        rule=body.id,
        title=body.title,
        subject=name,
        outcome=Outcome.RULE_ERROR,
        could_be=(Outcome.RULE_ERROR,),
        without_permission=None,
        due=body.due,
        force=body.force,
        basis=body.basis,
        authority=planned.rule.authority,
        cites=planned.rule.cites,
        checks=(),
        exceptions=(),
        ways=(),
        readings=(),
        history=(),
        break_even=None,
        follows_from=None,
        before=(),
        companions=(),
        who_acts=body.who_acts,
        needs=(),
        assumed=(),
        unconfirmed=(),
        says=f"This rule broke and says nothing about {name.words}: {error}",
        why="",
        remedy=("Run rules lint and rules test on the pack, and tell whoever keeps it.",),
        cautions=(),
        harm=body.harm,
    )


def checks_of(catalog: Catalog, look: Applied) -> Iterator[Check]:
    """Every comparison, the requirement first, then the readings, then what brought the rule into play."""
    required = (look.requires,) if look.requires is not None else ()
    for judged in (*required, *look.readings.values(), look.when, *look.exceptions.values()):
        yield from (check_of(catalog, comparison) for comparison in judged.comparisons)


def check_of(catalog: Catalog, comparison: Comparison) -> Check:
    """One comparison as it is printed."""
    flag = comparison.relation in ("known", "present")
    return Check(
        comparison.part,
        comparison.holds,
        comparison.relation,
        figure(catalog, comparison.found),
        None if not comparison.wanted or flag else _wanted(catalog, comparison),
        comparison.direct,
        tuple(_missing(catalog, comparison)),
    )


def _missing(catalog: Catalog, comparison: Comparison) -> Iterator[str]:
    """Of several choices that are wanted at once each that is surely not there."""
    fact = catalog.facts.get(comparison.found.fact or "")
    if comparison.relation != "includes_all" or fact is None:
        return
    shown = comparison.found.known.value
    if shown.anything or shown.undefined:
        return
    perhaps = frozenset(name for each in shown.sets for name in each.perhaps)
    for choice, words in fact.choices.items():
        wanted = any(choice in each.surely for side in comparison.wanted for each in side.known.value.sets)
        if wanted and choice not in perhaps:
            yield words


def _wanted(catalog: Catalog, comparison: Comparison) -> Figure:
    """What is wanted as it is printed; both ends of a span."""
    first, *others = (figure(catalog, each, like=comparison.found) for each in comparison.wanted)
    if comparison.relation != "between" or not others:
        return first
    return replace(first, text=f"{first.text} and {others[0].text}")


def _ways(view: View, look: Applied) -> Iterator[Way]:
    if not look.any_way:
        return
    for name, judged in look.parts.items():
        lacks = tuple(check_of(view.ground.catalog, each) for each in judged.comparisons if each.holds is not Truth.YES)
        yield Way(name, judged.truth, lacks)


def _due(due: Stage, waiting: Iterable[Need]) -> Stage:
    """The later of the rule's own stage and the stage at which what it waits for is normally known."""
    return max((due, *(need.stage for need in waiting)), key=lambda stage: stage.order)


def _leaves(evaluation: Evaluation) -> frozenset[Leaf]:
    return frozenset().union(*(judged.leaves for look in evaluation.looks for judged in look.everything))


def _assumed(desk: Desk, planned: Planned, evaluation: Evaluation) -> tuple[str, ...]:
    """The assumed facts without which something else could come out; none where all of them together change nothing."""
    assumed = {leaf for leaf in _leaves(evaluation) if _is_assumed(desk.view, leaf)}
    if not assumed or not _would_differ(desk, planned, evaluation, assumed):
        return ()
    deciding = [leaf for leaf in assumed if _would_differ(desk, planned, evaluation, {leaf})]
    return tuple(sorted(leaf_name(leaf) for leaf in deciding or assumed))


def _is_assumed(view: View, leaf: Leaf) -> bool:
    stated = view.ground.site.stated(leaf.subject, leaf.name)
    return stated is not None and stated.assumed


def _would_differ(desk: Desk, planned: Planned, evaluation: Evaluation, unknown: Iterable[Leaf]) -> bool:
    """Whether the finding would be another one if nothing were said of these facts."""
    facts = desk.view.ground.catalog.facts
    without = SiteEvidence(desk.view.pinned({leaf: facts[leaf.name].anything() for leaf in unknown}))
    return evaluate(planned.rule, planned.subject, planned.belongs, without, desk.on).outcome is not evaluation.outcome


def _unconfirmed(rule: RuleInForce, evaluation: Evaluation) -> Iterator[str]:
    for name in evaluation.numbers_read:
        parameter, table = rule.parameters.get(name), rule.tables.get(name)
        checked = parameter.checked if parameter is not None else table.checked if table is not None else None
        if checked is not None and not checked.confirmed:
            yield name
