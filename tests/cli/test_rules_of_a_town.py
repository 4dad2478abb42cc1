"""``rules list``, ``compare``, ``explain``, ``lint``, ``test`` and ``packs`` on an invented town with two layers."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from checker.tasks.gathering.library import Library
from tests.cli.conftest import Run
from tests.cli.running import LINT_WRONG, USAGE
from tests.cli.town_runs import AT, CODE, GOLDEN, PLACE, PROFILE, RUNS, STATE, TOWN, copy_town, small_library

NARROWED = '{narrow: {section: "12", every: yes}, when: {site.occupancy: {is: one_family_dwelling}}'

Change = Callable[[str, str, str], None]


@pytest.fixture(scope="module")
def library() -> Library:
    """The small model code in the place of the packs of the program."""
    return small_library()


@pytest.fixture
def town(tmp_path: Path) -> Path:
    return copy_town(tmp_path)


@pytest.fixture
def change(town: Path) -> Change:
    """Puts a piece of text in the place of another in a file of the town."""

    def put(name: str, old: str, new: str) -> None:
        text = (town / name).read_text(encoding="utf-8")
        assert text.count(old) >= 1, old
        (town / name).write_text(text.replace(old, new, 1), encoding="utf-8")

    return put


@pytest.mark.usefixtures("town")
@pytest.mark.parametrize("name", RUNS)
def test_what_is_printed(name: str, run: Run) -> None:
    ran = run(*RUNS[name])
    assert (ran.status, ran.err) == (0, "")
    assert ran.out == (GOLDEN / f"{name}.txt").read_text(encoding="utf-8")
    assert max(map(len, ran.out.splitlines())) <= 80


# --- list ------------------------------------------------------------------------------------------------------------


@pytest.mark.usefixtures("town")
@pytest.mark.parametrize(
    ("options", "found"),
    [
        (("--section", "12.4"), ["switch-large-enough"]),
        (("--section", "37"), ["set-clear-of-openings", "set-disconnect-lockable", "set-stops-itself"]),
        (("--section", "37.1"), []),
        (("--subject", "transfer_switch"), ["switch-large-enough", "switch-listed"]),
        (("--subject", "generator", "--word", "LOCKED"), ["set-disconnect-lockable"]),
        (("--word", "switch", "--section", "12.5"), ["switch-listed"]),
    ],
)
def test_what_is_looked_for_must_all_hold(options: tuple[str, ...], found: list[str], run: Run) -> None:
    ran = run("rules", "list", *options)
    ids = [line for line in ran.out.splitlines() if line.startswith(("set-", "switch-"))]
    assert ids == found
    assert ran.status == (0 if found else USAGE)


@pytest.mark.usefixtures("town")
@pytest.mark.parametrize(
    ("options", "told", "near"),
    [
        (("--section", "12.44"), "No rule cites section 12.44.", "12.4"),
        (("--subject", "transfer_swich"), "There is no subject transfer_swich.", "transfer_switch"),
        (("--subject", "meter"), "No rule is about meter.", ""),
        (("--word", "opennings"), "No rule has the word opennings in its id or its texts.", "openings"),
        (("--word", "listed", "--section", "37.4"), "No rule has all of this: section 37.4, word listed.", ""),
        ((*AT, "--date", "2025-07-01", "--section", "37.10"), "in force in Osprey Point on 2025-07-01 cites", "37."),
    ],
)
def test_nothing_found_is_told_with_the_nearest_name(options: tuple[str, ...], told: str, near: str, run: Run) -> None:
    ran = run("rules", "list", *options)
    assert (ran.status, ran.out) == (USAGE, "")
    assert told in ran.err
    assert (f"Nearest valid name: {near}" in ran.err) if near else ("Nearest" not in ran.err)


@pytest.mark.usefixtures("town")
def test_without_a_date_nobody_can_say_what_is_in_force(run: Run) -> None:
    ran = run("rules", "list", *AT)
    assert (ran.status, ran.out) == (USAGE, "")
    for told in ("depends on the date", "Harbor Code 2023 from 2026-01-01", "Osprey Point Town Code from 2025-07-01"):
        assert told in ran.err
    alone = run("rules", "list", "--date", "2025-07-01")
    assert alone.status == USAGE
    assert "Give --jurisdiction too." in alone.err


# --- compare ---------------------------------------------------------------------------------------------------------

DATES = (
    "rules",
    "compare",
    "--jurisdiction",
    PLACE,
    "--folder",
    PLACE,
    "--date",
    "2025-06-30",
    "--to-date",
    "2025-07-01",
)


@pytest.mark.usefixtures("town")
def test_a_comparison_for_programs_is_the_same_bytes_each_time(run: Run) -> None:
    first, second = (run(*DATES, PLACE, "--format", "json").out for _ in range(2))
    assert first == second
    data = json.loads(first)
    assert [(each["pack"], each["rule"], each["what"]) for each in data["rules"]] == [
        ("harbor-code", "switch-large-enough", "changes"),
        ("harbor-code", "switch-listed", "changes"),
        ("harbor-code", "set-clear-of-openings", "changes"),
        ("osprey-point-code", "osprey-point-switched-neutral", "appears"),
    ]
    number = next(each for rule in data["rules"] for each in rule["differences"] if each["aspect"] == "number")
    assert number == {
        "aspect": "number",
        "what": "distance of a set from an opening",
        "before": "5 ft",
        "after": "10 ft",
    }
    (site,) = data["sites"]
    assert [(each["id"], each["before"], each["after"], each["because"]["rule"]) for each in site["findings"]] == [
        (
            "osprey-point-code:osprey-point-switched-neutral@ATS1",
            None,
            "correction",
            "osprey-point-switched-neutral",
        ),
        ("harbor-code-2020:set-clear-of-openings@GEN1", "met", "correction", "set-clear-of-openings"),
    ]


PERMISSION = (
    "special_permissions:\n"
    "  - {rule: set-clear-of-openings, site: 3 Net Loft, by: board of appeal, on: '2025-05-02', until: '2025-07-31',"
    " says: The louver may stay.}\n"
)


def test_a_special_permission_that_ends_is_the_cause(town: Path, run: Run) -> None:
    _permit(town)
    options = ("--jurisdiction", PLACE, "--date", "2025-07-31", "--to-date", "2025-08-01", PLACE)
    told = " ".join(run("rules", "compare", *options).out.split())
    assert "was by special permission, now a correction" in told
    assert "because: a special permission no longer covers it. Permitted by board of appeal" in told
    assert "Permitted by board of appeal on 2025-05-02 until 2025-07-31: The louver may stay." in told
    assert "the rule is the same; the date" not in told


def test_a_rule_explained_on_a_site_says_that_it_is_permitted(town: Path, run: Run) -> None:
    _permit(town)
    told = run("rules", "explain", "set-clear-of-openings", "--site", PLACE, "--date", "2025-07-02").out
    assert "GEN1: by special permission" in told
    assert "Permitted by board of appeal on 2025-05-02" in told


@pytest.mark.usefixtures("town")
def test_a_file_in_the_place_of_its_folder_is_told(run: Run) -> None:
    ran = run("rules", "lint", f"{PLACE}/{PROFILE}")
    assert ran.status == USAGE
    assert ran.err.startswith(f"{PLACE}/{PROFILE} is a file.")
    assert f"Name its folder: {PLACE}." in ran.err


def _permit(town: Path) -> None:
    profile = town / PROFILE
    profile.write_text(profile.read_text(encoding="utf-8") + PERMISSION, encoding="utf-8")


@pytest.mark.usefixtures("town")
def test_turned_round_what_appears_goes(run: Run) -> None:
    there = json.loads(run(*DATES, PLACE, "--format", "json").out)
    back = ("rules", "compare", "--jurisdiction", PLACE, "--date", "2025-07-01", "--to-date", "2025-06-30", PLACE)
    data = json.loads(run(*back, "--format", "json").out)
    turned = {"appears": "goes", "goes": "appears", "changes": "changes"}
    assert sorted((each["rule"], turned[each["what"]]) for each in there["rules"]) == sorted(
        (each["rule"], each["what"]) for each in data["rules"]
    )
    assert data["before"]["name"] == there["after"]["name"]
    told = [told for each in data["rules"] for told in each["because"]]
    assert told
    assert all(each.startswith("No longer: ") for each in told)


def test_two_places_are_compared(change: Change, town: Path, run: Run) -> None:
    (town / "heron-quay.yaml").write_text(
        (town / PROFILE).read_text(encoding="utf-8").replace("osprey-point\n", "heron-quay\n", 1), encoding="utf-8"
    )
    change("heron-quay.yaml", "  - {layer: osprey-point-code, may: tighten}\n", "")
    ran = run(
        *("rules", "compare", "--jurisdiction", "heron-quay", "--to-jurisdiction", PLACE),
        *("--date", "2025-07-01", "--folder", PLACE),
    )
    assert ran.status == 0
    assert "1 rule appears, 0 go, 3 change, 0 are the same." in ran.out


@pytest.mark.usefixtures("town")
@pytest.mark.parametrize(
    ("options", "told"),
    [
        ((), "Nothing is named that could be compared."),
        (("--jurisdiction", PLACE, "--date", "2025-07-01"), "Both sides are the same"),
        (("--jurisdiction", PLACE, "--to-date", "2025-07-01"), "Give --date."),
        (("--jurisdiction", "ospry-point", "--date", "2025-07-01", "--to-date", "2026-01-01"), "ospry-point"),
        (("--jurisdiction", PLACE, "--date", "2020-01-01", "--to-date", "2026-01-01"), "nothing was adopted yet"),
        (("--edition", "2020"), "An edition needs its document."),
        (
            ("--document", "Harbour Code", "--edition", "2020", "--to-edition", "2023"),
            "Nearest valid name: Harbor Code",
        ),
        (("--document", "Harbor Code", "--edition", "2020", "--to-edition", "2026"), "Its pack has 2020 and 2023."),
        (("--document", "Harbor Code", "--edition", "2020", "--to-edition", "2020"), "Both sides are the same"),
        (("--document", "Harbor Code", "--edition", "2020"), "No edition of Harbor Code is given."),
        (
            ("--document", "Harbor Code", "--edition", "2020", "--to-edition", "2023", "--date", "2025-07-01"),
            "Leave out --jurisdiction and the dates",
        ),
    ],
)
def test_what_cannot_be_compared_is_told(options: tuple[str, ...], told: str, run: Run) -> None:
    ran = run("rules", "compare", "--folder", PLACE, *options)
    assert (ran.status, ran.out) == (USAGE, "")
    assert told in ran.err


# --- explain ---------------------------------------------------------------------------------------------------------


@pytest.mark.usefixtures("town")
def test_a_rule_that_is_not_in_force_says_why(run: Run) -> None:
    deleted = run("rules", "explain", "set-disconnect-lockable", "--site", PLACE)
    assert deleted.status == 0
    assert "Not in force in Osprey Point on 2025-06-30. Deleted here. Sound State" in deleted.out
    assert "says nothing about it" in deleted.out
    later = run("rules", "explain", "set-stops-itself", *AT, "--date", "2025-07-01")
    assert "Harbor Code 2020 is adopted there,\n  and the rule is of 2023." in later.out


@pytest.mark.usefixtures("town")
def test_a_rule_of_a_layer_is_explained_where_it_is_in_force(run: Run) -> None:
    ran = run("rules", "explain", "osprey-point-switched-neutral", "--site", PLACE, "--date", "2025-07-01")
    assert ran.status == 0
    assert "ATS1: correction" in ran.out
    assert "no: opens: neutral in the switch is carried solid" in ran.out
    assert "5 cases beside it." in ran.out


@pytest.mark.usefixtures("town")
def test_what_only_a_town_has_is_looked_for_there(run: Run) -> None:
    ran = run("rules", "list", "--word", "osprey", "--folder", PLACE)
    assert ran.status == USAGE
    assert f"Rules that a layer adds are listed in their town: give --jurisdiction {PLACE} and --date." in ran.err


def test_cases_are_counted_where_the_town_lies_above_its_site(town: Path, run: Run) -> None:
    job = town / "jobs" / "one"
    job.mkdir(parents=True)
    (town / "site.yaml").rename(job / "site.yaml")
    asked = ("rules", "explain", "osprey-point-switched-neutral", "--site", f"{PLACE}/jobs/one", "--date", "2025-07-01")
    assert "5 cases beside it." in run(*asked).out


@pytest.mark.usefixtures("town")
@pytest.mark.parametrize(
    ("rule", "told"),
    [
        ("switch-large-enouh", "Nearest valid name: switch-large-enough"),
        ("switch-of-the-right-size", "it went to switch-large-enough"),
        ("other-pack:switch-listed", "There is no rule other-pack:switch-listed."),
    ],
)
def test_a_rule_that_is_not_there_is_told(rule: str, told: str, run: Run) -> None:
    for more in ((), (*AT, "--date", "2025-07-01"), ("--site", PLACE)):
        ran = run("rules", "explain", rule, *more)
        assert (ran.status, ran.out) == (USAGE, "")
        assert told in ran.err


# --- lint ------------------------------------------------------------------------------------------------------------

LATER = '  - {set: opening-distance, to: 12 ft, from: "2026-02-01", cites: [{section: 14-36}]}\n'
SET = '  - {set: opening-distance, to: 10 ft, from: "2025-07-01",'


@pytest.mark.parametrize(
    ("file", "old", "new", "told"),
    [
        (CODE, "set: opening-distance", "set: opening-distanse", "Nearest valid name: opening-distance"),
        (CODE, "delete: switch-listed", "delete: switch-listd", "There is no rule switch-listd."),
        (CODE, 'section: "12.4"', 'section: "12.44"', "No rule cites Harbor Code 2020 12.44."),
        (CODE, "  - {delete", f"{LATER}  - {{delete", "Changes 1 and 4 of osprey-point-code both set the distance of"),
        (
            CODE,
            "{neutral: {one_of: [switched, overlapping]}}",
            "{operation: {is: manual}}",
            "`osprey-point-switched-neutral` can never be met",
        ),
        (
            CODE,
            "when: {operation: {is: automatic}}\n",
            "when: {all: [{operation: {is: automatic}}, {operation: {is: manual}}]}\n",
            "`osprey-point-switched-neutral` can never apply",
        ),
        (f"{PLACE}-code.cases.yaml", "outcome: correction, says", "outcome: not_applicable, says", "shows correction"),
        (
            f"{PLACE}-code.cases.yaml",
            "but: {neutral: solid}, outcome: correction, says: ",
            "but: {neutral: switched}, outcome: correction, says: ",
            "comes out as correction when it is run",
        ),
        (f"{PLACE}-code.cases.yaml", "switch-listed:\n", "switch-lister:\n", "Nearest valid name: switch-listed"),
        ("sound-state.cases.yaml", "shows: neither, outcome: correction", "shows: neither, outcome: met", ""),
        (PROFILE, "layer: osprey-point-code", "layer: osprey-code", "There is no layer osprey-code."),
        (PROFILE, 'edition: "2023"', 'edition: "2026"', "There is no edition 2026 of Harbor Code."),
        (
            PROFILE,
            "layers:",
            'interpretations:\n  - {rule: switch-lited, status: answered, says: a, by: b, on: "2025-01-01"}\nlayers:',
            "Nearest valid name: switch-listed",
        ),
    ],
)
def test_what_is_wrong_in_a_town(file: str, old: str, new: str, told: str, change: Change, run: Run) -> None:
    change(file, old, new)
    ran = run("rules", "lint", PLACE)
    if told:
        assert ran.status == LINT_WRONG
        assert told in " ".join(ran.out.split())
        assert f"{PLACE}/" in ran.out
    else:
        assert run("rules", "test", PLACE).status == LINT_WRONG


@pytest.mark.parametrize(
    ("file", "old", "new", "told"),
    [
        (PROFILE, 'from: "2022-07-01",', 'from: "2022-07-01", until: "2025-11-30",', "from 2025-12-01 to 2025-12-31"),
        (PROFILE, 'from: "2022-07-01",', 'from: "2022-07-01", until: "2026-05-01",', "from that day on 2023 counts"),
        (PROFILE, 'from: "2026-01-01",', 'from: "2026-01-01", until: "2029-01-01",', "is adopted after 2029-01-01"),
        (PROFILE, 'edition: "2020", from: "2022-07-01"', 'edition: "2020", from: "2027-07-01"', "goes back from 2023"),
        (PROFILE, "  - {layer: osprey-point-code, may: tighten}\n", "", "No profile beside it names the layer"),
        (PROFILE, "may: tighten", "may: nothing", "may not change the rules below it"),
        (
            CODE,
            SET,
            f'{LATER}  - {{set: opening-distance, to: 10 ft, from: "2025-07-01", until: "2025-12-31",',
            "sets the distance of a set from an opening from 2026-01-01 to 2026-01-31",
        ),
        (
            CODE,
            "    cites: [{section: 14-31}]\n  - {widen",
            "    cites: [{section: 14-31}]\n    reason: >-\n      a # note\n  - {widen",
            "begins no comment here",
        ),
        (
            STATE,
            'from: "2022-07-01", cites: [{section: 12-4(c)}]',
            'until: "2022-08-01", cites: [{section: 12-4(c)}]',
            "",
        ),
    ],
)
def test_what_deserves_a_second_look_in_a_town(
    file: str, old: str, new: str, told: str, change: Change, run: Run
) -> None:
    before = " ".join(run("rules", "lint", PLACE).out.split())
    change(file, old, new)
    ran = run("rules", "lint", PLACE)
    words = " ".join(ran.out.split())
    assert "both set" not in words
    if told:
        assert told not in before
        assert told in words
    else:
        assert ran.status == 0
        assert "which has no `set-disconnect-lockable`" in before
        assert "which has no `set-disconnect-lockable`" not in words


def test_cases_of_layers_run_on_the_rule_as_the_layer_leaves_it(change: Change, run: Run) -> None:
    change(CODE, "to: 10 ft", "to: 6 ft")
    ran = run("rules", "test", PLACE, "--rule", "set-clear-of-openings")
    assert ran.status == LINT_WRONG
    assert "far enough before and not now\n  came out as met, wanted correction\n" in ran.out


def test_a_rule_is_not_in_force_before_its_day(change: Change, run: Run) -> None:
    change(
        f"{PLACE}-code.cases.yaml",
        'date: "2025-06-30", outcome: not_in_force',
        'date: "2025-07-01", outcome: not_in_force',
    )
    ran = run("rules", "test", PLACE)
    assert ran.status == LINT_WRONG
    assert "came out as met, wanted not_in_force" in ran.out


def test_a_layer_without_cases_asks_for_them(town: Path, run: Run) -> None:
    (town / f"{PLACE}-code.cases.yaml").unlink()
    ran = run("rules", "lint", PLACE)
    assert ran.status == LINT_WRONG
    words = " ".join(ran.out.split())
    assert "There is no case of `set-clear-of-openings`, which change 1 of osprey-point-code changes." in words
    assert "Write met and correction into osprey-point-code.cases.yaml beside the layer." in words
    assert "There is no case of `switch-listed`, which change 4 of osprey-point-code deletes." in words
    assert "4 wrong" in words


def test_a_broken_layer_never_hides_the_others(change: Change, run: Run) -> None:
    change(STATE, "changes:", "changes: [\n")
    ran = run("rules", "lint", PLACE)
    assert ran.status == LINT_WRONG
    assert "sound-state.yaml" in ran.out
    listed = run("packs", PLACE)
    assert listed.status == USAGE
    assert "osprey-point-code" in listed.out
    assert "sound-state.yaml" in listed.err
    for command in (("rules", "list", *AT, "--date", "2025-07-01"), ("rules", "test", PLACE)):
        assert run(*command).status == USAGE


@pytest.mark.usefixtures("town")
@pytest.mark.parametrize("command", [("rules", "list"), ("rules", "compare"), ("rules", "explain", "switch-listed")])
def test_a_folder_that_is_not_there_is_told(command: tuple[str, ...], run: Run) -> None:
    ran = run(*command, "--jurisdiction", PLACE, "--date", "2025-07-01", "--folder", "nowhere")
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err.startswith("There is no folder nowhere.")


def test_names_in_a_layer_steer_no_terminal(change: Change, run: Run) -> None:
    change(CODE, "title: Osprey Point Town Code", 'title: "Osprey \\e[31mPoint"')
    for name in ("list-in-force", "compare-dates", "explain-on-site", "lint", "packs"):
        ran = run(*RUNS[name])
        assert "\x1b" not in ran.out + ran.err


def test_a_miss_on_other_grounds_is_told(change: Change, run: Run) -> None:
    change("site.yaml", "rated_current: 100 A", "rated_current: 60 A")
    ran = run(*RUNS["compare-editions"])
    told = " ".join(ran.out.split())
    assert "was a correction, and is so still, on other grounds ATS1 is rated 60 A, and 125 A is the least." in told
    assert "because: least rating of a transfer switch: was 100 A, is 125 A" in ran.out


def test_what_one_applicant_may_elect_is_no_difference(change: Change, run: Run) -> None:
    grace = 'grace: [{for: osprey-point-code, until: "2025-08-31", elect: rules_before}]\nlayers:'
    change(PROFILE, "layers:", grace)
    ran = run(*RUNS["compare-dates"])
    assert ran.status == 0
    assert "elect" not in ran.out


def test_the_folder_of_the_packs_themselves_is_no_place(run: Run) -> None:
    assert run("rules", "list", "--folder", str(TOWN / "packs")).out == run("rules", "list").out


def test_a_case_runs_on_the_day_on_which_the_changes_have_begun(change: Change, run: Run) -> None:
    change(
        CODE,
        '    from: "2025-07-01"\n    cites: [{section: 14-31}]',
        '    from: "2027-07-01"\n    cites: [{section: 14-31}]',
    )
    ran = run("rules", "test", PLACE)
    assert (ran.status, ran.out.splitlines()[-1]) == (0, "15 cases and 0 edges of 5 rules were run; all hold.")


def test_a_case_of_a_layer_meets_the_layers_below(change: Change, run: Run) -> None:
    change(
        CODE, "{delete: switch-listed", "{add_way: {to: switch-listed, name: by_hand, if: {operation: {is: manual}}}"
    )
    cases = "base: {listed: no, field_evaluated: yes, operation: automatic}\n  cases:\n    - {shows: below, "
    change(
        f"{PLACE}-code.cases.yaml",
        "base: {listed: no, field_evaluated: no}\n  cases:\n    - {shows: the town may not leave it out and here does, "
        "outcome: not_in_force}",
        f"{cases}outcome: not_applicable}}",
    )
    ran = run("rules", "test", PLACE, "--rule", "switch-listed")
    assert (ran.status, ran.out.splitlines()[-1]) == (0, "3 cases and 0 edges of 1 rule were run; all hold.")


def test_edges_are_of_packs_only(run: Run, town: Path) -> None:
    ran = run("rules", "test", PLACE, "--edges")
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err.startswith("--edges covers packs only")
    assert town.is_dir()


def test_a_change_of_several_rules_is_shown_on_one_of_them(change: Change, run: Run) -> None:
    change(CODE, '{widen: {section: "12.4"}, when: {operation: {is: manual}}', NARROWED)
    ran = run("rules", "lint", PLACE)
    assert ran.status == 0
    assert "harbor-code:switch-large-enough (Harbor Code 2020 12.4): applies" in ran.out
    assert "harbor-code:switch-listed (Harbor Code 2020 12.5" in ran.out


def test_a_layer_from_elsewhere_is_read_and_not_looked_at(town: Path, run: Run) -> None:
    for name in (STATE, "sound-state.cases.yaml"):
        (town / name).rename(town.parent / name)
    ran = run("rules", "lint", PLACE)
    assert ran.status == 0
    assert "sound-state, change 2, add exception" not in ran.out
    assert "osprey-point-code, change 1" in ran.out


def test_two_files_of_one_name_are_told(town: Path, run: Run) -> None:
    for name in (CODE, PROFILE):
        (town / f"zz-{name}").write_text((town / name).read_text(encoding="utf-8"), encoding="utf-8")
    ran = run("rules", "lint", PLACE)
    assert ran.status == LINT_WRONG
    assert "Two files hold the layer osprey-point-code." in ran.out
    assert "Two files hold the profile osprey-point." in ran.out


def test_versions_are_told_by_what_differs(change: Change, run: Run) -> None:
    change(PROFILE, "may: tighten", "may: ease")
    ran = run("rules", "explain", "set-clear-of-openings", *AT, "--date", "2025-07-01")
    words = " ".join(ran.out.split())
    assert "state rule 12-4: as it stands there. Osprey Point, building department: distance of a set" in words
    assert "from an opening 10 ft, clear for each" not in words
