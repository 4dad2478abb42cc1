"""`python -m checker` does what the command `standby-checker` does."""

import sys


def run() -> int:
    """Run the command line and return its exit status.

    The command line is imported here and not above: whoever imports this module without running it loads nothing.
    """
    from checker.cli.main import main

    return main()


if __name__ == "__main__":
    sys.exit(run())
