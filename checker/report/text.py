"""A review as a letter for the terminal: what was read, what is wanted, what is open, what nobody looked at."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from checker.catalog.model import Stage
from checker.catalog.names import MAIN_WAY, SIDES
from checker.report.safe import harmless
from checker.report.words import (
    DISCLAIMER,
    FIGURE,
    MARKS,
    OUTCOME_WORDS,
    RELATION_WORDS,
    STAGE_WORDS,
    asks,
    authority_text,
    citation_text,
    counted,
    joined,
    range_words,
    sentence_of,
)
from checker.review.finding import Check, Finding, InForce, Need, Notice, Review
from checker.review.outcomes import Outcome
from checker.review.review import CAUTIONS_PACK
from checker.review.unread import NOT_READ
from checker.rules.model import LayerInForce
from checker.rules.wording import EVENT_WORDS
from checker.site.model import PLAIN_INPUT
from checker.values.truth import Truth

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
        _deleted(review, style),
        _one_line(review, style),
        _states(review, style),
        _figures(review, style) if everything else (),
        _corrections(review, style),
        _not_shown(review, style),
        _group(review, style, "AHJ to decide", (Outcome.AHJ_TO_DECIDE,)),
        _group(review, style, "By special permission", (Outcome.SPECIAL_PERMISSION,)),
        _group(review, style, "To look at in the field", (Outcome.VERIFY_IN_FIELD,)),
        _assumed(review, style),
        _later(review, style),
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
    rules = review.in_force
    event = EVENT_WORDS.get(rules.event, rules.event)
    title = f"{review.site_name}, {event} {rules.date.isoformat()}, read for {STAGE_WORDS[review.stage]}"
    yield from (style.underline(line) for line in wrapped(title))
    yield from wrapped(f"Rules in force at {rules.title}: {_packs(rules)}.")
    if rules.layers:
        yield from wrapped(f"On them: {'; '.join(map(_layer, rules.layers))}.")
    if rules.elected:
        yield from wrapped(f"The applicant elects {joined(rules.elected)}.")
    yield from wrapped(DISCLAIMER)
    yield ""
    yield from wrapped(_verdict(review))


def _layer(layer: LayerInForce) -> str:
    """A layer with whose it is, where it holds, and how much of it counts on this date."""
    changes = counted(layer.changes, "change") if layer.changes else "nothing of it on this date"
    where = f", where {layer.where}" if layer.where else ""
    return f"{layer.title} ({layer.authority}{where}, {changes})"


_OWN_PACKS = (CAUTIONS_PACK, "figures")
"""Packs that are the program's own and no rules of anybody."""


def _packs(rules: InForce) -> str:
    """The documents with who adopted them; bodies of practice by their titles."""
    adopted = [
        f"{pack.title} {pack.edition} ({pack.adopted_by}, from {pack.since.isoformat()}"
        f"{f', where {pack.where}' if pack.where else ''})"
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
    at_odds = [finding for finding in open_now if finding.subject.type == FIGURE]
    if at_odds and not totals[Outcome.CORRECTION]:
        names = joined(f"{finding.subject.words} ({finding.number})" for finding in at_odds)
        waiting = counted(len(open_now), "finding")
        return (
            f"The drawing contradicts itself on {names}, so that it is open whether a correction is wanted; "
            f"{waiting} due now cannot be settled."
        )
    if totals[Outcome.CORRECTION]:
        waiting = f", and {counted(len(open_now), 'finding')} due now cannot be settled" if open_now else ""
        return f"{counted(totals[Outcome.CORRECTION], 'correction')} wanted{waiting}."
    if open_now:
        waiting = counted(len(open_now), "finding")
        return f"No correction is wanted on what is shown, but {waiting} due now cannot be settled."
    return "No correction is wanted on what is shown, by the rules that were run, and nothing due now is open."


def _deleted(review: Review, style: Style) -> Iterator[str]:
    """Rules of the model codes that are not in force here: a reader knows them, and silence would look like a hole."""
    if review.deleted:
        yield style.underline("Deleted here")
        for each in review.deleted:
            yield from wrapped(f"{citation_text(each.cites)}, {each.title}: {each.told}", indent=2)


def finding_text(finding: Finding, style: Style = PLAIN) -> Iterator[str]:
    """One finding as it stands in the report, whatever its outcome."""
    if finding.outcome is Outcome.NEEDS_INFORMATION:
        yield from _question(finding.needs, [finding], style)
    elif finding.outcome is Outcome.VERIFY_IN_FIELD:
        yield from _look(finding, style)
    elif finding.outcome in (Outcome.MET, Outcome.NOT_APPLICABLE):
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
        (_cell(state.name if place == 0 else "", STATE_WIDTH), harmless(source), _cell(", ".join(tags), FED_WIDTH))
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
    """What was worked out for each piece and each side of a switch."""
    from tabulate import tabulate

    if not review.figures:
        return
    head = ("", "can be fed by", "has to carry", "greatest fault current", "least fault current", "when opened")
    rows = [
        (each.words, each.fed_by, each.to_carry, each.greatest_fault, each.least_fault, each.opened)
        for each in review.figures
    ]
    cells = [[_cell(text, width) for text, width in zip(row, FIGURE_COLUMNS, strict=True)] for row in (head, *rows)]
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
    totals = review.totals()
    yield style.underline(
        "   ".join(f"{_heading(each)}: {totals[each]}" for each in (*wanted, *lesser) if totals[each])
    )
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
            yield from wrapped(f"{numbers} follow from one decision: {_cause_words(review, cause)}.")


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
    yield from _body(_found_in(finding))
    yield from _body(_readings(finding))
    yield from _body(_versions(finding))
    yield from _body([finding.permission] if finding.permission else [])
    if finding.without_permission is not None:
        yield from _body([f"Without the permission: {OUTCOME_WORDS[finding.without_permission]}."])
    yield from _body(_rests_on(finding))
    yield from _body([finding.why] if finding.why else [])
    yield from _body(finding.history)
    yield from _body(finding.interpretations)
    yield from _body(_cures(finding))
    if finding.companions:
        yield from _body([f"Goes with it: {'; '.join(finding.companions)}."])
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
        yield from wrapped(sentence, indent=TAG_COLUMN)


def wrapped(sentence: str, indent: int = 0, width: int = WIDTH) -> Iterator[str]:
    """The sentence in lines that fit, each indented."""
    yield from (" " * indent + line for line in _lines(sentence, width - indent))


def _lines(text: str, width: int) -> list[str]:
    """The text in lines of a width; a word is never broken, so that a name in it can be searched for."""
    return textwrap.wrap(harmless(text), width, break_on_hyphens=False, break_long_words=False)


def _cures(finding: Finding) -> Iterator[str]:
    """The cures, cheapest first; each is one way out, so all but the first begin with the word that says so."""
    for place, cure in enumerate(finding.remedy):
        yield cure if place == 0 else f"Or: {cure}"


def _shown_and_wanted(finding: Finding) -> Iterator[str]:
    """What the drawing shows and what is wanted, for each number or word that fails; of several ways only the first,
    with the number at which any of them would do.
    """
    if finding.readings:
        return
    first_way = finding.ways[0].name if finding.ways else None
    for check in finding.checks:
        if _tells_something(check) and first_way in (None, check.part):
            turn = finding.break_even
            if turn is not None and turn.fact == check.found.fact:
                yield f"shown {_shown(check)}, wanted {turn.holds} {turn.text}"
            else:
                yield f"shown {_shown(check)}, wanted {_wanted(check)}"


def _found_in(finding: Finding) -> Iterator[str]:
    """The states of the line in which what fails was found."""
    failing = [check for check in finding.checks if check.part is not None and check.holds is Truth.NO and check.direct]
    sides = [side for check in failing for side in (check.found, check.wanted) if side is not None]
    yield from (f"state: {state}" for state in dict.fromkeys(side.state for side in sides) if state)


def _tells_something(check: Check) -> bool:
    """Whether a failed comparison says more than the sentence above it: flags and missing things do not."""
    if check.part is None or check.holds is not Truth.NO or not check.direct or check.wanted is None:
        return False
    return check.wanted.text not in _SAYS_NOTHING and check.found.text != "none"


_SAYS_NOTHING = ("none", "not decided", "not shown", "yes", "no")


def _shown(check: Check) -> str:
    paper = f" ({check.found.per})" if check.found.per else ""
    return f"{check.found.title}: {check.found.text}{paper}"


def _wanted(check: Check) -> str:
    assert check.wanted is not None
    relation = RELATION_WORDS.get(check.relation, check.relation.replace("_", " "))
    if check.wanted.fact and relation in _BOUNDS:
        if check.wanted.text.startswith(_BOUNDS):
            return f"{relation} the {check.wanted.title}, which is {check.wanted.text}"
        lies = range_words(check.wanted)
        if lies is not None:
            return f"{relation} the {check.wanted.title}, which {lies}"
    title = f" ({check.wanted.title})" if check.wanted.fact else ""
    return f"{relation} {check.wanted.text}{title}".strip()


_BOUNDS = ("at least", "at most", "more than", "less than")
"""Words of a comparison, and of a figure of which only an end is known."""


def _readings(finding: Finding) -> Iterator[str]:
    """How it is read, where the readings differ; where all come to the same, nothing hangs on them."""
    words = {Truth.YES: "met", Truth.NO: "not met", Truth.UNKNOWN: "open"}
    if len({reading.holds for reading in finding.readings}) > 1:
        yield from (f"{words[reading.holds]} as read by {reading.held_by}" for reading in finding.readings)


def _versions(finding: Finding) -> Iterator[str]:
    """What it comes to by each authority, where they differ and none goes before."""
    if len({version.could_be for version in finding.versions}) > 1:
        for version in finding.versions:
            yield f"By {version.held_by}: {' or '.join(OUTCOME_WORDS[each] for each in version.could_be)}."


def _last_line(finding: Finding, style: Style) -> Iterator[str]:
    """Authority, rule and place on one quiet line, or on as few as they need."""
    place = next((str(check.found.at) for check in finding.checks if check.found.at is not None), "")
    quiet = list(wrapped(f"{authority_text(finding)}; {finding.rule}", indent=TAG_COLUMN))
    yield from quiet[:-1]
    if place and len(quiet[-1]) + 2 + len(place) <= WIDTH:
        yield f"{quiet[-1]}  {style.dim(harmless(place))}"
        return
    yield quiet[-1]
    if place:
        yield " " * TAG_COLUMN + style.dim(harmless(place))


# --- what is open ----------------------------------------------------------------------------------------------------


def _not_shown(review: Review, style: Style) -> Iterator[str]:
    found = [each for each in review.findings if each.outcome is Outcome.NEEDS_INFORMATION]
    due = [each for each in found if each.due.order <= review.stage.order]
    yield from _waiting(due, f"Not shown: {len(due)}", style)


def _later(review: Review, style: Style) -> Iterator[str]:
    found = [each for each in review.findings if each.outcome is Outcome.NEEDS_INFORMATION]
    later = [stage for stage in Stage if stage.order > review.stage.order]
    by_stage = {stage: [each for each in found if each.due is stage] for stage in later}
    for place, (stage, due) in enumerate((stage, due) for stage, due in by_stage.items() if due):
        yield from [""] if place else []
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
    yield from _body(f"{reason.rstrip('.')}." for reason in first.reasons)
    yield from _body(_asked(needs) if asks(first) else first.remedy if first.subject.type == FIGURE else ())
    yield from _body(_falls_short(first))
    yield from _body(_rests_on(first))
    if first.break_even is not None:
        turn = first.break_even
        yield from _body([f"It holds while {turn.fact} is {turn.holds} {turn.text}."])
    if len(group) > 1:
        others = joined(f"{each.number} ({each.subject.words}: {each.title})" for each in group[1:])
        yield from _body([f"The same answer settles {others}."])
    yield from _last_line(first, style)


def _falls_short(finding: Finding) -> Iterator[str]:
    """What of the first way is shown already and does not do, so that nobody takes a question for a reserve."""
    if finding.ways and finding.ways[0].holds is Truth.NO:
        for check in finding.ways[0].lacks:
            if _tells_something(check):
                yield f"As shown this does not do: {_shown(check)}, wanted {_wanted(check)}"


def _asked(needs: tuple[Need, ...]) -> Iterator[str]:
    """Each need on a line; what could stand in the place of a figure follows it in one sentence."""
    for need in needs:
        if not need.in_place_of:
            yield _ask(need)
            behind = [each for each in needs if each.in_place_of == need.fact]
            if behind:
                yield f"Or, to have it worked out: {'; '.join(map(_named, behind))}."


def _named(need: Need) -> str:
    """A need in a list, by the name under which the file gives it."""
    if need.ask != "fact":
        return need.title
    return f"{need.fact} ({need.paper})" if need.paper else need.fact


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
        yield from _look(finding, style) if finding.outcome is Outcome.VERIFY_IN_FIELD else _long(finding, style)


def _look(finding: Finding, style: Style) -> Iterator[str]:
    """What somebody has to see."""
    yield from _headline(finding, finding.look, style)
    yield from _body(f"Caution: {caution}" for caution in finding.cautions)
    yield from _last_line(finding, style)


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
    """What meets as shown, with its figures, and what does not apply, one line for each rule, as tables."""
    met = [each for each in review.findings if each.outcome is Outcome.MET and not each.assumed]
    aside = [each for each in review.findings if each.outcome is Outcome.NOT_APPLICABLE and not each.assumed]
    rows = [
        (_numbered(each, style), _cell(each.subject.words, NAME_WIDTH), _cell(_met_words(each), SETTLED_WIDTH))
        for each in met
    ]
    yield from _table(rows, "Meets as shown", style)
    if met and aside:
        yield ""
    by_rule: dict[str, list[Finding]] = {}
    for each in aside:
        by_rule.setdefault(each.rule, []).append(each)
    lines = [
        (_cell(_aside_names(group), NAME_WIDTH), _cell(_aside_words(group), SETTLED_WIDTH))
        for group in by_rule.values()
    ]
    yield from _table(lines, "Does not apply", style)


def _numbered(finding: Finding, style: Style) -> str:
    return f"{MARKS[finding.outcome]} {finding.number}" if style.marks else str(finding.number)


def _cell(text: str, width: int) -> str:
    return "\n".join(_lines(text, width))


def _table(rows: Sequence[tuple[str, ...]], heading: str, style: Style) -> Iterator[str]:
    if rows:
        from tabulate import tabulate

        yield style.underline(heading)
        table = tabulate(rows, tablefmt="plain", disable_numparse=True)
        yield from (line.rstrip() for line in table.splitlines())


def _met_words(finding: Finding) -> str:
    """The claim, the figures that carry it (of several ways those of the first that holds), and what it rests on."""
    figures = "; ".join(dict.fromkeys(_figures_of(finding)))
    return f"{finding.title}{f': {figures}' if figures else ''} ({authority_text(finding)})"


def _figures_of(finding: Finding) -> Iterator[str]:
    way = next((each.name for each in finding.ways if each.holds is Truth.YES), None)
    for check in finding.checks:
        if finding.ways and check.part != way:
            continue
        is_number = check.found.low is not None and check.relation in _NUMBER_RELATIONS
        if (
            check.part is not None
            and check.direct
            and check.holds is Truth.YES
            and check.wanted is not None
            and check.wanted.text not in _SAYS_NOTHING
            and is_number
        ):
            yield f"{_shown(check)}, {_wanted(check)}"


_NUMBER_RELATIONS = ("at_least", "at_most", "more_than", "less_than", "between")


def _aside_names(group: list[Finding]) -> str:
    return ", ".join(dict.fromkeys(each.subject.words for each in group))


def _aside_words(group: list[Finding]) -> str:
    """The claim that is not asked here, and why, where there is one reason for all."""
    reasons = {each.because for each in group}
    because = f", since {next(iter(reasons))}" if len(reasons) == 1 and next(iter(reasons)) else ""
    return f"{group[0].title}{because} ({group[0].rule})"


# --- what was worked out ---------------------------------------------------------------------------------------------


def _worked_out(review: Review, style: Style) -> Iterator[str]:
    """The figures behind findings that are not settled, folded: where every step of them is shown."""
    figures = dict(_figures_worked_out(review))
    if not figures:
        return
    yield style.underline(f"Worked out for these findings: {len(figures)}; `worksheet` shows every step")
    width = max(map(len, figures)) + 2
    for name, text in figures.items():
        yield from wrapped(f"{name:<{width}}{text}", indent=2)


def _figures_worked_out(review: Review) -> Iterator[tuple[str, str]]:
    for finding in review.findings:
        if finding.outcome in _SETTLED:
            continue
        for check in finding.checks:
            for figure in (check.found, check.wanted):
                if figure is not None and figure.worksheet is not None:
                    yield harmless(figure.worksheet), harmless(figure.text)


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
            yield from wrapped(_notice_words(notice), indent=2)


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
    yield from wrapped(
        f"{', '.join(shown) or 'Nothing wanted'}; {met} {'meets' if met == 1 else 'meet'} as shown, "
        f"{aside} {'does' if aside == 1 else 'do'} not apply."
    )
    if review.not_covered:
        yield from wrapped(f"No rule looked at: {', '.join(review.not_covered)}.")
