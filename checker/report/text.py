"""A review as a letter for the terminal: what was read, what is wanted, what is open, what nobody looked at."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from checker.catalog.model import Stage
from checker.report.safe import harmless
from checker.report.words import (
    DISCLAIMER,
    EVENT_WORDS,
    MARKS,
    OUTCOME_WORDS,
    RELATION_WORDS,
    STAGE_WORDS,
    asks,
    authority_text,
    counted,
    joined,
    sentence_of,
)
from checker.review.finding import Check, Finding, InForce, Need, Notice, Review
from checker.review.outcomes import Outcome
from checker.review.review import CAUTIONS_PACK
from checker.values.truth import Truth

WIDTH = 88
"""Columns of a line at most; a terminal that is narrower wraps by itself."""

TAG_COLUMN = 12
"""Column at which the sentences of a finding begin."""


@dataclass(frozen=True, slots=True)
class Style:
    """How words are set off: bold tags, underlined headings, dim positions; and whether marks can be printed."""

    bold: Callable[[str], str] = str
    underline: Callable[[str], str] = str
    dim: Callable[[str], str] = str
    marks: bool = True


PLAIN = Style()

NAME_WIDTH, SETTLED_WIDTH = 22, 56
"""Columns of the table of what is settled."""

_SETTLED = (Outcome.MET, Outcome.NOT_APPLICABLE)


def terminal_style(*, marks: bool) -> Style:
    """Weights of a terminal, no hue at all."""
    return Style(_weight("1"), _weight("4"), _weight("2"), marks)


def _weight(code: str) -> Callable[[str], str]:
    return lambda text: f"\x1b[{code}m{text}\x1b[0m"


def text_report(review: Review, style: Style = PLAIN, *, everything: bool = False) -> str:
    """The whole report, ending in a line feed."""
    sections = (
        _opening(review, style),
        _one_line(review, style),
        _corrections(review, style),
        _not_shown(review, style),
        _group(review, style, "AHJ to decide", (Outcome.AHJ_TO_DECIDE,)),
        _group(review, style, "By special permission", (Outcome.SPECIAL_PERMISSION,)),
        _group(review, style, "To look at in the field", (Outcome.VERIFY_IN_FIELD,)),
        _assumed(review, style),
        _later(review, style),
        _settled(review, style) if everything else (),
        _cautions(review, style),
        _notices(review, style),
        _closing(review),
    )
    blocks = ("\n".join(lines) for lines in map(list, sections) if lines)
    return "\n\n".join(blocks) + "\n"


# --- opening ------------------------------------------------------------------------------------------------------------


def _opening(review: Review, style: Style) -> Iterator[str]:
    rules = review.in_force
    event = EVENT_WORDS.get(rules.event, rules.event)
    title = f"{review.site_name}, {event} {rules.date.isoformat()}, read for {STAGE_WORDS[review.stage]}"
    yield from (style.underline(line) for line in _wrapped(title))
    yield from _wrapped(f"Rules in force at {rules.title}: {_packs(rules)}.")
    yield from _wrapped(DISCLAIMER)
    yield ""
    yield from _wrapped(_verdict(review))


_OWN_PACKS = (CAUTIONS_PACK, "figures")
"""Packs that are the program's own and no rules of anybody."""


def _packs(rules: InForce) -> str:
    """The documents with who adopted them; bodies of practice by their titles."""
    adopted = [
        f"{pack.title} {pack.edition} ({pack.adopted_by}, from {pack.since.isoformat()})"
        for pack in rules.packs
        if pack.edition is not None and pack.since is not None
    ]
    practice = [pack.title for pack in rules.packs if pack.edition is None and pack.pack not in _OWN_PACKS]
    return "; ".join([*adopted, *practice])


def _verdict(review: Review) -> str:
    """The exit status in words."""
    totals = review.totals()
    open_now = [finding for finding in review.findings if finding.is_open_at(review.stage)]
    broken = totals[Outcome.RULE_ERROR]
    if broken:
        return f"{counted(broken, 'rule')} broke, so this review is not complete."
    if not any(totals[outcome] for outcome in Outcome if outcome is not Outcome.NOT_APPLICABLE):
        return "No rule in force applies to this site, so nothing was looked at."
    if totals[Outcome.CORRECTION]:
        waiting = f", and {counted(len(open_now), 'finding')} due now cannot be settled" if open_now else ""
        return f"{counted(totals[Outcome.CORRECTION], 'correction')} wanted{waiting}."
    if open_now:
        return f"No correction is wanted on what is shown, but {counted(len(open_now), 'finding')} due now cannot be settled."
    return "No correction is wanted on what is shown, and nothing due now is open."


def _one_line(review: Review, style: Style) -> Iterator[str]:
    """The drawing as it was read, one line of pieces for each way down from a source."""
    yield style.underline("The line as it was read")
    labels = {piece.tag: _piece_words(review, piece.tag) for piece in review.one_line.pieces}
    below: dict[str, list[tuple[str, str]]] = {}
    for connection in review.one_line.connections:
        below.setdefault(connection.source, []).append((connection.to, connection.input))
    fed = {connection.to for connection in review.one_line.connections}
    for piece in review.one_line.pieces:
        if piece.tag not in fed and piece.tag in below:
            yield from _branch(piece.tag, "", below, labels, set(), style)


def _branch(
    tag: str,
    side: str,
    below: dict[str, list[tuple[str, str]]],
    labels: dict[str, str],
    seen: set[str],
    style: Style,
    depth: int = 0,
) -> Iterator[str]:
    words = f", {side} side" if side in ("normal", "alternate") else ""
    again = tag in seen
    yield from _wrapped(f"{harmless(tag)}{words}{'' if again else f': {labels[tag]}'}", indent=2 + 2 * depth)
    seen.add(tag)
    # What hangs below a switch is drawn once, under its normal side.
    if again or side == "alternate":
        return
    for following, entry in below.get(tag, ()):
        yield from _branch(following, entry, below, labels, seen, style, depth + 1)


def _piece_words(review: Review, tag: str) -> str:
    piece = next(each for each in review.one_line.pieces if each.tag == tag)
    parts = [piece.title]
    if piece.role:
        parts.append(piece.role)
    if piece.first:
        parts.append("first after the meter")
    if tag in review.one_line.bonds:
        parts.append("neutral bonded here")
    return ", ".join(parts)


# --- findings -----------------------------------------------------------------------------------------------------------


def _corrections(review: Review, style: Style) -> Iterator[str]:
    wanted = (Outcome.RULE_ERROR, Outcome.CORRECTION)
    lesser = (Outcome.RECOMMENDATION, Outcome.NOTE)
    found = [finding for finding in review.findings if finding.outcome in (*wanted, *lesser)]
    if not found:
        return
    totals = review.totals()
    yield style.underline("   ".join(f"{_heading(each)}: {totals[each]}" for each in (*wanted, *lesser) if totals[each]))
    yield from _causes(review, found)
    for finding in found:
        yield ""
        yield from _long(finding, style)


def _heading(outcome: Outcome) -> str:
    words = OUTCOME_WORDS[outcome]
    plural = {"correction": "Corrections", "recommendation": "Recommendations", "note": "Notes"}
    return plural.get(words, words.capitalize())


def _causes(review: Review, findings: Iterable[Finding]) -> Iterator[str]:
    """Findings that one stated fact brought about, named together."""
    by_cause: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.follows_from is not None:
            by_cause.setdefault(finding.follows_from, []).append(finding)
    for cause, group in by_cause.items():
        if len(group) > 1:
            numbers = joined(str(finding.number) for finding in group)
            yield from _wrapped(f"{numbers} follow from one decision: {_cause_words(review, cause)}.")


def _cause_words(review: Review, cause: str) -> str:
    """The fact that decided, said in words where it is a role."""
    tag, _, fact = cause.partition(".")
    piece = next((each for each in review.one_line.pieces if each.tag == tag), None)
    if fact == "role" and piece is not None and piece.role:
        return f"{tag} is the {piece.role} ({cause})"
    return cause


def _long(finding: Finding, style: Style) -> Iterator[str]:
    """Sentence first, numbers second, cure third, then what it rests on, last the caution."""
    yield from _headline(finding, finding.says, style)
    yield from _body(line for line in _shown_and_wanted(finding))
    yield from _body(_readings(finding))
    if finding.without_permission is not None:
        yield from _body([f"Without the permission: {OUTCOME_WORDS[finding.without_permission]}."])
    yield from _body(_rests_on(finding))
    yield from _body(finding.remedy)
    if finding.companions:
        yield from _body([f"And then: {'; '.join(finding.companions)}."])
    yield from _body(f"Caution: {caution}" for caution in finding.cautions)
    yield from _last_line(finding, style)


def _headline(finding: Finding, sentence: str, style: Style) -> Iterator[str]:
    mark = f"{MARKS[finding.outcome]} " if style.marks else ""
    start = f"{mark}{finding.number:<3}"
    words = harmless(finding.subject.words)
    lead = f"{start}{words}"
    if len(lead) + 2 > TAG_COLUMN:
        first, *rest = _lines(words, WIDTH - len(start)) or [""]
        yield f"{start}{style.bold(first)}"
        yield from (" " * len(start) + style.bold(line) for line in rest)
        yield from _body([sentence])
        return
    lines = _lines(sentence, WIDTH - TAG_COLUMN) or [""]
    yield f"{start}{style.bold(words)}{' ' * (TAG_COLUMN - len(lead))}{lines[0]}"
    yield from (" " * TAG_COLUMN + line for line in lines[1:])


def _body(sentences: Iterable[str]) -> Iterator[str]:
    for sentence in sentences:
        yield from _wrapped(sentence, indent=TAG_COLUMN)


def _wrapped(sentence: str, indent: int = 0) -> Iterator[str]:
    yield from (" " * indent + line for line in _lines(sentence, WIDTH - indent))


def _lines(text: str, width: int) -> list[str]:
    """The text in lines of a width; a word is never broken, so that a name in it can be searched for."""
    return textwrap.wrap(harmless(text), width, break_on_hyphens=False, break_long_words=False)


def _shown_and_wanted(finding: Finding) -> Iterator[str]:
    """What the drawing shows and what is wanted: for each comparison that fails, or the first that fails in each way."""
    if finding.readings:
        return
    told: set[str] = set()
    for check in finding.checks:
        if check.part is None or check.holds is not Truth.NO or not check.direct or check.wanted is None:
            continue
        if check.wanted.text in _SAYS_NOTHING or (finding.ways and (check.part in told or check.found.text == "none")):
            continue
        told.add(check.part)
        yield f"shown {_shown(check)}, wanted {_wanted(check)}"


_SAYS_NOTHING = ("none", "not decided", "not shown")


def _shown(check: Check) -> str:
    paper = f" ({check.found.per})" if check.found.per else ""
    return f"{check.found.title}: {check.found.text}{paper}"


def _wanted(check: Check) -> str:
    assert check.wanted is not None
    relation = RELATION_WORDS.get(check.relation, check.relation.replace("_", " "))
    title = f" ({check.wanted.title})" if check.wanted.fact else ""
    return f"{relation} {check.wanted.text}{title}".strip()


def _readings(finding: Finding) -> Iterator[str]:
    words = {Truth.YES: "met", Truth.NO: "not met", Truth.UNKNOWN: "open"}
    for reading in finding.readings:
        yield f"{words[reading.holds]} as read by {reading.held_by}"


def _last_line(finding: Finding, style: Style) -> Iterator[str]:
    """Authority, rule and place on one quiet line, or on as few as they need."""
    place = next((str(check.found.at) for check in finding.checks if check.found.at is not None), "")
    quiet = list(_wrapped(f"{authority_text(finding)}; {finding.rule}", indent=TAG_COLUMN))
    yield from quiet[:-1]
    if place and len(quiet[-1]) + 2 + len(place) <= WIDTH:
        yield f"{quiet[-1]}  {style.dim(harmless(place))}"
        return
    yield quiet[-1]
    if place:
        yield " " * TAG_COLUMN + style.dim(harmless(place))


# --- what is open -------------------------------------------------------------------------------------------------------


def _not_shown(review: Review, style: Style) -> Iterator[str]:
    found = [each for each in review.findings if each.outcome is Outcome.NEEDS_INFORMATION]
    due = [each for each in found if each.due.order <= review.stage.order]
    yield from _waiting(due, f"Not shown: {len(due)}", style)


def _later(review: Review, style: Style) -> Iterator[str]:
    found = [each for each in review.findings if each.outcome is Outcome.NEEDS_INFORMATION]
    for stage in Stage:
        due = [each for each in found if each.due is stage and stage.order > review.stage.order]
        yield from _waiting(due, f"To be shown at {STAGE_WORDS[stage]}: {len(due)}", style)


def _waiting(findings: list[Finding], heading: str, style: Style) -> Iterator[str]:
    """Findings that wait, each set of the same needs asked once with everything that it settles."""
    if not findings:
        return
    yield style.underline(heading)
    by_needs: dict[tuple[Need, ...], list[Finding]] = {}
    for finding in findings:
        by_needs.setdefault(finding.needs, []).append(finding)
    for needs, group in by_needs.items():
        yield ""
        yield from _question(needs, group, style)


def _question(needs: tuple[Need, ...], group: list[Finding], style: Style) -> Iterator[str]:
    first = group[0]
    yield from _headline(first, sentence_of(first), style)
    yield from _body(map(_ask, needs) if asks(first) else first.remedy)
    yield from _body(_rests_on(first))
    if first.break_even is not None:
        turn = first.break_even
        yield from _body([f"It holds while {turn.fact} is {turn.holds} {turn.text}."])
    if len(group) > 1:
        others = joined(f"{each.number} ({each.subject.words}: {each.title})" for each in group[1:])
        yield from _body([f"The same answer settles {others}."])
    yield from _last_line(first, style)


def _ask(need: Need) -> str:
    where = f" ({need.paper})" if need.paper else ""
    return f"Provide {need.fact}: {need.title}{where}." if need.ask == "fact" else f"Say {need.title} ({need.fact})."


def _group(review: Review, style: Style, heading: str, outcomes: tuple[Outcome, ...]) -> Iterator[str]:
    found = [finding for finding in review.findings if finding.outcome in outcomes]
    if not found:
        return
    yield style.underline(f"{heading}: {len(found)}")
    for finding in found:
        yield ""
        if finding.outcome is Outcome.VERIFY_IN_FIELD:
            yield from _headline(finding, finding.look, style)
            yield from _body(f"Caution: {caution}" for caution in finding.cautions)
            yield from _last_line(finding, style)
        else:
            yield from _long(finding, style)


def _assumed(review: Review, style: Style) -> Iterator[str]:
    """What would be settled if an assumed value were a known one."""
    found = [finding for finding in review.findings if finding.outcome in _SETTLED and finding.assumed]
    if not found:
        return
    yield style.underline(f"Resting on assumed values: {len(found)}")
    for finding in found:
        yield ""
        words = OUTCOME_WORDS[finding.outcome].capitalize()
        yield from _headline(finding, f"{words}, on what is assumed: {finding.title}.", style)
        yield from _body(_rests_on(finding))
        yield from _last_line(finding, style)


def _rests_on(finding: Finding) -> Iterator[str]:
    if finding.assumed:
        values = "an assumed value" if len(finding.assumed) == 1 else "assumed values"
        yield f"Rests on {values}: {joined(finding.assumed)}. Give what a paper or a nameplate shows."


def _settled(review: Review, style: Style) -> Iterator[str]:
    """What meets as shown and what does not apply, as a table."""
    rows = [
        (
            f"{MARKS[finding.outcome]} {finding.number}" if style.marks else str(finding.number),
            "\n".join(_lines(finding.subject.words, NAME_WIDTH)),
            "\n".join(_lines(_settled_words(finding), SETTLED_WIDTH)),
        )
        for finding in review.findings
        if finding.outcome in _SETTLED and not finding.assumed
    ]
    if not rows:
        return
    from tabulate import tabulate

    yield style.underline("Meets as shown, and does not apply")
    table = tabulate(rows, tablefmt="plain", disable_numparse=True)
    yield from (line.rstrip() for line in table.splitlines())


def _settled_words(finding: Finding) -> str:
    if finding.outcome is Outcome.MET:
        return f"meets as shown: {finding.title} ({authority_text(finding)})"
    because = f": {finding.because}" if finding.because else ""
    return f"does not apply{because} ({finding.rule})"


# --- the end ------------------------------------------------------------------------------------------------------------


def _cautions(review: Review, style: Style) -> Iterator[str]:
    if review.cautions:
        yield style.underline("Cautions")
        for caution in review.cautions:
            yield from _wrapped(caution, indent=2)


def _notices(review: Review, style: Style) -> Iterator[str]:
    if review.notices:
        yield style.underline("Notices about this run")
        for notice in review.notices:
            yield from _wrapped(_notice_words(notice), indent=2)


def _notice_words(notice: Notice) -> str:
    place = f" {notice.at}" if notice.at is not None else ""
    return f"{notice.sentence}{f' {notice.remedy}' if notice.remedy else ''}{place}"


def _closing(review: Review) -> Iterator[str]:
    totals = review.totals()
    shown = [
        counted(totals[outcome], words, plural)
        for outcome, words, plural in (
            (Outcome.RULE_ERROR, "broken rule", None),
            (Outcome.CORRECTION, "correction", None),
            (Outcome.RECOMMENDATION, "recommendation", None),
            (Outcome.NOTE, "note", None),
            (Outcome.NEEDS_INFORMATION, "not shown", "not shown"),
            (Outcome.AHJ_TO_DECIDE, "for the AHJ to decide", "for the AHJ to decide"),
            (Outcome.SPECIAL_PERMISSION, "by special permission", "by special permission"),
            (Outcome.VERIFY_IN_FIELD, "to look at in the field", "to look at in the field"),
        )
        if totals[outcome]
    ]
    assumed = [finding.outcome for finding in review.findings if finding.outcome in _SETTLED and finding.assumed]
    if assumed:
        shown.append(f"{len(assumed)} resting on assumed values")
    met, aside = (totals[outcome] - assumed.count(outcome) for outcome in _SETTLED)
    yield from _wrapped(
        f"{', '.join(shown) or 'Nothing wanted'}; {met} {'meets' if met == 1 else 'meet'} as shown, "
        f"{aside} {'does' if aside == 1 else 'do'} not apply."
    )
    if review.not_covered:
        yield from _wrapped(f"No rule looked at: {', '.join(review.not_covered)}.")
