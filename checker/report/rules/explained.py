"""One rule in words, for the terminal: what it asks, on what it rests, and how it fares on a site."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from checker.findings.judging.outcomes import Outcome
from checker.report.explained import ANSWER, compared
from checker.report.text import PLAIN, Style, wrapped
from checker.report.words import MARKS, OUTCOME_WORDS, STAGE_WORDS, citation_text, counted, joined, sentence_of
from checker.rules.model.citing import Checked
from checker.rules.words.condition_words import Clause
from checker.tasks.telling.rule_explained import (
    Asked,
    Explanation,
    NumberSaid,
    OnSubject,
    PartSaid,
    RequirementSaid,
    RuleExplained,
    SectionSaid,
)
from checker.values.truth import Truth

WIDTH = 80


def explanation_text(told: Explanation, style: Style = PLAIN) -> str:
    """Everything that is said of a rule, ending in a line feed."""
    blocks = [block for rule in told.rules for block in _rule(rule, told, style)]
    if told.site:
        blocks.append(list(_site(told, style)))
    return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"


def _lines(text: str, indent: int = 0) -> Iterator[str]:
    """The text in lines; what follows on stands a little further in."""
    first, *rest = list(wrapped(text, indent=indent, width=WIDTH)) or [""]
    yield first
    if rest:
        yield from wrapped(" ".join(line.strip() for line in rest), indent=indent + 2, width=WIDTH)


def _rule(rule: RuleExplained, told: Explanation, style: Style) -> Iterator[list[str]]:
    yield list(_head(rule, told, style))
    yield list(_headed("It applies where", _clause(rule.when, 2) if rule.when is not None else (), style))
    yield list(_headed("It does not apply where", _exceptions(rule.exceptions), style))
    yield from (list(_requirement(each, style)) for each in rule.instead)
    if rule.requires is not None:
        yield list(_requirement(rule.requires, style))
    yield from (list(_requirement(each, style)) for each in rule.readings)
    yield list(_headed("Somebody looks", _lines(rule.look, 2) if rule.look else (), style))
    yield list(_headed("Numbers", _numbers(rule), style))
    yield list(_headed("Where it is missed", _lines(rule.says, 2) if rule.says else (), style))
    yield list(_headed("Why", _lines(rule.why, 2) if rule.why else (), style))
    yield list(_headed("What was changed here", (line for each in rule.history for line in _lines(each, 2)), style))
    yield list(
        _headed("For the AHJ to decide", (line for each in rule.versions for line in _lines(f"{each}.", 2)), style)
    )
    yield list(_headed("On record", (line for each in rule.interpretations for line in _lines(each, 2)), style))
    yield list(_closing(rule, told))


def _head(rule: RuleExplained, told: Explanation, style: Style) -> Iterator[str]:
    yield style.bold(rule.name)
    yield from _lines(f"{rule.title}.")
    yield ""
    basis = rule.basis.value.replace("_", " ").capitalize()
    yield from _lines(f"About: {rule.subject}. {basis}, {rule.force.value}, due at {STAGE_WORDS[rule.due]}.")
    if told.not_in_force:
        yield from _lines(f"Not in force in {told.town}. {told.not_in_force}")
    elif told.town:
        yield from _lines(f"As it is in force in {told.town}.")
    sections = [each for each in rule.sections if each.cites] or rule.sections
    for each in sections:
        yield from _lines(_section(each), 2)
    if not sections:
        yield "  practice, no section"


def _section(each: SectionSaid) -> str:
    cited = citation_text(each.cites)
    if not cited:
        return "practice, no section"
    if each.checked is not None:
        return f"{cited}: {_sure(each.checked)}"
    return f"{cited}; verify the citation" if any(cite.verify for cite in each.cites) else cited


def _sure(checked: Checked) -> str:
    """How sure, against what, when; what nobody has confirmed is to be verified."""
    when = f", {checked.on}" if checked.on is not None else ""
    verify = "" if checked.confirmed else "; verify the citation"
    return f"{checked.sure}, against {checked.against}{when}{verify}"


# --- what it asks ----------------------------------------------------------------------------------------------------


def _headed(heading: str, lines: Iterable[str], style: Style) -> Iterator[str]:
    listed = list(lines)
    if listed:
        yield style.underline(heading)
        yield from listed


def _clause(clause: Clause, indent: int) -> Iterator[str]:
    yield from _lines(f"{clause.text}{':' if clause.inner else ''}", indent)
    for each in clause.inner:
        yield from _clause(each, indent + 2)


def _exceptions(exceptions: Sequence[PartSaid]) -> Iterator[str]:
    for each in exceptions:
        only = f" (in {joined(each.editions)} only)" if each.editions else ""
        yield from _lines(f"{each.name}{only}:", 2)
        yield from _clause(each.clause, 4)


def _requirement(told: RequirementSaid, style: Style) -> Iterator[str]:
    several = len(told.parts) > 1
    what = "one of these" if told.any_way else "all of these" if several else "this"
    if told.where is not None:
        yield style.underline(f"In its place it asks for {what}")
        yield from _lines(f"{_spaced(told.name)}, where", 2)
        yield from _clause(told.where, 4)
    elif told.name:
        yield style.underline(f"It asks for {what}, as read by")
        yield from _lines(f"{told.name}:", 2)
    else:
        yield style.underline(f"It asks for {what}")
    for each in told.parts:
        yield from _part(each)


def _part(part: PartSaid) -> Iterator[str]:
    if part.clause.inner:
        yield from _lines(f"{_spaced(part.name)}:", 2)
        yield from _clause(part.clause, 4)
    else:
        yield from _lines(f"{_spaced(part.name)}: {part.clause.text}", 2)


def _spaced(name: str) -> str:
    return name.replace("_", " ").replace("-", " ")


def _numbers(rule: RuleExplained) -> Iterator[str]:
    for each in rule.numbers:
        yield from _lines(_number(each), 2)
    for name in rule.tables:
        yield from _lines(f"the table {_spaced(name)} of {rule.document}", 2)


def _number(number: NumberSaid) -> str:
    editions = f" in {joined(number.editions)}" if number.editions else ""
    cited = citation_text(number.cites[:1])
    where = f" ({cited}; {_sure(number.checked)})" if cited else ""
    return f"{number.title}: {number.text}{editions}{where}"


def _closing(rule: RuleExplained, told: Explanation) -> Iterator[str]:
    if rule.covers:
        yield from _lines(f"Covers: {', '.join(rule.covers)}.")
    if told.cases is None:
        yield from _lines("Its cases cannot be read; see rules lint.")
    else:
        yield from _lines(f"{counted(told.cases, 'case')} beside it.")


# --- on a site -------------------------------------------------------------------------------------------------------


def _site(told: Explanation, style: Style) -> Iterator[str]:
    yield style.underline(f"At {told.site}")
    if told.not_in_force:
        yield from _lines("The rule is not in force for this site, so it says nothing about it.", 2)
    elif not told.subjects:
        yield from _lines("Nothing on this drawing is what the rule speaks of, so it says nothing about it.", 2)
    for each in told.subjects:
        yield ""
        yield from _subject(each, style)


def _subject(on: OnSubject, style: Style) -> Iterator[str]:
    found = on.finding
    mark = f"{MARKS[found.outcome]} " if style.marks else ""
    yield style.bold(f"{mark}{found.subject.words}: {OUTCOME_WORDS[found.outcome]}")
    yield from _lines(sentence_of(found), 4)
    if found.permission:
        yield from _lines(found.permission, 4)
    if found.outcome is Outcome.RULE_ERROR:
        return
    if on.belongs is not Truth.YES:
        yield from _lines(f"whether it is what the rule speaks of: {ANSWER[on.belongs]}", 4)
    if on.when is not None:
        yield from _asked("it applies", on.when)
    for each in on.exceptions:
        yield from _asked(f"exception ({each.what})", each)
    for each in on.parts:
        yield from _asked(each.what, each)
    for need in found.needs:
        yield from _lines(f"still to be given: {need.fact}, {need.title}", 4)


def _asked(what: str, asked: Asked) -> Iterator[str]:
    yield from _lines(f"{what}: {ANSWER[asked.answer]}", 4)
    for check in asked.checks:
        yield from _lines(f"{ANSWER[check.holds]}: {compared(check)}", 6)
