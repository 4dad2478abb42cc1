"""Cures that serve only some misses are told of those alone: the cases of the packs, with the cures that come out."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import yaml

from checker.catalog.load import shipped_catalog
from checker.rules.cases.read import read_cases
from checker.rules.edition import pack_in_edition
from checker.rules.model.pack import Pack
from checker.rules.vocabulary import Vocabulary
from checker.tasks.testing.cases import answer


@dataclass(frozen=True, slots=True)
class Told:
    """A case of a rule in one edition, and words of its cures."""

    pack: str
    rule: str
    case: str
    edition: str
    told: tuple[str, ...]
    not_told: tuple[str, ...]

    def __str__(self) -> str:
        return f"{self.rule}, {self.edition}: {self.case}"


def _read(entry: dict[str, Any]) -> Told:
    told, not_told = tuple(entry["told"]), tuple(entry.get("not_told", ()))
    return Told(entry["pack"], entry["rule"], entry["case"], entry["in"], told, not_told)


ALL = [_read(each) for each in yaml.safe_load(Path(__file__).with_name("cures_told.yaml").read_text(encoding="utf-8"))]


@pytest.mark.parametrize("expected", ALL, ids=str)
def test_a_cure_is_told_where_it_serves(packs: tuple[Pack, ...], expected: Told) -> None:
    (pack,) = (each for each in packs if each.id == expected.pack)
    cures = _cures(pack, expected)
    assert [words for words in expected.told if not any(words in cure for cure in cures)] == []
    assert [words for words in expected.not_told if any(words in cure for cure in cures)] == []


def _cures(pack: Pack, expected: Told) -> tuple[str, ...]:
    catalog = shipped_catalog()
    (case,) = (each for each in read_cases(pack, catalog) if (each.rule, each.shows) == (expected.rule, expected.case))
    (rule,) = (each for each in pack_in_edition(pack, expected.edition, "") if each.rule.id == expected.rule)
    texts = answer(case, rule, Path(pack.folder), Vocabulary(catalog)).texts
    assert texts is not None
    return texts.remedy
