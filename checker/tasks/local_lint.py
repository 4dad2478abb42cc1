"""Lint of an office's folder: what is wrong or doubtful in its layers, profiles and cases."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from checker.catalog.model import Catalog
from checker.rules.layers import model
from checker.rules.layers.apply import AtWork, amended
from checker.rules.lint import Lint, missing_cases
from checker.rules.model import May, Pack, Profile
from checker.rules.pack_paths import CASES, shown_folder
from checker.rules.problem_list import ProblemList
from checker.rules.vocabulary import Vocabulary
from checker.rules.wording import choice_of, listing
from checker.tasks.layer_cases import cases_path, read_layer_cases
from checker.tasks.layer_effects import Effect, effects
from checker.tasks.layer_rules import LayerRules
from checker.tasks.local_folder import LocalLayer, read_local_folder
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable


@dataclass(frozen=True, slots=True)
class LocalLint:
    """What is wrong or doubtful, and what the changes of the layers do."""

    lint: Lint
    effects: tuple[Effect, ...]


def lint_local_folder(folder: Path, packs: Sequence[Pack], catalog: Catalog, shipped: Path) -> LocalLint:
    """Everything that can be said of the layers and profiles of a folder, also where some cannot be read."""
    found = read_local_folder(folder, packs, catalog, shipped)
    errors, warnings = ProblemList(), ProblemList()
    errors.extend(found.problems)
    vocabulary = Vocabulary(catalog)
    told: list[Effect] = []
    for local in found.layers:
        rules = LayerRules(local.layer, local.below, packs)
        _check_cases(rules, local, vocabulary, errors, warnings)
        warnings.extend(_doubts(rules, local))
        told += effects(rules, local.event)
    layers = [each.layer for each in found.layers]
    for profile in found.profiles:
        errors.extend(_profile(profile, packs, layers))
    errors.extend(_cases_of_nothing(folder))
    return LocalLint(Lint(errors.in_order(), warnings.in_order()), tuple(told))


def _check_cases(
    rules: LayerRules, local: LocalLayer, vocabulary: Vocabulary, errors: ProblemList, warnings: ProblemList
) -> None:
    """Rules of the layer's own show all their outcomes; of a rule that it changes there should be some case."""
    try:
        cases = read_layer_cases(rules, local.path, vocabulary.catalog)
    except Unreadable as error:
        errors.extend(error.problems)
        return
    where = cases_path(local.path).name
    for name in rules.named():
        change = rules.changes_of(name)[0]
        own = [each for each in cases if each.rule == name.rpartition(":")[2]]
        if isinstance(change.what, model.AddRule):
            rule = change.what.rule
            errors.extend(missing_cases(rule, own, vocabulary) if own else [_no_cases(rule.id, change, where)])
        elif not own and not isinstance(change.what, model.Renumber | model.Confirm | model.PreEmpt):
            warnings.extend([_no_cases(name.rpartition(":")[2], change, where)])


def _no_cases(rule: str, change: model.Change, where: str) -> Problem:
    return Problem(f"`{rule}` has no cases under this change.", change.terms.at, f"Write them into {where}.")


def _doubts(rules: LayerRules, local: LocalLayer) -> Iterator[Problem]:
    """What the rules in force would be told of on the day on which everything counts."""
    layer = local.layer
    starts = [each.terms.start for each in layer.changes if each.terms.start is not None]
    if local.event is None:
        yield Problem(
            f"No profile here names the layer {layer.id}, so nothing brings it into force.",
            layer.at,
            "Write it under `layers:` of a profile.",
        )
    for day in sorted(set(starts)) or [rules.usual_day("")]:
        may = local.may or May.ANYTHING
        below = [AtWork(each, May.ANYTHING, rank, day) for rank, each in enumerate(local.below)]
        made = amended(rules.base(), [*below, AtWork(layer, may, len(below), day)])
        for notice in made.notices:
            if notice.at is not None and notice.at.file == layer.at.file:
                yield Problem(notice.sentence, notice.at, notice.remedy)


# --- profiles -------------------------------------------------------------------------------------------------------


def _profile(profile: Profile, packs: Sequence[Pack], layers: Sequence[model.Layer]) -> Iterator[Problem]:
    """Documents, editions and rules that a profile names must be there."""
    near = ProblemList().near
    documents = {pack.document: pack for pack in packs}
    for each in profile.documents:
        pack = documents.get(each.document)
        if pack is None:
            sentence = f"There is no rule pack of {each.document}."
            yield Problem(sentence, each.at, "Name it as its pack does.", near(each.document, documents))
        elif (each.edition or None) not in (pack.editions or (None,)):
            known = f"Its pack has {listing(pack.editions)}." if pack.editions else "Its pack has no editions."
            yield Problem(f"There is no edition {each.edition} of {each.document}.", each.at, known)
    names = _rule_names(packs, layers)
    records = [(each.rule, each.at) for each in profile.interpretations]
    records += [(each.rule, each.at) for each in profile.permissions]
    for rule, at in records:
        if rule not in names:
            yield Problem(f"There is no rule {rule}.", at, "Write the id that the finding prints.", near(rule, names))


def _rule_names(packs: Sequence[Pack], layers: Sequence[model.Layer]) -> dict[str, None]:
    rules = [*((pack.id, rule.id) for pack in packs for rule in pack.rules)]
    rules += [(layer.id, rule.id) for layer in layers for rule in layer.added]
    return dict.fromkeys(name for owner, rule in rules for name in (rule, f"{owner}:{rule}"))


def _cases_of_nothing(folder: Path) -> Iterator[Problem]:
    """Files of cases beside which there is nothing that they could be cases of."""
    for path in sorted(folder.glob(f"*{CASES}")):
        beside = path.with_name(path.name.removesuffix(CASES) + ".yaml")
        if not beside.is_file():
            at = Position(f"{shown_folder(folder)}/{path.name}", 1, 1)
            remedy = f"Name the file after {choice_of(['the layer'])} beside it."
            yield Problem(f"There is no {beside.name} beside these cases.", at, remedy)
