"""Writes the reports of all fixtures anew: ``python -m tests.report.renew``, in the top folder of the project.

Look at the difference before keeping it: every line that changes is one that somebody reads.
"""

from __future__ import annotations

from checker.tasks.reviewing import Library
from tests.report.golden import KEPT, PLACES, kept_file, reports, reviewed


def main() -> None:
    """Write both reports of every fixture, and take away those whose fixture is gone."""
    KEPT.mkdir(exist_ok=True)
    library = Library.shipped()
    written = set()
    for place in PLACES:
        for suffix, text in reports(reviewed(place, library)).items():
            path = kept_file(place, suffix)
            path.write_text(text, encoding="utf-8", newline="\n")
            written.add(path)
    for path in set(KEPT.iterdir()) - written:
        path.unlink()


if __name__ == "__main__":
    main()
