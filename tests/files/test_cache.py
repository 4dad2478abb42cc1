"""The folder of the cache: what is kept comes back, and what cannot be trusted is as good as not there."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from checker.files import cache
from checker.files.cache import NO_CACHE, SWITCH, Cache, digest, user_cache


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "caches" / "standby-checker"


@pytest.fixture
def kept(folder: Path) -> Cache:
    """A cache in which one text is kept."""
    found = Cache(folder)
    found.put("pack-a", "key", "what was read\nin two lines")
    assert found.get("pack-a", "key") == "what was read\nin two lines"
    return found


def _entry(folder: Path) -> Path:
    (path,) = folder.iterdir()
    return path


def test_only_the_owner_can_read_and_write_it(kept: Cache, folder: Path) -> None:
    assert (folder.stat().st_mode & 0o777, _entry(folder).stat().st_mode & 0o777) == (0o700, 0o600)
    assert kept.folder == folder


def test_another_key_or_name_finds_nothing(kept: Cache) -> None:
    assert kept.get("pack-a", "other key") is None
    assert kept.get("pack-b", "key") is None


def test_the_last_text_of_a_name_is_kept(kept: Cache, folder: Path) -> None:
    kept.put("pack-a", "later key", "later")
    assert kept.get("pack-a", "later key") == "later"
    assert kept.get("pack-a", "key") is None
    assert _entry(folder).name.startswith("pack-a")


@pytest.mark.parametrize("content", [b"", b"\n", b"key\n", b"\xff\xfe", b"what was read"])
def test_another_content_finds_nothing(kept: Cache, folder: Path, content: bytes) -> None:
    _entry(folder).write_bytes(content)
    assert kept.get("pack-a", "key") is None


def test_half_an_entry_and_a_changed_one_find_nothing(kept: Cache, folder: Path) -> None:
    whole = _entry(folder).read_bytes()
    for changed in (whole[:-3], whole + b" ", whole.replace(b"two", b"six")):
        assert changed != whole
        _entry(folder).write_bytes(changed)
        assert kept.get("pack-a", "key") is None
    _entry(folder).write_bytes(whole)
    assert kept.get("pack-a", "key") is not None


def test_a_link_in_the_place_of_an_entry_finds_nothing(kept: Cache, folder: Path, tmp_path: Path) -> None:
    elsewhere = _entry(folder).rename(tmp_path / "elsewhere")
    (folder / "pack-a.kept").symlink_to(elsewhere)
    assert kept.get("pack-a", "key") is None
    kept.put("pack-a", "key", "again")
    assert kept.get("pack-a", "key") == "again"
    assert b"what was read" in elsewhere.read_bytes()


@pytest.mark.parametrize("make", [Path.mkdir, lambda path: os.mkfifo(path, 0o600)])
def test_no_file_in_the_place_of_an_entry_finds_nothing(kept: Cache, folder: Path, make: object) -> None:
    assert callable(make)
    _entry(folder).unlink()
    make(folder / "pack-a.kept")
    assert kept.get("pack-a", "key") is None


def test_what_others_can_write_finds_nothing(kept: Cache, folder: Path) -> None:
    _entry(folder).chmod(0o666)
    assert kept.get("pack-a", "key") is None
    _entry(folder).chmod(0o600)
    folder.chmod(0o777)
    assert kept.get("pack-a", "key") is None
    kept.put("pack-b", "key", "text")
    assert not (folder / "pack-b.kept").exists()


def test_what_somebody_else_owns_finds_nothing(kept: Cache, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    somebody_else = os.geteuid() + 1
    monkeypatch.setattr(os, "geteuid", lambda: somebody_else)
    assert kept.get("pack-a", "key") is None
    kept.put("pack-b", "key", "text")
    assert not (folder / "pack-b.kept").exists()


def test_a_folder_that_cannot_be_made_keeps_nothing(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    unwritable = Cache(tmp_path / "file" / "standby-checker")
    unwritable.put("pack-a", "key", "text")
    assert unwritable.get("pack-a", "key") is None


def test_a_full_disk_leaves_what_was_kept(kept: Cache, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    kept.put("pack-a", "later key", "later")
    assert kept.get("pack-a", "key") is not None
    assert len(list(folder.iterdir())) == 1


def test_the_oldest_entries_make_room(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cache, "_MOST_ENTRIES", 3)
    found = Cache(folder)
    for place in range(5):
        found.put(f"pack-{place}", "key", "text")
        os.utime(folder / f"pack-{place}.kept", (place, place))
    assert [found.get(f"pack-{place}", "key") is not None for place in range(5)] == [False, False, True, True, True]


def test_where_the_cache_of_a_person_lies(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    at_home = Cache(tmp_path / ".cache" / "standby-checker")
    assert user_cache({}) == at_home
    assert user_cache({"XDG_CACHE_HOME": ""}) == at_home
    # XDG Base Directory Specification: relative paths are to be ignored.
    assert user_cache({"XDG_CACHE_HOME": "caches"}) == at_home
    assert user_cache({"XDG_CACHE_HOME": "/var/caches"}) == Cache(Path("/var/caches/standby-checker"))


def test_the_switch_turns_it_off() -> None:
    assert user_cache({SWITCH: "1", "XDG_CACHE_HOME": "/var/caches"}) == NO_CACHE
    NO_CACHE.put("pack-a", "key", "text")
    assert NO_CACHE.get("pack-a", "key") is None


def test_a_digest_tells_where_one_text_ends() -> None:
    assert len({digest("ab", "c"), digest("a", "bc"), digest("abc"), digest("abc", ""), digest("", "abc")}) == 5
    assert digest("é") == digest("é".encode())
