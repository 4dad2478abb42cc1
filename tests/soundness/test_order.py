"""The order in which a file is written changes nothing, and the same file always gives the same bytes."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given

from checker.report.programs.data import json_report, review_data
from checker.site.model import Site
from checker.site.read import read_site
from tests.generators.cases import CATALOG, Case, cases, seeded_case
from tests.generators.choosing import seeded
from tests.generators.site_text import to_yaml
from tests.soundness.budget import examples
from tests.soundness.engine import whole_review

ROOT = Path(__file__).parents[2]

_POSITION = re.compile(r"site\.yaml:[0-9]+:[0-9]+")
_MEMBERS = sorted({listing.member.rpartition("_")[2] for listing in CATALOG.lists.values()})
_MEMBER = re.compile(rf"\b({'|'.join(_MEMBERS)}) ([0-9]+)\b")
_OF_ONE_NAME = re.compile(r" \([0-9]+\)(?=[\"@>~/. ])")
"""What tells members of one name apart: their order in the list."""
_LAST_NAME = re.compile(r"[A-Z][A-Z0-9]*")
"""The tag before the word row."""

_LISTED_WITHOUT_ORDER = "not_read"
"""Notices that list facts as the file does."""


def _read(folder: Path, text: str) -> Site:
    path = folder / "site.yaml"
    path.write_text(text, encoding="utf-8")
    return read_site(path, CATALOG)


def _reviewed(case: Case, site: Site) -> dict[str, Any]:
    """The report without positions and digests, notices in an order of their own."""
    data = review_data(whole_review(site, CATALOG, case.rules))
    del data["site"]["digest"]
    plain: dict[str, Any] = json.loads(_POSITION.sub("there", json.dumps(data)))
    plain["notices"] = sorted(map(_notice, plain["notices"]))
    return plain


def _notice(notice: dict[str, Any]) -> str:
    if notice["kind"] == _LISTED_WITHOUT_ORDER:
        whose, _, names = notice["sentence"].rstrip(".").partition(": ")
        notice["sentence"] = f"{whose}: {sorted(names.split(', '))}"
    return json.dumps(notice, sort_keys=True)


@examples(15)
@given(cases())
def test_the_order_of_pieces_runs_and_pairs_changes_nothing(
    tmp_path_factory: pytest.TempPathFactory, case: Case
) -> None:
    folder, choose = tmp_path_factory.mktemp("order"), seeded(case.seed)
    written = _reviewed(case, _read(folder, to_yaml(case.site, CATALOG)))
    other = _reviewed(case, _read(folder, to_yaml(case.site, CATALOG, choose.shuffled)))
    assert other == written


@examples(15)
@given(cases())
def test_the_order_of_the_members_of_lists_changes_only_their_numbers(
    tmp_path_factory: pytest.TempPathFactory, case: Case
) -> None:
    """Members are numbered by their place, so that those with the same content are compared."""
    folder, order = tmp_path_factory.mktemp("members"), _Reversal()
    written = _reviewed(case, _read(folder, to_yaml(case.site, CATALOG)))
    other = _reviewed(case, _read(folder, to_yaml(case.site, CATALOG, members=order)))
    assert _unordered(_renamed(other, case.site)) == _unordered(written)


class _Reversal:
    """Turns every list round, so that the member at a place is the one that was at the place counted from the end."""

    def __call__(self, items: Sequence[str]) -> list[str]:
        return list(reversed(items))


def _renamed(data: dict[str, Any], site: Site) -> dict[str, Any]:
    """Every member of a list under the number that it had before its list was turned round."""
    lengths = {(name, owner): len(listed.members) for (name, owner), listed in site.lists.items()}
    by_word = {CATALOG.lists[name].member.rpartition("_")[2]: name for name, _ in lengths}

    def before(match: re.Match[str]) -> str:
        word, place = match.groups()
        owner = _LAST_NAME.findall(match.string[: match.start()])[-1] if word == "row" else "site"
        length = lengths.get((by_word[word], owner), 0)
        return f"{word} {length + 1 - int(place)}"

    found: dict[str, Any] = json.loads(_MEMBER.sub(before, json.dumps(data)))
    return found


def _unordered(data: dict[str, Any]) -> str:
    """A report whose findings, checks and lists of names may stand in any order."""
    for finding in data["findings"]:
        finding["number"] = 0
    apart: dict[str, Any] = json.loads(_OF_ONE_NAME.sub("", json.dumps(data)))
    return json.dumps(_sorted(apart), sort_keys=True)


def _sorted(value: Any) -> Any:
    if isinstance(value, list):
        return sorted((_sorted(each) for each in value), key=lambda each: json.dumps(each, sort_keys=True))
    if isinstance(value, dict):
        return {key: _sorted(each) for key, each in value.items()}
    if isinstance(value, str) and ", " in value:
        return ", ".join(sorted(value.split(", ")))
    return value


_SEEDS = (3, 11, 19)
_PROGRAM = """
import sys
from pathlib import Path
from checker.report.programs.data import json_report
from checker.site.read import read_site
from tests.generators.cases import CATALOG, seeded_case
from tests.soundness.engine import whole_review
for path, seed in zip(sys.argv[1::2], sys.argv[2::2], strict=True):
    review = whole_review(read_site(Path(path), CATALOG), CATALOG, seeded_case(int(seed)).rules)
    sys.stdout.buffer.write(json_report(review).encode("utf-8"))
"""
_SURROUNDINGS = (
    {"PYTHONHASHSEED": "1", "LC_ALL": "C", "TZ": "UTC"},
    {"PYTHONHASHSEED": "4294967295", "LC_ALL": "C.UTF-8", "TZ": "Pacific/Kiritimati"},
)


def _bytes(arguments: list[str], surroundings: dict[str, str]) -> bytes:
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **surroundings}
    command = [sys.executable, "-c", _PROGRAM, *arguments]
    found = subprocess.run(command, env=environment, cwd=ROOT, capture_output=True, check=True)
    return found.stdout


def test_the_same_file_gives_the_same_bytes_whatever_surrounds_the_program(tmp_path: Path) -> None:
    arguments = []
    for seed in _SEEDS:
        path = tmp_path / f"{seed}" / "site.yaml"
        path.parent.mkdir()
        path.write_text(to_yaml(seeded_case(seed).site, CATALOG), encoding="utf-8")
        arguments += [str(path), str(seed)]
    first, second = (_bytes(arguments, each) for each in _SURROUNDINGS)
    assert first == second
    here = [
        json_report(
            whole_review(
                _read(tmp_path / str(seed), to_yaml(seeded_case(seed).site, CATALOG)), CATALOG, seeded_case(seed).rules
            )
        )
        for seed in _SEEDS
    ]
    assert first.decode("utf-8") == "".join(here)
