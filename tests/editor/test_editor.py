"""A YAML language server with our schemas: what it completes, explains and marks as wrong.

Run on their own, as they need node: ``pytest tests/editor`` after ``npm ci`` in this folder.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.tasks.drafting.yaml_text import schema_line
from tests.editor.conftest import Open
from tests.project.project_tree import ROOT

COMPLETIONS = {
    "keys of the site": ("site", "site:\n  name: a\n  ‸\n", {"stage", "work", "occupancy"}, {"neutral"}),
    "stages": ("site", "site:\n  stage: ‸\n", {"plan_review", "acceptance", "unknown"}, {"solid"}),
    "kinds": ("site", "equipment:\n  A1:\n    kind: ‸\n", {"transfer_switch", "generator", "panelboard"}, {"solid"}),
    "keys of a switch": (
        "site",
        "equipment:\n  A1:\n    kind: transfer_switch\n    ‸\n",
        {"neutral", "normal", "alternate", "rated_current", "ways", "withstand_rows"},
        {"fuel", "fed_from"},
    ),
    "choices of a switch": (
        "site",
        "equipment:\n  A1:\n    kind: transfer_switch\n    neutral: ‸\n",
        {"solid", "switched", "overlapping", "not_carried", "unknown"},
        {"bonded"},
    ),
    "what a paper shows": (
        "site",
        "papers:\n  - paper: survey\n    shows: [‸]\n",
        {"lot_lines", "openings", "gas_meter", "neutral_bond"},
        {"survey"},
    ),
    "changes of a layer": (
        "layer",
        "changes:\n  - ‸\n",
        {"add", "set", "delete", "ask_for", "limit", "from", "until", "cites", "reason"},
        {"rules"},
    ),
    "exceptions of a number that is set": ("layer", "changes:\n  - exceptions: ‸\n", {"apply", "do_not_apply"}, set()),
    "words of a paper of a town's own": (
        "layer",
        "papers:\n  notice-to-neighbors:\n    ‸\n",
        {"title", "means", "due", "cites"},
        {"ask_for"},
    ),
    "papers in a layer": ("layer", "changes:\n  - ask_for:\n      paper: ‸\n", {"survey", "one_line"}, {"lot_lines"}),
    "what a paper must show": (
        "layer",
        "changes:\n  - ask_for:\n      paper: survey\n      must_show: [‸]\n",
        {"lot_lines", "breaker_ratings"},
        {"survey"},
    ),
    "when a paper is asked for": (
        "layer",
        "changes:\n  - ask_for:\n      paper: survey\n      when:\n        ‸\n",
        {"occupancy", "work", "all"},
        {"neutral"},
    ),
    "facts in a rule that a layer adds": (
        "layer",
        "changes:\n  - add:\n      subject: transfer_switch\n      when:\n        ‸\n",
        {"neutral", "alternate.kind", "site.occupancy", "all", "not"},
        {"floor_area"},
    ),
    "choices in a rule that a layer adds": (
        "layer",
        "changes:\n  - add:\n      subject: transfer_switch\n      when:\n        neutral:\n          is: ‸\n",
        {"solid", "switched"},
        {"bonded"},
    ),
    "several choices in a rule": (
        "pack",
        "rules:\n  a-b:\n    subject: transfer_switch\n    when:\n      neutral:\n        one_of: [‸]\n",
        {"solid", "switched"},
        {"bonded"},
    ),
    "relations of a fact in a rule": (
        "pack",
        "rules:\n  a-b:\n    subject: transfer_switch\n    when:\n      rated_current:\n        ‸\n",
        {"at_least", "less_than", "if_absent"},
        {"includes_all"},
    ),
    "subjects": ("pack", "rules:\n  a-b:\n    subject: ‸\n", {"transfer_switch", "service_disconnect"}, {"solid"}),
    "words of a profile": (
        "profile",
        "profile: a\n‸\n",
        {"event", "documents", "layers", "interpretations", "special_permissions"},
        {"rules"},
    ),
    "events": ("profile", "event: ‸\n", {"permit_application", "engine_built"}, {"anything"}),
    "what an authority may do": ("profile", "layers:\n  - layer: a\n    may: ‸\n", {"tighten", "anything"}, {"apply"}),
    "words of a case": ("cases", "a-b:\n  cases:\n    - ‸\n", {"shows", "but", "outcome", "date", "needs"}, {"base"}),
    "outcomes": ("cases", "a-b:\n  cases:\n    - outcome: ‸\n", {"met", "correction", "not_in_force"}, {"passed"}),
}  # fmt: skip


@pytest.mark.parametrize("what", COMPLETIONS)
def test_completed(what: str, editor: Open) -> None:
    schema, text, there, not_there = COMPLETIONS[what]
    found = set(editor(schema, text).completion())
    assert there <= found, sorted(there - found)
    assert not not_there & found


HOVERS = {
    "a fact": (
        "site",
        "equipment:\n  A1:\n    kind: transfer_switch\n    neu‸tral: solid\n",
        ("neutral in the switch", "carried solid", "Found on: nameplate"),
    ),
    "a quantity": (
        "site",
        "equipment:\n  A1:\n    kind: transfer_switch\n    rated_cur‸rent: 200 A\n",
        ("With its unit (A)", "Found on"),
    ),
    "a kind": ("site", "equipment:\n  A1:\n    ki‸nd: transfer_switch\n", ("transfer switch",)),
    "what a paper shows": ("site", "papers:\n  - paper: survey\n    sho‸ws: [openings]\n", ("windows and other",)),
    "a change": ("layer", "changes:\n  - se‸t: a\n    to: 10 ft\n", ("The number that changes",)),
    "a date of a change": ("layer", "changes:\n  - set: a\n    fro‸m: \"2025-07-01\"\n", ("First day",)),
    "a fact in a rule": (
        "layer",
        "changes:\n  - add:\n      subject: transfer_switch\n      when:\n        neu‸tral: {is: solid}\n",
        ("neutral in the switch", "carried solid"),
    ),
    "a relation": (
        "pack",
        "rules:\n  a-b:\n    subject: transfer_switch\n    when:\n      rated_current: {at_l‸east: {parameter: b}}\n",
        ("Not below",),
    ),
    "what an authority may do": ("profile", "layers:\n  - layer: a\n    m‸ay: tighten\n", ("not applied",)),
    "the event": ("profile", "eve‸nt: occupancy\n", ("decides which rules count",)),
    "a case": ("cases", "a-b:\n  cases:\n    - outc‸ome: met\n", ("What must come out",)),
}  # fmt: skip


@pytest.mark.parametrize("what", HOVERS)
def test_explained(what: str, editor: Open) -> None:
    schema, text, phrases = HOVERS[what]
    shown = editor(schema, text).hover().replace("\\", "")
    assert all(phrase in shown for phrase in phrases), shown


PROBLEMS = {
    "misspelt key of a switch": (
        "site",
        "site: {stage: plan_review}\nequipment:\n  A1:\n    kind: transfer_switch\n    neutrl: solid\n",
        4,
        "neutrl is not allowed",
    ),
    "wrong unit": (
        "site",
        "site: {stage: plan_review}\nequipment:\n  A1: {kind: transfer_switch, rated_current: 200 kW}\n",
        2,
        "with its unit (A",
    ),
    "misspelt choice": ("site", "site: {stage: plan_reviw}\n", 0, '"plan_review"'),
    "misspelt change": ("layer", "layer: a\nchanges:\n  - {delte: a-b}\n", 2, "delte is not allowed"),
    "date of a change": ("layer", "layer: a\nchanges:\n  - {delete: a-b, from: 1 July}\n", 2, "year, month and day"),
    "misspelt paper of every town": (
        "site",
        "site: {stage: plan_review}\nequipment: {}\npapers: [{paper: gas_digram}]\n",
        2,
        '"gas_diagram"',
    ),
    "unknown thing that a paper shows": (
        "layer",
        "layer: a\nchanges:\n  - {ask_for: {paper: survey, must_show: [lot_line]}}\n",
        2,
        '"lot_lines"',
    ),
    "misspelt event": ("profile", "profile: a\ntitle: A\nevent: permit\n", 2, '"permit_application"'),
    "misspelt word of a case": ("cases", "a-b:\n  cases:\n    - {shows: a, outcom: met}\n", 2, "outcom is not allowed"),
    "misspelt relation": (
        "pack",
        "rules:\n  a-b:\n    subject: transfer_switch\n    requires: {a: {rated_current: {at_lest: {parameter: b}}}}\n",
        3,
        "at_lest is not allowed",
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", PROBLEMS)
def test_marked_as_wrong(what: str, editor: Open) -> None:
    schema, text, line, words = PROBLEMS[what]
    found = [(each["range"]["start"]["line"] - 1, each["message"]) for each in editor(schema, text).problems()]
    assert any(at == line and words in message for at, message in found), found


@pytest.mark.parametrize("fixture", ["harrow-lane", "plover-row", "heron-cottage", "marsh-ferry"])
def test_nothing_is_wrong_with_the_fixtures(fixture: str, editor: Open) -> None:
    text = (ROOT / "fixtures" / fixture / "site.yaml").read_text(encoding="utf-8")
    assert editor("site", text).problems() == []


PACKS = (
    "rulesets/nfpa-70/article-702.yaml",
    "rulesets/trade-practice/siting.yaml",
    "rulesets/profiles/nec-2020.yaml",
    "fixtures/marsh-ferry/marsh-ferry-code.yaml",
)


@pytest.mark.parametrize("pack", PACKS)
def test_nothing_is_wrong_with_the_packs(pack: str, editor: Open) -> None:
    path = ROOT / pack
    opened = editor("", path.read_text(encoding="utf-8"), folder=path.parent, first="")
    assert [(each["range"]["start"]["line"], each["message"]) for each in opened.problems()] == []


# --- the first line --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("schema", ["site", "layer", "profile", "cases", "pack"])
@pytest.mark.parametrize("inside", [True, False])
def test_first_line_that_a_draft_writes_is_followed(schema: str, inside: bool, editor: Open, tmp_path: Path) -> None:
    folder = ROOT / "fixtures" / "nowhere" if inside else tmp_path / "a town"
    line = schema_line(folder, schema)
    assert ("file://" in line) is not inside
    assert editor(schema, "‸\n", folder=folder, first=line).completion()


def test_without_a_first_line_nothing_is_known(editor: Open) -> None:
    opened = editor("site", "site:\n  stage: ‸\n", first="")
    assert "plan_review" not in opened.completion()
