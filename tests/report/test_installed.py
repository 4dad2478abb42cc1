"""The list of what is installed names the standards that a code brings into force."""

from __future__ import annotations

from checker.report.rules.installed import installed_text
from checker.tasks.gathering.installed import installed
from checker.tasks.gathering.library import Library


def test_standards_to_which_codes_send_are_listed_by_edition() -> None:
    """The model fuel gas codes ask of a permanent engine by NFPA 37; their 2024 editions name its 2021 edition."""
    told = [" ".join(line.split()) for line in installed_text(installed((), Library.shipped())).splitlines()]
    assert "Standards to which codes send" in told
    for code in ("ifgc", "nfpa-54"):
        assert f"{code} 2021 NFPA 37 2018" in told
        assert f"{code} 2024 NFPA 37 2021" in told
