"""Words and marks in which outcomes, relations and stages are printed."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from checker.catalog.model import Stage
from checker.findings.finding import Figure, Finding
from checker.findings.judging.outcomes import Outcome
from checker.rules.model.citing import Citation
from checker.rules.model.force import Basis

OUTCOME_WORDS = {
    Outcome.CORRECTION: "correction",
    Outcome.NEEDS_INFORMATION: "not shown",
    Outcome.VERIFY_IN_FIELD: "field verify",
    Outcome.AHJ_TO_DECIDE: "AHJ to decide",
    Outcome.SPECIAL_PERMISSION: "by special permission",
    Outcome.RECOMMENDATION: "recommendation",
    Outcome.NOTE: "note",
    Outcome.RULE_ERROR: "the rule itself broke",
    Outcome.MET: "meets as shown",
    Outcome.NOT_APPLICABLE: "does not apply",
}

_TURNS = {
    Outcome.CORRECTION: ("was a correction", "now a correction"),
    Outcome.NEEDS_INFORMATION: ("was not shown", "now not shown"),
    Outcome.VERIFY_IN_FIELD: ("was to be looked at in the field", "now to be looked at in the field"),
    Outcome.AHJ_TO_DECIDE: ("was for the AHJ to decide", "now for the AHJ to decide"),
    Outcome.SPECIAL_PERMISSION: ("was by special permission", "now by special permission"),
    Outcome.RECOMMENDATION: ("was a recommendation", "now a recommendation"),
    Outcome.NOTE: ("was a note", "now a note"),
    Outcome.RULE_ERROR: ("was a rule that broke", "now a rule that broke"),
    Outcome.MET: ("was met as shown", "now meets what is shown"),
    Outcome.NOT_APPLICABLE: ("did not apply", "now does not apply"),
    None: ("was not asked", "now not asked"),
}
"""How a finding was and is, as the two halves of a sentence."""

MARKS = {
    Outcome.CORRECTION: "■",
    Outcome.NEEDS_INFORMATION: "□",
    Outcome.VERIFY_IN_FIELD: "◧",
    Outcome.AHJ_TO_DECIDE: "◫",
    Outcome.SPECIAL_PERMISSION: "▣",
    Outcome.RECOMMENDATION: "▪",
    Outcome.NOTE: "▪",
    Outcome.RULE_ERROR: "▨",
    Outcome.MET: "·",
    Outcome.NOT_APPLICABLE: "–",
}

STAGE_WORDS = {
    Stage.PLAN_REVIEW: "plan review",
    Stage.INSTALLATION: "installation",
    Stage.ACCEPTANCE: "acceptance",
    Stage.IN_SERVICE: "service",
}

RELATION_WORDS = {
    "is": "",
    "is_not": "anything but",
    "one_of": "one of",
    "none_of": "none of",
    "at_least": "at least",
    "at_most": "at most",
    "more_than": "more than",
    "less_than": "less than",
    "between": "between",
    "includes": "",
    "includes_any": "one of",
    "includes_all": "all of",
    "includes_only": "nothing but",
    "before": "before",
    "on_or_after": "not before",
    "no_older_than": "not older than",
    "known": "to be shown",
    "present": "to be there",
}


def turned_words(before: Outcome | None, after: Outcome | None) -> str:
    """What a finding was and what it is now, in one line; None where it is not asked."""
    was, now = _TURNS[before][0], _TURNS[after][1]
    return f"{was}, and is so still" if before == after else f"{was}, {now}"


PRACTICE = "trade practice, no section"
LOCAL_PRACTICE = "local practice, no section"
FIGURE = "figure"
"""Type of subject of a figure that stands on the drawing and is worked out too."""

DISCLAIMER = (
    "A check of a description, made before review. It grants nothing. Local codes, the authority having jurisdiction "
    "(AHJ) and licensed practice govern."
)


def citation_text(cites: Iterable[Citation]) -> str:
    """The sections of one finding, the document named once."""
    texts: list[str] = []
    last: tuple[str, str | None] | None = None
    for cite in cites:
        document = (cite.document, cite.edition)
        name = cite.section if document == last else " ".join(part for part in (*document, cite.section) if part)
        texts.append(name)
        last = document
    return ", ".join(texts)


def authority_text(finding: Finding) -> str:
    """What a finding rests on: its sections with who adopted them, or practice, said as such."""
    if finding.basis is Basis.TRADE_PRACTICE:
        return PRACTICE
    if finding.basis is Basis.LOCAL_PRACTICE:
        return LOCAL_PRACTICE
    parts = [citation_text(finding.cites)]
    if finding.authority:
        parts.append(finding.authority)
    if finding.unconfirmed or any(cite.verify for cite in finding.cites):
        parts.append("verify the citation")
    return ", ".join(part for part in parts if part)


def sentence_of(finding: Finding) -> str:
    """What came out, in one sentence. The sentence of the rule says what is wrong, so it stands for a miss only."""
    match finding.outcome:
        case Outcome.MET:
            return f"{finding.title}."
        case Outcome.NOT_APPLICABLE:
            return f"Does not apply{f': {finding.because}' if finding.because else ''}."
        case Outcome.VERIFY_IN_FIELD:
            return finding.look
        case Outcome.NEEDS_INFORMATION if asks(finding):
            return f"Cannot tell whether this holds: {finding.title}."
        case Outcome.NEEDS_INFORMATION if finding.subject.type != FIGURE:
            return f"Nothing here tells whether this holds: {finding.title}."
        case _:
            return finding.says


def asks(finding: Finding) -> bool:
    """Whether something is to be given. Of two figures that do not agree both are there, and one is wrong."""
    return bool(finding.needs) and finding.subject.type != FIGURE


def counted(number: int, words: str, plural: str | None = None) -> str:
    """A number with its word, in the singular for one."""
    return f"{number} {words if number == 1 else plural or words + 's'}"


def numbered(words: str, numbers: Iterable[int]) -> str:
    """Findings by their numbers: correction 1, or corrections 1 and 2."""
    listed = [str(number) for number in numbers]
    return f"{words if len(listed) == 1 else f'{words}s'} {joined(listed)}"


def joined(items: Iterable[str]) -> str:
    """Names in a sentence: one, one and two, or one, two and three."""
    names = list(items)
    if len(names) <= 1:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


_TO = " to "


def range_words(figure: Figure) -> str | None:
    """What is said of a figure of which only two ends are known: one that begins at nothing is told by its end alone.
    None where it is one number, or not told by two ends.
    """
    if figure.low is None or figure.high is None or figure.low == figure.high or figure.text.count(_TO) != 1:
        return None
    low, high = figure.text.split(_TO)
    return f"is at most {high}" if Fraction(figure.low) == 0 else f"lies between {low} and {high}"
