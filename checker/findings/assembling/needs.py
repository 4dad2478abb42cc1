"""What would settle a waiting finding: the open leaves on which its undecided comparisons rest."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from checker.catalog.model import Catalog, Stage
from checker.facts.known import Ask, Leaf, Origin
from checker.findings.assembling.naming import leaf_name
from checker.findings.assembling.texts import path_of
from checker.findings.finding import Need
from checker.findings.judging.evaluation import Evaluation
from checker.findings.judging.evidence import Evidence
from checker.site.model import SITE
from checker.values.truth import Truth

_NAME = "name"


def needs(leaves: Iterable[Leaf], evidence: Evidence) -> tuple[Need, ...]:
    """What to ask for these leaves: the whole of a structure of which nothing is shown, otherwise each part."""
    asked = list(leaves)
    behind = _behind_figures(asked, evidence)
    wholes = {_asked_as(leaf, evidence): behind.get(leaf, "") for leaf in asked}
    return tuple(replace(_need(leaf, evidence), in_place_of=figure) for leaf, figure in wholes.items())


def _behind_figures(asked: list[Leaf], evidence: Evidence) -> dict[Leaf, str]:
    """For each leaf from which a figure would be worked out that a person may as well state, the name of the figure.

    A figure that is itself behind another is no name here: the one that is furthest on is asked for.
    """
    behind: dict[Leaf, frozenset[Leaf]] = {}
    for figure in asked:
        known = evidence.known(figure.subject, figure.name) if figure.ask is Ask.FACT else None
        if known is not None and known.origin is Origin.DERIVED:
            behind[figure] = known.leaves - {figure}
    last = [figure for figure in behind if not any(figure in leaves for leaves in behind.values())]
    return {leaf: leaf_name(figure) for figure in last for leaf in asked if leaf in behind[figure]}


def _asked_as(leaf: Leaf, evidence: Evidence) -> Leaf:
    whole, _, part = leaf.name.partition(".")
    if leaf.ask is Ask.FACT and part and evidence.known(leaf.subject, whole).origin is Origin.NOT_SHOWN:
        return Leaf(leaf.subject, whole)
    return _in_use(leaf, whole, evidence) if part else leaf


def _in_use(leaf: Leaf, whole: str, evidence: Evidence) -> Leaf:
    """Of parts of which one is in use, what says which, as long as nothing does: nobody looks for the others."""
    says = evidence.catalog.facts[whole].part_in_use
    if says is None or evidence.catalog.fact(says, leaf.subject.type) is None:
        return leaf
    return leaf if evidence.known(leaf.subject, says).value.is_exact else Leaf(leaf.subject, says)


def open_leaves(evaluation: Evaluation, evidence: Evidence) -> tuple[Leaf, ...]:
    """The open leaves behind everything that is undecided, in a stable order."""
    leaves = {leaf for leaf in _undecided_leaves(evaluation) if is_open(leaf, evidence)}
    return tuple(sorted(leaves, key=lambda each: each.order))


def _undecided_leaves(evaluation: Evaluation) -> Iterable[Leaf]:
    """The leaves under each comparison that is unknown, and under doubt whether the rule speaks of the subject at
    all.
    """
    for judged in (judged for look in evaluation.looks for judged in look.everything):
        if judged.truth is not Truth.UNKNOWN:
            continue
        unknown = [each for each in judged.comparisons if each.holds is Truth.UNKNOWN and each.matters]
        if not unknown:
            yield from judged.leaves
        for comparison in unknown:
            for side in (comparison.found, *comparison.wanted):
                if not side.known.value.is_exact:
                    # What is decided stays so, whatever is open behind it.
                    yield from side.known.leaves


def is_open(leaf: Leaf, evidence: Evidence) -> bool:
    """Whether a person still has to say it."""
    return leaf.ask is not Ask.FACT or not evidence.known(leaf.subject, leaf.name).value.is_exact


def _need(leaf: Leaf, evidence: Evidence) -> Need:
    catalog = evidence.catalog
    if leaf.ask is Ask.FACT:
        fact = catalog.facts[path_of(leaf.name).name]
        return Need("fact", leaf_name(leaf), _title(fact.title, leaf, evidence), fact.found_on, fact.known_at)
    if leaf.ask is Ask.MORE:
        listing = catalog.lists[leaf.name]
        title = f"whether the list of {listing.title} is complete"
        return Need("more", leaf_name(leaf), title, catalog.list_found_on(leaf.name), Stage.PLAN_REVIEW)
    return Need(
        "exists", leaf_name(leaf), f"whether there is {_article(catalog, leaf.name)}", "site", Stage.PLAN_REVIEW
    )


def _title(title: str, leaf: Leaf, evidence: Evidence) -> str:
    """The title of the fact, with the name that a person gave to the member of a list: nobody counts lines."""
    if evidence.catalog.fact(_NAME, leaf.subject.type) is None or leaf.subject.type == SITE.type:
        return title
    called = evidence.known(leaf.subject, _NAME).value.atom
    return title if called is None or leaf.name == _NAME else f"{called}, {title}"


def _article(catalog: Catalog, kind: str) -> str:
    title = catalog.kinds[kind].title
    return f"{'an' if title[0] in 'aeiou' else 'a'} {title}"
