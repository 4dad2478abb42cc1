"""A review as a letter for the terminal: what was read, what is wanted, what is open, what nobody looked at."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from checker.catalog.model import Stage
from checker.catalog.names import MAIN_WAY, SIDES
from checker.findings.assembling.unread import NOT_READ
from checker.findings.finding import Finding, Notice, Review
from checker.findings.judging.outcomes import SETTLED_OUTCOMES, Outcome
from checker.report.capacity import capacity_sentences
from checker.report.paragraphs import (
    aside,
    aside_names,
    aside_words,
    asked,
    asks_best_words,
    causes,
    cautions_of,
    closing,
    count_words,
    cures,
    falls_short,
    figures_worked_out,
    found_in,
    goes_with,
    heading_of,
    holds_while,
    looks_due,
    looks_later,
    looks_later_heading,
    met_words,
    most_important,
    notice_words,
    one_cause,
    readings,
    rests_on,
    rules_words,
    settles_too,
    shown_and_wanted,
    since,
    title_of,
    told_under,
    verdict,
    versions,
    waiting,
)
from checker.report.places import place_of
from checker.report.safe import harmless
from checker.report.words import (
    DISCLAIMER,
    MARKS,
    OUTCOME_WORDS,
    STAGE_WORDS,
    asks,
    authority_text,
    citation_text,
    counted,
    sentence_of,
)
from checker.site.model import PLAIN_INPUT
from checker.tasks.comparing.earlier import NO_EARLIER, Earlier

ALTERNATE = SIDES[1]

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


def terminal_style(*, marks: bool) -> Style:
    """Weights of a terminal, no hue at all."""
    return Style(_weight("1"), _weight("4"), _weight("2"), marks)


def _weight(code: str) -> Callable[[str], str]:
    return lambda text: f"\x1b[{code}m{text}\x1b[0m"


def text_report(
    review: Review, style: Style = PLAIN, *, everything: bool = False, earlier: Earlier = NO_EARLIER
) -> str:
    """The whole report, ending in a line feed; held against an earlier one where that is given."""
    sections = (
        [*_opening(review, style), *_sentences(since(review, earlier))],
        _deleted(review, style),
        _one_line(review, style),
        _states(review, style),
        _figures(review, style) if everything else (),
        _corrections(review, style),
        _not_shown(review, style, everything=everything),
        _group(review, style, "AHJ to decide", (Outcome.AHJ_TO_DECIDE,)),
        _group(review, style, "By special permission", (Outcome.SPECIAL_PERMISSION,)),
        _looks(review, style),
        _assumed(review, style),
        _later(review, style, everything=everything),
        _settled(review, style) if everything else (),
        _worked_out(review, style),
        _cautions(review, style),
        _not_read(review, style),
        _notices(review, style),
        _closing(review),
    )
    blocks = ("\n".join(lines) for lines in map(list, sections) if lines)
    return "\n\n".join(blocks) + "\n"


# --- opening ---------------------------------------------------------------------------------------------------------


def _opening(review: Review, style: Style) -> Iterator[str]:
    title = f"{title_of(review)}, read for {STAGE_WORDS[review.stage]}"
    yield from (style.underline(line) for line in wrapped(title))
    yield from _sentences(rules_words(review.in_force))
    yield from wrapped(DISCLAIMER)
    yield ""
    yield from wrapped(verdict(review))
    yield from _sentences(asks_best_words(review))
    yield from _sentences(capacity_sentences(review))


def _deleted(review: Review, style: Style) -> Iterator[str]:
    """Rules of the model codes that are not in force here: a reader knows them, and silence would look like a hole."""
    if review.deleted:
        yield style.underline("Deleted here")
        for each in review.deleted:
            yield from wrapped(f"{citation_text(each.cites)}, {each.title}: {each.told}", indent=2)


def finding_text(finding: Finding, style: Style = PLAIN) -> Iterator[str]:
    """One finding as it stands in the report, whatever its outcome."""
    if finding.outcome is Outcome.NEEDS_INFORMATION:
        yield from _question([finding], style)
    elif finding.outcome is Outcome.VERIFY_IN_FIELD:
        yield from _look(finding, style)
    elif finding.outcome in SETTLED_OUTCOMES:
        yield from _headline(finding, sentence_of(finding), style)
        yield from _last_line(finding, style)
    else:
        yield from _long(finding, style)


def _one_line(review: Review, style: Style) -> Iterator[str]:
    """The drawing as it was read, one line of pieces for each way down from a source."""
    labels = {piece.tag: _piece_words(review, piece.tag) for piece in review.one_line.pieces}
    below: dict[str, list[tuple[str, str]]] = {}
    for connection in review.one_line.connections:
        below.setdefault(connection.source, []).append((connection.to, connection.input))
    fed = {connection.to for connection in review.one_line.connections}
    sources = [piece.tag for piece in review.one_line.pieces if piece.tag not in fed and piece.tag in below]
    if sources:
        yield style.underline("The line as it was read")
    seen: set[str] = set()
    for source in sources:
        yield from _branch(source, "", below, labels, seen, style)
    for sentence in review.one_line.apart:
        yield from wrapped(harmless(sentence), indent=2)


def _branch(
    tag: str,
    side: str,
    below: dict[str, list[tuple[str, str]]],
    labels: dict[str, str],
    seen: set[str],
    style: Style,
    depth: int = 0,
) -> Iterator[str]:
    words = "" if side in ("", PLAIN_INPUT, MAIN_WAY) else f", {side} side" if side in SIDES else f", by its way {side}"
    again = tag in seen
    yield from wrapped(f"{harmless(tag)}{words}{'' if again else f': {labels[tag]}'}", indent=2 + 2 * depth)
    seen.add(tag)
    # What hangs below a piece is drawn once, below a switch under its normal side.
    if side == ALTERNATE or f"{tag} with all below" in seen:
        return
    seen.add(f"{tag} with all below")
    for following, entry in below.get(tag, ()):
        yield from _branch(following, entry, below, labels, seen, style, depth + 1)


STATE_WIDTH, FED_WIDTH = 38, 38
"""Columns of the table of operating states."""


def _states(review: Review, style: Style) -> Iterator[str]:
    """What each source feeds in each state that was walked, where there is more than one."""
    states = review.states
    if len(states.walked) < 2:
        return
    rows = [
        (cell(state.name if place == 0 else "", STATE_WIDTH), harmless(source), cell(", ".join(tags), FED_WIDTH))
        for state in states.walked
        for place, (source, tags) in enumerate((source, tags) for source, tags in state.feeds if tags)
    ]
    yield from _table(rows, "What feeds what, in each position of the switches", style)
    if states.not_walked:
        yield from wrapped(
            f"{counted(states.not_walked, 'other combination')} of positions not listed: ties between sources and what"
            " each can reach were looked for along the lines, whatever the switches do.",
            indent=2,
        )


FIGURE_COLUMNS = (14, 16, 11, 11, 11, 10)
"""Columns of the table of pieces: piece, fed by, current to carry, greatest and least fault current, what is opened."""


def _figures(review: Review, style: Style) -> Iterator[str]:
    """What was worked out for each piece and each side of a switch; what inverters past a bus add is told there."""
    from tabulate import tabulate

    if not review.figures:
        return
    faults = ("greatest fault current", "least fault current")
    head = ("", "can be fed by", "its feeds let through", *faults, "when opened")
    rows = [
        (each.words, each.fed_by, each.to_carry, each.greatest_fault, each.least_fault, each.opened)
        for each in review.figures
    ]
    cells = [[cell(text, width) for text, width in zip(row, FIGURE_COLUMNS, strict=True)] for row in (head, *rows)]
    yield style.underline("Each piece, in its worst state")
    table = tabulate(cells[1:], cells[0], tablefmt="plain", disable_numparse=True)
    yield from (line.rstrip() for line in table.splitlines())


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


# --- findings --------------------------------------------------------------------------------------------------------


def _corrections(review: Review, style: Style) -> Iterator[str]:
    wanted = (Outcome.RULE_ERROR, Outcome.CORRECTION)
    lesser = (Outcome.RECOMMENDATION, Outcome.NOTE)
    found = [finding for finding in review.findings if finding.outcome in (*wanted, *lesser)]
    if not found:
        return
    by_outcome = {each: [finding for finding in found if finding.outcome is each] for each in (*wanted, *lesser)}
    headings = "   ".join(count_words(heading_of(each), group) for each, group in by_outcome.items() if group)
    yield from (style.underline(line) for line in _lines(headings, WIDTH))
    yield from _sentences(causes(review, found))
    for finding in found:
        if finding.under is None:
            yield ""
            yield from _long(finding, style, told_under(review, finding))


def _long(finding: Finding, style: Style, others: Sequence[Finding] = ()) -> Iterator[str]:
    """Sentence first, numbers second, cure third, then what it rests on, last the caution; with it those that are told
    under it.
    """
    yield from _headline(finding, finding.says, style)
    yield from _body(line for line in shown_and_wanted(finding))
    yield from _body(one_cause(finding, others))
    yield from _body(found_in(finding))
    yield from _body(readings(finding))
    yield from _body(versions(finding))
    yield from _body([finding.permission] if finding.permission else [])
    if finding.without_permission is not None:
        yield from _body([f"Without the permission: {OUTCOME_WORDS[finding.without_permission]}."])
    yield from _body(rests_on(finding))
    yield from _body([finding.why] if finding.why else [])
    yield from _body(finding.history)
    yield from _body(finding.interpretations)
    yield from _body(cures(finding))
    beside = goes_with(finding, others)
    yield from _body([f"Goes with it: {'; '.join(beside)}."] if beside else [])
    yield from _body(f"Caution: {caution}" for caution in cautions_of(finding, others))
    yield from _last_line(finding, style)


def _headline(finding: Finding, sentence: str, style: Style) -> Iterator[str]:
    mark = f"{MARKS[finding.outcome]} " if style.marks else ""
    start = f"{mark}{f'{finding.number} ':<3}"
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
        yield from wrapped(sentence, indent=TAG_COLUMN)


def _sentences(sentences: Iterable[str]) -> Iterator[str]:
    for sentence in sentences:
        yield from wrapped(sentence)


def wrapped(sentence: str, indent: int = 0, width: int = WIDTH) -> Iterator[str]:
    """The sentence in lines that fit, each indented."""
    yield from (" " * indent + line for line in _lines(sentence, width - indent))


def _lines(text: str, width: int) -> list[str]:
    """The text in lines of a width; a word is never broken, so that a name in it can be searched for."""
    return textwrap.wrap(harmless(text), width, break_on_hyphens=False, break_long_words=False)


def _last_line(finding: Finding, style: Style) -> Iterator[str]:
    """Authority, rule and place on one quiet line, or on as few as they need."""
    at = place_of(finding)
    place = "" if at is None else str(at)
    quiet = list(wrapped(f"{authority_text(finding)}; {finding.rule}", indent=TAG_COLUMN))
    yield from quiet[:-1]
    if place and len(quiet[-1]) + 2 + len(place) <= WIDTH:
        yield f"{quiet[-1]}  {style.dim(harmless(place))}"
        return
    yield quiet[-1]
    if place:
        yield " " * TAG_COLUMN + style.dim(harmless(place))


# --- what is open ----------------------------------------------------------------------------------------------------


def _not_shown(review: Review, style: Style, *, everything: bool) -> Iterator[str]:
    found = [each for each in review.findings if each.outcome is Outcome.NEEDS_INFORMATION]
    due = [each for each in found if each.due.order <= review.stage.order]
    yield from _waiting(review, due, f"Not shown: {len(due)}", style, everything=everything)


def _later(review: Review, style: Style, *, everything: bool) -> Iterator[str]:
    """What is due at each later stage: what is to be shown, then in short what somebody has to look at."""
    found = [each for each in review.findings if each.outcome is Outcome.NEEDS_INFORMATION]
    blocks: list[list[str]] = []
    for stage in (each for each in Stage if each.order > review.stage.order):
        due = [each for each in found if each.due is stage]
        heading = f"To be shown at {STAGE_WORDS[stage]}: {len(due)}"
        blocks.append(list(_waiting(review, due, heading, style, everything=everything)))
        blocks.append(list(_looks_later(review, stage, style)))
    for place, lines in enumerate(each for each in blocks if each):
        yield from [""] if place else []
        yield from lines


def _looks_later(review: Review, stage: Stage, style: Style) -> Iterator[str]:
    looks = looks_later(review, stage)
    if looks:
        yield from (style.underline(line) for line in wrapped(looks_later_heading(stage, looks)))
    for each in looks:
        yield from _headline(each, f"{each.title}.", style)
        yield from _last_line(each, style)


def _waiting(review: Review, findings: list[Finding], heading: str, style: Style, *, everything: bool) -> Iterator[str]:
    """Findings that wait, each set of the same needs asked once with everything that it settles; of a long list the
    most important, and how the others are shown.
    """
    if not findings:
        return
    yield style.underline(heading)
    groups = waiting(findings)
    shown = groups if everything else most_important(groups)
    for group in shown:
        yield ""
        yield from _question(group, style)
    left = len(findings) - sum(map(len, shown))
    if left:
        yield ""
        yield from wrapped(
            f"{counted(left, 'more finding')} of this list {'is' if left == 1 else 'are'} not printed here: "
            f"`standby-checker review {review.file} --all` prints all."
        )


def _question(group: Sequence[Finding], style: Style) -> Iterator[str]:
    first = group[0]
    yield from _headline(first, sentence_of(first), style)
    yield from _body(f"{reason.rstrip('.')}." for reason in first.reasons)
    yield from _body(asked(first.needs) if asks(first) else first.remedy)
    yield from _body(falls_short(first))
    yield from _body(rests_on(first))
    yield from _body(holds_while(first))
    yield from _body(settles_too(group))
    yield from _last_line(first, style)


def _group(review: Review, style: Style, heading: str, outcomes: tuple[Outcome, ...]) -> Iterator[str]:
    found = [finding for finding in review.findings if finding.outcome in outcomes]
    if not found:
        return
    yield style.underline(f"{heading}: {len(found)}")
    for finding in found:
        yield ""
        yield from _long(finding, style)


def _looks(review: Review, style: Style) -> Iterator[str]:
    looks = looks_due(review)
    if looks:
        yield style.underline(f"To look at in the field: {len(looks)}")
    for finding in looks:
        yield ""
        yield from _look(finding, style)


def _look(finding: Finding, style: Style) -> Iterator[str]:
    """What somebody has to see."""
    yield from _headline(finding, finding.look, style)
    yield from _body(f"Caution: {caution}" for caution in finding.cautions)
    yield from _last_line(finding, style)


def _assumed(review: Review, style: Style) -> Iterator[str]:
    """What would be settled if an assumed value were a known one."""
    found = [finding for finding in review.findings if finding.outcome in SETTLED_OUTCOMES and finding.assumed]
    if not found:
        return
    yield style.underline(f"Resting on assumed values: {len(found)}")
    for finding in found:
        yield ""
        words = OUTCOME_WORDS[finding.outcome].capitalize()
        yield from _headline(finding, f"{words}, on what is assumed: {finding.title}.", style)
        yield from _body(rests_on(finding))
        yield from _last_line(finding, style)


def _settled(review: Review, style: Style) -> Iterator[str]:
    """What meets as shown, with its figures, and what does not apply, one line for each rule, as tables."""
    met = [each for each in review.findings if each.outcome is Outcome.MET and not each.assumed]
    not_asked = aside(review)
    rows = [
        (_numbered(each, style), cell(each.subject.words, NAME_WIDTH), cell(met_words(each), SETTLED_WIDTH))
        for each in met
    ]
    yield from _table(rows, "Meets as shown", style)
    if met and not_asked:
        yield ""
    lines = [(cell(aside_names(group), NAME_WIDTH), cell(aside_words(group), SETTLED_WIDTH)) for group in not_asked]
    yield from _table(lines, "Does not apply", style)


def _numbered(finding: Finding, style: Style) -> str:
    return f"{MARKS[finding.outcome]} {finding.number}" if style.marks else str(finding.number)


def cell(text: str, width: int) -> str:
    """The text as a cell of a table, broken to its width."""
    return "\n".join(_lines(text, width))


def _table(rows: Sequence[tuple[str, ...]], heading: str, style: Style) -> Iterator[str]:
    if rows:
        from tabulate import tabulate

        yield style.underline(heading)
        table = tabulate(rows, tablefmt="plain", disable_numparse=True)
        yield from (line.rstrip() for line in table.splitlines())


# --- what was worked out ---------------------------------------------------------------------------------------------


def _worked_out(review: Review, style: Style) -> Iterator[str]:
    """The figures behind findings that are not settled, folded: where every step of them is shown."""
    figures = dict(figures_worked_out(review))
    if not figures:
        return
    yield style.underline(f"Worked out for these findings: {len(figures)}; `worksheet` shows every step")
    width = max(map(len, figures)) + 2
    for name, text in figures.items():
        yield from wrapped(f"{name:<{width}}{text}", indent=2)


# --- the end ---------------------------------------------------------------------------------------------------------


def _cautions(review: Review, style: Style) -> Iterator[str]:
    if review.cautions:
        yield style.underline("Cautions")
        for caution in review.cautions:
            yield from wrapped(caution, indent=2)


def _not_read(review: Review, style: Style) -> Iterator[str]:
    """Facts that were given and that no rule looked at: nobody may take silence about them for an answer."""
    yield from _notice_list(review, style, "Given, and looked at by no rule", lambda notice: notice.kind == NOT_READ)


def _notices(review: Review, style: Style) -> Iterator[str]:
    yield from _notice_list(review, style, "Notices about this run", lambda notice: notice.kind != NOT_READ)


def _notice_list(review: Review, style: Style, heading: str, wanted: Callable[[Notice], bool]) -> Iterator[str]:
    chosen = [notice for notice in review.notices if wanted(notice)]
    if chosen:
        yield style.underline(heading)
        for notice in chosen:
            yield from wrapped(notice_words(notice), indent=2)


def _closing(review: Review) -> Iterator[str]:
    yield from _sentences(closing(review))
