"""One review in a new process, step by step, as the command does it; prints the processor seconds of each step."""

from __future__ import annotations

import gc
import json
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from checker.cli.main import SELDOM

_Value = TypeVar("_Value")


class _Clock:
    """Processor seconds between one mark and the next."""

    def __init__(self) -> None:
        self.parts: dict[str, float] = {"interpreter": time.process_time()}
        self._last = time.process_time()

    def part(self, name: str, work: Callable[[], _Value]) -> _Value:
        self._last = time.process_time()
        result = work()
        self.parts[name] = time.process_time() - self._last
        return result


def main(example: str) -> dict[str, float]:
    clock = _Clock()
    gc.set_threshold(*SELDOM)
    path = Path(example)
    clock.part("command line", lambda: _command_line(example))
    clock.part("imports of review and report", _imports)

    from checker.catalog.load import shipped_catalog
    from checker.catalog.model import Stage
    from checker.files.cache import user_cache
    from checker.findings.review import Job, review
    from checker.report.text import PLAIN, text_report
    from checker.rules.compiled import CompiledRules
    from checker.rules.in_force.rules import rules_in_force
    from checker.rules.named_files import find_profile
    from checker.site.model import SITE
    from checker.site.read import read_site
    from checker.tasks.gathering.events import event_date
    from checker.tasks.gathering.layers import layers_of
    from checker.tasks.gathering.library import Library, folders_of_rules
    from checker.tasks.gathering.topics import read_topics

    cache = user_cache()
    catalog = clock.part("catalog", shipped_catalog)
    library = clock.part("packs", Library.shipped)
    site = clock.part("site", lambda: read_site(path, catalog, Path()))
    name = str(site.things[SITE].facts["jurisdiction"].value.atom)
    folders = folders_of_rules(path.parent, library)
    file = find_profile(name, folders)
    profile = clock.part("profile", lambda: CompiledRules(cache).profile(file, catalog))
    layers = clock.part("layers", lambda: layers_of(profile, folders, library.packs, catalog, cache))
    day = event_date(site, profile.event)
    assert day is not None
    rules = clock.part("rules in force", lambda: rules_in_force(profile, day, library.packs, layers))
    job = Job(site, catalog, rules, Stage.PLAN_REVIEW, read_topics())
    found = clock.part("rules applied, findings", lambda: review(job))
    clock.part("report", lambda: text_report(found, PLAIN, everything=False))
    return clock.parts


def _command_line(example: str) -> None:
    """The options declared and read, nothing run."""
    import typer

    from checker.cli.app import app

    commands = typer.main.get_command(app)
    review = commands.commands["review"]  # type: ignore[attr-defined]  # a group, by the two commands it has
    review.make_context("review", [example])


def _imports() -> None:
    import checker.cli.reviewing
    import checker.report.text  # noqa: F401  what the command imports when it prints


if __name__ == "__main__":
    sys.stdout.write(json.dumps(main(sys.argv[1])))
