"""The words of the grammar of rules, and which relation fits which type of fact."""

from __future__ import annotations

import re

from checker.catalog.model import Fact, ValueType

GROUPS = ("all", "any")
FOLDS = ("some", "every", "none")
BESIDE = ("part", "in")
"""Words that may stand beside a condition."""
CONDITION_WORDS = (*GROUPS, "not", *FOLDS, "count", *BESIDE)
ANY_WAY = "any_way"
RESERVED = frozenset({*CONDITION_WORDS, ANY_WAY, "subject"})
"""Words that are no name of a part."""

EQUALITIES = ("is", "is_not")
ORDERS = ("at_least", "at_most", "more_than", "less_than", "between")
MEMBERSHIPS = ("one_of", "none_of")
INCLUSIONS = ("includes", "includes_any", "includes_all", "includes_only")
DATE_RELATIONS = ("before", "on_or_after", "no_older_than")
EXISTENCE = ("known", "present")
RELATIONS = (*EQUALITIES, *MEMBERSHIPS, *ORDERS, *INCLUSIONS, *EXISTENCE, *DATE_RELATIONS)
LIST_RELATIONS = frozenset({*MEMBERSHIPS, "includes_any", "includes_all", "includes_only"})
"""Relations that take a list of choices, or what stands for one."""
COUNT_RELATIONS = (*EQUALITIES, *ORDERS)
BETWEEN = "between"

COMBINATIONS = ("largest_of", "smallest_of", "sum_of")
OPERATIONS = (*COMBINATIONS, "scaled", "next_size", "table")
OPERAND_WORDS = ("fact", "parameter", *OPERATIONS, "skip_absent", "keys")

MOST_GROUPS = 3
MOST_OPERATIONS = 3

SYMBOLS = ("ieee_315", "iec_60617")
"""Families of symbols in which a one-line can be drawn, the usual one first."""

NO_EDITION = ""
"""Stands for the edition in documents that have none."""
PAPER = "paper"
"""The fact of the catalog whose choices are papers."""

NONE = "none"
SAME_AS = re.compile(r"same as (\S+)").fullmatch
NO_LIMIT = "no_limit"

ID = r"[a-z][a-z0-9]*(?:-[a-z0-9]+)+"
"""The id of a rule, an exception or a replacement: a claim in words."""
NAME = r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*"
"""The name of a pack, a profile, a parameter or a table."""
PART = r"[a-z][a-z0-9]*(?:[_-][a-z0-9]+)*"
"""The name of a part, a way, a reading or a key of a table."""

MATCHES = ("exact", "at_or_above", "band")
STRICTER = ("higher", "lower")
CLASS_WORDS = ("danger", "warning", "caution", "notice")
"""The words with which safety signs begin, the gravest first (ANSI Z535.4)."""
LINE_OF_A_SIGN = r"[^.{}]{1,40}"
"""A line to engrave: a few words. A sentence is not typed in, its meaning is."""
MOST_LINES = 4
WHO_ACTS = ("contractor", "engineer", "utility", "gas_utility", "owner", "ahj")
SURE = ("high", "medium", "low")
EVENTS = ("permit_application", "plan_submission", "permit_issue", "work_start", "occupancy", "engine_built")
INTERPRETATION_STATUS = ("open", "answered", "superseded")
MISSES = ("correction", "recommendation", "note")
NOT_IN_FORCE = "not_in_force"
CASE_OUTCOMES = (
    "met",
    *MISSES,
    "needs_information",
    "not_applicable",
    "verify_in_field",
    "ahj_to_decide",
    NOT_IN_FORCE,
)


def relations_of(fact: Fact) -> tuple[str, ...]:
    """The relations in which a fact can stand, without known and present, which every fact has."""
    if fact.several:
        return INCLUSIONS
    return _BY_TYPE[fact.type]


_BY_TYPE: dict[ValueType, tuple[str, ...]] = {
    ValueType.FLAG: EQUALITIES,
    ValueType.CHOICE: (*EQUALITIES, *MEMBERSHIPS),
    ValueType.COUNT: COUNT_RELATIONS,
    ValueType.QUANTITY: COUNT_RELATIONS,
    ValueType.WIRE_SIZE: COUNT_RELATIONS,
    ValueType.DATE: (*EQUALITIES, *DATE_RELATIONS),
    ValueType.TEXT: EQUALITIES,
    ValueType.TAG: EQUALITIES,
    ValueType.WAY: EQUALITIES,
    ValueType.STRUCTURE: (),
}
