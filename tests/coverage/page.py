"""The page that tells, of every requirement and demand, which rule answers it, or why none does."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tests.coverage.answers import Answers, Fired
from tests.coverage.entries import ASKED, Entry

_HEAD = """\
# What the rules cover of a dwelling

Made from `shared/requirements.yaml`, `shared/office-items.yaml`, the packs and reviews of the example dwellings by
`python -m tests.coverage.renew`; change those, not this page.

A requirement or a demand is covered where a rule names it under `covers` and fires in an example of a one- or
two-family dwelling: in the place that stands behind the rule it comes to something else than that it does not apply. A
rule without a place is written and fires in no example yet; it is not counted. What is answered only by a paper that
lies in the packet and by what it shows, or only by somebody who looks in the field, is counted and told apart. Local
demands are answered by rules in layers of invented towns, as a real town would write its own.
"""


def page(requirements: Sequence[Entry], items: Sequence[Entry], found: Answers) -> str:
    """The page as Markdown."""
    lines = [_HEAD, *_sums(requirements, items, found)]
    lines += ["## Requirements of the codes\n", *_table("touches a dwelling", requirements, found), ""]
    lines += ["## Demands of offices\n", *_table("from the drawing", items, found), ""]
    return "\n".join(lines)


def _sums(requirements: Sequence[Entry], items: Sequence[Entry], found: Answers) -> Iterator[str]:
    yield _row(
        "of", "in all", "covered", "share", "by a paper alone", "in the field alone", "without a rule that fires"
    )
    yield _row(*["---"] * 7)
    dwelling = [each for each in requirements if each.asked == "yes"]
    yield _sum("requirements that touch a dwelling", dwelling, found)
    for asked in ASKED:
        of = [each for each in items if each.asked == asked]
        yield _sum(f"demands of offices, to be answered from the drawing: {asked}", of, found)
    yield ""


def _sum(words: str, of: Sequence[Entry], found: Answers) -> str:
    covered = [each for each in of if found.fires(each)]
    by_paper = sum(map(found.by_paper_alone, of))
    in_field = sum(map(found.in_the_field_alone, of))
    share = f"{100 * len(covered) // len(of)} %"
    return _row(words, len(of), len(covered), share, by_paper, in_field, len(of) - len(covered))


def _table(asked: str, entries: Sequence[Entry], found: Answers) -> Iterator[str]:
    yield _row("id", "what is asked", asked, "answered by")
    yield _row(*["---"] * 4)
    for each in entries:
        what = f"{each.title} ({each.office})" if each.office else each.title
        yield _row(each.id, what, each.asked, _answered(each, found.of(each)))


def _answered(entry: Entry, by: Sequence[Fired]) -> str:
    told = [_told(each) for each in by]
    return "; ".join([*told, *filter(None, (entry.why, entry.without_rule))])


def _told(fired: Fired) -> str:
    if fired.outcome is None:
        return f"`{fired.rule}`"
    return f"`{fired.rule}` ({fired.where}: {fired.outcome.value.replace('_', ' ')})"


def _row(*cells: object) -> str:
    return f"| {' | '.join(str(cell).replace('|', '/') for cell in cells)} |"
