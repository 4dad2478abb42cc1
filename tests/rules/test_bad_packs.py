"""Every way of getting a pack wrong is told once, in plain words, with its place and the nearest valid name."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from checker.catalog.load import shipped_catalog
from checker.files.yaml.strict_yaml import read_file
from checker.files.yaml.tree import plain
from checker.rules.schemas.published import pack_schema
from tests.rules.packs import SMALL, Changed, change, problems_of

BAD: list[dict[str, Any]] = yaml.safe_load((Path(__file__).parent / "bad_packs.yaml").read_text(encoding="utf-8"))

JARGON = ("schema", "instance", "None", "validator", "Traceback", "oneOf", "anyOf", "dict", "required property", "[]")


def _changed(folder: Path, bad: dict[str, Any]) -> Changed:
    text = SMALL
    if "mark_old" in bad:
        assert text.count(bad["mark_old"]) == 1
        text = text.replace(bad["mark_old"], bad["mark_at"])
    return change(folder, bad["old"], bad["new"], text)


@cache
def _published() -> Draft202012Validator:
    return Draft202012Validator(pack_schema(shipped_catalog()))


def _schema_accepts(folder: Path) -> bool:
    return bool(_published().is_valid(plain(read_file(folder / "pack.yaml", "pack.yaml"))))


def test_small_pack_is_sound(tmp_path: Path) -> None:
    (tmp_path / "pack.yaml").write_text(SMALL, encoding="utf-8")
    assert problems_of(tmp_path) == ()
    assert _schema_accepts(tmp_path)


@pytest.mark.parametrize("bad", BAD, ids=[each["what"] for each in BAD])
def test_bad_pack_is_told(bad: dict[str, Any], tmp_path: Path) -> None:
    changed = _changed(tmp_path, bad)
    problems = problems_of(tmp_path)
    told = [each for each in problems if bad["told"] in each.sentence]
    assert len(told) == 1, [str(each) for each in problems]
    assert len(problems) == 1 or not bad.get("alone", True), [str(each) for each in problems]
    (problem,) = told
    assert not [word for word in JARGON if word in str(problem)]
    assert problem.sentence.endswith(".")
    if changed.at is not None:
        assert problem.at == changed.at, str(problem)
    if "near" in bad:
        assert problem.near == bad["near"]
    if "remedy" in bad:
        assert problem.remedy == bad["remedy"]


@pytest.mark.parametrize("bad", BAD, ids=[each["what"] for each in BAD])
def test_published_schema_sees_the_same(bad: dict[str, Any], tmp_path: Path) -> None:
    _changed(tmp_path, bad)
    assert _schema_accepts(tmp_path) is bad.get("only_meaning", False)
