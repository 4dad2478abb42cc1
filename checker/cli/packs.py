"""The commands ``rules lint`` and ``rules test``."""

from __future__ import annotations

from pathlib import Path

from tabulate import tabulate

from checker.catalog.load import shipped_catalog
from checker.cli import console
from checker.files.folders import data_folder
from checker.rules.cases import read_cases
from checker.rules.lint import lint_folders as lint
from checker.rules.read import read_pack
from checker.tasks.cases import CaseResult, run_cases
from checker.tasks.packs import pack_folders
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
    console.result("".join(_block(problem, "wrong") for problem in found.errors))
    console.result("".join(_block(problem, "look again") for problem in found.warnings))
    names = ", ".join(folder.name for folder in folders)
    console.result(f"Read {names}: {len(found.errors)} wrong, {len(found.warnings)} to look at again.\n")
    return CLEAN if found.is_clean else WANTING


def _block(problem: Problem, weight: str) -> str:
    lines = [f"{problem.at or 'pack'}: {weight}: {problem.sentence}"]
    lines += [f"  {problem.remedy}"] if problem.remedy else []
    lines += [f"  Nearest valid name: {problem.near}"] if problem.near else []
    return "\n".join(lines) + "\n"


def test_folders(paths: tuple[Path, ...], *, rule: str | None, edges: bool, accept: str | None) -> int:
    """Run the cases of packs and print what does not hold: 0 all hold, 1 some do not, 2 could not run."""
    results: list[CaseResult] = []
    try:
        for folder in pack_folders(paths or (data_folder("rulesets"),)):
            pack = read_pack(folder, shipped_catalog())
            cases = tuple(case for case in read_cases(pack, shipped_catalog()) if rule in (None, case.rule))
            results += run_cases(pack, cases, shipped_catalog())
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    return _print_results(results, rule)


def _print_results(results: list[CaseResult], rule: str | None) -> int:
    if not results:
        console.say(f"There is no case{f' of {rule}' if rule else ''} to run, so nothing was tested.")
        return COULD_NOT_RUN
    failed = [result for result in results if not result.holds]
    for result in failed:
        edition = f" in {result.edition}" if result.edition else ""
        console.result(f"{result.case.at}: {result.case.rule}{edition}: {result.case.shows}\n")
        console.result("".join(f"  {complaint}\n" for complaint in result.complaints))
    rules = sorted({result.case.rule for result in results})
    rows = [
        (name, sum(each.case.rule == name for each in results), sum(each.case.rule == name for each in failed))
        for name in rules
    ]
    table = tabulate(rows, headers=("rule", "cases", "do not hold"), tablefmt="plain", disable_numparse=True)
    console.result(table + "\n")
    console.result(f"{len(results)} cases of {len(rules)} rules were run; {len(failed)} do not hold.\n")
    return WANTING if failed else CLEAN
