"""Reviews and findings made by hand, so that a report can be looked at outcome by outcome."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from checker.catalog.model import Stage
from checker.engineering.worksheet import Line, Worksheet
from checker.findings.finding import (
    BreakEven,
    Check,
    ConnectionOfLine,
    ExceptionResult,
    Figure,
    Finding,
    InForce,
    Need,
    Notice,
    OneLine,
    PieceOfLine,
    ReadingResult,
    Review,
    StateOfLine,
    States,
    SubjectName,
    Way,
)
from checker.findings.judging.outcomes import Outcome
from checker.rules.model.citing import Citation
from checker.rules.model.force import Basis, Force
from checker.rules.model.in_force import PackInForce
from checker.values.positions import Position
from checker.values.truth import Truth

DIGEST = "0123456789abcdef" * 4
AT = Position("site.yaml", 16, 26)
CITE = Citation("Town Code", "2020", "14-31")

SWITCH = SubjectName({"piece": "ATS1"}, "ATS1", "ATS1", "transfer_switch", (2, "ATS1"), "ATS1")
SITE_ITSELF = SubjectName({"site": "site"}, "the site", "site", "site", (9, "site"), "site")

SHOWN = Figure("ATS1.rated_current", "rated current", "100 A", "A", "100", "100", AT, per="nameplate")
WANTED = Figure("ATS1.normal.overcurrent_limit", "overcurrent device ahead", "200 A", "A", "200", "200", AT)
CHECK = Check("behind_normal", Truth.NO, "at_least", SHOWN, WANTED)
RATING = Need("fact", "ATS1.rated_current", "rated current", "nameplate", Stage.PLAN_REVIEW)
LABELS = Need("more", "labels", "whether the list of labels is complete", "drawing", Stage.INSTALLATION)

_POSSIBLE = {
    Outcome.NEEDS_INFORMATION: (Outcome.CORRECTION, Outcome.MET),
}


def finding(outcome: Outcome, **changes: Any) -> Finding:
    """A finding of this outcome with everything that such a finding has."""
    plain = Finding(
        id="town-2020:switch-not-below-its-breaker@ATS1",
        number=1,
        rule="switch-not-below-its-breaker",
        title="The switch is rated for the breaker ahead of it",
        subject=SWITCH,
        outcome=outcome,
        could_be=_POSSIBLE.get(outcome, (outcome,)),
        without_permission=Outcome.CORRECTION if outcome is Outcome.SPECIAL_PERMISSION else None,
        due=Stage.PLAN_REVIEW,
        force=Force.MANDATORY,
        basis=Basis.LAW,
        authority="county rule 7",
        cites=(CITE,),
        checks=(CHECK,),
        exceptions=(),
        ways=(),
        readings=(),
        history=(),
        break_even=None,
        follows_from=None,
        before=(),
        companions=(),
        who_acts="contractor",
        needs=(RATING,) if outcome is Outcome.NEEDS_INFORMATION else (),
        assumed=(),
        unconfirmed=(),
        says="ATS1 is rated 100 A and stands behind a 200 A breaker.",
        why="A switch carries what the breaker ahead lets through.",
        remedy=("Choose the next larger frame.",),
        cautions=("The line side stays live.",),
        because="role is no role" if outcome is Outcome.NOT_APPLICABLE else "",
        look="Look at the nameplate of ATS1." if outcome is Outcome.VERIFY_IN_FIELD else "",
        covers=("TX-01",),
    )
    return replace(plain, **changes)


def review(*findings: Finding, **changes: Any) -> Review:
    """A review with these findings, numbered in their order."""
    numbered = tuple(replace(each, number=place) for place, each in enumerate(findings, start=1))
    plain = Review(
        site_name="14 Meadow Lane",
        file="site.yaml",
        digest=DIGEST,
        stage=Stage.PLAN_REVIEW,
        in_force=InForce(
            "fennmoor",
            "Fennmoor",
            date(2026, 3, 14),
            "permit_application",
            (
                PackInForce("town", "Town Code", "2020", DIGEST, "county rule 7", date(2022, 7, 1)),
                PackInForce("trade", "Trade practice", None, DIGEST, "", None),
            ),
        ),
        states=States(
            (
                StateOfLine("every switch on normal", (("UTIL", ("ATS1",)), ("GEN1", ()))),
                StateOfLine("ATS1 on alternate", (("UTIL", ()), ("GEN1", ("ATS1",)))),
            ),
            0,
        ),
        one_line=OneLine(
            (
                PieceOfLine("UTIL", "utility_supply", "utility supply", "", False),
                PieceOfLine("ATS1", "transfer_switch", "transfer switch", "service disconnect", True),
                PieceOfLine("GEN1", "generator", "generator", "", False),
            ),
            (
                ConnectionOfLine("UTIL>ATS1.normal", "UTIL", "ATS1", "normal"),
                ConnectionOfLine("GEN1>ATS1.alternate", "GEN1", "ATS1", "alternate"),
            ),
            ("ATS1",),
        ),
        findings=numbered,
        notices=(Notice("override", "--stage plan_review was used."),),
        worksheets={
            "GEN1.capacity": Worksheet(
                "GEN1.capacity",
                "Full-load current",
                "GEN1",
                (Line("a", "power", "GEN1.power", "19 kW", "", "sheet"),),
                "",
                (),
            )
        },
        not_covered=("sound at the lot line",),
        cautions=("GEN1 starts by itself.",),
    )
    return replace(plain, **changes)


EVERYTHING: dict[str, Any] = {
    "exceptions": (ExceptionResult("on-a-pole", Truth.UNKNOWN, "it stands on a pole", (CITE,)),),
    "ways": (Way("larger-frame", Truth.NO, (CHECK,)),),
    "history": ("number changed from 10 ft to 8 ft by Fennmoor",),
    "break_even": BreakEven("ATS1.rated_current", "at_least", "200 A", "200", "A", "at least"),
    "follows_from": "ATS1.role",
    "before": ("one-main-bond",),
    "companions": ("The service disconnect has its bond",),
    "assumed": ("ATS1.rated_current",),
    "unconfirmed": ("margin",),
}
"""What a finding can have besides, for a finding that has all of it."""

READINGS = (
    ReadingResult("strict", "some plan reviewers", Truth.NO),
    ReadingResult("plain", "most plan reviewers", Truth.YES),
    ReadingResult("old", "the state", Truth.UNKNOWN),
)
