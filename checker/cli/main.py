"""The command line."""

from __future__ import annotations

import gc
import sys

# Nearly all that a command makes lives to its end, and looking through it for rings takes a tenth of the time. It is
# looked through seldom, and not never: many sites may be reviewed in one run.
SELDOM = (10_000, 50, 50)


def main(arguments: list[str] | None = None) -> int:
    """Run one command and return its exit status; without arguments that of the process itself."""
    from checker.cli.app import run

    if arguments is not None:
        return run(arguments)
    gc.set_threshold(*SELDOM)
    return run(sys.argv[1:])
