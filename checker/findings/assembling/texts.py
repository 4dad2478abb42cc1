"""Sentences of a rule with their places filled in: {subject}, {FACT}, {PART.found}, {PART.wanted}, {PART.missing}."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from checker.catalog.model import Catalog
from checker.facts.known import Origin
from checker.findings.assembling.naming import figure, known_text
from checker.findings.finding import Check
from checker.findings.judging.conditions import Comparison, Judge, Side
from checker.findings.judging.evaluation import Applied, Evaluation
from checker.findings.judging.evidence import Evidence
from checker.findings.judging.operands import Numbers
from checker.findings.judging.outcomes import Outcome
from checker.findings.judging.paths import Place
from checker.rules.grammar import FOLDS
from checker.rules.model.conditions import FactPath
from checker.rules.model.in_force import RuleInForce
from checker.rules.model.rule import Rule, Told
from checker.rules.reading.placeholders import FOUND, MISSING, WANTED
from checker.rules.wording import listing
from checker.site.model import Subject
from checker.values.truth import Truth

_PLACE = re.compile(r"\{([^{}]+)\}")
NOTHING = "none"
LINKS = frozenset(
    {"normal", "alternate", "fed_from", "from", "to", "a", "b", "site", "service", "subject", "measured_from"}
)


@dataclass(frozen=True, slots=True)
class RuleTexts:
    """The texts of a rule about one subject. ``because`` is empty where the rule may apply, ``look`` where nobody
    must look.
    """

    says: str
    why: str
    remedy: tuple[str, ...]
    cautions: tuple[str, ...]
    because: str
    look: str


def rule_texts(
    rule: RuleInForce,
    subject: Subject,
    words: str,
    evaluation: Evaluation,
    evidence: Evidence,
    checks: tuple[Check, ...],
    on: date,
) -> RuleTexts:
    """Every text of a rule with its places filled in from what was judged; ``words`` names the subject. A cure or a
    caution with a condition is left out where that surely fails.
    """
    body, place = rule.rule, Place(subject, subject)
    judge = Judge(evidence, Numbers.of(rule), on)

    def text(words_of_rule: str) -> str:
        return filled(words_of_rule, words, place, evidence, checks)

    def told(texts: tuple[Told, ...]) -> tuple[str, ...]:
        fit = (each for each in texts if judge.condition(each.when, place).truth is not Truth.NO)
        return tuple(text(each.text) for each in fit)

    def says() -> str:
        holding = (each.text for each in body.says_where if judge.condition(each.when, place).truth is Truth.YES)
        return next(holding, body.says)

    does_not_apply = evaluation.outcome is Outcome.NOT_APPLICABLE
    return RuleTexts(
        says=text(says()),
        why=text(body.why),
        remedy=told(body.remedy),
        cautions=told(body.cautions),
        because=text(_because(evidence.catalog, body, evaluation.look)) if does_not_apply else "",
        look=text(body.look or ""),
    )


def _because(catalog: Catalog, rule: Rule, look: Applied) -> str:
    """Why a rule does not apply: the named exception that holds, or the comparisons that kept it out."""
    for each in rule.unless:
        if look.exceptions[each.id].truth is Truth.YES:
            return each.because
    kept_out = [each for each in look.when.comparisons if each.holds is Truth.NO] or list(look.when.comparisons)
    telling = [each for each in kept_out if not _only_names_members(each)] or kept_out
    reasons = dict.fromkeys(_reason(catalog, each) for each in telling)
    return " and ".join(list(reasons)[:MOST_REASONS])


MOST_REASONS = 2
"""More would not be read."""


def _only_names_members(comparison: Comparison) -> bool:
    """Whether it tells which members a collection has, and what is asked of them is told by other comparisons."""
    return comparison.relation in FOLDS and comparison.found.known.text != NOTHING


def _reason(catalog: Catalog, comparison: Comparison) -> str:
    shown = figure(catalog, comparison.found)
    if _is_left_unsaid(catalog, comparison.found):
        return f"{shown.title} is not said"
    is_empty = comparison.relation in FOLDS and shown.text == NOTHING
    return f"there are no {shown.title}" if is_empty else f"{shown.title} is {shown.text}"


def _is_left_unsaid(catalog: Catalog, side: Side) -> bool:
    """Whether nobody wrote anything of a fact that counts only where it is said: its none is nobody's word."""
    fact = catalog.facts.get(side.fact) if side.fact else None
    return fact is not None and bool(fact.said_only) and side.known.origin is Origin.NOT_SHOWN


def filled(text: str, words: str, place: Place, evidence: Evidence, checks: tuple[Check, ...]) -> str:
    """The text with every place filled in. A place that the rules room let through always has a value."""
    by_part = _by_part(checks)

    def value(match: re.Match[str]) -> str:
        name = match.group(1)
        if name == "subject":
            return words
        part, _, side = name.rpartition(".")
        if side == MISSING:
            return missing_words(each for each in checks if each.part == part)
        if side in (FOUND, WANTED):
            return _of_part(by_part.get(part), side)
        return _fact_text(name, place, evidence)

    return _PLACE.sub(value, text)


def _of_part(check: Check | None, side: str) -> str:
    """One side of the first comparison of a part; a part inside a collection without members has none."""
    if check is None:
        return NOTHING
    figure = check.found if side == "found" else check.wanted
    return NOTHING if figure is None else figure.text


def missing_words(of_part: Iterable[Check]) -> str:
    """What none of the members shows on which a part was compared; where each lacks something else, that."""
    lacking = [each.missing for each in of_part]
    everywhere = [words for words in (lacking[0] if lacking else ()) if all(words in each for each in lacking)]
    return listing(everywhere) if everywhere else "all of it together"


def _by_part(checks: tuple[Check, ...]) -> Mapping[str, Check]:
    first: dict[str, Check] = {}
    for check in checks:
        if check.part is not None:
            first.setdefault(check.part, check)
    return first


def path_of(name: str) -> FactPath:
    """A fact as it stands in a text: links first, then the fact with its part."""
    pieces = name.split(".")
    count = 0
    while count < len(pieces) - 1 and pieces[count] in LINKS:
        count += 1
    return FactPath(tuple(pieces[:count]), ".".join(pieces[count:]))


def _fact_text(name: str, place: Place, evidence: Evidence) -> str:
    path = path_of(name)
    _, known = evidence.fact(place, path)
    return known_text(evidence.catalog.facts.get(path.name), known)
