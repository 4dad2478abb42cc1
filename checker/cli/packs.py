"""The commands ``rules lint`` and ``rules test``."""

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
from checker.rules.lint import lint_folders as lint
from checker.rules.model import Pack
from checker.rules.read import read_pack
from checker.tasks.cases import CaseResult, run_cases
from checker.tasks.edge_files import keep_edges, kept_edges
from checker.tasks.edges import Edge, EdgeResult, edges_of, run_edges
from checker.tasks.packs import pack_folders
from checker.values.notation import nearest
from checker.values.problems import Problem, Unreadable

CLEAN, WANTING, COULD_NOT_RUN = 0, 1, 2


def lint_folders(paths: tuple[Path, ...]) -> int:
    """Print what is wrong or doubtful in packs: 0 nothing wrong, 1 something wrong, 2 could not run."""
    try:
        folders = tuple(pack_folders(paths or (data_folder("rulesets"),)))
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    found = lint(folders, shipped_catalog())
    _show("".join(_block(problem, "wrong") for problem in found.errors))
    _show("".join(_block(problem, "look again") for problem in found.warnings))
    names = ", ".join(folder.name for folder in folders)
    _show(f"Read {names}: {len(found.errors)} wrong, {len(found.warnings)} to look at again.\n")
    return CLEAN if found.is_clean else WANTING


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
        packs = _packs_with(rule, pack_folders(paths or (data_folder("rulesets"),)))
        if edges:
            return max(_work_out_edges(pack, rule, keep) for pack in packs)
        tested = [_tested(pack, rule) for pack in packs]
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    cases = [result for each in tested for result in each.cases]
    return _print_results(cases, [result for each in tested for result in each.edges], rule)


def _packs_with(rule: str | None, folders: Iterable[Path]) -> list[Pack]:
    """The packs in these folders, or the one with a rule; raises Unreadable where no pack has it."""
    packs = [read_pack(folder, shipped_catalog()) for folder in folders]
    if rule is None:
        return packs
    having = [pack for pack in packs if any(each.id == rule for each in pack.rules)]
    if not having:
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
