"""An oracle: rules judged on a drawing of which nothing is open, in plain two-valued logic.

Written from the design alone: it walks the drawing, works facts out and compares them by itself, and imports nothing of
``checker.facts`` or ``checker.review``. A place that no source feeds, a table that does not reach so far, a source that is
not on the drawing have no answer; ``None`` stands for that, and for nothing else, in every truth value below.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from itertools import product

from checker.catalog.model import Catalog
from checker.rules.model import (
    Basis,
    Combined,
    Compare,
    Condition,
    Count,
    FactOperand,
    FactPath,
    Fold,
    Force,
    Group,
    Lookup,
    NextSize,
    Not,
    Operand,
    ParameterOperand,
    Requires,
    Rule,
    RuleInForce,
    Scaled,
    TableValues,
    Test,
    Words,
)
from checker.site.model import SITE, Site, Subject
from checker.values.dates import CalendarSpan
from checker.values.possible import Possible, Span
from tests.soundness.exact_facts import ABSENT, Absent, ExactFacts, NoAnswer, Value, exact_value
