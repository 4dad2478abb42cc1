"""The cases of a layer: NAME.cases.yaml beside NAME.yaml, about the rules as the layer leaves them."""

from __future__ import annotations

from pathlib import Path

from checker.catalog.model import Catalog
from checker.rules.cases.model import Case
from checker.rules.cases.read import CaseRule, CaseRules, read_case_file
from checker.rules.layers.stack import Stack
from checker.rules.outcomes import outcomes_of
from checker.rules.reading.names_read import names_of_cases
from checker.rules.reading.pack_paths import CASES
from checker.rules.vocabulary import Vocabulary


def layer_case_file(stack: Stack) -> Path:
    """Where the cases of a layer stand."""
    return stack.path.with_name(stack.path.stem + CASES)


def read_layer_cases(stack: Stack, catalog: Catalog) -> tuple[Case, ...]:
    """The cases of a layer; none where there is no such file. Raises Unreadable with everything that is wrong."""
    path = layer_case_file(stack)
    if not path.is_file():
        return ()
    shown = path.name if path.is_absolute() else path.as_posix()
    known = stack.known(catalog)
    return read_case_file(path, shown, case_rules(stack, Vocabulary(known)), known)


def full_names(stack: Stack) -> dict[str, str]:
    """For each rule that the layer touches, by its id alone, its name as pack:id."""
    return {name.rpartition(":")[2]: name for name in stack.touched()}


def case_rules(stack: Stack, vocabulary: Vocabulary) -> CaseRules:
    """What the cases of a layer can be about: every rule that it touches, in each of its forms."""
    rules = {short: _case_rule(stack, name, vocabulary) for short, name in full_names(stack).items()}
    amends = stack.layer.amends
    pack = None if amends is None else next((each for each in stack.packs if each.document == amends[0]), None)
    retired = {} if pack is None else pack.retired
    return CaseRules("this layer", rules, () if pack is None else pack.editions, retired)


def _case_rule(stack: Stack, name: str, vocabulary: Vocabulary) -> CaseRule:
    forms = tuple(stack.forms(name))
    usual = stack.usual_edition(name)
    return CaseRule(
        forms[-1],
        names_of_cases(forms),
        frozenset().union(*(outcomes_of(each, vocabulary) for each in forms)),
        () if usual is None else (usual,),
        stack.editions(name),
    )
