"""The page that lists every fact by subject."""

from __future__ import annotations

from collections.abc import Iterator

from checker.catalog.model import Bounds, Catalog, Fact, ValueType
from checker.catalog.wording import one_number

_HEAD = ("fact", "title and meaning", "what is written", "found on", "known at", "given by")
_GIVEN_BY = {"stated": "you", "derived": "the program", "either": "you or the program"}
_NOTES = """\
# Facts

Made from the fact catalog by `python -m checker.catalog.generate`; change the catalog, not this page.

Whatever is left out, or written `unknown`, may be anything. `none` means known not to be there, and is written only
where the table says so. Where several choices stand together, write `[one, another]`; where one of several is not
decided, write `one or another`. A figure that is not decided is a range (`8 kA to 12 kA`, `at least 10 kA`,
`9 kA +/- 10 %`). With its paper a value is `{value: 9.6 kA, per: utility letter}`; `per: assumed` marks a figure that
is only assumed. A range in brackets in the table catches typing errors: what lies outside it is refused.
"""


def reference_page(catalog: Catalog) -> str:
    """The page as Markdown."""
    facts = (line for subject in _subjects(catalog) for line in _section(catalog, subject))
    return "\n".join([_NOTES, *_reaching(catalog), *facts])


_LINKS = """\
## How a rule reaches from its subject to other things

A *link* stands before a fact, with a dot: `alternate.kind` is the kind of what feeds the alternate side. `subject.`
inside `where` and `that` leads back to the subject of the rule. An example, in a rule about a transfer switch:

```yaml
when: {alternate.kind: {is: generator}}
```
"""
_COLLECTIONS = """\
A *collection* leads to several things. `some` holds where one of them is as `that` says, `every` where each is, `none`
where none is, `count` compares how many there are. `where` leaves only some of them in. With `every`, which needs it,
`if_empty` says whether the condition holds where there is nothing to look at. A list is open until the site file says
`complete: yes` of it: as long as it is open, what is not listed may be there, and a rule that hangs on it asks. An
example, in a rule about a generator:

```yaml
requires:
  clear:
    every:
      of: distances
      where: {to_kind: {is: opening}}
      that: {distance: {at_least: {parameter: our-distance}}}
      if_empty: yes
```
"""


def _reaching(catalog: Catalog) -> Iterator[str]:
    """Links and collections, each with the subjects that have it."""
    yield _LINKS
    yield from _table(("link", "where it leads", "of"))
    yield from (_row((f"`{each.name}.`", each.title, _owners(each.of, catalog))) for each in catalog.links.values())
    yield f"\n{_COLLECTIONS}"
    yield from _table(("collection", "what it holds", "of"))
    for each in catalog.collections.values():
        yield _row((f"`{each.name}`", each.title, _owners(each.of, catalog)))
    yield ""


def _table(head: tuple[str, ...]) -> Iterator[str]:
    yield _row(head)
    yield _row(("---",) * len(head))


def _owners(of: frozenset[str], catalog: Catalog) -> str:
    """The subjects, all equipment as one."""
    kinds = frozenset(catalog.kinds)
    whole = ["any equipment"] if kinds <= of else []
    rest = of - kinds if whole else of
    return ", ".join([*whole, *sorted(catalog.titles.get(each, each.replace("_", " ")) for each in rest)])


def _subjects(catalog: Catalog) -> Iterator[str]:
    """The site first, then equipment, what belongs to it, connections, pairs and lists."""
    yield "site"
    yield from catalog.kinds
    yield from ("way", "side", "connection", "figure")
    yield from catalog.pairs
    yield from (each.member for each in catalog.lists.values())


def _section(catalog: Catalog, subject: str) -> Iterator[str]:
    facts = catalog.facts_of(subject)
    if not facts:
        return
    yield f"## {catalog.titles[subject]} (`{subject}`)\n"
    yield from _introduction(catalog, subject)
    yield _row(_HEAD)
    yield _row(["---"] * len(_HEAD))
    yield from (_row(_cells(fact, subject)) for fact in facts)
    yield ""


def _introduction(catalog: Catalog, subject: str) -> Iterator[str]:
    means = {kind.name: kind.means for kind in catalog.kinds.values()}
    means |= {each.member: f"{each.means} Written under `{each.name}:`." for each in catalog.lists.values()}
    if subject in means:
        yield f"{means[subject]}\n"


def _row(cells: list[str] | tuple[str, ...]) -> str:
    return f"| {' | '.join(cell.replace('|', '/') for cell in cells)} |"


def _cells(fact: Fact, subject: str) -> list[str]:
    meaning = f"{fact.title}. {fact.means}" if fact.means else fact.title
    known_at = fact.known_at.value.replace("_", " ")
    return [f"`{fact.name}`", meaning, _written(fact), fact.found_on, known_at, _GIVEN_BY[fact.origin(subject).value]]


def _written(fact: Fact) -> str:
    parts = [_type(fact)]
    if fact.several:
        parts.append("several together")
    if fact.may_be_none:
        parts.append("or `none`")
    if fact.exact:
        parts.append("always exact")
    if fact.own_choices:
        parts.append("or one that the town declares, with a hyphen in its name")
    return ", ".join(parts)


def _type(fact: Fact) -> str:
    if fact.choices:
        return "; ".join(_choice(name, title) for name, title in fact.choices.items())
    if fact.parts:
        return f"{_words(fact)}made of {', '.join(f'`{part}`' for part in fact.parts)}"
    return f"{_words(fact)}{_range(fact)}".strip()


def _choice(name: str, title: str) -> str:
    return f"`{name}`" if title == name.replace("_", " ") else f"`{name}` ({title})"


def _words(fact: Fact) -> str:
    if fact.type is ValueType.STRUCTURE:
        return ""
    if fact.type is ValueType.FLAG:
        return "`yes` or `no` "
    if fact.quantity is not None:
        return f"{fact.quantity.replace('_', ' ')} in {fact.unit} " if fact.unit else f"{fact.quantity} "
    return f"{fact.type.value.replace('_', ' ')} "


def _range(fact: Fact) -> str:
    bounds = fact.plausible
    if bounds is None:
        return ""
    return f"({_end(fact, bounds, low=True)} to {_end(fact, bounds, low=False)})"


def _end(fact: Fact, bounds: Bounds, *, low: bool) -> str:
    number = bounds.low if low else bounds.high
    if number is None:
        return "any"
    return one_number(fact, number, fact.unit)
