"""The numbers in force: parameters and tables of each pack in the edition that is adopted."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from checker.rules.grammar import NO_EDITION
from checker.rules.in_force.documents import PackAdopted
from checker.rules.model.numbers import ParameterValue, TableValues
from checker.rules.model.profile import Adoption


def parameters(packs: Iterable[PackAdopted]) -> dict[tuple[str, str], ParameterValue]:
    """Of each pack and name the parameter in the edition that is adopted."""
    return {
        (pack.id, name): each.values[edition]
        for pack, adoption in packs
        for name, each in pack.parameters.items()
        if (edition := _edition(adoption)) in each.values
    }


def by_name(numbers: Mapping[tuple[str, str], ParameterValue]) -> dict[str, ParameterValue]:
    """By the name alone; of two packs the first, which is one that was adopted."""
    found: dict[str, ParameterValue] = {}
    for (_, name), value in numbers.items():
        found.setdefault(name, value)
    return found


def tables(packs: Iterable[PackAdopted]) -> dict[str, TableValues]:
    """Of each name the table in the edition that is adopted; of two packs that of the first."""
    found: dict[str, TableValues] = {}
    for pack, adoption in packs:
        for name, each in pack.tables.items():
            edition = _edition(adoption)
            if edition in each.values:
                found.setdefault(name, each.values[edition])
    return found


def _edition(adoption: Adoption | None) -> str:
    return NO_EDITION if adoption is None else adoption.edition
