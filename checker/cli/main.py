"""The command line."""

from __future__ import annotations

import sys


def main(arguments: list[str] | None = None) -> int:
    """Run one command and return its exit status."""
    from checker.cli.app import run

    return run(sys.argv[1:] if arguments is None else arguments)
