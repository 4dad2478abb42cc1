"""Reads a site text from a folder of its own."""

from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.site.model import Site, Subject
from checker.site.read import read_site
from checker.values.problems import Problem, Unreadable

CATALOG = shipped_catalog()


def read(text: str, folder: Path, **sheets: str) -> Site:
    """The site of a text; ``sheets`` are files beside it by their names without ending."""
    path = folder / "site.yaml"
    path.write_text(text, encoding="utf-8", newline="")
    for name, content in sheets.items():
        (folder / f"{name}.yaml").write_text(content, encoding="utf-8", newline="")
    return read_site(path, CATALOG)


def refused(text: str, folder: Path, **sheets: str) -> tuple[Problem, ...]:
    """What is wrong with a text; empty where it is read."""
    try:
        read(text, folder, **sheets)
    except Unreadable as error:
        return error.problems
    return ()


def subject(site: Site, name: str) -> Subject:
    """The subject with that id."""
    (found,) = [each for each in site.things if each.id == name]
    return found
