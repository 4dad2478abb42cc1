"""Layers made up from the rules of the shipped packs, and what a review of a fixture comes to under them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from pathlib import Path

from hypothesis import strategies as st

from checker.facts.view import View
from checker.findings.judging.evaluation import Evaluation, evaluate
from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.outcomes import Outcome
from checker.findings.judging.plan import plan
from checker.findings.review import Job, view_of
from checker.rules.layers import model
from checker.rules.layers.apply import amended
from checker.rules.layers.at_work import AtWork
from checker.rules.layers.model import Change, Layer, Terms
from checker.rules.model.citing import Checked, Citation
from checker.rules.model.conditions import Condition, Group
from checker.rules.model.force import Basis
from checker.rules.model.in_force import RuleInForce
from checker.rules.model.numbers import ParameterValue
from checker.rules.model.profile import May
from checker.rules.model.rule import NamedException
from checker.rules.walk import conditions_of
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of
from checker.values.positions import Position
from checker.values.possible import Possible, number

FIXTURES = Path(__file__).parents[2] / "fixtures"
SITES = sorted(path.parent.name for path in FIXTURES.glob("*/site.yaml"))
HERE = Position("layer.yaml", 1, 1)
CITES = (Citation("Made-up law", None, "1", verify=False),)
LAYER = "made-up-law"


@dataclass(frozen=True, slots=True)
class Judgement:
    """What a rule comes to for one subject."""

    rule: str
    evaluation: Evaluation

    @property
    def outcome(self) -> Outcome:
        """The outcome of the finding."""
        return self.evaluation.outcome


Found = Mapping[str, Judgement]


@cache
def job(site: str) -> Job:
    """A fixture with the rules that are in force there."""
    return job_of(FIXTURES / site / "site.yaml", Library.shipped(), Overrides())


@cache
def _view(site: str) -> View:
    return view_of(job(site).site, job(site).catalog)


def findings(site: str, rules: Iterable[RuleInForce]) -> Found:
    """What these rules come to on a fixture, by the id of the finding; the facts are worked out once."""
    own, view = job(site), _view(site)
    planned = plan(replace(own.rules, rules=tuple(rules)), view)
    evidence = SiteEvidence(view)
    return {
        f"{each.rule.id}@{each.subject.id}": Judgement(
            each.rule.name, evaluate(each.rule, each.subject, each.belongs, evidence, own.rules.date)
        )
        for each in planned
    }


@cache
def before(site: str) -> Found:
    """What the rules in force come to, without permissions."""
    return findings(site, job(site).rules.rules)


@dataclass(frozen=True, slots=True)
class Laid:
    """A fixture under one more layer: the findings of the rules that it changes, before and after."""

    before: Found
    after: Found


def laid(site: str, layer: Layer, may: May) -> Laid:
    """Put a layer on the rules of a fixture. Only the rules that it changes are judged again."""
    rules = job(site).rules.rules
    changed = amended(rules, [AtWork(layer, may, 1, job(site).rules.date)]).rules
    same = {id(each) for each in rules}
    again = tuple(each for each in changed if id(each) not in same)
    names = {each.name for each in again} | ({each.name for each in rules} - {each.name for each in changed})
    return Laid({key: each for key, each in before(site).items() if each.rule in names}, findings(site, again))


def eased(found: Laid) -> list[str]:
    """Corrections that are met, do not apply or are gone under the layer."""
    return [
        f"{name}: {found.after[name].outcome.value if name in found.after else 'gone'}"
        for name, each in found.before.items()
        if each.outcome is Outcome.CORRECTION
        and (name not in found.after or found.after[name].outcome in (Outcome.MET, Outcome.NOT_APPLICABLE))
    ]


# --- layers ----------------------------------------------------------------------------------------------------------


def layer(changes: Sequence[Change], site: str) -> Layer:
    """A layer of these changes, with the numbers that the conditions of the packs read."""
    rules = job(site).rules.rules
    parameters = {name: value for each in rules for name, value in each.parameters.items()}
    tables = {name: value for each in rules for name, value in each.tables.items()}
    return Layer(
        LAYER, "Made-up law", "Made-up law", "Council", Basis.LAW, None, tuple(changes), parameters, tables, {},
        "layer.yaml", "", HERE,
    )  # fmt: skip


def change(rule: RuleInForce, place: int, word: str, what: model.What) -> Change:
    """One change of a rule, always in force."""
    return Change(LAYER, rule.name, rule.name, what, Terms(place, word, None, None, CITES, "", (), HERE))


@cache
def _conditions(site: str) -> Mapping[str, tuple[Condition, ...]]:
    """Conditions that can be asked of each kind of subject: those that rules of the packs ask of it."""
    found: dict[str, list[Condition]] = {}
    for each in job(site).rules.rules:
        for condition in conditions_of(each.rule):
            own = condition.conditions if isinstance(condition, Group) else ()
            found.setdefault(each.rule.subject, []).extend((condition, *own))
    return {subject: tuple(conditions) for subject, conditions in found.items()}


@st.composite
def changes(draw: st.DrawFn, site: str, most: int = 5) -> list[Change]:
    """A few changes of random rules, one of each rule."""
    rules = [each for each in job(site).rules.rules if each.rule.pack in ("nfpa-70", "trade-practice")]
    chosen = draw(st.lists(st.sampled_from(range(len(rules))), min_size=1, max_size=most, unique=True))
    return [draw(_of_rule(rules[each], place, site)) for place, each in enumerate(chosen, start=1)]


@st.composite
def _of_rule(draw: st.DrawFn, rule: RuleInForce, place: int, site: str) -> Change:
    condition = draw(st.sampled_from(_conditions(site)[rule.rule.subject]))
    what = draw(st.sampled_from([*_possible(rule, condition, draw(st.sampled_from(_FACTORS)))]))
    return change(rule, place, type(what).__name__, what)


_FACTORS = (Fraction(0), Fraction(1, 2), Fraction(9, 10), Fraction(1), Fraction(11, 10), Fraction(2), Fraction(10))


def _possible(rule: RuleInForce, condition: Condition, factor: Fraction) -> Iterator[model.What]:
    body = rule.rule
    yield model.DeleteRule()
    yield model.Narrow(condition)
    yield model.AddException(NamedException("so-said", condition, "the council said so", CITES))
    if body.when is not None:
        yield model.Widen(condition)
    if body.requires is not None:
        yield model.AddWay("other_way", condition)
    for name in (*(each.id for each in body.unless), *(each.id for each in body.instead)):
        yield model.EndException(name)
    for name, value in rule.parameters.items():
        yield from _set(rule, name, value, factor)
    yield model.ReplaceRule(replace(body, when=condition, unless=()))
    yield from neutral(rule)


def _set(rule: RuleInForce, name: str, value: ParameterValue, factor: Fraction) -> Iterator[model.What]:
    stricter = stricter_of(rule, name)
    other = value.value.number if isinstance(value.value, Possible) else None
    for apply in (True, False):
        yield model.SetNumber(rule.rule.pack, name, name, stricter, replace(value, value=None, text="no_limit"), apply)
        if other is not None:
            new = number(Fraction(int(other * factor)) if other.denominator == 1 else other * factor)
            yield model.SetNumber(rule.rule.pack, name, name, stricter, replace(value, value=new), apply)


@cache
def _directions() -> Mapping[tuple[str, str], str | None]:
    return {
        (pack.id, name): each.stricter for pack in Library.shipped().packs for name, each in pack.parameters.items()
    }


def stricter_of(rule: RuleInForce, name: str) -> str | None:
    """Which way the packs say that a number gets stricter; not told for a layer's own."""
    return _directions().get((rule.rule.pack, name))


def neutral(rule: RuleInForce) -> Iterator[model.What]:
    """Changes of a rule that change nothing that is asked. A number that authorities do not agree about has no value
    to which it could be set without a change.
    """
    yield model.Renumber(CITES)
    yield model.Confirm(Checked("high", "the book"))
    yield model.Redirect("NFPA 70", None, "Council Code", None, None)
    yield model.PreEmpt(())
    for name, value in () if rule.versions else rule.parameters.items():
        yield model.SetNumber(rule.rule.pack, name, name, stricter_of(rule, name), value, exceptions_apply=True)
