"""The commands ``rules lint`` and ``rules test``, for packs and for folders with layers and profiles."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from tabulate import tabulate

from checker.catalog.load import shipped_catalog
from checker.cli import console
from checker.files.folders import data_folder
from checker.report.safe import harmless
from checker.report.words import counted
from checker.rules.cases import read_cases
from checker.rules.lint import Lint
from checker.rules.lint import lint_folders as lint
from checker.rules.model import Pack
from checker.rules.pack_paths import HEAD_FILE
from checker.rules.read import read_pack
from checker.tasks.cases import CaseResult, run_cases
from checker.tasks.edge_files import keep_edges, kept_edges
from checker.tasks.edges import Edge, EdgeResult, edges_of, run_edges
from checker.tasks.layer_effects import Effect
from checker.tasks.local_folder import is_local_folder
from checker.tasks.packs import pack_folders
from checker.values.notation import nearest
from checker.values.problems import Problem, Unreadable

CLEAN, WANTING, COULD_NOT_RUN = 0, 1, 2


def lint_folders(paths: tuple[Path, ...]) -> int:
    """Print what is wrong or doubtful in packs: 0 nothing wrong, 1 something wrong, 2 could not run."""
    try:
        local, packs = split_paths(paths or (data_folder("rulesets"),))
        folders = tuple(pack_folders(packs))
        found = [lint(folders, shipped_catalog())] if folders else []
        found += map(_lint_local, local)
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    errors = [problem for each in found for problem in each.errors]
    warnings = [problem for each in found for problem in each.warnings]
    _show("".join(_block(problem, "wrong") for problem in errors))
    _show("".join(_block(problem, "look again") for problem in warnings))
    names = ", ".join(folder.name for folder in (*folders, *local))
    _show(f"Read {names}: {len(errors)} wrong, {len(warnings)} to look at again.\n")
    return WANTING if errors else CLEAN


def _lint_local(folder: Path) -> Lint:
    """Print what the changes of an office's layers do; what is wrong or doubtful in the folder."""
    from checker.tasks.local_lint import lint_local_folder
    from checker.tasks.reviewing import Library

    library = Library.shipped()
    found = lint_local_folder(folder.absolute(), library.packs, shipped_catalog(), library.layers)
    _show("".join(map(_effect, found.effects)))
    return found.lint


def _effect(effect: Effect) -> str:
    hits = "".join(f"  {hit}\n" for hit in effect.hits)
    return f"{effect.at}: {effect.sentence}\n{hits}"


def split_paths(paths: Iterable[Path]) -> tuple[tuple[Path, ...], tuple[Path, ...]]:
    """The folders of offices among these paths, and those of packs, which may lie in the former too."""
    given = tuple(paths)
    local = tuple(path for path in given if is_local_folder(path))
    return local, tuple(path for path in given if path not in local or any(path.glob(f"*/{HEAD_FILE}")))


def _block(problem: Problem, weight: str) -> str:
    lines = [f"{problem.at or 'pack'}: {weight}: {problem.sentence}"]
    lines += [f"  {problem.remedy}"] if problem.remedy else []
    lines += [f"  Nearest valid name: {problem.near}"] if problem.near else []
    return "\n".join(lines) + "\n"


@dataclass(frozen=True, slots=True)
class _Tested:
    """What running the cases and the kept edges of one pack came to."""

    cases: tuple[CaseResult, ...]
    edges: tuple[EdgeResult, ...]


def test_folders(paths: tuple[Path, ...], *, rule: str | None, edges: bool, keep: str | None) -> int:
    """Run the cases of packs, or work out their edges: 0 all hold, 1 some do not, 2 could not run."""
    if keep is not None and not edges:
        console.say("--keep keeps the cases that --edges works out; give both.")
        return COULD_NOT_RUN
    try:
        local, folders = split_paths(paths or (data_folder("rulesets"),))
        packs = _packs_with(rule, pack_folders(folders), needed=not local)
        if edges and packs:
            return max(_work_out_edges(pack, rule, keep) for pack in packs)
        if edges:
            console.say("--edges works out the limits of packs; a layer has none of its own.")
            return COULD_NOT_RUN
        tested = [_tested(pack, rule) for pack in packs]
        tested += (_Tested(_tested_local(folder, rule), ()) for folder in local)
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    cases = [result for each in tested for result in each.cases]
    return _print_results(cases, [result for each in tested for result in each.edges], rule)


def _tested_local(folder: Path, rule: str | None) -> tuple[CaseResult, ...]:
    """The cases beside the layers of an office's folder. Raises Unreadable with everything that is wrong there."""
    from checker.tasks.layer_cases import read_layer_cases, run_layer_cases
    from checker.tasks.layer_rules import LayerRules
    from checker.tasks.local_folder import read_local_folder
    from checker.tasks.reviewing import Library

    library, catalog = Library.shipped(), shipped_catalog()
    found = read_local_folder(folder.absolute(), library.packs, catalog, library.layers)
    if found.problems:
        raise Unreadable(found.problems)
    results: list[CaseResult] = []
    for local in found.layers:
        rules = LayerRules(local.layer, local.below, library.packs)
        cases = read_layer_cases(rules, local.path, catalog)
        chosen = tuple(case for case in cases if rule in (None, case.rule))
        results += run_layer_cases(rules, chosen, local.path, catalog)
    return tuple(results)


def _packs_with(rule: str | None, folders: Iterable[Path], *, needed: bool) -> list[Pack]:
    """The packs in these folders, or the one with a rule; raises Unreadable where no pack has it and it is needed."""
    packs = [read_pack(folder, shipped_catalog()) for folder in folders]
    if rule is None:
        return packs
    having = [pack for pack in packs if any(each.id == rule for each in pack.rules)]
    if not having and needed:
        known = sorted(each.id for pack in packs for each in pack.rules)
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
