"""At the limit: a figure of exactly so much percent of another holds at_least, and does not hold more_than.

Every percentage from 1 to 200 of every whole ampere to 4,000 that comes to a whole ampere, through the operands of the
program: written in a pack, read, scaled, compared.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.operands import Numbers, term
from checker.findings.judging.paths import Place
from checker.findings.review import view_of
from checker.rules.model.citing import Checked
from checker.rules.model.conditions import ParameterOperand, Scaled
from checker.rules.model.numbers import ParameterValue
from checker.rules.reading.written_values import read_value
from checker.site.model import SITE
from checker.values.possible import Possible, number
from checker.values.relations import relate
from checker.values.truth import Truth
from tests.generators.cases import CATALOG, seeded_case

MOST_AMPERES = 4000
MOST_PERCENT = 200
_EVIDENCE = SiteEvidence(view_of(seeded_case(0).site, CATALOG))
_PLACE = Place(SITE, SITE)


def _parameter(text: str, kind: str) -> ParameterValue:
    written = read_value(text, kind)
    return ParameterValue(text, written.value, written.unit, (), Checked("high", "arithmetic"))


_AMPERES = {amperes: _parameter(f"{amperes} A", "load_current") for amperes in range(1, MOST_AMPERES + 1)}


def _scaled(amperes: int, ratio: ParameterValue) -> Possible:
    numbers = Numbers({"rating": _AMPERES[amperes], "ratio": ratio}, {})
    operand = Scaled(ParameterOperand("rating"), ParameterOperand("ratio"))
    return term(_EVIDENCE, numbers, operand, _PLACE).known.value


@pytest.mark.parametrize("percent", range(1, MOST_PERCENT + 1))
def test_exactly_the_limit_is_enough_and_no_more(percent: int) -> None:
    ratio = _parameter(f"{percent} %", "ratio")
    landed = 0
    for amperes in range(1, MOST_AMPERES + 1):
        whole, rest = divmod(percent * amperes, 100)
        if rest:
            continue
        landed += 1
        limit = _scaled(amperes, ratio)
        assert limit == number(Fraction(whole))
        assert relate("at_least", number(whole), limit) is Truth.YES
        assert relate("more_than", number(whole), limit) is Truth.NO
        assert relate("at_most", number(whole), limit) is Truth.YES
        assert relate("less_than", number(whole), limit) is Truth.NO
        assert relate("at_least", number(whole - Fraction(1, 10**9)), limit) is Truth.NO
    assert landed >= MOST_AMPERES // 100
