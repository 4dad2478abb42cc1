"""Papers that a layer declares: what is read of one, who can ask for it, what is told of a slip."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Stage
from checker.rules.grammar import PAPER
from checker.rules.layers.lint import unused_papers
from checker.rules.layers.model import Layer
from checker.rules.layers.own_papers import knowing, papers_of
from checker.rules.layers.read import read_layer
from checker.rules.layers.shelf import Shelf
from checker.values.problems import Unreadable
from tests.rules.layers.shelves import layer_text, pack_of, problems_of, rule, town

CITES = 'cites: [{section: "9"}]'
SURE = '{sure: high, against: the filed copy, on: "2026-01-02", by: clerk}'
FORM = f"  wharf-form: {{title: form for the wharf, means: Ask for it at the counter., due: acceptance, {CITES}}}\n"
ASK = f"  - {{ask_for: {{paper: wharf-form}}, {CITES}}}\n"
LISTED = f"  - {{delete: set-is-listed, {CITES}}}\n"


def _declaring(papers: str, changes: str = ASK, name: str = "town") -> str:
    return layer_text(changes, name=name, more=f"papers:\n{papers}")


def _layer(folder: Path, text: str, *below: Layer) -> Layer:
    path = folder / f"{len(below)}.yaml"
    path.write_text(text, encoding="utf-8")
    return read_layer(path, shipped_catalog(), Shelf((pack_of(folder),), below))


def test_a_declared_paper_is_read_with_what_it_rests_on(tmp_path: Path) -> None:
    (paper,) = _layer(tmp_path, _declaring(FORM)).papers
    assert (paper.name, paper.title, paper.means) == ("wharf-form", "form for the wharf", "Ask for it at the counter.")
    assert paper.due is Stage.ACCEPTANCE
    assert [(each.document, each.section, each.verify) for each in paper.cites] == [("Town law", "9", False)]


def test_it_is_due_at_plan_review_where_nothing_is_said(tmp_path: Path) -> None:
    (paper,) = _layer(tmp_path, _declaring(f"  wharf-form: {{title: form, {CITES}}}\n")).papers
    assert paper.due is Stage.PLAN_REVIEW


def test_it_is_asked_for_by_its_title_and_when_it_is_wanted(tmp_path: Path) -> None:
    found = rule(town(_declaring(FORM)).in_force(tmp_path), "packet-holds-wharf-form").rule
    assert found.says == "This office asks for the form for the wharf."
    assert found.due is Stage.ACCEPTANCE
    assert "paper: wharf-form" in found.remedy[0].text


def test_a_layer_above_can_ask_for_it(tmp_path: Path) -> None:
    found = town(_declaring(FORM, LISTED, "state"), layer_text(ASK)).in_force(tmp_path)
    assert rule(found, "packet-holds-wharf-form").authority == "Council of town"
    assert [each.name for each in found.papers] == ["wharf-form"]


def test_a_rule_of_its_own_can_name_it(tmp_path: Path) -> None:
    asks = "{some: {of: papers, where: {paper: {one_of: [survey, wharf-form]}}}}"
    own = f'{{id: form-is-there, title: There, subject: site, requires: {{there: {asks}}}, says: "It is not."}}'
    layer = _layer(tmp_path, _declaring(FORM, f"  - {{add: {own}, {CITES}}}\n"))
    assert [each.id for each in layer.added] == ["form-is-there"]
    assert list(unused_papers(layer, ())) == []


@pytest.mark.parametrize(
    ("papers", "sentence", "near"),
    [
        (
            f"  survey-again: {{title: survey or site plan, {CITES}}}\n",
            "The paper `survey-again` has the title of the paper `survey`.",
            None,
        ),
        (
            f"  second-form: {{title: form for the wharf, {CITES}}}\n",
            "The paper `second-form` has the title of the paper `wharf-form`.",
            None,
        ),
        (
            "  second-form: {title: second form, cites: none}\n",
            "The paper `second-form` does not say what it rests on.",
            None,
        ),
        (f"  form: {{title: second form, {CITES}}}\n", "`form` cannot be used as a name.", None),
        (f"  second_form: {{title: second form, {CITES}}}\n", "`second_form` cannot be used as a name.", None),
        (
            f"  second-form: {{title: other, due: plan_reviev, {CITES}}}\n",
            "`plan_reviev` is no word for `due`.",
            "plan_review",
        ),
        (f"  second-form: {{titel: other, {CITES}}}\n", "`titel` is no word of a paper of its own.", "title"),
    ],
)
def test_slips_in_a_declaration(papers: str, sentence: str, near: str | None, tmp_path: Path) -> None:
    told = {each.sentence: each.near for each in problems_of(tmp_path, _declaring(FORM + papers))}
    assert sentence in told
    assert told[sentence] == near


def test_a_paper_of_the_layer_below_is_not_declared_again(tmp_path: Path) -> None:
    below = _layer(tmp_path, _declaring(FORM, LISTED, "state"))
    with pytest.raises(Unreadable) as raised:
        _layer(tmp_path, _declaring(f"  wharf-form: {{title: another, {CITES}}}\n"), below)
    assert raised.value.problems[0].sentence == "The paper `wharf-form` is declared already, by a layer below."


def test_a_misspelt_paper_is_told_with_the_nearest(tmp_path: Path) -> None:
    (told,) = problems_of(tmp_path, _declaring(FORM, ASK.replace("wharf-form", "warf-form")))
    assert told.sentence == "`warf-form` is no choice of `paper`."
    assert told.near == "wharf-form"


def test_nobody_asks_for_a_paper_that_no_layer_declares(tmp_path: Path) -> None:
    (told,) = problems_of(tmp_path, layer_text(ASK))
    assert told.sentence == "`wharf-form` is no choice of `paper`."
    assert "declared in its layer" in told.remedy


def test_a_profile_which_is_read_before_its_layers_cannot_ask_for_it(tmp_path: Path) -> None:
    asks = (
        f"papers: [{{paper: wharf-form, {CITES.replace('section', 'document: Town law, section')}, checked: {SURE}}}]\n"
    )
    with pytest.raises(Unreadable) as raised:
        town(_declaring(FORM), more=asks).in_force(tmp_path)
    (told,) = raised.value.problems
    assert told.sentence == "`wharf-form` is no choice of `paper`."
    assert "asked for in that layer" in told.remedy


def test_a_paper_for_which_nobody_asks_is_looked_at_again(tmp_path: Path) -> None:
    state = _layer(tmp_path, _declaring(FORM, LISTED, "state"))
    (told,) = unused_papers(state, ())
    assert told.sentence == "No change of state asks for the paper `wharf-form`."
    above = _layer(tmp_path, layer_text(ASK), state)
    assert list(unused_papers(state, (above,))) == []


def test_the_catalog_of_the_program_stays_as_it_is(tmp_path: Path) -> None:
    catalog = shipped_catalog()
    before = dict(catalog.facts[PAPER].choices)
    known = knowing(catalog, papers_of([_layer(tmp_path, _declaring(FORM))]))
    assert known.facts[PAPER].choices == {**before, "wharf-form": "form for the wharf"}
    assert catalog.facts[PAPER].choices == before
    assert known.digest not in ("", catalog.digest)
    assert knowing(catalog, ()) is catalog
