"""The commands ``rules lint`` and ``rules test``, for packs and for folders with layers and profiles."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from tabulate import tabulate

from checker.catalog.load import shipped_catalog
from checker.cli import console
from checker.facts.registry import NUMBERS_READ
from checker.files.folders import data_folder
from checker.report.folded import Folded, folded
from checker.report.rules.hits import hits_text
from checker.report.safe import harmless
from checker.report.text import wrapped
from checker.report.words import counted
from checker.rules.cases.read import read_cases
from checker.rules.layers.cases import full_names, read_layer_cases
from checker.rules.layers.stack import Stack
from checker.rules.lint import lint_folders as lint
from checker.rules.model.pack import Pack
from checker.rules.problem_list import ProblemList
from checker.rules.reading.pack import read_pack
from checker.rules.vocabulary import Vocabulary
from checker.tasks.gathering.library import Library, folders_of_rules
from checker.tasks.gathering.packs import packs_inside
from checker.tasks.gathering.standing import all_packs
from checker.tasks.gathering.town import Town, is_town, read_town_noting
from checker.tasks.testing.cases import CaseResult, run_cases
from checker.tasks.testing.edge_files import keep_edges, kept_edges
from checker.tasks.testing.edges import Edge, EdgeResult, edges_of, run_edges
from checker.tasks.testing.layer_cases import run_layer_cases
from checker.tasks.testing.town_lint import TownLint, lint_town
from checker.tasks.testing.trial import tried_cases, tried_packs
from checker.values.notation import nearest
from checker.values.problems import Problem, Unreadable

CLEAN, WANTING, COULD_NOT_RUN = 0, 1, 2
_WIDTH = 80
_WHAT_AN_EDGE_IS = (
    "An edge is a case that the program makes of another, with one number at a limit of the rule or just beside it; it "
    "is kept once somebody has looked at what comes out."
)
_NO_EDGES = "--edges covers packs only: of a layer, write a case on each side of a number that it sets."


def lint_folders(paths: tuple[Path, ...]) -> int:
    """Print what is wrong or doubtful in packs, layers and profiles: 0 nothing wrong, 1 something wrong, 2 could not
    run.
    """
    catalog = shipped_catalog()
    try:
        looked_at = looked_for(paths)
        found = lint(looked_at.packs, catalog, calculated=NUMBERS_READ)
        towns = [_lint_town(folder) for folder in looked_at.towns]
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    errors, warnings = ProblemList(), ProblemList()
    errors.extend((*found.errors, *_tried(looked_at.packs), *(each for town in towns for each in town.errors)))
    warnings.extend((*found.warnings, *(each for town in towns for each in town.warnings)))
    for town in towns:
        _show(hits_text(town.hits))
    wrong, doubtful = folded(errors.in_order()), folded(warnings.in_order())
    _show("".join(_block(each, "wrong") for each in wrong))
    _show("".join(_block(each, "look again") for each in doubtful))
    names = ", ".join(folder.name or folder.absolute().name for folder in (*looked_at.packs, *looked_at.towns))
    _show(f"Read {names}: {len(wrong)} wrong, {len(doubtful)} to look at again.\n")
    return CLEAN if not wrong else WANTING


@dataclass(frozen=True, slots=True)
class LookedAt:
    """The folders of packs, and those of towns with layers and profiles."""

    packs: tuple[Path, ...]
    towns: tuple[Path, ...]


def looked_for(paths: tuple[Path, ...]) -> LookedAt:
    """What is in these folders, or in those of the program. Raises Unreadable where one has nothing in it."""
    own = data_folder("rulesets")
    if not paths:
        folders = (own / "layers", own / "profiles")
        return LookedAt(packs_inside(own), tuple(each for each in folders if is_town(each)))
    for path in paths:
        if path.is_file():
            raise Unreadable([Problem(f"{path} is a file.", remedy=f"Name its folder: {path.parent.as_posix()}.")])
        if not packs_inside(path) and not is_town(path):
            remedy = "A pack is a folder with a pack.yaml; a layer is a file with `layer:`, a profile with `profile:`."
            raise Unreadable([Problem(f"There is no pack, layer or profile in {path}.", remedy=remedy)])
    packs = tuple(dict.fromkeys(each for path in paths for each in packs_inside(path)))
    return LookedAt(packs, tuple(dict.fromkeys(path for path in paths if is_town(path))))


def _tried(folders: tuple[Path, ...]) -> tuple[Problem, ...]:
    """Rules that can never apply or miss, and cases that do not come out as they say; packs that cannot be read are
    told elsewhere.
    """
    catalog = shipped_catalog()
    found: list[Problem] = []
    for folder in folders:
        with suppress(Unreadable):
            pack = read_pack(folder, catalog)
            found += tried_packs((pack,), catalog)
            cases = read_cases(pack, catalog)
            found += tried_cases(pack.rules, cases, list(run_cases(pack, cases, catalog)), Vocabulary(catalog))
    return tuple(found)


def _lint_town(folder: Path) -> TownLint:
    errors, notes = ProblemList(), ProblemList()
    town = _read_town(folder, errors, notes)
    found = lint_town(town, shipped_catalog())
    errors.extend(found.errors)
    notes.extend(found.warnings)
    return TownLint(errors.in_order(), notes.in_order(), found.hits)


def _read_town(folder: Path, errors: ProblemList, notes: ProblemList) -> Town:
    """The layers and profiles of a folder, on the packs of the program and those inside the folder."""
    library = Library.shipped()
    uncached = Library(library.packs, library.profiles)
    try:
        packs = all_packs(folder, uncached)
    except Unreadable as error:
        errors.extend(error.problems)
        packs = library.packs
    return read_town_noting(folder, folders_of_rules(folder, library), packs, shipped_catalog(), errors, notes)


def _block(found: Folded, weight: str) -> str:
    """One problem: on the line of its place where it fits there, otherwise below it."""
    problem = found.problem
    place = f"{problem.at or 'pack'}: {weight}:"
    whole = f"{place} {problem.sentence}"
    lines = [whole] if len(whole) <= _WIDTH else [place, *wrapped(problem.sentence, indent=2, width=_WIDTH)]
    lines += wrapped(problem.remedy, indent=2, width=_WIDTH) if problem.remedy else []
    lines += [f"  Nearest valid name: {problem.near}"] if problem.near else []
    lines += wrapped(found.also_words, indent=2, width=_WIDTH) if found.also else []
    return "\n".join(lines) + "\n"


@dataclass(frozen=True, slots=True)
class _Tested:
    """What running the cases and the kept edges of one pack or layer came to."""

    cases: tuple[CaseResult, ...]
    edges: tuple[EdgeResult, ...]


def test_folders(paths: tuple[Path, ...], *, rule: str | None, edges: bool, keep: str | None) -> int:
    """Run the cases of packs, or work out their edges: 0 all hold, 1 some do not, 2 could not run."""
    if keep is not None and not edges:
        console.say("--keep keeps the cases that --edges works out; give both.")
        return COULD_NOT_RUN
    try:
        looked_at = looked_for(paths)
        if edges:
            if paths and looked_at.towns:
                console.say(_NO_EDGES)
            if not looked_at.packs:
                return COULD_NOT_RUN
            packs = _packs_with(rule, looked_at.packs, ())
            return max(_work_out_edges(pack, rule, keep) for pack in packs)
        stacks = [stack for folder in looked_at.towns for stack in _stacks(folder)]
        tested = [_tested(pack, rule) for pack in _packs_with(rule, looked_at.packs, stacks)]
        tested += [_tested_layer(stack, rule) for stack in stacks]
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    cases = [result for each in tested for result in each.cases]
    return _print_results(cases, [result for each in tested for result in each.edges], rule)


def _stacks(folder: Path) -> tuple[Stack, ...]:
    """The layers of a folder; raises Unreadable with everything that is wrong in it."""
    errors = ProblemList()
    town = _read_town(folder, errors, ProblemList())
    errors.raise_if_any()
    return tuple(town.stacks.values())


def _tested_layer(stack: Stack, rule: str | None) -> _Tested:
    catalog = shipped_catalog()
    cases = tuple(case for case in read_layer_cases(stack, catalog) if rule in (None, case.rule))
    return _Tested(tuple(run_layer_cases(stack, cases, catalog)), ())


def _packs_with(rule: str | None, folders: Iterable[Path], stacks: Iterable[Stack]) -> list[Pack]:
    """The packs in these folders, or the one with a rule; raises Unreadable where no pack and no layer has it."""
    packs = [read_pack(folder, shipped_catalog()) for folder in folders]
    if rule is None:
        return packs
    having = [pack for pack in packs if any(each.id == rule for each in pack.rules)]
    touched = {name for stack in stacks for name in full_names(stack)}
    if not having and rule not in touched:
        known = sorted((*(each.id for pack in packs for each in pack.rules), *touched))
        sentence = f"There is no rule {rule} in these packs, so nothing was tested."
        raise Unreadable([Problem(sentence, remedy="Check the spelling.", near=nearest(rule, known))])
    return having


def _show(text: str) -> None:
    """Print a result; what stands in it comes from the files of others."""
    console.result(harmless(text))


def _tested(pack: Pack, rule: str | None) -> _Tested:
    catalog = shipped_catalog()
    cases = read_cases(pack, catalog)
    chosen = tuple(case for case in cases if rule in (None, case.rule))
    kept = tuple(edge for edge in kept_edges(pack) if rule in (None, edge.rule))
    return _Tested(tuple(run_cases(pack, chosen, catalog)), tuple(run_edges(pack, cases, kept, catalog)))


def _work_out_edges(pack: Pack, rule: str | None, keep: str | None) -> int:
    """Show the edges that are not kept yet, or that come out otherwise; with a name, keep them."""
    catalog = shipped_catalog()
    cases = tuple(case for case in read_cases(pack, catalog) if rule in (None, case.rule))
    found = edges_of(pack, cases, catalog)
    kept = {edge.key: edge for edge in kept_edges(pack)}
    new = [edge for edge in found if kept.get(edge.key) != edge]
    rows = [
        (edge.rule, edge.edition or "", edge.case, f"{edge.where} {edge.fact}".strip(), edge.shown, edge.outcome)
        for edge in new
    ]
    if rows:
        _show("".join(f"{line}\n" for line in wrapped(_WHAT_AN_EDGE_IS, width=_WIDTH)) + "\n")
        heads = ("rule", "edition", "case", "fact", "at", "outcome")
        _show(tabulate(rows, headers=heads, tablefmt="plain", disable_numparse=True) + "\n")
    if keep is None:
        _show(f"{pack.id}: {len(new)} edges to look at, {len(found) - len(new)} kept.\n")
        return WANTING if new else CLEAN
    others = [edge for edge in kept.values() if rule is not None and edge.rule != rule]
    keep_edges(pack, tuple(sorted((*found, *others), key=lambda edge: _place(pack, edge))), keep)
    _show(f"{pack.id}: {len(found)} edges kept, looked at by {keep}.\n")
    return CLEAN


def _place(pack: Pack, edge: Edge) -> int:
    return next((place for place, rule in enumerate(pack.rules) if rule.id == edge.rule), len(pack.rules))


def _print_results(results: list[CaseResult], edges: list[EdgeResult], rule: str | None) -> int:
    if not results:
        console.say(f"There is no case{f' of {rule}' if rule else ''} to run, so nothing was tested.")
        return COULD_NOT_RUN
    failed = [result for result in results if not result.holds]
    moved = [result for result in edges if not result.holds]
    for result in failed:
        edition = f" in {result.edition}" if result.edition else ""
        _show(f"{result.case.at}: {result.case.rule}{edition}: {result.case.shows}\n")
        _show("".join(f"  {complaint}\n" for complaint in result.complaints))
    for moved_edge in moved:
        _show(_moved(moved_edge))
    rules = sorted({result.case.rule for result in results})
    rows = [
        (
            name,
            sum(each.case.rule == name for each in results),
            sum(each.edge.rule == name for each in edges),
            sum(each.case.rule == name for each in failed) + sum(each.edge.rule == name for each in moved),
        )
        for name in rules
    ]
    if edges:
        _show("".join(f"{line}\n" for line in wrapped(_WHAT_AN_EDGE_IS, width=_WIDTH)) + "\n")
    heads = ("rule", "cases", "edges", "do not hold")
    _show(tabulate(rows, headers=heads, tablefmt="plain", disable_numparse=True) + "\n")
    wrong = len(failed) + len(moved)
    run = f"{counted(len(results), 'case')} and {counted(len(edges), 'edge')} of {counted(len(rules), 'rule')}"
    outcome = f"{wrong} {'does' if wrong == 1 else 'do'} not hold" if wrong else "all hold"
    _show(f"{run} were run; {outcome}.\n")
    return WANTING if wrong else CLEAN


def _moved(result: EdgeResult) -> str:
    edge = result.edge
    at = f"{edge.where} {edge.fact}".strip()
    now = result.found or "nothing, since the case or the rule is gone"
    return (
        f"{edge.rule}{f' in {edge.edition}' if edge.edition else ''}: {edge.case}, {at} at {edge.shown}\n"
        f"  came out as {now}, kept was {edge.outcome}; see rules test --edges\n"
    )
