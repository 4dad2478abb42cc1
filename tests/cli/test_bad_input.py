"""Bad input through the command line: plain errors with place and remedy, exit 2, no traceback, and nothing lost."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.bad_sites import BAD_SITES, BASE, SHEETS, Bad
from tests.cli.conftest import Run
from tests.cli.running import USAGE, Ran

MOST_PROBLEMS = 6
"""One thing is wrong in each file; few of them break it in more than one place."""


def problems(ran: Ran) -> list[list[str]]:
    """The lines of each problem that was told: its sentence and what stands indented below."""
    found: list[list[str]] = []
    for line in ran.err.splitlines():
        if line.startswith("  "):
            found[-1].append(line.strip())
        else:
            found.append([line])
    return found


def told_well(problem: list[str]) -> bool:
    """One sentence that begins and ends like one, and at least one line below it that says where or what to do."""
    sentence = problem[0]
    return len(problem) > 1 and sentence.endswith(".") and "Error" not in sentence and not sentence.endswith("..")


@pytest.mark.parametrize("bad", BAD_SITES, ids=str)
def test_bad_input_is_told_plainly(bad: Bad, run: Run, tmp_path: Path) -> None:
    for name, content in SHEETS.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(content, encoding="utf-8")
    (tmp_path / "site.yaml").write_bytes(bad.content)
    ran = run("review", "site.yaml")
    told = problems(ran)
    assert ran.status == USAGE
    assert ran.out == ""
    assert 1 <= len(told) <= MOST_PROBLEMS
    assert all(map(told_well, told)), ran.err
    first = "\n".join(told[0])
    assert bad.says in told[0][0]
    assert re.search(rf"^at \S+:{bad.place}$", first, re.MULTILINE), first
    assert bad.remedy in first.partition("\n")[2]


def test_there_are_sixty_kinds_and_more() -> None:
    assert len({bad.name for bad in BAD_SITES}) == len(BAD_SITES) >= 60


def test_the_small_site_itself_can_be_reviewed(run: Run, site: Callable[..., Path]) -> None:
    site()
    ran = run("review", "site.yaml")
    assert ran.status in (1, 3)
    assert ran.err == ""
    assert ran.out.startswith("Tern Cove, permit application 2024-03-14")


def test_everything_wrong_is_told_at_once_in_the_order_of_the_file(run: Run, tmp_path: Path) -> None:
    text = BASE.replace("neutral: solid", "neutral: sold").replace("operation:", "opration:").replace("20 kW", "20 kVA")
    (tmp_path / "site.yaml").write_text(text, encoding="utf-8")
    told = problems(run("review", "site.yaml"))
    assert [problem[1] for problem in told] == ["at site.yaml:5:64", "at site.yaml:5:116", "at site.yaml:6:73"]


def test_a_loop_of_feeding_is_a_notice_and_the_review_goes_on(run: Run, site: Callable[..., Path]) -> None:
    site("normal: UTIL", "normal: P1")
    ran = run("review", "site.yaml")
    assert ran.status in (1, 3)
    assert ran.err == ""
    assert "feed" in ran.out
    assert "What it touches cannot be judged until the drawing is mended." in " ".join(ran.out.split())


@pytest.mark.parametrize(
    ("old", "new", "shown"),
    [
        ("Tern Cove", "<script>alert(1)</script>", "<script>alert(1)</script>, permit application"),
        ("Tern Cove", "=HYPERLINK(1)", "=HYPERLINK(1), permit application"),
        ("200 A, neutral", "200A, neutral", "Tern Cove"),
    ],
)
def test_odd_but_sound_input_is_taken(run: Run, site: Callable[..., Path], old: str, new: str, shown: str) -> None:
    site(old, new)
    ran = run("review", "site.yaml")
    assert ran.status in (1, 3)
    assert ran.out.startswith(shown)


def test_tags_in_names_cannot_open_a_page(run: Run, site: Callable[..., Path]) -> None:
    site("Tern Cove", "</script><script>alert(1)</script>")
    ran = run("review", "site.yaml", "--format", "json")
    assert "<" not in ran.out
    assert "\\u003cscript>" in ran.out
