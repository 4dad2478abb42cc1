"""Packs and profiles from the cache: equal to those read from files, and read again as soon as anything has changed."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given

import checker.rules.profile
import checker.rules.reading.pack
from checker.catalog.load import catalog_codec, shipped_catalog
from checker.files import compiling
from checker.files.cache import Cache
from checker.files.folders import data_folder
from checker.rules.compiled import CompiledRules, pack_codec
from checker.rules.lint import lint_folders
from checker.rules.model.in_force import RulesInForce
from checker.rules.model.pack import Pack
from checker.rules.profile import read_profile
from checker.rules.reading.pack import read_pack
from checker.tasks.gathering.packs import pack_folders, read_packs
from checker.values.problems import Unreadable
from tests.generators.names import Names
from tests.generators.rules import drawn_rules
from tests.rules.packs import DATA, EXAMPLE, PRACTICE, SHARED

CATALOG = shipped_catalog()
SHIPPED = tuple(pack_folders([data_folder("rulesets")]))
PROFILES = (*sorted(data_folder("rulesets").glob("profiles/*.yaml")), DATA / "profile.yaml")
NAMES = Names(CATALOG)


@pytest.fixture
def cache(tmp_path: Path) -> Cache:
    return Cache(tmp_path / "cache")


@pytest.fixture
def compiled(cache: Cache) -> CompiledRules:
    return CompiledRules(cache)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The example pack with a folder shared beside it, to be changed."""
    shutil.copytree(SHARED, tmp_path / "shared")
    return Path(shutil.copytree(EXAMPLE, tmp_path / "example"))


@pytest.fixture
def read(compiled: CompiledRules, folder: Path) -> Callable[[], Pack]:
    """Reads the example pack through the cache."""
    return lambda: compiled.pack(folder, CATALOG, folder.parent / "shared")


@pytest.fixture
def readings(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The packs and profiles that are read from their files from now on."""
    found: list[Path] = []

    def counted_pack(folder: Path, *more: object) -> Pack:
        found.append(folder)
        return read_pack(folder, *more)  # type: ignore[arg-type]

    def counted_profile(path: Path, **more: object) -> object:
        found.append(path)
        return read_profile(path, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(checker.rules.reading.pack, "read_pack", counted_pack)
    monkeypatch.setattr(checker.rules.profile, "read_profile", counted_profile)
    return found


@pytest.mark.parametrize("path", [*SHIPPED, EXAMPLE, PRACTICE], ids=lambda path: path.name)
def test_a_pack_from_the_cache_equals_the_pack_from_its_files(
    path: Path, compiled: CompiledRules, readings: list[Path]
) -> None:
    shared = None if path in SHIPPED else SHARED
    from_files = read_pack(path, CATALOG, shared)
    assert [compiled.pack(path, CATALOG, shared) for _ in range(3)] == [from_files] * 3
    assert readings == [path]
    assert from_files.rules


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: path.stem)
def test_a_profile_from_the_cache_equals_the_profile_from_its_file(
    path: Path, compiled: CompiledRules, readings: list[Path]
) -> None:
    assert [compiled.profile(path, CATALOG) for _ in range(3)] == [read_profile(path)] * 3
    assert readings == [path]


def test_the_catalog_is_written_and_read_back_equal() -> None:
    codec = catalog_codec()
    assert codec.read(codec.written(CATALOG)) == CATALOG
    assert CATALOG.digest


@given(drawn_rules(NAMES, most=4))
def test_any_rule_is_written_and_read_back_equal(rules: RulesInForce) -> None:
    codec = pack_codec()
    value = tuple((each.rule, dict(each.parameters), dict(each.tables)) for each in rules.rules)
    assert codec.read(codec.written(value)) == value


def test_all_packs_of_a_folder(tmp_path: Path, readings: list[Path]) -> None:
    (tmp_path / "packs").mkdir()
    shutil.copytree(PRACTICE, tmp_path / "packs" / "practice")
    cache = Cache(tmp_path / "cache")
    first, second = (read_packs(tmp_path / "packs", CATALOG, cache) for _ in range(2))
    assert first == second
    assert len(readings) == 1


def _append(path: Path, text: str) -> None:
    path.write_text(path.read_text(encoding="utf-8") + text, encoding="utf-8")


@pytest.mark.parametrize(
    "change",
    [
        lambda folder: _append(folder / "pack.yaml", "# a remark\n"),
        lambda folder: _append(folder / "switches.yaml", "# a remark\n"),
        lambda folder: _append(folder.parent / "shared" / "sizes.yaml", "# a remark\n"),
        lambda folder: (folder / "more.yaml").write_text("# nothing\nrules: {}\n", encoding="utf-8"),
        lambda folder: (folder / "sets.yaml").rename(folder / "generators.yaml"),
        lambda folder: (folder.parent / "shared" / "more.yaml").write_text("tables: {}\n", encoding="utf-8"),
    ],
    ids=["head", "rules", "shared", "added", "renamed", "shared added"],
)
def test_what_has_changed_is_read_again(
    change: Callable[[Path], object], folder: Path, read: Callable[[], Pack], readings: list[Path]
) -> None:
    read()
    change(folder)
    assert _outcome(read) == _outcome(lambda: read_pack(folder, CATALOG, folder.parent / "shared"))
    assert len(readings) == 2


def _outcome(work: Callable[[], Pack]) -> object:
    try:
        return work()
    except Unreadable as error:
        return error.problems


def test_a_change_back_is_read_again_and_equal(folder: Path, read: Callable[[], Pack], readings: list[Path]) -> None:
    first, text = read(), (folder / "switches.yaml").read_bytes()
    _append(folder / "switches.yaml", "# a remark\n")
    assert read() != first
    (folder / "switches.yaml").write_bytes(text)
    assert read() == first
    assert len(readings) == 3


def test_cases_are_no_part_of_what_is_kept(folder: Path, read: Callable[[], Pack], readings: list[Path]) -> None:
    first = read()
    _append(folder / "switches.cases.yaml", "# a remark\n")
    assert read() == first
    assert len(readings) == 1


def test_a_pack_at_another_place_keeps_its_own(folder: Path, compiled: CompiledRules, readings: list[Path]) -> None:
    other = Path(shutil.copytree(folder, folder.parent / "other" / "example"))
    for _ in range(2):
        for each in (folder, other):
            assert compiled.pack(each, CATALOG, SHARED).folder == each.as_posix()
    assert readings == [folder, other]


def test_a_changed_catalog_reads_again(compiled: CompiledRules, readings: list[Path]) -> None:
    for catalog in (CATALOG, CATALOG, replace(CATALOG, digest="another")):
        compiled.pack(PRACTICE, catalog, SHARED)
    assert len(readings) == 2


def test_with_a_catalog_of_unknown_origin_nothing_is_kept(compiled: CompiledRules, readings: list[Path]) -> None:
    for _ in range(2):
        compiled.pack(PRACTICE, replace(CATALOG, digest=""), SHARED)
    assert len(readings) == 2


@pytest.fixture
def another_version() -> Iterator[Callable[[], None]]:
    """Makes the running program another version of itself until the end of the test."""
    patch = pytest.MonkeyPatch()

    def change() -> None:
        patch.setattr(compiling, "__version__", "999.0")
        compiling._program.cache_clear()

    yield change
    patch.undo()
    compiling._program.cache_clear()


def test_what_another_version_kept_is_read_again(
    read: Callable[[], Pack], readings: list[Path], another_version: Callable[[], None]
) -> None:
    first = read()
    another_version()
    assert read() == first
    assert len(readings) == 2


def test_what_a_changed_program_of_the_same_version_kept_is_read_again(
    read: Callable[[], Pack], readings: list[Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = Path(compiling.__file__).parent.parent
    shutil.copytree(package, tmp_path / "checker", ignore=shutil.ignore_patterns("_data", "__pycache__", ".*"))
    monkeypatch.setattr(compiling, "_PACKAGE", tmp_path / "checker")
    compiling._program.cache_clear()
    read()
    _append(tmp_path / "checker" / "rules" / "reading" / "pack.py", "# changed\n")
    compiling._program.cache_clear()
    read()
    compiling._program.cache_clear()
    assert len(readings) == 2


@pytest.mark.parametrize("content", [b"", b"nothing of ours", b"\x80\x04K\x01."])
def test_a_broken_entry_is_read_again(
    content: bytes, cache: Cache, read: Callable[[], Pack], readings: list[Path]
) -> None:
    first = read()
    assert cache.folder is not None
    for entry in cache.folder.iterdir():
        entry.write_bytes(content)
    assert [read(), read()] == [first, first]
    assert len(readings) == 2


@pytest.mark.parametrize("text", ['{"types":[],"texts":["a"],"values":[]}', "{", '{"types":["Popen"]}'])
def test_an_entry_that_holds_no_pack_is_read_again(
    text: str, cache: Cache, read: Callable[[], Pack], readings: list[Path]
) -> None:
    first = read()
    assert cache.folder is not None
    (entry,) = cache.folder.iterdir()
    key = entry.read_text(encoding="utf-8").split()[0]
    cache.put(entry.stem, key, text)
    assert read() == first
    assert len(readings) == 2


def test_a_cache_that_cannot_be_written_changes_nothing(tmp_path: Path, readings: list[Path]) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    compiled = CompiledRules(Cache(tmp_path / "file" / "cache"))
    assert [compiled.pack(PRACTICE, CATALOG, SHARED) for _ in range(2)] == [read_pack(PRACTICE, CATALOG, SHARED)] * 2
    assert len(readings) == 2


def test_a_pack_with_problems_is_told_each_time_and_not_kept(
    cache: Cache, folder: Path, read: Callable[[], Pack]
) -> None:
    (folder / "more.yaml").write_text("rules: {a: {}}\n", encoding="utf-8")
    told = []
    for _ in range(2):
        with pytest.raises(Unreadable) as refused:
            read()
        told.append(refused.value.problems)
    assert told[0] == told[1] != ()
    assert cache.folder is not None
    assert not cache.folder.exists()


def test_a_pack_that_changes_while_it_is_read_is_not_kept(
    cache: Cache, folder: Path, read: Callable[[], Pack], monkeypatch: pytest.MonkeyPatch
) -> None:
    def changing(path: Path, *more: object) -> Pack:
        found = read_pack(path, *more)  # type: ignore[arg-type]
        _append(folder / "switches.yaml", "# a remark\n")
        return found

    monkeypatch.setattr(checker.rules.reading.pack, "read_pack", changing)
    read()
    assert cache.folder is not None
    assert not cache.folder.exists()


def test_a_folder_without_a_pack_is_told_as_ever(compiled: CompiledRules, tmp_path: Path) -> None:
    with pytest.raises(Unreadable) as refused:
        compiled.pack(tmp_path / "nowhere", CATALOG)
    assert "nowhere" in refused.value.problems[0].sentence


def test_lint_never_asks_the_cache(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []
    monkeypatch.setattr(Cache, "get", lambda *more: asked.append(more))
    assert lint_folders([EXAMPLE, PRACTICE], CATALOG, SHARED).is_clean
    assert not asked
