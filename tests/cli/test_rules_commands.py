"""``rules lint`` and ``rules test`` as the staff of an office run them on their own pack."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.cli.running import LINT_WRONG, USAGE, run_command
from tests.cli.small_pack import CASES, HEAD, RULES, changed, write_pack

RULE = "switch-large-enough"
LAST_OF_GOOD = "7 cases and 0 edges of 2 rules were run; all hold."


# --- lint ------------------------------------------------------------------------------------------------------------


def test_a_good_pack_is_clean(run: Run, tmp_path: Path) -> None:
    write_pack(tmp_path)
    ran = run("rules", "lint", "heron-point")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out == "Read heron-point: 0 wrong, 0 to look at again.\n"


def test_a_folder_of_packs_stands_for_all_of_them(run: Run, tmp_path: Path) -> None:
    write_pack(tmp_path / "packs")
    assert run("rules", "lint", "packs").out == run("rules", "lint", "packs/heron-point").out


def test_the_packs_of_the_program_are_clean() -> None:
    ran = run_command("rules", "lint")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.endswith(": 0 wrong, 0 to look at again.\n")
    assert "nfpa-70" in ran.out


@pytest.mark.parametrize(
    ("rules", "cases", "told"),
    [
        (
            changed(RULES, "rated_current: {at_least", "rated_curent: {at_least"),
            CASES,
            ("rules.yaml:15:15", "rated_curent", "Nearest valid name: rated_current"),
        ),
        (changed(RULES, "at_least", "at_lest"), CASES, ("rules.yaml:15", "at_lest", "Nearest valid name: at_least")),
        (changed(RULES, "{rated.found}", "{rated.fond}"), CASES, ("rules.yaml:16", "rated.fond", "rated.found")),
        (
            changed(RULES, "subject: transfer_switch", "subject: transfer_swich"),
            CASES,
            ("rules.yaml", "transfer_swich", "transfer_switch"),
        ),
        (changed(RULES, "100 A", "100"), CASES, ("rules.yaml:6", "has no unit", "Write 100 A")),
        (changed(RULES, "    cites: [", "    sites: ["), CASES, ("rules.yaml", "sites", "")),
        (
            RULES,
            changed(CASES, "outcome: met", "outcome: fine"),
            ("rules.cases.yaml:4", "`fine` is no word for `outcome`", "Write met"),
        ),
        (
            RULES,
            changed(CASES, "rated_current: 60 A", "rated_curent: 60 A"),
            ("rules.cases.yaml:5", "does not read", "rated_current"),
        ),
        (RULES, None, ("rules.yaml", "has no case", "")),
        (RULES, CASES.partition("switch-listed:")[0], ("rules.yaml", "has no case", "")),
    ],
)
def test_a_bad_pack_is_told_where_and_what_to_do(
    rules: str, cases: str | None, told: tuple[str, ...], run: Run, tmp_path: Path
) -> None:
    write_pack(tmp_path, rules=rules, cases=cases)
    ran = run("rules", "lint", "heron-point")
    assert ran.status == LINT_WRONG
    assert ran.err == ""
    assert all(words in ran.out for words in told), ran.out
    assert ": wrong:" in ran.out
    assert "0 wrong" not in ran.out
    assert "Traceback" not in ran.out


def test_a_pack_that_is_no_yaml_is_told(run: Run, tmp_path: Path) -> None:
    write_pack(tmp_path, rules="rules: [\n")
    for command in ("lint", "test"):
        ran = run("rules", command, "heron-point")
        assert ran.status in (LINT_WRONG, USAGE)
        assert "is not closed" in ran.out + ran.err


@pytest.mark.parametrize("command", ["lint", "test"])
@pytest.mark.parametrize(
    ("folder", "told"),
    [
        ("nowhere", "There is no pack, layer or profile in nowhere.\n  A pack is a folder with a pack.yaml;"),
        ("empty", "There is no pack, layer or profile in empty.\n  A pack is a folder with a pack.yaml;"),
        ("file.yaml", "file.yaml is a file.\n  Name its folder: ..\n"),
    ],
)
def test_a_folder_without_a_pack_is_told(command: str, folder: str, told: str, run: Run, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    (tmp_path / "file.yaml").write_text("a: 1\n", encoding="utf-8")
    ran = run("rules", command, folder)
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err.startswith(told)


# --- test ------------------------------------------------------------------------------------------------------------


def test_good_cases_hold(run: Run, tmp_path: Path) -> None:
    write_pack(tmp_path)
    ran = run("rules", "test", "heron-point")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.splitlines()[-1] == LAST_OF_GOOD


def test_a_case_that_does_not_hold_says_where_and_what_came_out(run: Run, tmp_path: Path) -> None:
    cases = changed(
        CASES,
        "{shows: too small, but: {rated_current: 60 A}, outcome: correction",
        "{shows: too small, but: {rated_current: 60 A}, outcome: met",
    )
    write_pack(tmp_path, cases=cases)
    ran = run("rules", "test", "heron-point")
    assert ran.status == LINT_WRONG
    assert f"rules.cases.yaml:5:7: {RULE}: too small\n  came out as correction, wanted met\n" in ran.out
    assert ran.out.splitlines()[-1].endswith("1 does not hold.")


@pytest.mark.parametrize(
    ("old", "new", "complaint"),
    [
        ("needs: [rated_current]", "needs: [operation]", "needs rated_current, wanted operation"),
        ("could_be: [correction, met]", "could_be: [correction]", "could be correction, met, wanted correction"),
        ("60 A, and 100 A", "60 A, and 90 A", "says: X1 is rated 60 A, and 100 A is the least."),
    ],
)
def test_every_part_of_a_case_is_checked(old: str, new: str, complaint: str, run: Run, tmp_path: Path) -> None:
    write_pack(tmp_path, cases=changed(CASES, old, new))
    ran = run("rules", "test", "heron-point")
    assert ran.status == LINT_WRONG
    assert f"  {complaint}\n" in ran.out


def test_one_rule_alone(run: Run, tmp_path: Path) -> None:
    write_pack(tmp_path)
    ran = run("rules", "test", "heron-point", "--rule", RULE)
    assert ran.status == 0
    assert ran.out.splitlines()[-1] == "4 cases and 0 edges of 1 rule were run; all hold."
    assert "switch-listed" not in ran.out


@pytest.mark.parametrize("options", [(), ("--edges",), ("--edges", "--keep", "Somebody")])
def test_a_rule_that_is_not_there_is_told(options: tuple[str, ...], run: Run, tmp_path: Path) -> None:
    write_pack(tmp_path)
    ran = run("rules", "test", "heron-point", "--rule", "switch-large-enogh", *options)
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err.startswith("There is no rule switch-large-enogh in these packs, so nothing was tested.\n")
    assert f"Nearest valid name: {RULE}" in ran.err


def test_nothing_to_run_is_no_success(run: Run, tmp_path: Path) -> None:
    write_pack(tmp_path, cases=None)
    ran = run("rules", "test", "heron-point")
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err.startswith("There is no case to run, so nothing was tested.")


# --- edges -----------------------------------------------------------------------------------------------------------


def test_edges_are_shown_until_somebody_has_looked_at_them(run: Run, tmp_path: Path) -> None:
    pack = write_pack(tmp_path)
    shown = run("rules", "test", "heron-point", "--edges")
    assert shown.status == LINT_WRONG
    assert [line.split()[-3:] for line in shown.out.splitlines() if line.startswith(RULE)] == [
        ["99.9", "A", "correction"],
        ["100", "A", "met"],
        ["100.1", "A", "met"],
    ]
    assert shown.out.splitlines()[-1] == "heron-point: 3 edges to look at, 0 kept."
    assert not (pack / "edges").exists()


def test_kept_edges_are_run_from_then_on(run: Run, tmp_path: Path) -> None:
    pack = write_pack(tmp_path)
    kept = run("rules", "test", "heron-point", "--edges", "--keep", 'A. "Reader"')
    assert (kept.status, kept.err) == (0, "")
    text = (pack / "edges" / "rules.yaml").read_text(encoding="utf-8")
    assert text.count("outcome: ") == 3
    assert '"A. \\"Reader\\""' in text
    again = run("rules", "test", "heron-point", "--edges")
    assert (again.status, again.out) == (0, "heron-point: 0 edges to look at, 3 kept.\n")
    assert (
        run("rules", "test", "heron-point").out.splitlines()[-1] == "7 cases and 3 edges of 2 rules were run; all hold."
    )
    assert run("rules", "lint", "heron-point").status == 0


def test_a_limit_that_moves_is_seen_though_every_case_holds(run: Run, tmp_path: Path) -> None:
    write_pack(tmp_path)
    run("rules", "test", "heron-point", "--edges", "--keep", "Somebody")
    write_pack(
        tmp_path,
        rules=changed(RULES, "value: 100 A", "value: 101 A"),
        cases=changed(CASES, ',\n       says: "X1 is rated 60 A, and 100 A is the least."', ""),
    )
    ran = run("rules", "test", "heron-point")
    assert ran.status == LINT_WRONG
    assert f"{RULE}: large enough, rated_current at 100 A\n  came out as correction, kept was met" in ran.out
    assert ran.out.splitlines()[-1] == "7 cases and 3 edges of 2 rules were run; 2 do not hold."
    assert run("rules", "test", "heron-point", "--edges").status == LINT_WRONG


def test_an_edge_whose_case_is_gone_is_told(run: Run, tmp_path: Path) -> None:
    write_pack(tmp_path)
    run("rules", "test", "heron-point", "--edges", "--keep", "Somebody")
    write_pack(tmp_path, cases=changed(CASES, "shows: large enough", "shows: another name"))
    ran = run("rules", "test", "heron-point")
    assert ran.status == LINT_WRONG
    assert "came out as nothing, since the case or the rule is gone" in ran.out


def test_keeping_the_edges_of_one_rule_leaves_the_others(run: Run, tmp_path: Path) -> None:
    pack = write_pack(tmp_path)
    run("rules", "test", "heron-point", "--edges", "--keep", "Somebody")
    before = (pack / "edges" / "rules.yaml").read_text(encoding="utf-8")
    ran = run("rules", "test", "heron-point", "--edges", "--rule", "switch-listed", "--keep", "Somebody")
    assert ran.status == 0
    assert (pack / "edges" / "rules.yaml").read_text(encoding="utf-8") == before


def test_keeping_without_working_out_is_refused(run: Run, tmp_path: Path) -> None:
    write_pack(tmp_path)
    ran = run("rules", "test", "heron-point", "--keep", "Somebody")
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err == "--keep keeps the cases that --edges works out; give both.\n"


def test_a_broken_file_of_edges_is_told(run: Run, tmp_path: Path) -> None:
    pack = write_pack(tmp_path)
    (pack / "edges").mkdir()
    (pack / "edges" / "rules.yaml").write_text("- a\n", encoding="utf-8")
    ran = run("rules", "test", "heron-point")
    assert ran.status == USAGE
    assert ran.err.startswith("This file holds no edges.\n  at heron-point/edges/rules.yaml:1:1\n  Delete it")


def test_names_in_a_pack_steer_no_terminal(run: Run, tmp_path: Path) -> None:
    write_pack(tmp_path, head=changed(HEAD, "pack: heron-point", 'pack: "heron\\e[31mpoint"'))
    for command in ("lint", "test"):
        ran = run("rules", command, "heron-point")
        assert ran.status != 0
        assert "\x1b" not in ran.out + ran.err
