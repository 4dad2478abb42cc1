"""The cases beside a layer: NAME.cases.yaml beside NAME.yaml, for the rules that it adds and those that it changes.

A case names its rule by the id. One with a date runs on that day, any other on the first day on which every change of
its rule counts.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from checker.catalog.model import Catalog
from checker.rules.case_model import Case
from checker.rules.cases import read_case_file
from checker.rules.model import Pack
from checker.rules.pack_paths import CASES
from checker.rules.vocabulary import Vocabulary
from checker.tasks.cases import Answer, CaseResult, answer, complaints
from checker.tasks.layer_rules import LayerRules


def cases_path(layer_file: Path) -> Path:
    """Where the cases of a layer lie."""
    return layer_file.with_name(f"{layer_file.stem}{CASES}")


def read_layer_cases(rules: LayerRules, layer_file: Path, catalog: Catalog) -> tuple[Case, ...]:
    """The cases beside a layer; none where there is no such file. Raises Unreadable with all that is wrong in them."""
    path = cases_path(layer_file)
    return read_case_file(path, reading_pack(rules, layer_file), catalog) if path.is_file() else ()


def reading_pack(rules: LayerRules, layer_file: Path) -> Pack:
    """The rules that a layer is about in the shape of a pack, for reading cases of them."""
    layer = rules.layer
    return Pack(
        layer.id, layer.title, layer.document, (), layer.digest, tuple(rules.readable()), {}, {}, str(layer_file.parent)
    )


def run_layer_cases(
    rules: LayerRules, cases: tuple[Case, ...], layer_file: Path, catalog: Catalog
) -> Iterator[CaseResult]:
    """Every case, in the order of the file."""
    vocabulary, pack = Vocabulary(catalog), reading_pack(rules, layer_file)
    for case in cases:
        yield CaseResult(case, None, complaints(case, layer_answer(rules, case, pack, vocabulary)))


def layer_answer(rules: LayerRules, case: Case, pack: Pack, vocabulary: Vocabulary) -> Answer:
    """What a rule under the layer answers on one case."""
    name = next((each for each in rules.named() if each.rpartition(":")[2] == case.rule), case.rule)
    day = case.date or rules.usual_day(name)
    return answer(replace(case, date=day), rules.rule_on(name, day), pack, vocabulary)
