"""The review as one HTML page that holds everything in itself: no script, no outside request, nothing that follows the
reader. It reads as the letter of the text report, with the one-line as its spine.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from checker.catalog.model import Stage
from checker.engineering.worksheet import Worksheet
from checker.findings.assembling.unread import NOT_READ
from checker.findings.finding import Finding, PieceOfLine, Review, StateOfLine
from checker.findings.judging.outcomes import SETTLED_OUTCOMES, Outcome
from checker.report import paragraphs
from checker.report.capacity import capacity_sentences
from checker.report.drawing.geometry import Sheet, drawn
from checker.report.drawing.layout import laid_out
from checker.report.drawing.svg import live_lines, svg
from checker.report.drawing.symbols import FAMILIES, Family
from checker.report.next_steps import Sentence, next_steps
from checker.report.packet.sentences import shown_words
from checker.report.packet.sentences import state_words as paper_state
from checker.report.places import place_of
from checker.report.safe import harmless
from checker.report.setting import environment
from checker.report.signs.sentences import look_words, only_if_words, place_words, text_words
from checker.report.signs.sentences import state_words as sign_state
from checker.report.words import DISCLAIMER, OUTCOME_WORDS, STAGE_WORDS, asks, authority_text, counted, sentence_of
from checker.tasks.papers.label_sheet import label_sheet
from checker.tasks.papers.submittal import submittal
from checker.version import __version__


@dataclass(frozen=True, slots=True)
class Entry:
    """A finding as the page sets it: what is wrong, the numbers, the cure, what it rests on."""

    number: int
    mark: str
    outcome: str
    subject: str
    sentence: str
    figures: tuple[str, ...]
    why: tuple[str, ...]
    cures: tuple[str, ...]
    cautions: tuple[str, ...]
    authority: str
    rule: str
    place: str
    also: tuple[int, ...] = ()
    """Numbers of others that are told here."""


@dataclass(frozen=True, slots=True)
class Group:
    """Entries under a heading, with what is said of them together."""

    id: str
    heading: str
    told: tuple[Sentence, ...]
    entries: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """A sign or a paper in a table: its name, what it is, and what is told of it."""

    name: str
    what: tuple[str, ...]
    told: str
    numbers: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Knot:
    """A stop on the rail: a piece with the findings on it, on the lines that end at it, and on what is beside it."""

    tag: str
    numbers: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class State:
    """A small copy of the drawing in one operating state."""

    name: str
    drawing: Markup
    feeds: tuple[tuple[str, str], ...]


def html_report(review: Review) -> str:
    """The whole page, ending in a line feed: the same bytes for the same review."""
    shown = [each for each in review.findings if each.outcome not in SETTLED_OUTCOMES]
    settled = [each for each in review.findings if each.outcome is Outcome.MET and not each.assumed]
    sheet = _sheet(review)
    page = environment("page").get_template("page.html")
    return page.render(
        review=review,
        title=paragraphs.title_of(review),
        opening=_opening(review),
        read_under=_read_under(review),
        disclaimer=DISCLAIMER,
        rail=tuple(_rail(review, shown)),
        drawing=_drawing(review, sheet),
        states=tuple(_states(review)),
        legend=_legend(sheet),
        symbols_after=_family(review).standard,
        apart=review.one_line.apart,
        groups=tuple(_groups(review)),
        settled=tuple(map(_entry, settled)),
        told=frozenset(each.number for each in (*shown, *settled)),
        aside=tuple(_aside(review)),
        worksheets=tuple(_worksheets(review)),
        signs=tuple(_signs(review)),
        papers=tuple(_papers(review)),
        not_read=_notices(review, wanted=True),
        notices=_notices(review, wanted=False),
        closing=tuple(paragraphs.closing(review)),
        deleted=tuple(f"{each.title}: {each.told}" for each in review.deleted),
        stage=STAGE_WORDS[review.stage],
        of_plans=review.stage is Stage.PLAN_REVIEW,
        version=__version__,
    )


# --- opening ---------------------------------------------------------------------------------------------------------


def _opening(review: Review) -> tuple[Sentence, ...]:
    """What it came to and whom to ask next, whether each set carries its load, and the worst of it."""
    following = (part for sentence in next_steps(review) for part in (" ", *sentence))
    decided = (paragraphs.verdict(review), *following)
    return (decided, *((each,) for each in capacity_sentences(review)), *_worst(review))


def _read_under(review: Review) -> str:
    """What was reviewed under which rules: long, so it follows what came out."""
    rules = review.in_force
    layers = f" On them: {'; '.join(map(paragraphs.layer_words, rules.layers))}." if rules.layers else ""
    return (
        f"Read for {STAGE_WORDS[review.stage]} under the rules in force at {rules.title}: "
        f"{paragraphs.packs_words(rules)}.{layers}"
    )


_WORST = 3
"""So many findings stand in the opening."""
_GRADE = {Outcome.RECOMMENDATION: f" ({OUTCOME_WORDS[Outcome.RECOMMENDATION]})"}


def _worst(review: Review) -> Iterable[Sentence]:
    """The gravest few of what is wanted, also where only practice says that it can kill. One that is told under another
    one is no other thing.
    """
    wanted = [each for each in review.findings if each.outcome is Outcome.CORRECTION]
    deadly = [each for each in review.findings if each.outcome is Outcome.RECOMMENDATION and each.harm.kills]
    alone = [each for each in (*wanted, *deadly) if each.under is None]
    first = sorted(alone, key=lambda each: (each.harm.order, each.number))[:_WORST]
    yield from ((each.number, f". {each.says}{_GRADE.get(each.outcome, '')}") for each in first)
    more = sum(each not in first for each in wanted)
    if more:
        yield (f"{counted(more, 'more correction')} {'is' if more == 1 else 'are'} told below.",)


def _rail(review: Review, shown: Sequence[Finding]) -> Iterable[Knot]:
    """Every finding hangs somewhere: on the piece where it arises, else on the site as a whole."""
    pieces = review.one_line.pieces
    for place, piece in enumerate(pieces):
        yield Knot(piece.tag, tuple(each.number for each in shown if _stop(each) == place))
    elsewhere = tuple(each.number for each in shown if _stop(each) >= len(pieces))
    if elsewhere:
        yield Knot("the site", elsewhere)


def _stop(finding: Finding) -> int:
    """The place of the piece where a finding arises: a line comes just before the piece at which it ends."""
    return (finding.subject.walk[0] + 1) // 2


# --- drawing ---------------------------------------------------------------------------------------------------------


def _sheet(review: Review) -> Sheet:
    pieces = enumerate(review.one_line.pieces)
    words = {piece.tag: _gutter(review, place, piece) for place, piece in pieces}
    return drawn(laid_out(review.one_line), _family(review), words)


def _family(review: Review) -> Family:
    """The symbols that the profile names."""
    return FAMILIES[review.in_force.symbols]


def _gutter(review: Review, place: int, piece: PieceOfLine) -> tuple[str, ...]:
    """What stands beside a symbol: tag and kind, what it is on this line, the numbers of what is wanted there."""
    notes = [
        *([piece.role] if piece.role else ()),
        *(["first after the meter"] if piece.first else ()),
        *(["neutral bonded here"] if piece.tag in review.one_line.bonds else ()),
    ]
    wanted = [str(each.number) for each in review.findings if _hangs(each, place)]
    lines = [f"{piece.tag}  {piece.title}", ", ".join(notes), _numbered(wanted)]
    return tuple(part for line in lines if line for part in _broken(line))


def _numbered(wanted: list[str]) -> str:
    """The findings at a piece, by number; empty where there is none."""
    return f"finding{'s' if len(wanted) > 1 else ''} {', '.join(wanted)}" if wanted else ""


def _hangs(finding: Finding, place: int) -> bool:
    return finding.outcome not in SETTLED_OUTCOMES and _stop(finding) == place


def _broken(line: str) -> tuple[str, ...]:
    from textwrap import wrap

    from checker.report.drawing.geometry import GUTTER_LETTERS

    return tuple(wrap(harmless(line), GUTTER_LETTERS, break_on_hyphens=False)) or (line,)


def _drawing(review: Review, sheet: Sheet) -> Markup:
    told = "; ".join(f"{each.source} feeds {each.to}" for each in review.one_line.connections) or "No line is drawn."
    # Markup: made by the drawing itself, which escapes what it is given.
    return Markup(svg(sheet, f"One-line of {review.site_name}", f"{told}.", "line"))  # noqa: S704


def _states(review: Review) -> Iterable[State]:
    if len(review.states.walked) < 2:
        return
    small = drawn(laid_out(review.one_line), _family(review), {})
    for place, state in enumerate(review.states.walked):
        live = live_lines(small.lines, frozenset(_fed(state)))
        told = "; ".join(f"{source} feeds {', '.join(tags)}" for source, tags in state.feeds if tags)
        drawing = svg(small, state.name, f"{told}.", f"state-{place}", live)
        feeds = tuple((source, ", ".join(tags)) for source, tags in state.feeds if tags)
        yield State(state.name, Markup(drawing), feeds)  # noqa: S704


def _fed(state: StateOfLine) -> Iterable[frozenset[str]]:
    return (frozenset((source, *tags)) for source, tags in state.feeds if tags)


def _legend(sheet: Sheet) -> tuple[str, ...]:
    return tuple(dict.fromkeys(each.symbol.title for each in sheet.symbols))


# --- findings --------------------------------------------------------------------------------------------------------


def _groups(review: Review) -> Iterable[Group]:
    found = review.findings
    lesser = (Outcome.RECOMMENDATION, Outcome.NOTE)
    wanted = [each for each in found if each.outcome in (Outcome.RULE_ERROR, Outcome.CORRECTION)]
    beside = [each for each in found if each.outcome in lesser]
    missed = [
        _misses(review, "corrections", "Corrections", wanted),
        _misses(review, "beside", "Recommendations and notes", beside),
    ]
    # What one decision brings about is told once, of all that is missed, where the first of it stands.
    causes = tuple(_causes(review, [each for each in found if each in wanted or each in beside]))
    first = 0 if wanted else 1
    missed[first] = replace(missed[first], told=(*causes, *missed[first].told))
    yield from missed
    waits = [each for each in found if each.outcome is Outcome.NEEDS_INFORMATION]
    yield _waiting("open", "Not shown", [each for each in waits if each.due.order <= review.stage.order])
    yield _group("decide", "AHJ to decide", _of(found, Outcome.AHJ_TO_DECIDE))
    yield _group("permitted", "By special permission", _of(found, Outcome.SPECIAL_PERMISSION))
    yield _group("field", "To look at in the field", paragraphs.looks_due(review))
    assumed = [each for each in found if each.outcome in SETTLED_OUTCOMES and each.assumed]
    yield _group("assumed", "Resting on assumed values", assumed)
    for stage in Stage:
        if stage.order > review.stage.order:
            later = [each for each in waits if each.due is stage]
            yield _waiting(stage.value, f"To be shown at {STAGE_WORDS[stage]}", later)
            yield _looks_later(review, stage)


def _of(findings: Iterable[Finding], outcome: Outcome) -> list[Finding]:
    return [each for each in findings if each.outcome is outcome]


def _group(name: str, heading: str, findings: Sequence[Finding]) -> Group:
    return Group(name, f"{heading}: {len(findings)}", (), tuple(map(_entry, findings)))


def _misses(review: Review, name: str, heading: str, findings: Sequence[Finding]) -> Group:
    """What is wanted, each with what is told under it; and where those are told whose heads stand elsewhere."""
    heads = [each for each in findings if each.under is None]
    entries = tuple(_entry(each, paragraphs.told_under(review, each)) for each in heads)
    moved: list[Sentence] = [
        (number, " is told with ", head, ".") for number, head in paragraphs.told_elsewhere(review, findings)
    ]
    return Group(name, paragraphs.count_words(heading, findings), tuple(moved), entries)


def _causes(review: Review, findings: Sequence[Finding]) -> Iterable[Sentence]:
    for numbers, words in paragraphs.by_cause(review, findings):
        *most, last = numbers
        listed = [part for number in most for part in (number, ", ")]
        yield (*listed[:-1], " and ", last, f" {words}")


def _waiting(name: str, heading: str, findings: Sequence[Finding]) -> Group:
    entries = tuple(_question(group) for group in paragraphs.waiting(findings))
    return Group(name, f"{heading}: {len(findings)}", (), entries)


def _looks_later(review: Review, stage: Stage) -> Group:
    """What is looked at later, in short: its title, and what it rests on."""
    looks = paragraphs.looks_later(review, stage)
    entries = tuple(replace(_made(each, (), (), ()), sentence=f"{each.title}.", cautions=()) for each in looks)
    return Group(f"field-{stage.value}", paragraphs.looks_later_heading(stage, looks), (), entries)


def _entry(finding: Finding, others: Sequence[Finding] = ()) -> Entry:
    figures = [
        *paragraphs.shown_and_wanted(finding),
        *paragraphs.one_cause(finding, others),
        *paragraphs.found_in(finding),
        *paragraphs.readings(finding),
        *paragraphs.versions(finding),
        *([finding.permission] if finding.permission else ()),
        *paragraphs.rests_on(finding),
    ]
    cures = () if finding.outcome is Outcome.VERIFY_IN_FIELD else tuple(paragraphs.cures(finding))
    beside = tuple(f"Goes with it: {each}." for each in paragraphs.goes_with(finding, others))
    why = tuple(each for each in (finding.why, *finding.history, *finding.interpretations) if each)
    made = _made(finding, tuple(figures), why, (*cures, *beside))
    also = tuple(each.number for each in others)
    return replace(made, cautions=paragraphs.cautions_of(finding, others), also=also)


def _question(group: Sequence[Finding]) -> Entry:
    first = group[0]
    asked = paragraphs.asked(first.needs) if asks(first) else first.remedy
    figures = (
        *(f"{each.rstrip('.')}." for each in first.reasons),
        *paragraphs.falls_short(first),
        *paragraphs.rests_on(first),
    )
    told = (*paragraphs.holds_while(first), *paragraphs.settles_too(group))
    also = tuple(each.number for each in group[1:])
    return replace(_made(first, figures, told, tuple(asked)), also=also)


def _made(finding: Finding, figures: tuple[str, ...], why: tuple[str, ...], cures: tuple[str, ...]) -> Entry:
    at = place_of(finding)
    return Entry(
        finding.number,
        finding.outcome.value,
        OUTCOME_WORDS[finding.outcome],
        finding.subject.words,
        sentence_of(finding),
        figures,
        why,
        cures,
        finding.cautions,
        authority_text(finding),
        finding.rule,
        "" if at is None else str(at),
    )


def _aside(review: Review) -> Iterable[str]:
    groups = paragraphs.aside(review)
    return (f"{paragraphs.aside_names(group)}: {paragraphs.aside_words(group)}" for group in groups)


# --- signs and papers ------------------------------------------------------------------------------------------------


def _signs(review: Review) -> Iterable[Row]:
    for each in label_sheet(review).signs:
        what = (*each.sign.words, *text_words(each), *look_words(each), *only_if_words(each))
        numbers = tuple(asking.finding.number for asking in each.askings)
        yield Row(place_words(each), what, sign_state(each, review.stage), numbers)


def _papers(review: Review) -> Iterable[Row]:
    found = submittal(review)
    for each in found.wanted:
        what = tuple(line for asking in each.askings for line in shown_words(asking, each.state))
        numbers = tuple(asking.finding.number for asking in each.askings)
        told = paper_state(each, told_complete=found.told_complete)
        yield Row(each.title, what, told.removeprefix(f"{each.title}: "), numbers)


# --- the rest --------------------------------------------------------------------------------------------------------


def _worksheets(review: Review) -> Iterable[Worksheet]:
    """Those behind findings that are not settled, in the order of the findings."""
    names = dict.fromkeys(name for name, _ in paragraphs.figures_worked_out(review))
    return (review.worksheets[name] for name in names if name in review.worksheets)


def _notices(review: Review, *, wanted: bool) -> tuple[str, ...]:
    return tuple(paragraphs.notice_words(notice) for notice in review.notices if (notice.kind == NOT_READ) is wanted)
