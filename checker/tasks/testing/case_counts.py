"""How many cases stand beside a rule."""

from __future__ import annotations

from collections.abc import Sequence

from checker.catalog.load import shipped_catalog
from checker.rules.cases.read import read_cases
from checker.rules.layers.cases import read_layer_cases
from checker.rules.layers.stack import Stack
from checker.rules.model.pack import Pack
from checker.values.problems import Unreadable


def cases_of(rule: str, packs: Sequence[Pack], stacks: Sequence[Stack]) -> int | None:
    """The cases of a rule in its pack and in the layers that change it; None where they cannot be read."""
    owner, _, bare = rule.rpartition(":")
    catalog = shipped_catalog()
    try:
        cases = [
            case
            for pack in packs
            if owner in ("", pack.id) and any(each.id == bare for each in pack.rules)
            for case in read_cases(pack, catalog)
        ]
        cases += [
            case
            for stack in stacks
            if any(name.rpartition(":")[2] == bare for name in stack.touched())
            for case in read_layer_cases(stack, catalog)
        ]
    except Unreadable:
        return None
    return sum(case.rule == bare for case in cases)
