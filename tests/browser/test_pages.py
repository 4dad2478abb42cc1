"""The page of every fixture in a browser: readable for all by WCAG 2.2 AA, whole in itself, no wider than a phone.

Run on their own, as they need node and a browser: ``pytest tests/browser`` after ``npm ci`` in this folder.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from checker.findings.finding import Review
from checker.findings.judging.outcomes import Outcome
from checker.report.page.compared_page import revised_page, sides_page
from checker.report.page.page import html_report
from checker.tasks.gathering.library import Library
from tests.browser.pages import looked_at
from tests.report.golden import PLACES, reviewed
from tests.report.page.test_compared_page import several_sides, two_revisions
from tests.report.reviews import EVERYTHING, finding, review

HOSTILE = '"><script>document.title="taken"</script><img src=x onerror=alert(1)><a href="http://example.invalid/">'
LOOKS = ("light", "dark", "phone", "print")
OUTCOMES = "every outcome"
NAMES = "hostile names"
COMPARED: Mapping[str, Callable[[], str]] = {
    "two revisions": lambda: revised_page(two_revisions()),
    "several sides": lambda: sides_page(several_sides()),
    "hostile revisions": lambda: revised_page(two_revisions(HOSTILE)),
    "hostile sides": lambda: sides_page(several_sides(HOSTILE)),
}
"""The pages of ``compare``."""
MORE_THAN, MORE_THAN_OF_COMPARED = 20, 19
"""A page that was looked at meets more rules than so many; one of ``compare`` has fewer kinds of things on it."""


def _hostile() -> Review:
    named = finding(Outcome.CORRECTION, says=HOSTILE, why=HOSTILE, remedy=(HOSTILE,), **EVERYTHING)
    plain = review(named, site_name=HOSTILE, file=HOSTILE, not_covered=(HOSTILE,), cautions=(HOSTILE,))
    pieces = tuple(replace(each, title=HOSTILE, role=HOSTILE) for each in plain.one_line.pieces)
    return replace(plain, one_line=replace(plain.one_line, pieces=pieces))


def _reviews() -> Iterator[tuple[str, Review]]:
    library = Library.shipped()
    yield from ((place, reviewed(place, library)) for place in PLACES)
    yield OUTCOMES, review(*(finding(outcome) for outcome in Outcome))
    yield NAMES, _hostile()


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, Mapping[str, Mapping[str, Any]]]:
    """What is wrong with each page, by the name of its site."""
    folder = tmp_path_factory.mktemp("pages")
    paths: dict[str, Path] = {}
    for name, found in _reviews():
        paths[name] = folder / f"{name}.html"
        paths[name].write_text(html_report(found), encoding="utf-8")
    for name, made in COMPARED.items():
        paths[name] = folder / f"{name}.html"
        paths[name].write_text(made(), encoding="utf-8")
    by_path = looked_at(list(paths.values()))
    return {name: by_path[str(path)] for name, path in paths.items()}


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("name", [*PLACES, OUTCOMES, NAMES, *COMPARED])
def test_a_page_is_readable_for_all_and_whole_in_itself(
    name: str, look: str, told: Mapping[str, Mapping[str, Mapping[str, Any]]]
) -> None:
    found = told[name][look]
    assert found["broken"] == []
    assert found["looked"] > (MORE_THAN_OF_COMPARED if name in COMPARED else MORE_THAN)
    assert (found["outside"], found["errors"], found["scripts"]) == ([], [], 0)
    assert found["wide"] is False


def test_what_is_wrong_is_seen(tmp_path: Path) -> None:
    page = tmp_path / "wrong.html"
    page.write_text(
        '<html><body style="color:#ccc;width:9999px">pale<img src="other.png"><script></script></body></html>'
    )
    found = looked_at([page])[str(page)]["phone"]
    assert {each.partition(":")[0] for each in found["broken"]} >= {"html-has-lang", "image-alt", "color-contrast"}
    assert found["wide"] is True
    assert found["scripts"] == 1
    assert found["outside"] != []
