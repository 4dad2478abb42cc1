"""A drawing with rules that are applied to it, as one thing that prints itself so that a person can follow."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from hypothesis import strategies as st
from hypothesis.vendor.pretty import RepresentationPrinter

from checker.catalog.load import shipped_catalog
from checker.rules.model.in_force import RulesInForce
from checker.site.model import Site
from tests.generators.choosing import Chooser, drawn, recorded, replayed, seeded
from tests.generators.drawings import drawing
from tests.generators.names import Names
from tests.generators.plainest import plainest
from tests.generators.rule_text import rules_text
from tests.generators.rules import rules
from tests.generators.site_text import to_yaml

CATALOG = shipped_catalog()
NAMES = Names(CATALOG)

_FURTHEST_SEED = 2**32
RULES_BY_SEED = 6
"""At most so many rules has a case that belongs to a number."""


@dataclass(frozen=True, slots=True)
class Case:
    """A site, rules, and a number from which whatever else is random follows."""

    site: Site
    rules: RulesInForce
    seed: int

    def __repr__(self) -> str:
        return f"seed {self.seed}\n{to_yaml(self.site, CATALOG)}\n{rules_text(self.rules)}"

    def _repr_pretty_(self, printer: RepresentationPrinter, _cycle: bool) -> None:
        """How hypothesis prints a case that failed."""
        printer.text(repr(self))


def case(choose: Chooser, most_rules: int, seed: int) -> Case:
    """Any case."""
    return Case(drawing(choose, CATALOG), rules(choose, NAMES, most_rules), seed)


@st.composite
def cases(draw: st.DrawFn, most_rules: int = 3) -> Case:
    """Cases, for hypothesis."""
    return case(drawn(draw), most_rules, draw(st.integers(0, _FURTHEST_SEED)))


def seeded_case(seed: int) -> Case:
    """The case that belongs to a number."""
    return case(seeded(seed), RULES_BY_SEED, seed)


def smaller_case(seed: int, fails: Callable[[Case], bool]) -> Case:
    """A plainer case than the one that belongs to a number, which fails like it."""
    choose, steps = recorded(seed)
    case(choose, RULES_BY_SEED, seed)

    def of(few: Sequence[int]) -> Case:
        return case(replayed(few), RULES_BY_SEED, seed)

    return of(plainest(steps, lambda few: fails(of(few))))
