"""Lint of a town: its layers and profiles, what each change hits, and what the dates make of them together."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from checker.catalog.model import Catalog
from checker.rules.cases.model import Case
from checker.rules.grammar import NO_EDITION
from checker.rules.layers import model
from checker.rules.layers.cases import read_layer_cases
from checker.rules.layers.changing import number_words, sentence
from checker.rules.layers.lint import (
    adoption_notes,
    date_errors,
    date_notes,
    stale_citations,
    unused_numbers,
    unused_papers,
)
from checker.rules.layers.model import Change, Layer
from checker.rules.layers.stack import Stack
from checker.rules.model.citing import Citation
from checker.rules.model.in_force import LayerNotice, RuleInForce
from checker.rules.model.profile import Profile
from checker.rules.model.rule import Rule
from checker.rules.outcomes import compulsory_outcomes, miss_of
from checker.rules.problem_list import ProblemList
from checker.rules.reading.pack_paths import CASES, shown_folder
from checker.rules.vocabulary import Vocabulary
from checker.rules.wording import listing
from checker.tasks.gathering.standing import Standing
from checker.tasks.gathering.town import Town
from checker.tasks.testing.cases import NOT_IN_FORCE, USUAL_DATE
from checker.tasks.testing.layer_cases import run_layer_cases
from checker.tasks.testing.trial import tried, tried_cases
from checker.values.notation import nearest
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable


@dataclass(frozen=True, slots=True)
class HitRule:
    """One rule that a change hits: as pack:id, where it stands, and what the change does to it."""

    name: str
    cites: tuple[Citation, ...]
    told: str


@dataclass(frozen=True, slots=True)
class Hit:
    """One change of a layer: from when until when, by the event of which profile, and the rules it hits. ``told`` says
    what a change does that is about no rule: a number that calculations read, or a reference.
    """

    layer: str
    number: int
    word: str
    written: str
    at: Position
    event: str | None
    start: date | None
    until: date | None
    rules: tuple[HitRule, ...]
    told: str = ""


@dataclass(frozen=True, slots=True)
class TownLint:
    """What is wrong, what deserves a second look, and what each change hits."""

    errors: tuple[Problem, ...]
    warnings: tuple[Problem, ...]
    hits: tuple[Hit, ...]


def lint_town(town: Town, catalog: Catalog) -> TownLint:
    """Everything that can be said of the layers and profiles of a folder that could be read."""
    errors, notes = ProblemList(), ProblemList()
    for profile in town.profiles:
        notes.extend(adoption_notes(profile))
        _check_records(town, profile, errors)
        stale = [each for stack in _stacks_of(town, profile) for each in stale_citations(stack, profile)]
        notes.extend(stale)
        _over_time(town, profile, errors, notes, frozenset(each.at for each in stale))
    errors.extend(_cases_of_nothing(town.folder))
    for stack in town.stacks.values():
        errors.extend(date_errors(stack.layer))
        notes.extend(date_notes(stack.layer))
        notes.extend(unused_numbers(stack.layer))
        errors.extend(_companions_of_nothing(town, stack))
        if not town.unread and not town.profiles_with(stack.layer.id):
            notes.extend([_not_named(stack.layer)])
        notes.extend(unused_papers(stack.layer, (each.layer for each in town.stacks.values())))
        errors.extend(tried(_final_rules(stack), stack.known(catalog)))
        _check_cases(stack, catalog, errors)
    hits = tuple(hit for stack in town.stacks.values() for hit in _hits(town, stack))
    return TownLint(errors.in_order(), notes.in_order(), hits)


def _not_named(layer: Layer) -> Problem:
    return Problem(
        f"No profile beside it names the layer {layer.id}.", layer.at, "Name it under `layers:` of the profile."
    )


def _companions_of_nothing(town: Town, stack: Stack) -> Iterator[Problem]:
    """Rules that a rule of the layer names beside its own cure, or before it, and that are in no pack and no layer."""
    layers = {each.id: each for each in (*stack.below, stack.layer, *(each.layer for each in town.stacks.values()))}
    known = {f"{pack.id}:{rule.id}" for pack in town.packs for rule in pack.rules}
    known |= {f"{layer.id}:{rule.id}" for layer in layers.values() for rule in layer.added}
    known |= {name.rpartition(":")[2] for name in known}
    for rule in (*stack.layer.added, *_replaced(stack.layer)):
        for key, names in (("before", rule.before), ("companions", rule.companions)):
            for name in names:
                if name not in known:
                    sentence = f"`{key}` of `{rule.id}` names `{name}`, which is no rule of a pack or a layer here."
                    remedy = "Write the id of a rule, or pack:id."
                    yield Problem(sentence, rule.at, remedy, nearest(name, sorted(known)))


def _replaced(layer: Layer) -> Iterator[Rule]:
    yield from (each.what.rule for each in layer.changes if isinstance(each.what, model.ReplaceRule))


def _check_records(town: Town, profile: Profile, errors: ProblemList) -> None:
    """Interpretations and special permissions that name no rule would be shown nowhere."""
    known = {f"{pack.id}:{rule.id}" for pack in town.packs for rule in pack.rules}
    known |= {f"{layer.id}:{rule.id}" for layer in town.known.get(profile.id, ()) for rule in layer.added}
    known |= {name.rpartition(":")[2] for name in known} | {rule.id for rule in profile.papers}
    records = [(each.rule, each.at) for each in profile.interpretations]
    for rule, at in (*records, *((each.rule, each.at) for each in profile.permissions)):
        if rule not in known:
            near = errors.near(rule, sorted(known))
            errors.add(f"There is no rule {rule}.", at, "Write the id of a rule, or pack:id.", near)


def _cases_of_nothing(folder: Path) -> Iterator[Problem]:
    """Files of cases beside which there is nothing that they could be cases of: nobody would ever run them."""
    for path in sorted(folder.glob(f"*{CASES}")):
        beside = path.with_name(f"{path.name.removesuffix(CASES)}.yaml")
        if not beside.is_file():
            at = Position(f"{shown_folder(folder)}/{path.name}", 1, 1)
            remedy = "Name the file after the layer beside it."
            yield Problem(f"There is no {beside.name} beside these cases.", at, remedy)


# --- over time -------------------------------------------------------------------------------------------------------


def _stacks_of(town: Town, profile: Profile) -> Iterator[Stack]:
    """The layers of a profile that lie in the folder."""
    return (town.stacks[each.layer] for each in profile.layers if each.layer in town.stacks)


def _over_time(
    town: Town, profile: Profile, errors: ProblemList, notes: ProblemList, stale: frozenset[Position | None]
) -> None:
    """What the rules in force tell on each day on which something begins or has ended; each thing once, with the first
    day. That a stale change hits nothing is told already.
    """
    known = town.known.get(profile.id, ())
    if len(known) < len(profile.layers):
        return
    here = Standing(profile, town.packs, known)
    first: dict[LayerNotice, date] = {}
    for day in _days(profile, known):
        try:
            found = here.on(day)
        except Unreadable as error:
            errors.extend(error.problems)
            return
        for notice in found.notices:
            if notice.kind != "may_elect" and not (notice.kind == "nothing_to_change" and notice.at in stale):
                first.setdefault(notice, day)
    for notice, day in first.items():
        notes.add(f"On {day} in {profile.title}: {notice.sentence}", notice.at, notice.remedy)


def _days(profile: Profile, layers: Sequence[Layer]) -> list[date]:
    """The days from the first adoption on on which the rules can become others."""
    adopted = [each.start for each in profile.documents]
    days = {*adopted, *(each.start for each in profile.layers if each.start is not None)}
    for layer in layers:
        for change in layer.changes:
            days |= {each for each in (change.terms.start, change.terms.until) if each is not None}
    return sorted(each for each in days if each >= min(adopted, default=date.max))


# --- what each change hits -------------------------------------------------------------------------------------------


def _hits(town: Town, stack: Stack) -> Iterator[Hit]:
    profiles = town.profiles_with(stack.layer.id)
    event = _event(profiles[0], stack.layer.id) if profiles else None
    by_number: dict[int, list[Change]] = defaultdict(list)
    for change in stack.layer.changes:
        by_number[change.terms.number].append(change)
    for number, changes in by_number.items():
        first = changes[0]
        yield Hit(
            stack.layer.id,
            number,
            first.terms.word.replace("_", " "),
            first.written,
            first.terms.at,
            event,
            first.terms.start,
            first.terms.until,
            tuple(_hit(stack, each) for each in changes if each.rule),
            "" if first.rule else _about_no_rule(stack, first),
        )


def _about_no_rule(stack: Stack, change: Change) -> str:
    what = change.what
    if not isinstance(what, model.SetNumber):
        return sentence(None, change)
    amends = stack.layer.amends
    pack = next(each for each in stack.packs if each.id == what.pack)
    edition = amends[1] if amends is not None and amends[0] == pack.document else NO_EDITION
    return number_words(what, pack.parameters[what.parameter].values.get(edition))


def _event(profile: Profile, layer: str) -> str:
    """The event whose date counts for a layer."""
    own = next((each.event for each in profile.layers if each.layer == layer), None)
    return own or profile.event


def _hit(stack: Stack, change: Change) -> HitRule:
    before = stack.before(change.rule, stack.usual_edition(change.rule), change.terms.start or USUAL_DATE)
    if isinstance(change.what, model.AddRule):
        return HitRule(change.rule, change.what.rule.cites, change.what.rule.title)
    elsewhere = "; only once an edition that has this rule is adopted" if stack.is_elsewhere(change.rule) else ""
    return HitRule(change.rule, () if before is None else before.cites, f"{sentence(before, change)}{elsewhere}")


# --- rules of the layer ----------------------------------------------------------------------------------------------


def _final_rules(stack: Stack) -> Iterator[RuleInForce]:
    """Every rule that the layer adds or changes, once all its changes of it have begun."""
    for name, changes in stack.touched().items():
        if all(isinstance(each.what, _LEAVE_CONDITIONS) for each in changes):
            continue
        day = stack.usual_day(name) or USUAL_DATE
        found = stack.rule_on(name, stack.usual_edition(name), day)
        if found is not None:
            yield found


_LEAVE_CONDITIONS = (model.Renumber, model.Confirm, model.Redirect, model.PreEmpt, model.DeleteRule, model.LimitRule)
"""Changes after which the rule asks what it asked."""

# --- cases -----------------------------------------------------------------------------------------------------------


def _check_cases(stack: Stack, catalog: Catalog, errors: ProblemList) -> None:
    try:
        cases = read_layer_cases(stack, catalog)
    except Unreadable as error:
        errors.extend(error.problems)
        return
    vocabulary = Vocabulary(stack.known(catalog))
    errors.extend(_missing(stack, cases, vocabulary))
    results = list(run_layer_cases(stack, cases, catalog))
    added = [each for each in stack.layer.added if any(case.rule == each.id for case in cases)]
    errors.extend(tried_cases(added, cases, results, vocabulary))


def _missing(stack: Stack, cases: Sequence[Case], vocabulary: Vocabulary) -> Iterator[Problem]:
    """A change without the cases that show it. One change of several rules is shown on any one of them."""
    by_number: dict[int, list[Change]] = defaultdict(list)
    for change in stack.layer.changes:
        by_number[change.terms.number].append(change)
    for changes in by_number.values():
        missing = [list(_missing_outcomes(stack, each, cases, vocabulary)) for each in changes if each.rule]
        if missing and all(missing):
            shortest = min(missing, key=len)
            change = changes[missing.index(shortest)]
            rule = change.rule.rpartition(":")[2]
            none = all(case.rule != rule for case in cases)
            does = _PAST.get(change.terms.word, "changes")
            what = f"`{rule}`, which change {change.terms.number} of {change.layer} {does}"
            yield Problem(
                f"There is no case of {what}." if none else f"No case of {what}, shows {listing(shortest)}.",
                change.terms.at,
                f"Write {listing(shortest)} into {stack.path.stem}.cases.yaml beside the layer.",
            )


_PAST = {"add": "adds", "ask_for": "adds", "delete": "deletes", "replace": "replaces"}


def _missing_outcomes(stack: Stack, change: Change, cases: Sequence[Case], vocabulary: Vocabulary) -> Iterator[str]:
    shown = {case.outcome for case in cases if case.rule == change.rule.rpartition(":")[2]}
    yield from (each for each in _wanted(stack, change, vocabulary) if each not in shown)


def _wanted(stack: Stack, change: Change, vocabulary: Vocabulary) -> tuple[str, ...]:
    """The outcomes that the cases of a change must show: of a rule that is written there all that a pack must show, of
    a change those between which it moves the rule.
    """
    what = change.what
    if isinstance(what, model.AddRule | model.ReplaceRule):
        return compulsory_outcomes(what.rule, vocabulary)
    if isinstance(what, model.DeleteRule | model.LimitRule):
        return (NOT_IN_FORCE,)
    forms = tuple(stack.forms(change.rule))
    if not forms or forms[-1].look is not None or isinstance(what, _LEAVE_CONDITIONS):
        return ()
    if isinstance(what, model.SetNumber | model.AddWay):
        return ("met", miss_of(forms[-1]))
    return ("not_applicable",) if isinstance(what, model.AddException | model.Narrow) else (miss_of(forms[-1]),)
