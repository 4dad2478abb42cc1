"""How long an editor waits for its first completion: ``python -m tests.editor.measure``."""

from __future__ import annotations

import statistics
import sys
import time

from tests.editor.language_server import LanguageServer
from tests.project.project_tree import ROOT

FOLDER = ROOT / "fixtures" / "nowhere"
TEXTS = {
    "site": "equipment:\n  A1:\n    kind: transfer_switch\n    \n",
    "pack": "rules:\n  a-b:\n    subject: transfer_switch\n    when:\n      \n",
    "layer": "changes:\n  - add:\n      subject: transfer_switch\n      when:\n        \n",
    "profile": "profile: a\n\n",
    "cases": "a-b:\n  \n",
}
TIMES = 5


def first_completion(schema: str) -> float:
    """Seconds from opening a file in a server that has read nothing yet until its first completion is there."""
    server = LanguageServer()
    text = f"# yaml-language-server: $schema=../../schemas/{schema}.schema.json\n{TEXTS[schema]}"
    lines = text.splitlines()
    start = time.perf_counter()
    address = server.open(FOLDER / f"{schema}.yaml", text)
    found = server.completion(address, len(lines) - 1, len(lines[-1]))
    spent = time.perf_counter() - start
    server.close()
    assert found
    return spent


def main() -> None:
    """Print the median and the longest of several starts, for each schema."""
    for schema in TEXTS:
        spent = [first_completion(schema) for _ in range(TIMES)]
        size = (ROOT / "schemas" / f"{schema}.schema.json").stat().st_size
        middle, longest = statistics.median(spent), max(spent)
        sys.stdout.write(f"{schema}: {middle:.2f} s, longest {longest:.2f} s, schema {size / 1000:.0f} kB\n")


if __name__ == "__main__":
    main()
