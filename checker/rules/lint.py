"""Lint: everything that is wrong with packs, and what in them deserves a second look."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from checker.catalog.model import Catalog
from checker.rules.cases.model import Case
from checker.rules.cases.read import read_cases
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Rule
from checker.rules.outcomes import compulsory_outcomes
from checker.rules.problem_list import ProblemList
from checker.rules.reading.pack import read_pack_noting
from checker.rules.reading.pack_paths import shown_folder
from checker.rules.vocabulary import Vocabulary
from checker.rules.walk import parameters_read, tables_read
from checker.rules.wording import listing
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable


@dataclass(frozen=True, slots=True)
class Lint:
    """``errors`` must be mended before the packs can be used with trust; ``warnings`` may be meant."""

    errors: tuple[Problem, ...]
    warnings: tuple[Problem, ...]

    @property
    def is_clean(self) -> bool:
        """Whether there is nothing that must be mended."""
        return not self.errors


def lint_folders(
    folders: Iterable[Path], catalog: Catalog, shared: Path | None = None, calculated: frozenset[str] = frozenset()
) -> Lint:
    """Everything that can be said of the packs in these folders, also where some cannot be read."""
    errors, warnings = ProblemList(), ProblemList()
    packs = []
    for folder in folders:
        try:
            packs.append(read_pack_noting(folder, catalog, warnings, shared))
        except Unreadable as error:
            errors.extend(error.problems)
    found = lint(packs, catalog, calculated)
    errors.extend(found.errors)
    warnings.extend(found.warnings)
    return Lint(errors.in_order(), warnings.in_order())


def lint(packs: Sequence[Pack], catalog: Catalog, calculated: frozenset[str] = frozenset()) -> Lint:
    """What can be said of packs that were read: their cases, names across packs, numbers that nothing reads.

    What only their files show (``lint_folders``) is not looked at again. ``calculated`` names the numbers that
    calculations read.
    """
    errors, warnings = ProblemList(), ProblemList()
    vocabulary = Vocabulary(catalog)
    for pack in packs:
        _check_cases(pack, catalog, vocabulary, errors)
        _check_names_across(pack, packs, errors)
        warnings.extend(_unused(pack, calculated))
    errors.extend(_double_packs(packs))
    return Lint(errors.in_order(), warnings.in_order())


# --- cases ----------------------------------------------------------------------------------------------------------


def _check_cases(pack: Pack, catalog: Catalog, vocabulary: Vocabulary, errors: ProblemList) -> None:
    try:
        cases = read_cases(pack, catalog)
    except Unreadable as error:
        errors.extend(error.problems)
        return
    for rule in pack.rules:
        errors.extend(missing_cases(rule, [case for case in cases if case.rule == rule.id], vocabulary))


def missing_cases(rule: Rule, cases: Sequence[Case], vocabulary: Vocabulary) -> Iterator[Problem]:
    """Which outcomes no case of a rule shows although it must."""
    if not cases:
        yield Problem(
            f"`{rule.id}` has no cases.", rule.at, "Write them into NAME.cases.yaml beside the file of the rule."
        )
        return
    shown = {case.outcome for case in cases}
    missing = [outcome for outcome in compulsory_outcomes(rule, vocabulary) if outcome not in shown]
    if missing:
        yield Problem(f"No case of `{rule.id}` shows {listing(missing)}.", rule.at, "Add one for each.")


# --- names ----------------------------------------------------------------------------------------------------------


def _check_names_across(pack: Pack, packs: Sequence[Pack], errors: ProblemList) -> None:
    """Names of rules in other packs, and where retired rules went."""
    by_id = {each.id: each for each in packs}
    for rule in pack.rules:
        for name in (*rule.before, *rule.companions):
            other, _, target = name.rpartition(":")
            if other and other != pack.id:
                _check_foreign(target, by_id.get(other), other, rule, by_id, errors)
    own = {rule.id for rule in pack.rules}
    for retired, went in pack.retired.items():
        if " " not in went and went not in own and went not in pack.retired:
            near = errors.near(went, own)
            errors.add(
                f"The retired rule `{retired}` went to `{went}`, which is no rule of {pack.id}.",
                Position(f"{shown_folder(Path(pack.folder))}/pack.yaml", 1, 1),
                "Write the id of a rule, or a sentence that says where it went.",
                near,
            )


def _check_foreign(
    target: str, pack: Pack | None, name: str, rule: Rule, packs: Iterable[str], errors: ProblemList
) -> None:
    if pack is None:
        errors.add(
            f"`{rule.id}` names a rule of the pack `{name}`, which is not here.", rule.at, "", errors.near(name, packs)
        )
        return
    ids = [each.id for each in pack.rules]
    if target not in ids:
        went = pack.retired.get(target)
        remedy = f"It went to {went}." if went else ""
        errors.add(
            f"`{rule.id}` names `{target}`, which is no rule of {name}.", rule.at, remedy, errors.near(target, ids)
        )


def _double_packs(packs: Sequence[Pack]) -> Iterator[Problem]:
    seen: dict[str, Pack] = {}
    for pack in packs:
        other = seen.setdefault(pack.id, pack)
        if other is not pack:
            yield Problem(
                f"Two packs are called {pack.id}: {other.folder} and {pack.folder}.", None, "Rename one of them."
            )


# --- what nothing reads ---------------------------------------------------------------------------------------------


def _unused(pack: Pack, calculated: frozenset[str]) -> Iterator[Problem]:
    """Parameters and tables of the pack itself that no rule reads; those from shared/ serve other packs too."""
    read = {name for rule in pack.rules for name in (*parameters_read(rule), *tables_read(rule))} | calculated
    own_files = shown_folder(Path(pack.folder))
    places = {each.name: each.at for each in pack.parameters.values()}
    places.update({each.name: each.at for each in pack.tables.values()})
    for name, at in places.items():
        if name not in read and at.file.startswith(own_files):
            yield Problem(f"No rule reads `{name}`.", at, "Take it out, or use it.")
