"""Two sides compared, for the terminal: was, is, because."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Sequence
from dataclasses import replace

from checker.findings.judging.outcomes import Outcome
from checker.report.text import PLAIN, Style, wrapped
from checker.report.words import citation_text, counted, turned_words
from checker.tasks.comparing.rule_differences import APPEARS, CHANGES, GOES, Difference, RuleDifference
from checker.tasks.comparing.sides import Compared, FindingChange, Side, SiteCompared

WIDTH = 80
_INDENT = 4

_CITATION = "citation"
_TABLE = "table"
_SAYS_LITTLE = frozenset({"section", _CITATION, "wording"})
"""What changes no outcome by itself."""

_OTHER_WORDS = "Rules that ask the same under another section or in other words"
_LABELS = {
    "section": "section of {}",
    "exception": "exception ({})",
    "instead": "in the place of what is asked ({})",
    "requirement": "asked ({})",
    "way": "way to meet it ({})",
    "reading": "as read by {}",
}


def compared_text(compared: Compared, style: Style = PLAIN) -> str:
    """What differs between two sides, ending in a line feed."""
    blocks = [
        "\n".join(lines)
        for lines in (
            list(_opening(compared, style)),
            *(list(_rules(rules, heading, style)) for heading, rules in _by_weight(compared)),
            list(_tables(compared.rules.of_kind(CHANGES), style)),
            *(list(_site(each, style)) for each in compared.sites),
            list(_confirmations(compared.rules.of_kind(CHANGES), style)),
            list(_closing(compared)),
        )
        if lines
    ]
    return "\n\n".join(blocks) + "\n"


def _lines(text: str, indent: int) -> Iterator[str]:
    """The text in lines, those of it further in as they are; what follows on stands a little further in."""
    for place, line in enumerate(text.split("\n")):
        inside = len(line) - len(line.lstrip()) + (2 if place else 0)
        yield from _one_line(line, indent + inside)


def _one_line(text: str, indent: int) -> Iterator[str]:
    first, *rest = list(wrapped(text.strip(), indent=indent, width=WIDTH)) or [""]
    yield first
    if rest:
        yield from wrapped(" ".join(line.strip() for line in rest), indent=indent + 2, width=WIDTH)


def _opening(compared: Compared, style: Style) -> Iterator[str]:
    yield from (style.underline(line) for line in _lines("What differs", 0))
    yield from _side("Was", compared.before)
    yield from _side("Is", compared.after)


def _side(word: str, side: Side) -> Iterator[str]:
    yield from _lines(f"{word}: {side.name}", 0)
    if side.documents:
        yield from _lines(f"{'; '.join(side.documents)}", _INDENT)
    if side.layers:
        yield from _lines(f"On it: {'; '.join(side.layers)}", _INDENT)
    for notice in side.notices:
        yield from _lines(notice, _INDENT)


# --- rules -----------------------------------------------------------------------------------------------------------


def _by_weight(compared: Compared) -> Iterator[tuple[str, Sequence[RuleDifference]]]:
    """What changes in substance first, then what only stands elsewhere or reads otherwise; what somebody has looked up
    since is told at the end.
    """
    shared = shared_tables(compared.rules.of_kind(CHANGES))
    own = [_without(rule, shared) for rule in compared.rules.of_kind(CHANGES)]
    changed = [(rule, {each.aspect for each in rule.differences}) for rule in own if rule is not None]
    yield "Rules that go", compared.rules.of_kind(GOES)
    yield "Rules that appear", compared.rules.of_kind(APPEARS)
    yield "Rules that change", [rule for rule, aspects in changed if aspects - _SAYS_LITTLE or not aspects]
    elsewhere = [rule for rule, aspects in changed if aspects and aspects <= _SAYS_LITTLE and aspects != {_CITATION}]
    yield _OTHER_WORDS, elsewhere


def shared_tables(rules: Iterable[RuleDifference]) -> dict[Difference, list[str]]:
    """What differs in a table that several rules read, with those rules: told once, as it is one change."""
    read_by: dict[Difference, list[str]] = {}
    for rule in rules:
        for each in rule.differences:
            if each.aspect == _TABLE:
                read_by.setdefault(each, []).append(rule.id)
    return {each: names for each, names in read_by.items() if len(names) > 1}


def _without(rule: RuleDifference, shared: Container[Difference]) -> RuleDifference | None:
    """The rule with what is its own alone; None where nothing is."""
    rest = tuple(each for each in rule.differences if each not in shared)
    return replace(rule, differences=rest) if rest or not rule.differences else None


def _tables(rules: Iterable[RuleDifference], style: Style) -> Iterator[str]:
    shared = shared_tables(rules)
    if shared:
        yield style.underline(f"Tables that change, and the rules that read them: {len(shared)}")
    for each, names in shared.items():
        yield from difference_lines(each, _INDENT)
        yield from _lines(f"read by {', '.join(names)}", _INDENT + 2)


def _confirmations(rules: Iterable[RuleDifference], style: Style) -> Iterator[str]:
    """Citations of which only that differs whether somebody has looked them up, gathered: no rule asks for more."""
    told: dict[tuple[str, str], list[str]] = {}
    for rule in rules:
        for each in rule.differences:
            if each.aspect == _CITATION:
                section = each.what.removeprefix(f"{_CITATION} of ")
                told.setdefault((str(each.before), str(each.after)), []).append(f"{section} ({rule.id})")
    if told:
        yield style.underline(f"Citations of which only the confirmation changes: {sum(map(len, told.values()))}")
    for (before, after), cited in told.items():
        yield from _lines(f"was {before}, is {after}: {'; '.join(cited)}", _INDENT)


def _rules(rules: Sequence[RuleDifference], heading: str, style: Style) -> Iterator[str]:
    if not rules:
        return
    yield style.underline(f"{heading}: {len(rules)}")
    for each in rules:
        yield ""
        yield from _rule(each, style)


def _rule(rule: RuleDifference, style: Style) -> Iterator[str]:
    yield style.bold(f"{rule.pack}:{rule.id}")
    yield from _lines(f"{rule.title}.", _INDENT)
    if rule.kind != CHANGES:
        cited = citation_text(rule.cites_before or rule.cites_after)
        yield from _lines(f"{'it was' if rule.kind == GOES else 'it is'} {cited or 'practice, no section'}", _INDENT)
    for each in rule.differences:
        if each.aspect != _CITATION:
            yield from difference_lines(each, _INDENT)
    for told in rule.because:
        yield from _lines(f"because: {told}", _INDENT)


def difference_lines(difference: Difference, indent: int, start: str = "") -> Iterator[str]:
    """One difference, on one line where it fits; ``start`` stands before it."""
    label = f"{start}{label_of(difference)}"
    before, after = difference.before, difference.after
    if before is None:
        yield from _lines(f"{label}, new: {after}", indent)
    elif after is None:
        yield from _lines(f"{label}, no longer: {before}", indent)
    elif len(f"{label}: was {before}, is {after}") + indent <= WIDTH:
        yield from _lines(f"{label}: was {before}, is {after}", indent)
    else:
        yield from _lines(f"{label}:", indent)
        yield from _lines(f"was {before}", indent + 2)
        yield from _lines(f"is {after}", indent + 2)


def label_of(difference: Difference) -> str:
    """What differs, in words; a size of a list of sizes is named by what is told of it alone."""
    what = difference.what.removesuffix(f", size {difference.after or difference.before}")
    return _LABELS.get(difference.aspect, "{}").format(what)


# --- sites -----------------------------------------------------------------------------------------------------------


def _site(site: SiteCompared, style: Style) -> Iterator[str]:
    yield style.underline(f"Findings that change at {site.name}: {len(site.changes)}")
    for each in site.changes:
        yield ""
        yield from _change(each, style)


def _change(change: FindingChange, style: Style) -> Iterator[str]:
    yield from (style.bold(line) for line in _lines(f"{change.subject}: {change.title}.", 0))
    grounds = ", on other grounds" if change.before == change.after else ""
    yield from _lines(f"{turned_words(change.before, change.after)}{grounds}", _INDENT)
    says = change.says_after or change.says_before
    yield from _lines(says, _INDENT) if says else ()
    yield from _because(change)
    yield from _lines(change.id, _INDENT)


def _because(change: FindingChange) -> Iterator[str]:
    """What of the rule did it; where the rule is the same, that the facts or the date did."""
    rule = change.why
    if change.permission:
        begins = change.after is Outcome.SPECIAL_PERMISSION
        told = "a special permission begins" if begins else "a special permission no longer covers it"
        yield from _lines(f"because: {told}. {change.permission}", _INDENT)
        return
    if rule is None:
        yield from _lines("because: the rule is the same; the date of the review is another", _INDENT)
        return
    if rule.kind != CHANGES:
        yield from _lines(f"because: the rule {rule.kind}", _INDENT)
    telling = [each for each in rule.differences if each.aspect not in _SAYS_LITTLE] or list(rule.differences)
    for each in telling:
        yield from difference_lines(each, _INDENT, "because: ")
    for told in rule.because:
        yield from _lines(f"because: {told}", _INDENT)


def _closing(compared: Compared) -> Iterator[str]:
    rules = compared.rules
    counts = (
        counted(len(rules.of_kind(APPEARS)), "rule appears", "rules appear"),
        counted(len(rules.of_kind(GOES)), "goes", "go"),
        counted(len(rules.of_kind(CHANGES)), "changes", "change"),
        counted(rules.same, "is the same", "are the same"),
    )
    yield from _lines(f"{', '.join(counts)}.", 0)
    for each in compared.sites:
        changed = counted(len(each.changes), "finding changes", "findings change")
        yield from _lines(f"At {each.name} {changed}, {counted(each.same, 'is the same', 'are the same')}.", 0)
