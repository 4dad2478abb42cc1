"""What each change of a layer hits, in the words of the trade."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from checker.report.text import wrapped
from checker.report.words import citation_text
from checker.rules.wording import counts_for
from checker.tasks.testing.town_lint import Hit, HitRule

WIDTH = 80


def hits_text(hits: Iterable[Hit]) -> str:
    """One paragraph for each change, and an empty line: from when it counts, and which rules it hits."""
    return "".join("\n".join(_hit(hit)) + "\n\n" for hit in hits)


def _hit(hit: Hit) -> Iterator[str]:
    when = counts_for(hit.event, hit.start, hit.until)
    yield from wrapped(f"{hit.layer}, change {hit.number}, {hit.word} {hit.written}: {when}", width=WIDTH)
    if hit.told:
        yield from wrapped(hit.told, indent=2, width=WIDTH)
    for rule in hit.rules:
        yield from wrapped(_rule(rule), indent=2, width=WIDTH)
    yield f"  {hit.at}"


def _rule(rule: HitRule) -> str:
    cited = citation_text(rule.cites)
    return f"{rule.name}{f' ({cited})' if cited else ''}: {rule.told}"
