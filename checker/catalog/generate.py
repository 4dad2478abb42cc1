"""Writes what is made from the fact catalog: ``python -m checker.catalog.generate``, with ``--check`` only looks."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from pathlib import Path

from checker.catalog.load import load_catalog
from checker.catalog.model import Catalog
from checker.catalog.reference_page import reference_page
from checker.catalog.site_schema import site_schema
from checker.catalog.type_tables import type_tables
from checker.files.folders import data_folder

_USAGE = "usage: python -m checker.catalog.generate [--check]"


def generated_files(catalog: Catalog) -> dict[str, str]:
    """The text of every generated file by its name in ``schemas/``."""
    return {
        "site.schema.json": _json(site_schema(catalog)),
        "fact-types.json": _json(type_tables(catalog)),
        "facts.md": reference_page(catalog),
    }


def stale_files(folder: Path, catalog: Catalog) -> list[str]:
    """The names of generated files in the folder that are not what the catalog gives."""
    return [name for name, text in generated_files(catalog).items() if _text_of(folder / name) != text]


def write_files(folder: Path, catalog: Catalog) -> None:
    """Write every generated file into the folder."""
    for name, text in generated_files(catalog).items():
        (folder / name).write_text(text, encoding="utf-8", newline="\n")


def main(arguments: Sequence[str]) -> None:
    """Write, or with ``--check`` leave with status 1 where a file is stale."""
    folder = data_folder("schemas")
    catalog = load_catalog(folder / "facts")
    if list(arguments) == ["--check"]:
        stale = stale_files(folder, catalog)
        if stale:
            names = ", ".join(stale)
            raise SystemExit(f"Not what the fact catalog gives: {names}. Run python -m checker.catalog.generate.")
    elif arguments:
        raise SystemExit(_USAGE)
    else:
        write_files(folder, catalog)


def _json(document: object) -> str:
    return json.dumps(document, indent=1, ensure_ascii=False) + "\n"


def _text_of(path: Path) -> str | None:
    return path.read_text(encoding="utf-8") if path.is_file() else None


if __name__ == "__main__":
    main(sys.argv[1:])
