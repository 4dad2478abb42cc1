"""Reading a pack and a site against a plain YAML loader on the same files."""

from __future__ import annotations

import tempfile
from collections.abc import Iterable
from pathlib import Path

import yaml

from benchmarks.example import SITE_FILE
from benchmarks.timing import Spread, in_turn, repeated
from checker.catalog.load import shipped_catalog
from checker.files.cache import Cache
from checker.files.folders import data_folder
from checker.files.yaml.strict_yaml import read_file
from checker.rules.compiled import CompiledRules
from checker.rules.reading.pack import read_pack
from checker.rules.reading.pack_paths import file_paths
from checker.site.read import read_site

PACK, PACK_STRICT, PACK_READ = "pack: yaml.CSafeLoader", "pack: strict reader", "pack: read and checked"
PACK_KEPT = "pack: from the cache"
SITE, SITE_STRICT, SITE_READ = "site: yaml.CSafeLoader", "site: strict reader", "site: read and checked"


def loading(rounds: int) -> dict[str, Spread]:
    """Processor seconds of each way of reading the largest shipped pack and the example site."""
    catalog = shipped_catalog()
    pack = data_folder("rulesets") / "nfpa-70"
    pack_files = (*file_paths(pack, pack.name), *sorted(data_folder("shared").glob("standard-*.yaml")))
    site_files = (SITE_FILE, *sorted(SITE_FILE.parent.glob("sheets/*.yaml")))
    with tempfile.TemporaryDirectory() as folder:
        compiled = CompiledRules(Cache(Path(folder) / "cache"))
        if compiled.pack(pack, catalog) != read_pack(pack, catalog):
            raise RuntimeError("the pack from the cache is not the pack from its files")
        return in_turn(
            {
                PACK: repeated(lambda: _plainly(pack_files)),
                PACK_STRICT: repeated(lambda: _strictly(pack_files)),
                PACK_READ: repeated(lambda: read_pack(pack, catalog)),
                PACK_KEPT: repeated(lambda: compiled.pack(pack, catalog)),
                SITE: repeated(lambda: _plainly(site_files)),
                SITE_STRICT: repeated(lambda: _strictly(site_files)),
                SITE_READ: repeated(lambda: read_site(SITE_FILE, catalog)),
            },
            rounds,
        )


def _plainly(files: Iterable[Path]) -> None:
    for path in files:
        yaml.load(path.read_bytes(), yaml.CSafeLoader)


def _strictly(files: Iterable[Path]) -> None:
    for path in files:
        read_file(path, path.name)
