"""Writes the reports of all fixtures anew: ``python -m tests.report.renew``, in the top folder of the project.

Look at the difference before keeping it: every line that changes is one that somebody reads.
"""

from __future__ import annotations

from checker.tasks.gathering.library import Library
from tests.report.golden import KEPT, kept, kept_file, reports, reviewed


def main() -> None:
    """Write every report that is kept, and take away those whose fixture is gone."""
    KEPT.mkdir(exist_ok=True)
    library = Library.shipped()
    written = set()
    for place, suffix in kept():
        path = kept_file(place, suffix)
        path.write_text(reports(reviewed(place, library))[suffix], encoding="utf-8", newline="\n")
        written.add(path)
    for path in set(KEPT.iterdir()) - written:
        path.unlink()


if __name__ == "__main__":
    main()
