"""Every way of getting a layer or a profile wrong is told once, in plain words and with its place."""

# ruff: noqa: E501  changes of a layer stand on one line, as in a layer
from __future__ import annotations

from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.files.cache import NO_CACHE
from checker.rules.named_files import find_layer
from checker.rules.profile import read_profile
from checker.tasks.gathering.layers import layers_of
from checker.values.problems import Problem, Unreadable
from tests.rules.layers.shelves import PROFILE, layer_text, pack_of, problems_of

CITES = "cites: [{section: '1'}]"
JARGON = ("schema", "instance", "None", "validator", "Traceback", "oneOf", "anyOf", "dict", "required property", "[]")
BODY = 'title: Far, subject: generator, requires: {far: {place: {is: outdoors}}}, says: "{subject} is near."'

LAYERS = {
    "nothing done": (f"  - {{{CITES}}}", "This change does nothing.", "9:5"),
    "two things done": (f"  - {{delete: set-is-listed, renumber: set-is-listed, {CITES}}}", "This change does 2 things: `delete` and `renumber`.", "9:5"),
    "a misspelt operation": (f"  - {{delte: set-is-listed, {CITES}}}", "`delte` is no word of a change.", "9:6"),
    "a word of another operation": (f"  - {{delete: set-is-listed, with: {{{BODY}}}, {CITES}}}", "`with` does not belong to `delete`.", "9:29"),
    "replace without a rule": (f"  - {{replace: set-is-listed, {CITES}}}", "`replace` does not say to what.", "9:6"),
    "set without a value": (f"  - {{set: least-rating, {CITES}}}", "`set` does not say to what.", "9:6"),
    "set of a rule with exceptions": (f"  - {{set: least-rating, to: 90 A, {CITES}}}", "fern-code:switch-is-listed has exceptions, and the change does not say whether they still count.", "9:6"),
    "set to another kind of quantity": (f"  - {{set: least-rating, to: 9 kW, exceptions: apply, {CITES}}}", "least-rating: 9 kW is active power; this fact is load current.", "9:29"),
    "a number that there is not": (f"  - {{set: least-ratin, to: 9 A, exceptions: apply, {CITES}}}", "No parameter is meant by least-ratin.", "9:11"),
    "nothing cited": ("  - {delete: set-is-listed}", "This change does not say what it rests on.", "9:6"),
    "ends before it begins": (f"  - {{delete: set-is-listed, from: '2026-02-01', until: '2026-01-01', {CITES}}}", "This change ends before it begins.", "9:49"),
    "no day of the calendar": (f"  - {{delete: set-is-listed, from: '2026-02-30', {CITES}}}", "from: 2026-02-30 is no day of the calendar.", "9:35"),
    "an exception that there is": (f"  - {{add_exception: {{to: switch-is-listed, id: judged-there, if: {{status: {{is: new}}}}, because: so}}, {CITES}}}", "fern-code:switch-is-listed has an exception `judged-there` already.", "9:6"),
    "an exception that there is not": (f"  - {{end_exception: {{of: switch-is-listed, id: judged-ther}}, {CITES}}}", "fern-code:switch-is-listed has no exception `judged-ther`.", "9:48"),
    "a way that there is": (f"  - {{add_way: {{to: set-is-outdoors, name: outdoors, if: {{place: {{is: garage}}}}}}, {CITES}}}", "fern-code:set-is-outdoors has a way `outdoors` already.", "9:6"),
    "a way to a look": (f"  - {{add_way: {{to: set-is-marked, name: seen, if: {{place: {{is: garage}}}}}}, {CITES}}}", "fern-code:set-is-marked asks for nothing that has ways.", "9:6"),
    "a fact that the subject does not have": (f"  - {{narrow: set-is-listed, when: {{poles: {{is: 2}}}}, {CITES}}}", "There is no fact `poles` of generator.", "9:36"),
    "a rule that applies everywhere": (f"  - {{widen: set-is-listed, when: {{status: {{is: new}}}}, {CITES}}}", "fern-code:set-is-listed applies everywhere already.", "9:6"),
    "a limit of nothing": (f"  - {{limit: set-is-listed, {CITES}}}", "This change limits nothing.", "9:6"),
    "a reference that leads nowhere": (f"  - {{redirect: {{document: Fern Code}}, to: Moss Code, {CITES}}}", "The reference does not say where it leads.", "9:6"),
    "one id twice": (f"  - {{add: {{id: set-is-far, {BODY}}}, {CITES}}}\n  - {{add: {{id: set-is-far, {BODY}}}, {CITES}}}", "`set-is-far` is added twice.", "10:6"),
    "an id of one word": (f"  - {{add: {{id: far, {BODY}}}, {CITES}}}", "`far` cannot be used as a name.", "9:16"),
    "a rule that says nothing": ("  - {add: {id: set-is-far, title: Far, subject: generator, requires: {far: {place: {is: outdoors}}}}, " + CITES + "}", "There is no `says` in this rule.", "9:6"),
    "a paper that there is not": (f"  - {{ask_for: {{paper: survay}}, {CITES}}}", "`survay`", "9:6"),
    "a place in a because": (f"  - {{add_exception: {{to: set-is-listed, id: old-set, if: {{status: {{is: new}}}}, because: \"{{tag}} is old\"}}, {CITES}}}", "This text is printed without a subject, so nothing can be filled in.", "9:88"),
}  # fmt: skip


def _is_plain(problem: Problem) -> None:
    assert problem.sentence.endswith(".")
    assert problem.remedy or "write" in problem.sentence
    assert not [word for word in JARGON if word in str(problem)], str(problem)


@pytest.mark.parametrize("what", LAYERS)
def test_bad_layer(what: str, tmp_path: Path) -> None:
    changes, told, place = LAYERS[what]
    problems = problems_of(tmp_path, layer_text(f"{changes}\n"))
    (problem,) = problems
    assert told in problem.sentence
    _is_plain(problem)
    assert problem.at is not None
    if place:
        assert str(problem.at) == f"layer.yaml:{place}"


HEADS = {
    "no authority": ("authority: Council of town\n", "", "There is no `authority` in this layer.", "1:1"),
    "a basis that there is not": ("basis: law", "basis: lore", "`lore` is no word for `basis`.", "5:8"),
    "another document": ("document: Fern Code, written", "document: Fen Code, written", "There is no rule pack of Fen Code.", "6:9"),
    "another edition": ('written_against: "1"', 'written_against: "7"', "The layer does not say against which edition of Fern Code it was written.", "6:9"),
    "no edition": (', written_against: "1"', "", "The layer does not say against which edition of Fern Code it was written.", "6:9"),
    "practice that changes a rule": ("basis: law", "basis: local_practice", "Practice cannot delete a rule of somebody else.", "9:6"),
    "text that is no YAML": ("changes:", "changes: {", "", ""),
    "an empty file": (None, "", "", ""),
}  # fmt: skip


@pytest.mark.parametrize("what", HEADS)
def test_bad_head(what: str, tmp_path: Path) -> None:
    old, new, told, place = HEADS[what]
    text = layer_text(f"  - {{delete: set-is-listed, {CITES}}}\n")
    text = new if old is None else text.replace(old, new)
    problems = problems_of(tmp_path, text)
    assert len(problems) == 1, [str(each) for each in problems]
    assert told in problems[0].sentence
    _is_plain(problems[0])
    if place:
        assert str(problems[0].at) == f"layer.yaml:{place}"


def test_sound_layer(tmp_path: Path) -> None:
    assert problems_of(tmp_path, layer_text(f"  - {{delete: set-is-listed, {CITES}}}\n")) == ()


PROFILES = {
    "may what": ("layers:\n  - {layer: town, may: tightn}\n", "`tightn` is no word for `may`.", "7:24"),
    "no may": ("layers:\n  - {layer: town}\n", "There is no `may` in this layer of a profile.", "7:5"),
    "an event that there is not": ("layers:\n  - {layer: town, may: ease, event: wedding}\n", "`wedding` is no word for `event`.", "7:37"),
    "ends before it begins": ("layers:\n  - {layer: town, may: ease, from: '2026-02-01', until: '2026-01-01'}\n", "This ends before it begins.", "7:50"),
    "where without words": ("layers:\n  - {layer: town, may: ease, where: {zones: {includes: historic, if_absent: no}}}\n", "There is no `where_words` in this entry with where.", "7:5"),
    "words without where": ("layers:\n  - {layer: town, may: ease, where_words: here}\n", "`where_words` stands beside `where`: write both, or neither.", "7:30"),
    "where of a fact of a set": ("layers:\n  - {layer: town, may: ease, where: {fuel: {is: diesel}}, where_words: here}\n", "There is no fact `fuel` of site.", "7:38"),
    "where of several things": ("layers:\n  - {layer: town, may: ease, where: {some: {of: papers, where: {paper: {is: survey}}}}, where_words: here}\n", "`where` asks facts of the site alone.", "7:30"),
    "grace for nobody": ("grace:\n  - {for: twn, until: '2026-01-01', elect: rules_before}\n", "twn is no document or layer of this profile.", "7:5"),
    "grace without end": ("grace:\n  - {for: Fern Code, elect: rules_before}\n", "There is no `until` in this time of grace.", "7:5"),
    "an election of something else": ("grace:\n  - {for: Fern Code, until: '2026-01-01', elect: rules_after}\n", "`rules_after` is no word for `elect`.", "7:50"),
    "a status that there is not": ("interpretations:\n  - {rule: a-b, status: maybe, says: So., by: me, on: '2026-01-01'}\n", "`maybe` is no word for `status`.", "7:25"),
    "an interpretation without a day": ("interpretations:\n  - {rule: a-b, status: open, says: So., by: me}\n", "There is no `on` in this interpretation.", "7:5"),
    "a permission without a site": ("special_permissions:\n  - {rule: a-b, says: So., by: me, on: '2026-01-01'}\n", "There is no `site` in this special permission.", "7:5"),
    "a permission on no day": ("special_permissions:\n  - {rule: a-b, site: here, says: So., by: me, on: '2026-13-01'}\n", "on: 2026-13-01 is no day of the calendar.", "7:52"),
    "a paper without a source": ("papers:\n  - {paper: survey}\n", "There is no `cites` in this paper.", "7:5"),
}  # fmt: skip


@pytest.mark.parametrize("what", PROFILES)
def test_bad_profile(what: str, tmp_path: Path) -> None:
    more, told, place = PROFILES[what]
    (tmp_path / "profile.yaml").write_text(PROFILE + more, encoding="utf-8")
    with pytest.raises(Unreadable) as caught:
        read_profile(tmp_path / "profile.yaml", "profile.yaml")
    wanted = [each for each in caught.value.problems if told in each.sentence]
    assert len(wanted) == 1, [str(each) for each in caught.value.problems]
    _is_plain(wanted[0])
    assert str(wanted[0].at) == f"profile.yaml:{place}"


def test_a_layer_without_a_file(tmp_path: Path) -> None:
    (tmp_path / "town.yaml").write_text(layer_text(f"  - {{delete: set-is-listed, {CITES}}}\n"), encoding="utf-8")
    (tmp_path / "profile.yaml").write_text(PROFILE + "layers:\n  - {layer: twn, may: ease}\n", encoding="utf-8")
    profile = read_profile(tmp_path / "profile.yaml", "profile.yaml")
    with pytest.raises(Unreadable) as caught:
        layers_of(profile, (tmp_path,), (pack_of(tmp_path),), shipped_catalog(), NO_CACHE)
    (problem,) = caught.value.problems
    assert (problem.sentence, problem.near) == ("There is no layer twn.", "town")
    assert str(problem.at) == "profile.yaml:7:5"


def test_two_files_of_one_layer(tmp_path: Path) -> None:
    for name in ("town.yaml", "town-old.yaml"):
        (tmp_path / name).write_text("layer: town\n", encoding="utf-8")
    with pytest.raises(Unreadable, match=r"The layer town stands in town-old\.yaml and town\.yaml\."):
        find_layer("town", (tmp_path,))


def test_problems_of_a_layer_hide_those_that_follow_from_them(tmp_path: Path) -> None:
    bad = layer_text(f"  - {{add: {{id: far, {BODY}}}, {CITES}}}\n", "state")
    above = layer_text(f"  - {{delete: state:set-is-far, {CITES}}}\n", "village")
    for name, text in (("state", bad), ("village", above)):
        (tmp_path / f"{name}.yaml").write_text(text, encoding="utf-8")
    lines = "layers:\n  - {layer: state, may: anything}\n  - {layer: village, may: anything}\n"
    (tmp_path / "profile.yaml").write_text(PROFILE + lines, encoding="utf-8")
    profile = read_profile(tmp_path / "profile.yaml", "profile.yaml")
    with pytest.raises(Unreadable) as caught:
        layers_of(profile, (tmp_path,), (pack_of(tmp_path),), shipped_catalog(), NO_CACHE)
    assert [each.at and each.at.file.rpartition("/")[2] for each in caught.value.problems] == ["state.yaml"]
