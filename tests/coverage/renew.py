"""Writes the page of what is covered anew: ``python -m tests.coverage.renew``, in the top folder of the project."""

from __future__ import annotations

from checker.files.folders import data_folder
from tests.coverage.answers import found_in_examples
from tests.coverage.entries import office_items, requirements
from tests.coverage.page import page


def main() -> None:
    """Write the page."""
    text = page(requirements(), office_items(), found_in_examples())
    (data_folder("schemas") / "coverage.md").write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
