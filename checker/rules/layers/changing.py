"""One change applied to one rule in force."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from checker.rules.layers import model
from checker.rules.layers.model import Change, Layer
from checker.rules.model.citing import Citation
from checker.rules.model.conditions import Condition, Group
from checker.rules.model.force import Harm
from checker.rules.model.in_force import History, RuleInForce
from checker.rules.model.numbers import ParameterValue, TableValues
from checker.rules.model.rule import Requires, Rule
from checker.rules.walk import parameters_read, tables_read
from checker.rules.wording import counts_for

_Number = TypeVar("_Number", ParameterValue, TableValues)

OWN_REQUIREMENT = "as-the-model-code-has-it"
"""The name of the way that the rule had before another way was added, where its parts were all asked for together."""


@dataclass(frozen=True, slots=True)
class Held:
    """By which event a layer counts, None where nobody says, and in words where it holds, if not everywhere."""

    event: str | None = None
    where: str = ""


ALWAYS = Held()


def changed(rule: RuleInForce, change: Change, layer: Layer, held: Held = ALWAYS) -> RuleInForce | None:
    """The rule after the change, with its history; None where it is no longer there."""
    if isinstance(change.what, model.DeleteRule | model.LimitRule):
        return None
    after = _changed(rule, change, layer)
    return (
        after
        if isinstance(change.what, model.Confirm)
        else replace(after, history=(*after.history, history(rule, change, layer, held)))
    )


def has_effect(rule: RuleInForce, change: Change) -> bool:
    """Whether the rule as it stands on this date has what the change speaks of; another layer may have taken it away,
    and not every edition has it. Of a rule in versions: whether one of them has it.
    """
    if rule.versions:
        return any(each.rule is not None and has_effect(each.rule, change) for each in rule.versions)
    what, body = change.what, rule.rule
    if isinstance(what, model.SetNumber):
        return what.parameter in parameters_read(body) and body.pack == what.pack
    if isinstance(what, model.EndException):
        return what.id in (*(each.id for each in body.unless), *(each.id for each in body.instead))
    if isinstance(what, model.AddWay):
        return body.requires is not None
    return not isinstance(what, model.Widen) or body.when is not None


def _changed(rule: RuleInForce, change: Change, layer: Layer) -> RuleInForce:
    what = change.what
    if isinstance(what, model.SetNumber):
        return _with_number(rule, what, change)
    if isinstance(what, model.Renumber):
        return replace(rule, cites=(*what.cites, *rule.cites))
    if isinstance(what, model.Confirm):
        sure = what.checked.confirmed
        return replace(rule, cites=tuple(replace(each, verify=not sure) for each in rule.cites))
    if isinstance(what, model.Redirect):
        return replace(rule, cites=tuple(_redirected(each, what) for each in rule.cites))
    body = _with_body(rule.rule, what, layer)
    replaced = isinstance(what, model.ReplaceRule)
    kept = replace(rule, parameters={}, tables={}, authority=layer.authority) if replaced else rule
    return _with_numbers_of(replace(kept, rule=body, cites=_cites(rule, change)), layer)


def _with_body(rule: Rule, what: model.What, layer: Layer) -> Rule:
    if isinstance(what, model.ReplaceRule):
        harm = rule.harm if what.rule.harm is Harm.NONE else what.rule.harm
        return replace(what.rule, id=rule.id, pack=rule.pack, covers=rule.covers, harm=harm)
    if isinstance(what, model.AddException):
        name = _free(what.exception.id, (each.id for each in rule.unless), layer)
        return replace(rule, unless=(*rule.unless, replace(what.exception, id=name)))
    if isinstance(what, model.EndException):
        unless = tuple(each for each in rule.unless if each.id != what.id)
        return replace(rule, unless=unless, instead=tuple(each for each in rule.instead if each.id != what.id))
    if isinstance(what, model.Widen):
        return rule if rule.when is None else replace(rule, when=Group("any", (rule.when, what.condition)))
    if isinstance(what, model.Narrow):
        return replace(rule, when=both(rule.when, what.condition))
    assert isinstance(what, model.AddWay)
    assert rule.requires is not None
    name = _free(what.name, rule.requires.parts, layer)
    return replace(rule, requires=_with_way(rule.requires, replace(what, name=name)))


def _free(name: str, taken: Iterable[str], layer: Layer) -> str:
    """The name, with the layer behind it where another has used it: of two of one name one would hide the other."""
    names = frozenset(taken)
    while name in names:
        name = f"{name}-{layer.id}"
    return name


def both(one: Condition | None, other: Condition) -> Condition:
    """Two conditions that must hold together; the first may be missing."""
    return other if one is None else Group("all", (one, other))


def _with_way(requires: Requires, what: model.AddWay) -> Requires:
    if requires.any_way:
        return Requires({**requires.parts, what.name: what.condition}, any_way=True)
    parts = tuple(requires.parts.values())
    own = parts[0] if len(parts) == 1 else Group("all", parts)
    name = next(iter(requires.parts)) if len(parts) == 1 else OWN_REQUIREMENT
    return Requires({name: own, what.name: what.condition}, any_way=True)


def _with_number(rule: RuleInForce, what: model.SetNumber, change: Change) -> RuleInForce:
    body = rule.rule if what.exceptions_apply is not False else replace(rule.rule, unless=())
    parameters = {**rule.parameters, what.parameter: what.value}
    return replace(rule, rule=body, parameters=parameters, cites=_cites(rule, change))


def _cites(rule: RuleInForce, change: Change) -> tuple[Citation, ...]:
    """What the rule rests on, and then what the change rests on; of a replaced rule only the latter."""
    own = () if isinstance(change.what, model.ReplaceRule) else rule.cites
    return (*own, *(each for each in change.terms.cites if each not in own))


def _with_numbers_of(rule: RuleInForce, layer: Layer) -> RuleInForce:
    """The rule with the numbers of the layer that its new words read."""
    parameters = _read(parameters_read(rule.rule), rule.parameters, layer.parameters)
    tables = _read(tables_read(rule.rule), rule.tables, layer.tables)
    titles = {**layer.parameter_titles, **rule.parameter_titles}
    return replace(
        rule,
        parameters=parameters,
        tables=tables,
        parameter_titles={name: titles[name] for name in parameters if name in titles},
    )


def _read(names: tuple[str, ...], own: Mapping[str, _Number], more: Mapping[str, _Number]) -> dict[str, _Number]:
    known = {**more, **own}
    return {name: known[name] for name in names if name in known}


def _redirected(cite: Citation, what: model.Redirect) -> Citation:
    if not model.is_redirected(cite, what):
        return cite
    return Citation(what.to_document, what.to_edition, what.to_section or cite.section, cite.verify)


def added(rule: Rule, layer: Layer, change: Change, held: Held = ALWAYS) -> RuleInForce:
    """A rule of the layer's own, in force."""
    found = RuleInForce(rule, None, layer.authority, rule.cites, {}, {}, {}, (history(None, change, layer, held),))
    return _with_numbers_of(found, layer)


def history(before: RuleInForce | None, change: Change, layer: Layer, held: Held = ALWAYS) -> History:
    """What the change did, as the finding tells it."""
    terms = change.terms
    words = ", ".join(filter(None, (sentence(before, change, held.event), held.where and f"where {held.where}")))
    own = isinstance(change.what, model.AddRule)
    return History(layer.id, layer.authority, words, terms.start, terms.cites, terms.reason, own, event=held.event)


def sentence(before: RuleInForce | None, change: Change, event: str | None = None) -> str:
    """The change in a few words, without who made it; nothing for a rule of the authority's own. Dates of a limit are
    those of the event.
    """
    what = change.what
    if isinstance(what, model.SetNumber):
        return number_words(what, before.parameters.get(what.parameter) if before is not None else None)
    if isinstance(what, model.AddException):
        return f"exception more: {what.exception.because}"
    if isinstance(what, model.EndException):
        return f"without the exception {what.id}"
    if isinstance(what, model.AddWay):
        return f"one way more: {what.name.replace('_', ' ').replace('-', ' ')}"
    if isinstance(what, model.LimitRule):
        return _limit_words(change, event)
    if isinstance(what, model.Redirect):
        return _redirect_words(what, before)
    return _WORDS[type(what)]


def number_words(what: model.SetNumber, old: ParameterValue | None) -> str:
    """A number that is set, with the one before it where that is known."""
    was = f" instead of {old.text}" if old is not None else ""
    dropped = "; exceptions do not apply" if what.exceptions_apply is False else ""
    return f"{what.title}: {what.value.text}{was}{dropped}"


_WORDS: dict[type, str] = {
    model.AddRule: "",
    model.ReplaceRule: "another text in the place of the model code's",
    model.Widen: "applies to more than in the model code",
    model.Narrow: "applies to less than in the model code",
    model.DeleteRule: "not adopted",
    model.Renumber: "numbered as its own section",
    model.Confirm: "compared with its source",
    model.PreEmpt: "left to no lower authority",
}


def _redirect_words(what: model.Redirect, before: RuleInForce | None) -> str:
    cites = () if before is None else (each for each in before.cites if model.is_redirected(each, what))
    sections = " and ".join(" ".join(filter(None, (each.document, each.edition, each.section))) for each in cites)
    place = " ".join(filter(None, (what.to_document, what.to_edition, what.to_section)))
    return f"{sections or what.document} is read as {place}"


def _limit_words(change: Change, event: str | None) -> str:
    start, until = change.terms.start, change.terms.until
    if event is not None:
        return f"counts only {counts_for(event, start, until)}"
    since = f" from {start}" if start is not None else ""
    ends = f" until {until}" if until is not None else ""
    return f"counts only{since}{ends}"
