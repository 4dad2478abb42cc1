"""Every sentence that a shipped rule can print, filled in by its own cases."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from checker.catalog.model import Catalog, ValueType
from checker.findings.judging.outcomes import Outcome
from checker.rules.cases.model import Case, GivenValue
from checker.rules.cases.read import read_cases
from checker.rules.edition import pack_in_edition
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Rule
from checker.rules.reading.names_read import names_read
from checker.rules.reading.placeholders import placeholders
from checker.rules.vocabulary import Around, FactFound, Vocabulary
from checker.tasks.testing.cases import answer
from checker.values.possible import exactly

MISSES = frozenset(
    each.value for each in (Outcome.CORRECTION, Outcome.RECOMMENDATION, Outcome.NOTE, Outcome.AHJ_TO_DECIDE)
)
"""Outcomes for which the sentence of the rule is printed."""


@dataclass(frozen=True, slots=True)
class Sentence:
    """A text as it is printed, of which kind it is, and the case that filled it in."""

    kind: str
    text: str
    rule: str
    case: str
    outcome: str

    def __str__(self) -> str:
        return f"{self.rule}, {self.outcome}, {self.case}: {self.kind}: {self.text}"


def sentences_of(pack: Pack, catalog: Catalog) -> Iterator[Sentence]:
    """Every sentence of every rule of a pack, for every case in every edition; the same text of a rule once."""
    vocabulary = Vocabulary(catalog)
    rules = {
        (edition, rule.rule.id): rule
        for edition in pack.editions or (None,)
        for rule in pack_in_edition(pack, edition, "")
    }
    seen: set[tuple[str, str, str]] = set()
    for case in read_cases(pack, catalog):
        for edition in case.editions or (None,):
            rule = rules.get((edition, case.rule))
            given = case if rule is None else _with_names(case, rule.rule, vocabulary)
            texts = answer(given, rule, Path(pack.folder), vocabulary).texts
            if texts is None:
                continue
            printed = [
                ("why", texts.why),
                *(("remedy", each) for each in texts.remedy),
                *(("caution", each) for each in texts.cautions),
                *([("says", texts.says)] if case.outcome in MISSES else []),
                *([("look", texts.look)] if case.outcome == Outcome.VERIFY_IN_FIELD.value else []),
                *([("because", texts.because)] if case.outcome == Outcome.NOT_APPLICABLE.value else []),
            ]
            for kind, text in printed:
                if (case.rule, kind, text) not in seen:
                    seen.add((case.rule, kind, text))
                    yield Sentence(kind, _MEMBER.sub(OTHER, text), case.rule, case.shows, case.outcome)


OTHER = "X2"
"""Stands for whatever else has a name beside the subject of a case."""

_MEMBER = re.compile(r"\b[a-z]+(?:_[a-z]+)+ \d+(?:/\w+ \d+)*")
"""How a case names a member of a collection; on a drawing it has its tag."""


def _with_names(case: Case, rule: Rule, vocabulary: Vocabulary) -> Case:
    """The case with a name for everything that the texts name and no condition reads, so that no case can give it."""
    around, read = Around(vocabulary.types_of(rule.subject)), names_read(rule).facts
    names = {}
    told = (each.text for each in (*rule.says_where, *rule.remedy, *rule.cautions))
    for text in (rule.says, rule.why, rule.look or "", *told):
        for name in placeholders(text):
            found = vocabulary.fact(name, around)
            if name not in read and isinstance(found, FactFound) and found.fact.type in (ValueType.TAG, ValueType.TEXT):
                names[name] = GivenValue(exactly(OTHER), OTHER, case.at)
    return replace(case, given=replace(case.given, values={**names, **case.given.values}))


_FRAGMENTS = frozenset({"because"})
"""Printed behind a colon: they begin small and end without a full stop."""

_CAPITAL_OR_TAG = re.compile(r"[A-Z0-9\"(]")
_END = re.compile(r"[.?!][\")]?$")
_WORD_OF_CODE = re.compile(r"(?<![\w.])[a-z]+(?:_[a-z0-9]+)+")
_EMPTY = re.compile(r"\s[,.;:?!]|,\s*,|\(\s*\)|: *\.")
_NO_VALUE = re.compile(r"\bNone\b|\bnan\b|\binf\b|Fraction|frozenset|\{|\}")


def complaints(sentence: Sentence) -> list[str]:
    """What is wrong with a sentence as it is printed; nothing for a good one."""
    text, found = sentence.text, []
    if not text.strip() or text != text.strip():
        return ["is empty, or begins or ends with a space"] if sentence.kind != "why" or text else []
    if _NO_VALUE.search(text):
        found.append("holds a brace or a value of the program")
    if "  " in text or "\n" in text:
        found.append("holds two spaces or a line break")
    if _EMPTY.search(text):
        found.append("holds an empty place")
    if _WORD_OF_CODE.search(text):
        found.append("holds a word of code")
    if sentence.kind not in _FRAGMENTS and not _CAPITAL_OR_TAG.match(text):
        found.append("begins with a small letter")
    if sentence.kind not in _FRAGMENTS and not _END.search(text):
        found.append("does not end like a sentence")
    return found
